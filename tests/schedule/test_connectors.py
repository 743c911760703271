"""Turnbuckles, rope clips, hoist rings, pad eyes, swivels and load cells as people list them."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, PASS
from tests.schedule.sheets import rows

US = Criteria.ready("us").on(dt.date(2026, 11, 25))

COMMON: dict[str, Any] = {
    "WLL (t)": 2.0,
    "Load (t)": 1.0,
    "Weight basis": "weighed",
    "Rigging weight (t)": 0.05,
    "No. of legs": 1,
    "Maker": "Halden Forge",
    "Rating marked": "yes",
    "Last inspection": dt.datetime(2026, 6, 1),
}
TURNBUCKLE = COMMON | {
    "Kind": "Turnbuckle",
    "Position": "leg",
    "Size": '3/4"',
    "Ends": "jaw & jaw",
    "Locked": "yes",
    "Full thread engagement": "yes",
}
CLIPS = COMMON | {
    "Kind": "Wire rope clips",
    "Type": "drop forged U-bolt",
    "Position": "top",
    "Size": '3/4"',
    "WLL (t)": None,
    "Rope": "6x19 IPS",
    "Breaking strength (kN)": 220.0,
    "Rope service": "derrick",
    "No. of clips": 4,
    "Clip spacing (in)": 4.5,
    "Turnback (in)": 18.0,
    "Saddle on": "live end",
    "Torque applied (ft-lb)": 130.0,
}
HOIST_RING = COMMON | {
    "Kind": "Swivel hoist ring",
    "Position": "pick point",
    "Size": "M20",
    "Loading angle (deg)": 60.0,
    "Rated up to an angle of (deg)": 90.0,
    "Seated": "yes",
    "Torque applied (N m)": 100.0,
    "Torque stated (N m)": 100.0,
}
PAD_EYE = COMMON | {
    "Kind": "Padeye",
    "Position": "pick point",
    "Loading angle (deg)": 30.0,
    "Rated up to an angle of (deg)": 45.0,
    "Plane": "in plane",
    "Engineer's mark": "DRG-2201",
    "Pin diameter (mm)": 28.0,
    "Hole diameter (mm)": 30.0,
}
SWIVEL = COMMON | {"Kind": "Swivel", "Position": "top", "Type": "positioning", "Turns under load": "no"}
LOAD_CELL = COMMON | {"Kind": "Load cell", "Position": "top", "Loading angle (deg)": 0.0}


def verdict(cells: dict[str, Any]) -> tuple[str, set[str]]:
    (line,) = rows(list(cells), list(cells.values()))
    judged = judge(line.item, US)
    return judged.verdict, {one.rule.name for one in judged.findings if one.outcome in (FAIL, HOLD)}


@pytest.mark.parametrize(
    "cells", [TURNBUCKLE, CLIPS, HOIST_RING, PAD_EYE, SWIVEL, LOAD_CELL], ids=lambda cells: cells["Kind"]
)
def test_each_passes_as_it_should_be(cells: dict[str, Any]) -> None:
    """(1 t × 1.05 + 0.05 t) × 1.25 is under 2 t; the clips: 220 kN / 6 × 0.8 = 29 kN over 13.5 kN."""
    assert verdict(cells) == (PASS, set())


@pytest.mark.parametrize(
    ("cells", "heading", "cell", "word", "rule"),
    [
        (TURNBUCKLE, "Ends", "hook & eye", FAIL, "turnbuckle-hook"),
        (TURNBUCKLE, "Ends", "pattern B", HOLD, "turnbuckle-ends"),
        (TURNBUCKLE, "Locked", None, HOLD, "turnbuckle-locked"),
        (CLIPS, "No. of clips", 3, FAIL, "clip-count"),
        (CLIPS, "Torque applied (ft-lb)", 100.0, FAIL, "clip-torque"),
        (CLIPS, "Torque applied (ft-lb)", "tight", HOLD, "cell-unreadable"),
        (CLIPS, "Saddle on", "dead end", FAIL, "clip-saddle"),
        (CLIPS, "Rope service", "bridle", FAIL, "clips-not-for-slings"),
        (CLIPS, "Rope service", "towing", HOLD, "cell-unreadable"),
        (CLIPS, "Type", "U-bolt", HOLD, "clip-pattern"),
        (HOIST_RING, "Rated up to an angle of (deg)", 45.0, FAIL, "hoist-ring-range"),
        (HOIST_RING, "Torque applied (N m)", None, HOLD, "torque"),
        (HOIST_RING, "Torque applied (N m)", "70 ft lb", FAIL, "torque"),
        (PAD_EYE, "Engineer's mark", None, HOLD, "pad-eye-engineered"),
        (PAD_EYE, "Plane", "across", FAIL, "pad-eye-across"),
        (SWIVEL, "Turns under load", "yes", FAIL, "swivel-turns"),
        (SWIVEL, "Turns under load", None, HOLD, "swivel-turns"),
        (LOAD_CELL, "Loading angle (deg)", 20.0, FAIL, "load-cell-along"),
        (LOAD_CELL, "WLL (t)", None, HOLD, "rating-not-known"),
    ],
)
def test_a_cell_that_spoils_it(cells: dict[str, Any], heading: str, cell: Any, word: str, rule: str) -> None:
    found, rules = verdict(cells | {heading: cell})
    assert found == word
    assert rule in rules


def test_a_size_in_the_wrong_unit_is_held() -> None:
    """16 in for 16 mm."""
    (line,) = rows(list(CLIPS), list((CLIPS | {"Size": '16"'}).values()))
    judged = judge(line.item, US)
    assert judged.verdict == HOLD
    assert any("perhaps 16 mm is meant" in one.sentence for one in judged.findings if one.outcome == HOLD)
