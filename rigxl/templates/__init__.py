"""Workbooks that we hand out: a blank schedule that also works where no add-in is installed."""

from __future__ import annotations

from rigxl.templates.blank import write_blank

__all__ = ["write_blank"]
