"""Small schedules in one flat table, and what changed between two of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import openpyxl

from rigxl.changes.compare import Changed, Compared
from rigxl.changes.versions import compare_workbooks

TODAY = dt.date(2026, 11, 25)

Row = Mapping[str, Any]
SHACKLE: Row = {
    "Lift": "Pump", "Tag": "S-101", "Kind": "shackle", "Position": "leg", "Quantity": 2,
    "Type": "screw pin bow", "Size": "3/4 in", "WLL (t)": 4.25, "Maker": "Quernby Forge", "Load (t)": 4.0,
    "Weight basis": "weighed", "Rigging weight (t)": 0.1, "Legs": 2, "Sling angle (deg)": 60,
    "Loading angle (deg)": 0, "Rating marked": "yes", "Last inspection": dt.date(2026, 5, 4),
}  # fmt: skip
"""A row that passes: (4 × 1.05 + 0.1) / (2 sin 60°) = 2.48 t, × 1.25 = 3.10 t of 4.25 t."""


def shackle(**changed: Any) -> Row:
    """The shackle with other values, by short names."""
    headings = {"tag": "Tag", "lift": "Lift", "rated": "WLL (t)", "load": "Load (t)",
                "angle": "Sling angle (deg)", "maker": "Maker", "size": "Size",
                "inspected": "Last inspection", "quantity": "Quantity", "serial": "Serial no.",
                "remarks": "Remarks", "position": "Position", "kind": "Kind",
                "legs": "Legs", "type": "Type"}  # fmt: skip
    return {**SHACKLE, **{headings[name]: value for name, value in changed.items()}}


def write(path: Path, rows: Iterable[Row], **sheets: Iterable[Iterable[Any]]) -> Path:
    """A workbook with the rows on a sheet Schedule, and other sheets by name, line by line."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Schedule"
    rows = list(rows)
    headings = list(dict.fromkeys(name for row in rows for name in row))
    sheet.append(headings)
    for row in rows:
        sheet.append([row.get(name) for name in headings])
    for name, lines in sheets.items():
        other = book.create_sheet(name)
        for line in lines:
            other.append(list(line))
    book.save(path)
    return path


def between(
    folder: Path,
    old: Iterable[Row],
    new: Iterable[Row],
    *,
    old_sheets: Mapping[str, Iterable[Iterable[Any]]] | None = None,
    new_sheets: Mapping[str, Iterable[Iterable[Any]]] | None = None,
    today: dt.date = TODAY,
    old_day: dt.date | None = None,
) -> Compared:
    """What changed from one schedule to the other."""
    return compare_workbooks(
        write(folder / "old.xlsx", old, **(old_sheets or {})),
        write(folder / "new.xlsx", new, **(new_sheets or {})),
        old_day=old_day,
        today=today,
    )


def told(found: Compared) -> list[tuple[str, str, str, str]]:
    """The inputs that changed: item, field, both values."""
    return [(one.new.name, each.field, each.old, each.new) for one in found.changed for each in one.inputs]


def only(found: Compared) -> Changed:
    """The one row that changed."""
    (one,) = found.changed
    return one
