"""The sample as people really send them: the old bakery by Pennow Lock emptied, all on one sheet.

All of it is invented. Two rows of headings, units in the cells, and every kind of slip: a ton that may be
short or long, a size that became a date, an error, a formula that was never calculated, a load to be
confirmed, a hidden row, subtotals and notes.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigxl.samples.sheets import body, headings, lines, title
from rigxl.templates.style import GROUP, fit_widths, look, new_book, print_set_up, save, widths

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

GROUPS = (("Identification", 6), ("Rating", 3), ("Lift", 6), ("Use", 10), ("Inspection", 2))
"""The headings over the headings, and over how many columns each is merged."""

HEADING_ROW = 7
FIRST_ROW = 8
HIDDEN = "BK-17"

NOTES = (
    "Notes:",
    "1. Ratings copied from the list in the old store; two of them still to be read off the piece.",
    "* Load of the proving cabinet to be confirmed by the haulier.",
)
HIRE = (
    ("Mobile crane, 60 t class", 2, 1450),
    ("Low loader", 1, 620),
    ("Riggers, gang of four", 2, 1180),
)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Lifting gear list, bakery at Pennow Lock", ("Gear list", "Crane hire"))
    sheet, hire = book.worksheets
    names, *found = lines("bakery")
    _title_block(sheet)
    _headings(sheet, names)
    body(sheet, FIRST_ROW, found)
    _subtotals(sheet, found)
    for number, note in enumerate(NOTES, FIRST_ROW + len(found) + 1):
        title(sheet, number, note, size=10)
    fit_widths(sheet, FIRST_ROW, least=10, most=24)
    widths(sheet, {"A": 7, "C": 23})
    sheet.freeze_panes = f"C{FIRST_ROW}"
    print_set_up(sheet, titles=f"{HEADING_ROW - 1}:{HEADING_ROW}")
    _hire(hire)
    save(book, path)


def _title_block(sheet: Worksheet) -> None:
    title(sheet, 1, "Lifting gear list")
    sheet.merge_cells("A1:F1")
    block = (("Job", "Old bakery by Pennow Lock: machines out through the roof"), ("Issued", "20 Nov 2026"))
    for row, (label, said) in enumerate(block, 3):
        look(sheet.cell(row, 1, label), bold=True, edge=False)
        look(sheet.cell(row, 3, said), edge=False)


def _headings(sheet: Worksheet, names: Sequence[str]) -> None:
    """Two rows: the upper one merged over the columns that belong together."""
    headings(sheet, HEADING_ROW - 1, [None] * len(names), height=20)
    headings(sheet, HEADING_ROW, names, height=44)
    column = 1
    for group, count in GROUPS:
        sheet.cell(HEADING_ROW - 1, column).value = group
        sheet.merge_cells(
            start_row=HEADING_ROW - 1,
            end_row=HEADING_ROW - 1,
            start_column=column,
            end_column=column + count - 1,
        )
        column += count


def _subtotals(sheet: Worksheet, found: Sequence[Sequence[Any]]) -> None:
    """Tint the subtotals, and hide the row that somebody hid."""
    for number, line in enumerate(found, FIRST_ROW):
        if line[0] is None:
            for column in range(1, len(line) + 1):
                look(sheet.cell(number, column), fill=GROUP, bold=True, size=9, across="left")
        elif line[1] == HIDDEN:
            sheet.row_dimensions[number].hidden = True


def _hire(sheet: Worksheet) -> None:
    """A second sheet that is no schedule."""
    title(sheet, 1, "Crane hire, for the cost sheet", size=14)
    headings(sheet, 3, ("What", "Days", "Rate per day"), height=32)
    body(sheet, 4, HIRE)
    widths(sheet, {"A": 34, "B": 12, "C": 14})
    print_set_up(sheet, paper=9)
