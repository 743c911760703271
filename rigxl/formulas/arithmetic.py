"""Arithmetic on cell values as spreadsheets do it, only where all of them do it alike.

Where Excel and LibreOffice part ways, nothing is worked out: :class:`UnworkableError`.
"""

from __future__ import annotations

import math
import operator
import re
from collections.abc import Callable
from typing import Any, TypeAlias

from rigxl.errors import CellError

Scalar: TypeAlias = float | str | bool | CellError | None
"""What one cell may hold; None is a blank."""

VALUE, DIV, NUM, NA, NAME = map(CellError, ("#VALUE!", "#DIV/0!", "#NUM!", "#N/A", "#NAME?"))
NEAR = 1e-12
_NUMBER = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?", re.ASCII)
_ORDER: dict[str, Callable[[Any, Any], bool]] = {
    "=": operator.eq,
    "<>": operator.ne,
    "<": operator.lt,
    ">": operator.gt,
    "<=": operator.le,
    ">=": operator.ge,
}


class UnworkableError(Exception):
    """What is not worked out here, with why, as the end of a sentence."""


def number(value: Scalar) -> float | CellError:
    """A value where arithmetic wants a number: a blank is 0, TRUE is 1, a plain text what it says.

    >>> number("5"), number("five"), number(None)
    (5.0, '#VALUE!', 0.0)
    """
    if isinstance(value, CellError):
        return value
    if value is None:
        return 0.0
    if isinstance(value, str):
        text = value.strip()
        if _NUMBER.fullmatch(text):
            return finite(float(text))
        if any(sign.isdigit() for sign in text):
            raise UnworkableError(f"the text '{value[:40]}' is a number to some programs and not to others")
        return VALUE
    return float(value)


def finite(value: float) -> float | CellError:
    """A number, never -0, or the error for one too large to be one."""
    return value + 0.0 if math.isfinite(value) else NUM


def text(value: Scalar) -> str | CellError:
    """A value where text is wanted."""
    if isinstance(value, str):
        return value
    if value is None:
        return ""
    if isinstance(value, bool):
        raise UnworkableError("programs write a yes or no as text in different ways")
    if value == 0:
        return "0"
    if not 1e-4 <= abs(value) < 1e11 or value != float(f"{value:.14g}"):
        raise UnworkableError(f"programs write the number {value:.17g} in different ways")
    return f"{value:.15g}"


def truth(value: Scalar) -> bool | CellError:
    """A value where a condition is wanted."""
    if isinstance(value, str) and not isinstance(value, CellError):
        if value.strip().upper() in ("TRUE", "FALSE") or any(sign.isdigit() for sign in value):
            raise UnworkableError(f"the text '{value}' is a condition to some programs and not to others")
        return VALUE
    if isinstance(value, CellError):
        return value
    return bool(value)


def infix(sign: str, left: Scalar, right: Scalar) -> Scalar:
    """Two values and what stands between them."""
    for value in (left, right):
        if isinstance(value, CellError):
            return value
    if sign == "&":
        return f"{text(left)}{text(right)}"
    if sign in _ORDER:
        return compared(sign, left, right)
    one, other = number(left), number(right)
    if isinstance(one, CellError):
        return one
    if isinstance(other, CellError):
        return other
    return _calculated(sign, one, other)


def _calculated(sign: str, one: float, other: float) -> float | CellError:
    if sign in "+-":
        found = one + other if sign == "+" else one - other
        if found and abs(found) < NEAR * max(abs(one), abs(other)):
            raise UnworkableError(
                f"what is left of {one:.15g} {sign} {other:.15g} is rounding, and differs by program"
            )
        return finite(found)
    if sign == "*":
        return finite(one * other)
    if sign == "/":
        return finite(one / other) if other else DIV
    return power(one, other)


def power(base: float, exponent: float) -> float | CellError:
    """A power, where programs agree on it."""
    if base == 0 and exponent <= 0:
        raise UnworkableError("0^0 and 1/0 as a power differ between programs")
    try:
        found = base**exponent
    except OverflowError:
        return NUM
    if found == 0 and base:
        raise UnworkableError(f"{base:g}^{exponent:g} is 0 to some programs and an error to others")
    if isinstance(found, complex):
        raise UnworkableError("the root of a negative number is an error to some programs and not to others")
    return finite(found)


def compared(sign: str, left: Scalar, right: Scalar) -> bool:
    """A comparison: numbers before texts; texts without regard to case; FALSE before TRUE."""
    one, other = _ranked(left, right), _ranked(right, left)
    if one[0] != other[0] and 2 in (one[0], other[0]):
        raise UnworkableError("programs differ on whether a yes or no equals a number")
    if one[0] == other[0] == 0 and one != other and math.isclose(one[1], other[1], rel_tol=NEAR):
        raise UnworkableError(
            f"{one[1]:.17g} and {other[1]:.17g} are equal to some programs and not to others"
        )
    if one[0] == other[0] == 1 and one != other and not (one[1] + other[1]).isalnum():
        if sign in ("=", "<>"):
            return sign == "<>"
        raise UnworkableError("programs sort texts with signs in them in different ways")
    return _ORDER[sign](one, other)


def _ranked(value: Scalar, other: Scalar) -> tuple[int, Any]:
    """A value as it is compared with another, of whose kind a blank is."""
    if value is None:
        value = "" if isinstance(other, str) else False if isinstance(other, bool) else 0.0
    if isinstance(value, bool):
        return 2, value
    if isinstance(value, str):
        return 1, value.casefold()
    return 0, value
