"""Workbooks typed as rows, and what becomes of them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rigxl.items import Item
from rigxl.schedule.line import Line
from rigxl.schedule.map import Mapping, understand
from rigxl.schedule.read import lines
from rigxl.units import Habits
from rigxl.units.figures import UNDECLARED
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Row


def sheet(name: str, rows: Sequence[Sequence[Any]], *, hidden: Sequence[int] = (), **more: Any) -> Sheet:
    """A sheet whose first row is row 1; None is a blank cell, whole numbers become floats as in a file."""
    kept = []
    for number, cells in enumerate(rows, 1):
        filled = {
            column: float(value) if type(value) is int else value
            for column, value in enumerate(cells, 1)
            if value is not None
        }
        if filled:
            kept.append(Row(number, filled, number in hidden))
    return Sheet(name, more.pop("state", "visible"), kept, **more)


def book(*sheets: Sheet) -> Book:
    """A workbook of these sheets."""
    return Book(Path("schedule.xlsx"), "", "xlsx", False, sheets)


def read(*sheets: Sheet, mapping: Mapping | None = None, habits: Habits = UNDECLARED) -> list[Line]:
    """Every line of a workbook."""
    one = book(*sheets)
    return lines(one, understand(one, mapping), habits)


def rows(*cells: Sequence[Any], **more: Any) -> list[Line]:
    """Every line of one sheet called S."""
    return read(sheet("S", cells, **more))


def item(heading: str, value: Any, **more: Any) -> Item:
    """The item of a row that has a shackle, its rating and one more cell, which stands in C2."""
    return rows(["Kind", "WLL (t)", heading], ["shackle", 5, value], **more)[0].item


def problem(heading: str, value: Any) -> str:
    """The one sentence about the cell in C2."""
    (sentence,) = item(heading, value).problems.values()
    return sentence
