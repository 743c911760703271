"""The sample for a second opinion: pumps out of the pump house, on a sheet that works out figures of its own.

All of it is invented. The formulas in its worked columns are right, and so are most of its cells; the rest
shows what happens to such a sheet in use: figures typed over, a cosine for the sine, a unit that was not
converted, a margin left out, a row that was never worked out again, and a verdict copied down.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigxl.samples.results import Stored, with_results
from rigxl.samples.sheets import OFFICE_CRITERIA, criteria, lines, title, worked_table
from rigxl.templates.style import new_book, save, widths

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

HEADING_ROW = 4

WORKED = {
    "Hook load (t)": '=P{r}*IF(Q{r}="weighed",1.05,IF(Q{r}="calculated",1.1,1.2))+R{r}',
    "Load on item (t)": '=IF(D{r}="top",U{r},U{r}/(MIN(S{r},2)*SIN(RADIANS(T{r}))))',
    "Derate": "=IF(N{r}<=5,1,IF(N{r}<=45,0.7,0.5))",
    "Required WLL (t)": "=V{r}/W{r}*1.25",
    "Utilisation": "=V{r}/(H{r}*W{r})",
    "Result": '=IF(X{r}<=H{r},"PASS","FAIL")',
}
"""The worked columns by their headings, from U on, each with the formula that was filled down."""

LOOKS = ("0.00", "0.00", "0.00", "0.00", "0%", "General")

MISHAPS: Mapping[str, Any] = {
    "W9": 1,  # the derate for the side load typed over
    "Z9": "PASS",  # and the verdict with it
    "V11": "=U11/(MIN(S11,2)*COS(RADIANS(T11)))",  # cosine for sine
    "Z12": "=Z11",  # the verdict of the row above
    "V14": "=U14/(MIN(S14,2)*SIN(RADIANS(T14)))*2204.6/2000",  # short tons under a heading in tonnes
    "X15": "=V15/W15",  # the margin left out
    # the load was changed from 1.4 to 1.9 t, and the row not worked out again
    "U18": Stored(1.6),
    "V18": Stored(0.882702),
    "X18": Stored(1.103378),
    "Y18": Stored(0.304380),
}
"""What has happened to some of its cells since, by address."""


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, pump house at Pennow Lock", ("Schedule", "Criteria"))
    book.calculation.fullCalcOnLoad = False  # as a program leaves it that has worked everything out
    sheet, chosen = book.worksheets
    title(sheet, 1, "Rigging schedule: pump house at Pennow Lock")
    title(sheet, 2, "Pumps, motor and valves out for overhaul. Issue D, 2026-11-19.", size=10)
    _schedule(sheet)
    criteria(chosen, OFFICE_CRITERIA)
    save(book, path)
    stored = {cell: one.value for cell, one in MISHAPS.items() if isinstance(one, Stored)}
    with_results(path, {sheet.title: stored})


def _schedule(sheet: Worksheet) -> None:
    """What is filled in, and beside it what the sheet works out."""
    found = lines("pump_house")
    numbers = worked_table(sheet, HEADING_ROW, found, WORKED)
    for address, made in MISHAPS.items():
        if not isinstance(made, Stored):
            sheet[address] = made
    for number in numbers:
        for column, look in enumerate(LOOKS, len(found[0]) + 1):
            sheet.cell(number, column).number_format = look
    widths(sheet, dict.fromkeys("UVWXYZ", 11))
