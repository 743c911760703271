"""The sample with our functions in its cells: pieces out of the boiler house, angles and tensions worked out.

All of it is invented. The spread of the feed pump's picks was changed and the sheet not worked out again, and
the legs for the economiser do not reach.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.results import with_results
from rigxl.samples.sheets import OFFICE_CRITERIA, criteria, lines, title, worked_table
from rigxl.templates.style import look, new_book, save, widths

HEADING_ROW = 4
WORKED = {
    "Sling angle from horizontal (deg)": "=RIGXL.SLINGANGLE(S{r},T{r})",
    "Tension in a leg (t)": "=RIGXL.LEGTENSION(RIGXL.HOOKLOAD(O{r},Q{r},1.05),R{r},U{r})",
}
"""The worked columns by their headings, from U on, each with the formula that was filled down."""
STALE = {"U8": 60.0, "V8": 1.2413268, "U9": 60.0, "V9": 1.2413268}
"""What was stored while the spread of the feed pump's picks was 2.5 m, by address."""


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, boiler house at Pennow Lock", ("Schedule", "Criteria"))
    book.calculation.fullCalcOnLoad = False  # as a program leaves it that has worked everything out
    sheet, chosen = book.worksheets
    title(sheet, 1, "Rigging schedule: boiler house at Pennow Lock")
    title(sheet, 2, "Drum, feed pump and economiser. Issue B, 2026-11-21. The angles are functions.", size=10)
    found = lines("boiler_house")
    beside = len(found[0])
    for number in worked_table(sheet, HEADING_ROW, found, WORKED):
        look(sheet.cell(number, beside + 1), across="right", number="0.0")
        look(sheet.cell(number, beside + 2), across="right", number="0.00")
    widths(sheet, dict.fromkeys("UV", 16))
    criteria(chosen, OFFICE_CRITERIA)
    save(book, path)
    with_results(path, {sheet.title: STALE})
