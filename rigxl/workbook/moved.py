"""A formula as it reads in another cell: references move along, but for what a $ holds in place.

So the members of a shared formula are told in full, of which only the first is written in the file
(ECMA-376-1, 18.3.1.40).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW
from rigxl.workbook.tokens import UnreadableFormulaError, tokens
from rigxl.workbook.values import column_letters, column_number

OFF_SHEET = "#REF!"
_COLUMN, _ROW = r"(?P<{0}c>\$?[A-Za-z]{{1,3}})", r"(?P<{0}r>\$?[1-9][0-9]{{0,6}})"
_AREA = re.compile(
    "|".join(
        (
            (_COLUMN + _ROW).format("a") + "(?::" + (_COLUMN + _ROW).format("b") + ")?",
            _COLUMN.format("d") + ":" + _COLUMN.format("e"),
            _ROW.format("f") + ":" + _ROW.format("g"),
        )
    )
)
_QUOTED = re.compile(r"'(?:[^']|'')*'|\[.*\]")
_PARTS = re.compile(r"(\$?[A-Za-z]{1,3})?(\$?[1-9][0-9]{0,6})?")


class _Reference(NamedTuple):
    """One reference of a formula: what stands before it, and its corners as (column, row), '' for neither."""

    sheet: str
    corners: tuple[tuple[str, str], ...]

    def at(self, rows: int, columns: int) -> str:
        moved = [_corner(column, row, rows, columns) for column, row in self.corners]
        return OFF_SHEET if None in moved else self.sheet + ":".join(filter(None, moved))


def _corner(column: str, row: str, rows: int, columns: int) -> str | None:
    """A corner moved; None when it leaves the sheet."""
    if column and columns and column[0] != "$":
        number = column_number(column) + columns
        if not 1 <= number <= LAST_COLUMN:
            return None
        column = column_letters(number)
    if row and rows and row[0] != "$":
        number = int(row) + rows
        if not 1 <= number <= LAST_ROW:
            return None
        row = str(number)
    return column + row


def moved(formula: str, rows: int, columns: int) -> str:
    """A formula as it reads so many rows below and columns right of where it was written.

    Names, tables and texts stay as they are; a reference that leaves the sheet becomes #REF!. What cannot
    be taken apart gives an empty text, which nobody can take for a formula.

    >>> moved('=SUM(A1:$B$2)*Data!C3&"D4"', 1, 2)
    '=SUM(C2:$B$2)*Data!E4&"D4"'
    """
    if not (rows or columns):
        return formula
    pieces = _pieces(formula)
    return "".join([piece if isinstance(piece, str) else piece.at(rows, columns) for piece in pieces])


def is_fixed(formula: str) -> bool:
    """Whether a formula means the same cells wherever it stands.

    >>> is_fixed("=$A$1*Data!$B$2:$C$3"), is_fixed("=$A1")
    (True, False)
    """
    corners = (
        one
        for piece in _pieces(formula)
        if isinstance(piece, _Reference)
        for pair in piece.corners
        for one in pair
    )
    return all(one.startswith("$") for one in corners if one)


@lru_cache(maxsize=1024)
def _pieces(formula: str) -> tuple[str | _Reference, ...]:
    """A formula cut at its references."""
    pieces: list[str | _Reference] = []
    at = 0
    try:
        found = tokens(formula)
    except UnreadableFormulaError:
        return ()
    for token in found:
        if token.kind != "OPERAND" or token.part != "RANGE":
            continue
        sheet, bang, area = token.text.rpartition("!")
        bare = _QUOTED.sub("", token.text).replace(OFF_SHEET, "")
        if bare.count("!") > 1 or (":" in bare.rpartition("!")[2] and not _AREA.fullmatch(area)):
            return ()  # such as A1:name, of which only one end moves
        if _AREA.fullmatch(area):
            corners = tuple(_PARTS.fullmatch(part).groups("") for part in area.split(":"))  # type: ignore[union-attr]
            pieces += [formula[at : token.start], _Reference(sheet + bang, corners)]  # type: ignore[arg-type]
            at = token.start + len(token.text)
    return (*pieces, formula[at:])
