"""What the samples have in common: their lines, tables with a look, a short sheet of criteria."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigxl.templates.style import GROUP, HEAD, fit_widths, look, print_set_up, widths

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

JUDGED_ON = dt.date(2026, 11, 25)
"""The day the samples are judged on, so that their inspections stay as they were made up."""

Line = list[Any]

OFFICE_CRITERIA = (
    ("ready set", "us", "The job is rigged by US practice."),
    ("margin", "25 %", "The design margin of this office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)
"""What the invented office judges its American jobs by."""


def lines(name: str) -> list[Line]:
    """The lines of a sample, headings first, from the file of that name beside this one."""
    text = (Path(__file__).parent / f"{name}.csv").read_text(encoding="utf-8")
    found = [[cell(one.strip()) for one in line.split("|")] for line in text.splitlines()]
    width = len(found[0])
    return [line + [None] * (width - len(line)) for line in found]


def cell(text: str) -> Any:
    """A number, a date or a blank as what it is; anything else as text.

    >>> cell("6.5"), cell("2026-04-15"), cell(""), cell("5.8 t")
    (6.5, datetime.date(2026, 4, 15), None, '5.8 t')
    """
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return dt.date.fromisoformat(text)
    if re.fullmatch(r"\d+", text):
        return int(text)
    if re.fullmatch(r"\d+\.\d+", text):
        return float(text)
    return text or None


def title(sheet: Worksheet, row: int, text: str, *, size: float = 16) -> None:
    """A line of text over or under a table, in its first column; bold when it is large."""
    look(sheet.cell(row, 1, text), size=size, bold=size > 12, edge=False)


def headings(sheet: Worksheet, row: int, names: Sequence[str | None], height: float = 64) -> None:
    """A row of dark headings."""
    for column, name in enumerate(names, 1):
        look(sheet.cell(row, column, name), fill=HEAD, bold=True, colour="FFFFFF", across="center", wrap=True)
    sheet.row_dimensions[row].height = height


def body(sheet: Worksheet, row: int, found: Sequence[Sequence[Any]]) -> None:
    """Lines of a table, from ``row`` down: numbers to the right, dates as dates, the rest as text."""
    for number, line in enumerate(found, row):
        for column, value in enumerate(line, 1):
            across, form = "left", ""
            if isinstance(value, dt.date):
                across, form = "center", "yyyy-mm-dd"
            elif isinstance(value, int | float):
                across, form = "right", "#,##0" if value >= 1000 else ""
            look(sheet.cell(number, column, value), across=across, number=form)
        sheet.row_dimensions[number].height = 18


def table(sheet: Worksheet, row: int, found: Sequence[Sequence[Any]]) -> None:
    """Headings and lines, as wide as they need, frozen under the headings and set up for print."""
    headings(sheet, row, found[0])
    body(sheet, row + 1, found[1:])
    fit_widths(sheet, row + 1, least=11)
    sheet.freeze_panes = f"C{row + 1}"
    print_set_up(sheet, titles=f"{row}:{row}")


def worked_table(sheet: Worksheet, row: int, found: Sequence[Line], formulas: Mapping[str, str]) -> range:
    """A table with worked columns beside its lines, each formula filled down; the numbers of its rows."""
    first = row + 1
    worked = [
        [*line, *(formula.format(r=number) for formula in formulas.values())]
        for number, line in enumerate(found[1:], first)
    ]
    table(sheet, row, [[*found[0], *formulas], *worked])
    return range(first, first + len(worked))


def criteria(sheet: Worksheet, values: Sequence[tuple[str, Any, str]]) -> None:
    """A sheet of criteria: each setting, its value, and what was meant by choosing it."""
    title(sheet, 1, "Criteria of this job", size=14)
    headings(sheet, 3, ("Setting", "Value", "Why"), height=22)
    body(sheet, 4, values)
    for number in range(4, 4 + len(values)):
        look(sheet.cell(number, 1), fill=GROUP, bold=True, across="left")
        look(sheet.cell(number, 2), across="left")
    widths(sheet, {"A": 22, "B": 24, "C": 64})
    print_set_up(sheet, paper=9)
