"""The sample with every kind of hardware: a small turbine hall emptied for its overhaul.

All of it is invented. Lifts on one sheet; what hangs in them from the hook to the load on another, in four
tables one under the other, each with the columns its kinds need; rope clips, below-the-hook devices,
inspections, joined by tag, and the makers' own ratings on sheets of their own. The rotor, the bearing cap and
the valve body are rigged well, and so is the first of each kind of device; the rest shows what each kind is
refused for.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from rigxl.samples.sheets import OFFICE_CRITERIA, body, criteria, headings, lines, table, title
from rigxl.templates.style import new_book, print_set_up, save, widths

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

SHEETS = {
    "Lifts": ("lifts", "lifts"),
    "Rigging": ("", "from the hook to the load"),
    "Rope clips": ("clips", "ends of wire ropes made up with clips"),
    "Bars and forks": ("bars", "spreader bars, lifting beams, forks and baskets"),
    "Clamps": ("clamps", "plate clamps and beam clamps"),
    "Magnets and pads": ("magnets", "magnets and vacuum pads"),
    "Inspections": ("inspections", "inspections, by tag"),
    "Ratings": ("ratings", "ratings of our makers, from their own sheets"),
}
RIGGING = {
    "top": "At the hook, down to the link that gathers the legs",
    "legs": "In the legs",
    "bolted": "On the load: eye bolts and hoist rings",
    "welded": "On the load: pad eyes",
}
RIGGING_WIDTHS = {
    "A": 15,
    "B": 9,
    "C": 13,
    "D": 12,
    "E": 10,
    "F": 10,
    "G": 20,
    "H": 11,
    "I": 16,
} | dict.fromkeys("JKLMNOPQ", 15)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, turbine hall", (*SHEETS, "Criteria"))
    for name, (file, about) in SHEETS.items():
        sheet = book[name]
        title(sheet, 1, f"Turbine hall: {about}")
        title(sheet, 2, "Overhaul of set 2. Issue C, 2026-11-20.", size=10)
        if file:
            table(sheet, 4, lines(f"turbine_{file}"))
        else:
            _rigging(sheet)
    criteria(book["Criteria"], OFFICE_CRITERIA)
    save(book, path)


def _rigging(sheet: Worksheet) -> None:
    """Four tables, one under the other, whose first columns are the same."""
    row = 4
    for file, about in RIGGING.items():
        names, *found = lines(f"turbine_{file}")
        title(sheet, row, about, size=13)
        headings(sheet, row + 1, names, height=48)
        body(sheet, row + 2, found)
        row += len(found) + 3
    widths(sheet, RIGGING_WIDTHS)
    print_set_up(sheet)
