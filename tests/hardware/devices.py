"""Below-the-hook devices that are as they should be, for tests to spoil."""

from __future__ import annotations

import datetime as dt
from typing import Any

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, Item

TONNE = 9806.65
TODAY = dt.date(2026, 11, 25)
US = Criteria.ready("us").on(TODAY)

ENGINEERED: dict[str, Any] = {
    "engineered": "DRG-2207 rev B",
    "own_weight": 0.9 * TONNE,
    "rigging": 1.2 * TONNE,
    "rated_load": 10 * TONNE,
    "proof_load": 12.5 * TONNE,
    "procedure": True,
    "units": {"rated_load": "t", "load": "t", "own_weight": "t"},
}
LIFTED: dict[str, Any] = {
    "load": 6 * TONNE,
    "weight_basis": "weighed",
    "maker": "Halden Forge",
    "marked": "yes",
    "inspected": dt.date(2026, 6, 1),
}
PLATE: dict[str, Any] = {
    "thickness": 20.0,
    "grip_from": 5.0,
    "grip_to": 30.0,
    "lay": "vertical",
    "rated_lay": "vertical",
    "pieces": 1,
    "least_load": 1 * TONNE,
}
SHEET: dict[str, Any] = {
    "thickness": 20.0,
    "grip_from": 15.0,
    "lay": "horizontal",
    "rated_lay": "horizontal",
    "pieces": 1,
    "surface": "clean, dry",
    "rated_surface": "Clean and dry",
    "temperature": 20.0,
    "rated_temperature": 60.0,
}
BAR: dict[str, Any] = {"bar_length": 4000.0, "spread": 4000.0, "angle_deg": 60.0}


def verdict(kind: str, *fields: dict[str, Any], **changes: Any) -> tuple[str, set[str]]:
    """The verdict on a device in a lift of 6 t, and the rules that fail or hold it."""
    given: dict[str, Any] = {"kind": kind}
    for some in (ENGINEERED, LIFTED, *fields, changes):
        given |= some
    judged = judge(Item(**given), US)
    return judged.verdict, {one.rule.name for one in judged.findings if one.outcome in (FAIL, HOLD)}
