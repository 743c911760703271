"""The small, clean sample: the old footbridge over Pennow Lock lifted out, one flat schedule, US units.

All of it is invented. One row fails: the shackles at the south lugs are pulled sideways.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.sheets import JUDGED_ON, criteria, lines, table, title
from rigxl.templates.style import new_book, save

CRITERIA = (
    ("ready set", "us", "The job is rigged by US practice."),
    ("margin", "25 %", "The design margin of this office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, footbridge over Pennow Lock", ("Schedule", "Criteria"))
    sheet, chosen = book.worksheets
    title(sheet, 1, "Rigging schedule: footbridge over Pennow Lock")
    title(sheet, 2, "Old span out in one piece, four legs under one hook. Issue A, 2026-11-20.", size=10)
    table(sheet, 4, lines("footbridge"))
    criteria(chosen, CRITERIA)
    save(book, path)
