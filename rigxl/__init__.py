"""Checks schedules of rigging hardware in office workbooks and marks the rows that fail.

>>> import rigxl
>>> rigxl.functions.call("LEGTENSION", 10000, 2, 60)
5773.50...

``rigxl.check_workbook(path)`` and ``rigxl.check_frame(frame)`` give the findings of a schedule as data.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

__all__ = ["__version__", "check_frame", "check_workbook", "errors", "functions"]

if TYPE_CHECKING:
    from rigxl import errors, functions
    from rigxl.schedule.check import check_frame, check_workbook


def __getattr__(name: str) -> Any:
    """Load what is offered when it is first asked for, so that importing rigxl costs next to nothing."""
    import importlib

    if name in ("check_frame", "check_workbook"):
        return getattr(importlib.import_module("rigxl.schedule.check"), name)
    if name in ("errors", "functions"):
        return importlib.import_module(f"rigxl.{name}")
    raise AttributeError(f"module 'rigxl' has no attribute '{name}'")
