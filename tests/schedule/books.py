"""Whole workbooks: written as people keep them, and checked from the file to the verdict."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import openpyxl

from rigxl.items import FAIL, HOLD
from rigxl.schedule.check import Checked, CheckedRow, check_workbook

TODAY = dt.date(2026, 11, 25)
GOOD: dict[str, Any] = {
    "Lift": "Lift 1",
    "Tag": "S-1",
    "Kind": "shackle",
    "Position": "leg",
    "Quantity": 2,
    "Size": "7/8 in",
    "Type": "bow, screw pin",
    "Rated load (t)": 5.8,
    "Maker": "Halden Forge",
    "Load (t)": 5,
    "Weight basis": "weighed",
    "Rigging weight (t)": 0.1,
    "Legs": 2,
    "Sling angle (deg)": 60,
    "Rating marked": "yes",
    "Last inspection": dt.datetime(2026, 6, 1),
}
"""A row that passes: (5 × 1.05 + 0.1) / (2 sin 60°) × 1.25 is 3.86 t."""

HOOK = GOOD | {"Tag": "H-1", "Kind": "hook", "Position": "top", "Quantity": 1, "Size": None, "Type": None}
HOOK |= {"Rated load (t)": 10, "Latch": "yes"}
"""A hook at the top that passes."""


def table(*rows: Mapping[str, Any]) -> list[list[Any]]:
    """Rows of named cells as a table with one row of headings."""
    headings = list(dict.fromkeys(name for row in rows for name in row))
    return [headings, *([row.get(name) for name in headings] for row in rows)]


def check(
    folder: Path,
    *rows: Mapping[str, Any],
    overrides: Mapping[str, str] | None = None,
    **sheets: Sequence[Any],
) -> Checked:
    """A workbook with these rows on the sheet Schedule, and other sheets by name, checked."""
    book = openpyxl.Workbook()
    first = book.active
    assert first is not None
    first.title = "Schedule"
    for row in table(*rows):
        first.append(row)
    for name, cells in sheets.items():
        sheet = book.create_sheet(name.replace("_", " "))
        for row in cells:
            sheet.append(row)
    path = folder / "lift.xlsx"
    book.save(path)
    return check_workbook(path, today=TODAY, overrides=overrides)


def decided(row: CheckedRow) -> tuple[str, list[str]]:
    """The verdict of a row, and the rules that fail or hold it."""
    return row.verdict, sorted(row.rules)


def sentences(row: CheckedRow, rule: str) -> list[str]:
    """What a rule said of a row."""
    return [one.sentence for one in row.judged.findings if one.rule.name == rule]


def remedies(row: CheckedRow) -> list[str]:
    """What would pass, of all that fails or holds a row."""
    return [one.remedy for one in row.judged.findings if one.outcome in (FAIL, HOLD)]
