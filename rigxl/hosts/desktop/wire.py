"""The Python end of the wire from VBA: a call comes in, values go out, and a refusal goes out as a token.

A token is text that begins with a character nobody types. VBA writes one for what an argument is where Excel
has no value for it, and makes a cell error of each one that comes back.
"""

from __future__ import annotations

from typing import Any

import xlwings

from rigxl.errors import CellError
from rigxl.functions.columns import Cell, Refused, answer

TOKEN = "\x01"
LEFT_OUT, BLANK = f"{TOKEN}left out", f"{TOKEN}blank"


@xlwings.func(category="rigxl")
@xlwings.arg("given", ndim=2)
def rigxl_wire(function: str, *given: Any) -> list[list[Any]]:
    """The answer of a worksheet function as rows of values and tokens; every argument comes as rows."""
    found = answer(function, [_argument(rows) for rows in given])
    rows = found if isinstance(found, list) else [[found]]
    return [[_sent(cell) for cell in row] for row in rows]


def _argument(rows: list[list[Any]]) -> object:
    read = [[_read(value) for value in row] for row in rows]
    return read[0][0] if len(read) == len(read[0]) == 1 else read


def _read(value: Any) -> object:
    if not isinstance(value, str) or not value.startswith(TOKEN):
        return "" if value is None else value
    if value == LEFT_OUT:
        return None
    return "" if value == BLANK else CellError(value.removeprefix(TOKEN))


def _sent(cell: Cell) -> object:
    return TOKEN + cell.code if isinstance(cell, Refused) else cell
