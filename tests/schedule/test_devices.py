"""Below-the-hook devices as people list them: from headings and cells to a verdict."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, PASS
from tests.schedule.sheets import rows

US = Criteria.ready("us").on(dt.date(2026, 11, 25))

CLAMP: dict[str, Any] = {
    "Kind": "Vertical plate clamp",
    "WLL (t)": 5.0,
    "Load (t)": 3.0,
    "Weight basis": "weighed",
    "Rigging weight (t)": 0.2,
    "Own weight (kg)": 30.0,
    "Engineer's mark": "DRG-88",
    "Proof load (t)": 6.25,
    "Written procedure": "yes",
    "Plate thickness (mm)": 25.0,
    "Grip from (mm)": 0.0,
    "Grip to (mm)": 40.0,
    "Lay of load": "on edge",
    "Pieces gripped": 1.0,
    "Least load (t)": 0.5,
    "Maker": "Halden Forge",
    "Rating marked": "yes",
    "Last inspection": dt.datetime(2026, 6, 1),
}


def verdict(**changes: Any) -> tuple[str, set[str]]:
    cells = CLAMP | changes
    (line,) = rows(list(cells), list(cells.values()))
    judged = judge(line.item, US)
    return judged.verdict, {one.rule.name for one in judged.findings if one.outcome in (FAIL, HOLD)}


def test_a_clamp_in_a_schedule() -> None:
    """(3 t × 1.05 + 0.2 t − 0.03 t) × 1.25 is under 5 t, and the rest as it should be."""
    assert verdict() == (PASS, set())


@pytest.mark.parametrize(
    ("heading", "cell", "word", "rule"),
    [
        ("Plate thickness (mm)", None, HOLD, "grip-thickness"),
        ("Plate thickness (mm)", "25 or 30", HOLD, "cell-unreadable"),
        ("Plate thickness (mm)", 41.0, FAIL, "grip-thickness"),
        ("Lay of load", "flat", FAIL, "grip-position"),
        ("Lay of load", "leaning", HOLD, "cell-unreadable"),
        ("Engineer's mark", "none", FAIL, "device-engineered"),
        ("Engineer's mark", "TBC", HOLD, "cell-unreadable"),
        ("Proof load (t)", 5.0, FAIL, "device-proof-test"),
        ("Written procedure", "no", FAIL, "device-procedure"),
        ("Pieces gripped", 2.0, FAIL, "one-piece"),
        ("Own weight (kg)", 300.0, HOLD, "rigging-without-device"),
    ],
)
def test_a_cell_that_spoils_it(heading: str, cell: Any, word: str, rule: str) -> None:
    assert verdict(**{heading: cell}) == (word, {rule})
