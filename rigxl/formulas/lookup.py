"""Looking values up, where the match is exact: INDEX, MATCH, VLOOKUP and HLOOKUP."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import NA, VALUE, Scalar, UnworkableError, compared, number

REF = CellError("#REF!")
Rows: TypeAlias = list[list[Scalar]]
Given: TypeAlias = Sequence[Scalar | Rows]


def _grid(value: Scalar | Rows) -> Rows:
    return value if isinstance(value, list) else [[value]]


def _scalar(value: Scalar | Rows) -> Scalar:
    if isinstance(value, list):
        raise UnworkableError("several values are looked up at once, which is not worked out here")
    return value


def _place(value: Scalar | Rows, what: str) -> int:
    found = number(_scalar(value))
    if isinstance(found, CellError) or found != int(found):
        raise UnworkableError(f"{what} is no whole number")
    return int(found)


def _exactly(given: Given, at: int, name: str) -> None:
    """Only exact matches are worked out, where no order of sorting matters."""
    wanted = _scalar(given[at]) if len(given) > at else True
    if wanted not in (0, False) or wanted is None:
        raise UnworkableError(f"{name} looks for the nearest match, which is not worked out here")


def _found(wanted: Scalar, among: Sequence[Scalar]) -> int | None:
    """Where the first equal value stands."""
    if isinstance(wanted, str) and any(sign in wanted for sign in "*?~"):
        raise UnworkableError(f"'{wanted}' is a pattern to some programs and a text to others")
    for at, value in enumerate(among):
        if value is None or isinstance(value, CellError) or isinstance(value, str) != isinstance(wanted, str):
            continue
        if isinstance(value, str) or isinstance(value, bool) == isinstance(wanted, bool):
            if isinstance(value, str) and value.casefold() == str(wanted).casefold():
                return at
            if not isinstance(value, str) and compared("=", wanted, value):
                return at
    return None


def _match(given: Given) -> Scalar:
    if not 2 <= len(given) <= 3:
        raise UnworkableError(f"MATCH has {len(given)} arguments")
    _exactly(given, 2, "MATCH")
    wanted, grid = _scalar(given[0]), _grid(given[1])
    if isinstance(wanted, CellError):
        return wanted
    line = grid[0] if len(grid) == 1 else [row[0] for row in grid]
    if len(grid) > 1 and len(grid[0]) > 1:
        return NA
    at = _found(wanted, line)
    return NA if at is None else float(at + 1)


def _index(given: Given) -> Scalar:
    if not 2 <= len(given) <= 3:
        raise UnworkableError(f"INDEX has {len(given)} arguments")
    grid = _grid(given[0])
    for value in given[1:]:
        if isinstance(value, CellError):
            return value
    row = _place(given[1], "the row of INDEX")
    column = _place(given[2], "the column of INDEX") if len(given) > 2 else 0
    if len(given) == 2 and len(grid) == 1:
        row, column = 1, row
    if len(grid[0]) == 1 and not column:
        column = 1
    if len(grid) == 1 and not row:
        row = 1
    if row < 0 or column < 0:
        return VALUE
    if not (row and column):
        raise UnworkableError("INDEX gives a whole row or column, which is not worked out here")
    return grid[row - 1][column - 1] if row <= len(grid) and column <= len(grid[0]) else REF


def _lookup(name: str, across: bool) -> Callable[[Given], Scalar]:
    def worked(given: Given) -> Scalar:
        if not 3 <= len(given) <= 4:
            raise UnworkableError(f"{name} has {len(given)} arguments")
        _exactly(given, 3, name)
        wanted, grid = _scalar(given[0]), _grid(given[1])
        if isinstance(wanted, CellError):
            return wanted
        lines = [list(line) for line in zip(*grid, strict=True)] if across else grid
        place = _place(given[2], f"the place that {name} takes its answer from")
        if place < 1:
            return VALUE
        if place > len(lines[0]):
            return REF
        at = _found(wanted, [line[0] for line in lines])
        return NA if at is None else lines[at][place - 1]

    return worked


LOOKUPS: Mapping[str, Callable[[Given], Scalar]] = {
    "HLOOKUP": _lookup("HLOOKUP", across=True),
    "INDEX": _index,
    "MATCH": _match,
    "VLOOKUP": _lookup("VLOOKUP", across=False),
}
