"""The small, clean sample: the old footbridge over Pennow Lock lifted out, one flat schedule, US units.

All of it is invented. One row fails: the shackles at the south lugs are pulled sideways. In the second issue
they are larger; the span was weighed, and the smallest shackles are short of the margin.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from rigxl.samples.sheets import OFFICE_CRITERIA, Line, criteria, lines, table, title
from rigxl.templates.style import new_book, save

WEIGHED = {"Load (lb)": 16500, "Weight basis": "weighed"}
STRONGER = {"Size": '1 1/8"', "Rated load (short ton)": 9.5}


def write(path: Path) -> None:
    """Write the sample."""
    _write(path, lines("footbridge"), "Issue A, 2026-11-20.")


def write_issue_b(path: Path) -> None:
    """Write its second issue: the span was weighed, FB-09 is a size larger, and the rows were sorted anew."""
    headings, *found = lines("footbridge")
    for line in found:
        _put(line, headings, WEIGHED)
        if line[headings.index("Tag")] == "FB-09":
            _put(line, headings, STRONGER)
    found.sort(key=lambda line: (str(line[headings.index("Kind")]), str(line[headings.index("Tag")])))
    renamed = ["WLL (short ton)" if name == "Rated load (short ton)" else name for name in headings]
    _write(path, [renamed, *found], "Issue B, 2026-11-24.")


def _put(line: Line, headings: Line, values: Mapping[str, Any]) -> None:
    for name, value in values.items():
        line[headings.index(name)] = value


def _write(path: Path, found: list[Line], issue: str) -> None:
    book = new_book("Rigging schedule, footbridge over Pennow Lock", ("Schedule", "Criteria"))
    sheet, chosen = book.worksheets
    title(sheet, 1, "Rigging schedule: footbridge over Pennow Lock")
    title(sheet, 2, f"Old span out in one piece, four legs under one hook. {issue}", size=10)
    table(sheet, 4, found)
    criteria(chosen, OFFICE_CRITERIA)
    save(book, path)
