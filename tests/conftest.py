"""Settings of every test: how long an example takes is no test here, for build machines are busy."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("rigxl", deadline=None)
settings.load_profile("rigxl")

collect_ignore = ["benchmarks"]
"""Measurements are commands, and some run inside other programs."""
