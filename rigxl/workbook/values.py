"""What a cell can hold, as plain Python types.

A blank is None, a number a float, text a str, yes or no a bool, a date a datetime; an error
is a CellError and a formula a Formula, so that neither can pass for a value by accident.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import NamedTuple, TypeAlias

from rigxl.errors import CellError as CellError


class Dressed(float):
    """A number that its cell shows with text behind it, such as 12.5 shown as 12.5 kN by its format."""

    __slots__ = ("text",)
    text: str

    def __new__(cls, number: float, text: str) -> Dressed:
        """The number with its text."""
        made = super().__new__(cls, number)
        made.text = text
        return made

    def __reduce__(self) -> tuple[type[Dressed], tuple[float, str]]:
        return Dressed, (float(self), self.text)


Plain: TypeAlias = float | str | bool | dt.datetime | dt.time | CellError | None


class Area(NamedTuple):
    """A rectangle of cells, all four bounds included, counted from 1."""

    first_row: int
    first_column: int
    last_row: int
    last_column: int


class Formula(NamedTuple):
    """A formula and the result that was stored with it.

    ``calculated`` is False when no program has worked the result out (nothing stored, or the
    placeholder 0 that some writers store): such a result must not be used.

    ``written`` is the formula as the file has it, which for a member of a shared formula is that of its
    first cell; ``moved`` says how far below and right of that cell this one is. ``fills`` is the area that
    an array formula or a what-if table fills from here. ``doubt`` says why a result was withdrawn that a
    program did work out; it begins with what follows the address of the cell.
    """

    written: str
    result: Plain
    calculated: bool
    moved: tuple[int, int] = (0, 0)
    fills: Area | None = None
    doubt: str = ""

    @property
    def text(self) -> str:
        """The formula as the spreadsheet shows it; empty where the file does not tell it.

        So it is in a what-if table, in the cells that the formula of another cell fills, and in workbooks
        of the binary kinds.
        """
        if self.moved == (0, 0):
            return self.written
        from rigxl.workbook.moved import moved

        return moved(self.written, *self.moved)


Value: TypeAlias = Plain | Formula


class Row(NamedTuple):
    """One row that holds something: its number as the spreadsheet shows it, cells by column (A is 1)."""

    number: int
    cells: dict[int, Value]
    hidden: bool = False


class TableArea(NamedTuple):
    """A table object (a list) on a sheet: its name, its area with headings, its totals and heading rows.

    ``columns`` are the names of its columns from the left.
    """

    name: str
    area: Area
    totals_rows: int = 0
    header_rows: int = 1
    columns: tuple[str, ...] = ()


def column_letters(number: int) -> str:
    """Column 1 is A, 27 is AA.

    >>> column_letters(1), column_letters(28), column_letters(16384)
    ('A', 'AB', 'XFD')
    """
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """A is column 1, AA is 27.

    >>> column_number("A"), column_number("xfd")
    (1, 16384)
    """
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def cell_name(row: int, column: int) -> str:
    """The cell as people write it.

    >>> cell_name(17, 3)
    'C17'
    """
    return f"{column_letters(column)}{row}"


def within(area: Area) -> Iterator[tuple[int, int]]:
    """Every (row, column) of an area, row by row; ask only for small ones."""
    for row in range(area.first_row, area.last_row + 1):
        for column in range(area.first_column, area.last_column + 1):
            yield row, column
