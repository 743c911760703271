"""References such as A1:C3 as areas."""

from __future__ import annotations

import re

from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW
from rigxl.workbook.values import Area, cell_name, column_number

_AREA = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Za-z]{1,3})\$?([0-9]{1,7}))?")
_CELL = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")
_COLUMNS = re.compile(r"\$?([A-Za-z]{1,3}):\$?([A-Za-z]{1,3})")
_ROWS = re.compile(r"\$?([0-9]{1,7}):\$?([0-9]{1,7})")


def row_number(given: str | None, before: int) -> int:
    """The number of a row by its own words, or the one after the row before; 0 when that is no row.

    >>> row_number("7", 3), row_number(None, 3), row_number("-1", 3)
    (7, 4, 0)
    """
    text = str(before + 1) if given is None else given.strip()
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 0
    return number if number <= LAST_ROW else 0


def column_in(row: int, given: str | None, before: int) -> int:
    """The column of a cell of a row by its own words, or the one after the cell before; 0 when that is none.

    >>> column_in(7, "C7", 1), column_in(7, None, 1), column_in(7, "C8", 1)
    (3, 2, 0)
    """
    column = before + 1
    if given is not None:
        found = _CELL.fullmatch(given.strip())
        column = column_number(found[1]) if found and int(found[2]) == row else 0
    return column if column <= LAST_COLUMN else 0


def read_area(reference: str) -> Area | None:
    """The area of a reference: a cell, a rectangle, whole columns or whole rows; None when it is none.

    >>> read_area("B2:$D$4"), read_area("C:D").last_row, read_area("five")
    (Area(first_row=2, first_column=2, last_row=4, last_column=4), 1048576, None)
    """
    reference = reference.strip()
    if found := _AREA.fullmatch(reference):
        rows = sorted((int(found[2]), int(found[4] or found[2])))
        columns = sorted((column_number(found[1]), column_number(found[3] or found[1])))
    elif found := _COLUMNS.fullmatch(reference):
        rows = [1, LAST_ROW]
        columns = sorted((column_number(found[1]), column_number(found[2])))
    elif found := _ROWS.fullmatch(reference):
        rows = sorted((int(found[1]), int(found[2])))
        columns = [1, LAST_COLUMN]
    else:
        return None
    if not (rows[0] >= 1 and rows[1] <= LAST_ROW and columns[0] >= 1 and columns[1] <= LAST_COLUMN):
        return None
    return Area(rows[0], columns[0], rows[1], columns[1])


def read_areas(references: str) -> list[Area]:
    """The areas of a list with spaces between, as the format writes it; what is no reference is left out."""
    return [area for reference in references.split() if (area := read_area(reference)) is not None]


def area_name(area: Area) -> str:
    """The area as people write it.

    >>> area_name(Area(2, 2, 4, 4))
    'B2:D4'
    """
    first, last = cell_name(area.first_row, area.first_column), cell_name(area.last_row, area.last_column)
    return first if first == last else f"{first}:{last}"
