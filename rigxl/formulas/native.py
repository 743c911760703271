"""The functions that spreadsheets bring themselves, as far as they are worked out here.

A modest set, each the same in every program; the tests hold them against LibreOffice.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_UP, ROUND_UP, Decimal
from typing import TypeAlias

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import (
    DIV,
    NA,
    NEAR,
    NUM,
    VALUE,
    Scalar,
    UnworkableError,
    finite,
    number,
    power,
    text,
    truth,
)


@dataclass(frozen=True, slots=True)
class Block:
    """Several values, row by row; among them texts do not count as numbers."""

    rows: Sequence[Sequence[Scalar]]

    def __iter__(self) -> Iterator[Scalar]:
        for row in self.rows:
            yield from row


Argument: TypeAlias = Scalar | Block


class _FoundError(Exception):
    """An error among the arguments, which is the answer then."""

    def __init__(self, error: CellError) -> None:
        super().__init__(error)
        self.error = error


def _number(value: Scalar) -> float:
    found = number(value)
    if isinstance(found, CellError):
        raise _FoundError(found)
    return found


def _truth(value: Scalar) -> bool:
    found = truth(value)
    if isinstance(found, CellError):
        raise _FoundError(found)
    return found


def _text(value: Scalar) -> str:
    found = text(value)
    if isinstance(found, CellError):
        raise _FoundError(found)
    return found


def _numbers(arguments: Sequence[Argument]) -> Iterator[float]:
    """The numbers among arguments: of cells only what is a number, of what is typed all that can be one."""
    for argument in arguments:
        if isinstance(argument, Block):
            for value in argument:
                if isinstance(value, CellError):
                    raise _FoundError(value)
                if isinstance(value, float | int) and not isinstance(value, bool):
                    yield float(value)
                elif isinstance(value, bool):
                    raise UnworkableError(
                        "programs differ on whether a yes or no among cells counts as a number"
                    )
        else:
            yield _number(argument)


def _conditions(arguments: Sequence[Argument]) -> list[bool]:
    found = []
    for argument in arguments:
        if isinstance(argument, Block):
            for value in argument:
                if isinstance(value, CellError):
                    raise _FoundError(value)
                if isinstance(value, float | int):
                    found.append(bool(value))
        elif argument is not None:
            found.append(_truth(argument))
    if not found:
        raise _FoundError(VALUE)
    return found


def _rounded(way: str) -> Callable[[Scalar, Scalar], Scalar]:
    def rounded(value: Scalar, places: Scalar = 0.0) -> Scalar:
        figure, digits = _number(value), int(_number(places))
        if abs(digits) > 20:
            raise UnworkableError(f"rounding to {digits} places is more than numbers hold")
        step = Decimal(1).scaleb(-digits)
        ways = {
            float(Decimal(shown).quantize(step, way)) if abs(figure) < 1e15 else figure
            for shown in (repr(figure), f"{figure:.15g}", f"{figure:.14g}")
        }
        if len(ways) > 1:
            raise UnworkableError(f"{figure:.17g} lies so near to a step of rounding that programs differ")
        return ways.pop()

    return rounded


def _floor(value: Scalar) -> Scalar:
    return _rounded(ROUND_FLOOR)(value, 0.0)


def _root(value: Scalar) -> Scalar:
    figure = _number(value)
    return math.sqrt(figure) if figure >= 0 else NUM


def _of(function: Callable[[float], float]) -> Callable[[Scalar], Scalar]:
    def worked(value: Scalar) -> Scalar:
        try:
            return finite(function(_number(value)))
        except (ValueError, OverflowError):
            return NUM

    return worked


def _log(value: Scalar, base: Scalar = 10.0) -> Scalar:
    figure, root = _number(value), _number(base)
    if figure <= 0 or root <= 0:
        return NUM
    if root in (1, 10):
        return DIV if root == 1 else math.log10(figure)
    return math.log(figure) / math.log(root)


def _power(base: Scalar, exponent: Scalar) -> Scalar:
    return power(_number(base), _number(exponent))


def _mod(value: Scalar, divisor: Scalar) -> Scalar:
    figure, by = _number(value), _number(divisor)
    if by == 0:
        return DIV
    whole = _floor(figure / by)
    assert isinstance(whole, float)
    return figure - by * whole


def _atan2(x: Scalar, y: Scalar) -> Scalar:
    across, up = _number(x), _number(y)
    if not (across or up):
        raise UnworkableError("ATAN2(0,0) differs between programs")
    return math.atan2(up + 0.0, across)


def _is(kind: type | tuple[type, ...]) -> Callable[[Scalar], Scalar]:
    def is_kind(value: Scalar) -> Scalar:
        if kind is str:
            return isinstance(value, str) and not isinstance(value, CellError)
        if kind is float:
            if isinstance(value, bool):
                raise UnworkableError("programs differ on whether a yes or no is a number")
            return isinstance(value, float | int)
        return isinstance(value, kind)

    return is_kind


EACH: Mapping[str, tuple[Callable[..., Scalar], int, int]] = {
    "ABS": (_of(abs), 1, 1),
    "ACOS": (_of(math.acos), 1, 1),
    "ASIN": (_of(math.asin), 1, 1),
    "ATAN": (_of(math.atan), 1, 1),
    "ATAN2": (_atan2, 2, 2),
    "COS": (_of(math.cos), 1, 1),
    "DEGREES": (_of(math.degrees), 1, 1),
    "EXP": (_of(math.exp), 1, 1),
    "FALSE": (lambda: False, 0, 0),
    "INT": (_floor, 1, 1),
    "ISBLANK": (lambda value: value is None, 1, 1),
    "ISERROR": (_is(CellError), 1, 1),
    "ISNA": (lambda value: isinstance(value, CellError) and value == NA, 1, 1),
    "ISNUMBER": (_is(float), 1, 1),
    "ISTEXT": (_is(str), 1, 1),
    "LEN": (lambda value: float(len(_text(value))), 1, 1),
    "LN": (lambda value: _log(value, math.e), 1, 1),
    "LOG": (_log, 1, 2),
    "LOG10": (_log, 1, 1),
    "LOWER": (lambda value: _text(value).lower(), 1, 1),
    "MOD": (_mod, 2, 2),
    "NA": (lambda: NA, 0, 0),
    "NOT": (lambda value: not _truth(value), 1, 1),
    "PI": (lambda: math.pi, 0, 0),
    "POWER": (_power, 2, 2),
    "RADIANS": (_of(math.radians), 1, 1),
    "ROUND": (_rounded(ROUND_HALF_UP), 2, 2),
    "ROUNDDOWN": (_rounded(ROUND_DOWN), 2, 2),
    "ROUNDUP": (_rounded(ROUND_UP), 2, 2),
    "SIGN": (lambda value: float((_number(value) > 0) - (_number(value) < 0)), 1, 1),
    "SIN": (_of(math.sin), 1, 1),
    "SQRT": (_root, 1, 1),
    "TAN": (_of(math.tan), 1, 1),
    "TRIM": (lambda value: " ".join(part for part in _text(value).split(" ") if part), 1, 1),
    "TRUE": (lambda: True, 0, 0),
    "TRUNC": (_rounded(ROUND_DOWN), 1, 2),
    "UPPER": (lambda value: _text(value).upper(), 1, 1),
}
"""Functions of single values, with the least and the most arguments; over ranges they go cell by cell."""


def _average(arguments: Sequence[Argument]) -> Scalar:
    found = list(_numbers(arguments))
    return math.fsum(found) / len(found) if found else DIV


def _count(arguments: Sequence[Argument]) -> Scalar:
    found = 0
    for argument in arguments:
        for value in argument if isinstance(argument, Block) else (argument,):
            if isinstance(value, bool) or (isinstance(value, str) and not isinstance(argument, Block)):
                raise UnworkableError("programs differ on whether COUNT counts what is no plain number")
            found += isinstance(value, float | int) or (value is None and not isinstance(argument, Block))
    return float(found)


def _counta(arguments: Sequence[Argument]) -> Scalar:
    values = (value for one in arguments for value in (one if isinstance(one, Block) else (one,)))
    return float(sum(value is not None for value in values))


def _sum(arguments: Sequence[Argument]) -> Scalar:
    found = list(_numbers(arguments))
    total = math.fsum(found)
    if total and abs(total) < NEAR * max(map(abs, found)):
        raise UnworkableError("what is left of a sum is rounding, and differs by program")
    return finite(total)


def _product(arguments: Sequence[Argument]) -> Scalar:
    found = list(_numbers(arguments))
    return finite(math.prod(found)) if found else 0.0


ALL: Mapping[str, Callable[[Sequence[Argument]], Scalar]] = {
    "AND": lambda arguments: all(_conditions(arguments)),
    "AVERAGE": _average,
    "COUNT": _count,
    "COUNTA": _counta,
    "MAX": lambda arguments: max(_numbers(arguments), default=0.0),
    "MIN": lambda arguments: min(_numbers(arguments), default=0.0),
    "OR": lambda arguments: any(_conditions(arguments)),
    "PRODUCT": _product,
    "SUM": _sum,
}
"""Functions of everything they are given."""


def of_each(name: str, values: Sequence[Scalar]) -> Scalar:
    """What a function gives for single values."""
    function, least, most = EACH[name]
    if not least <= len(values) <= most:
        raise UnworkableError(f"{name} has {len(values)} arguments")
    for value in values:
        if isinstance(value, CellError) and not name.startswith("IS"):
            return value
    try:
        return function(*values)
    except _FoundError as found:
        return found.error


def of_all(name: str, arguments: Sequence[Argument]) -> Scalar:
    """What a function gives for all its arguments together."""
    if name != "COUNTA" and any(type(one) is str for one in arguments):
        raise UnworkableError(f"programs differ on what {name} makes of a text")
    values = (value for one in arguments for value in (one if isinstance(one, Block) else (one,)))
    if name not in ("COUNT", "COUNTA") and len({one for one in values if isinstance(one, CellError)}) > 1:
        raise UnworkableError(f"programs differ on which of several errors {name} gives")
    try:
        return ALL[name](arguments)
    except _FoundError as found:
        return found.error
    except OverflowError:
        return NUM
