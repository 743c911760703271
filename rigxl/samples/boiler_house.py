"""The sample with our functions in its cells: pieces out of the boiler house, angles and tensions worked out.

All of it is invented. The spread of the feed pump's picks was changed and the sheet not worked out again, and
the legs for the economiser do not reach.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.results import with_results
from rigxl.samples.sheets import JUDGED_ON, body, criteria, headings, lines, title
from rigxl.templates.style import fit_widths, look, new_book, print_set_up, save, widths

CRITERIA = (
    ("ready set", "us", "The job is rigged by US practice."),
    ("margin", "25 %", "The design margin of this office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)
HEADING_ROW = 4
FIRST_ROW = HEADING_ROW + 1
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
    names, *found = lines("boiler_house")
    rows = [
        [*line, *(formula.format(r=number) for formula in WORKED.values())]
        for number, line in enumerate(found, FIRST_ROW)
    ]
    headings(sheet, HEADING_ROW, [*names, *WORKED])
    body(sheet, FIRST_ROW, rows)
    for number in range(FIRST_ROW, FIRST_ROW + len(rows)):
        look(sheet.cell(number, len(names) + 1), across="right", number="0.0")
        look(sheet.cell(number, len(names) + 2), across="right", number="0.00")
    fit_widths(sheet, FIRST_ROW, least=11)
    widths(sheet, dict.fromkeys("UV", 16))
    sheet.freeze_panes = f"C{FIRST_ROW}"
    print_set_up(sheet, titles=f"{HEADING_ROW}:{HEADING_ROW}")
    criteria(chosen, CRITERIA)
    save(book, path)
    with_results(path, {sheet.title: STALE})
