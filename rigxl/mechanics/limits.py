"""What a number must be before it is worked with; a refusal names argument, value, and what would do.

A limit that geometry only just misses by rounding is still met: 59.99999999 degrees worked out from lengths
is 60 degrees. That slack is ``TOLERANCE``, relative to the limit; no other is used.
"""

from __future__ import annotations

import math
from numbers import Real

from rigxl.errors import MissingInputError, OutOfRangeError, UnreadableError

TOLERANCE = 1e-9
EXACT = 2**53
"""Whole numbers up to here are floats without loss."""


def at_least(value: float, limit: float) -> bool:
    """Whether a value reaches a limit, rounding forgiven.

    >>> at_least(59.99999999, 60), at_least(59.999, 60)
    (True, False)
    """
    return value >= limit - abs(limit) * TOLERANCE


def at_most(value: float, limit: float) -> bool:
    """Whether a value stays within a limit, rounding forgiven."""
    return value <= limit + abs(limit) * TOLERANCE


def number(name: str, value: object) -> float:
    """A plain finite number, or a refusal that names the argument.

    Raises:
        MissingInputError: Nothing was given.
        UnreadableError: Text, a yes or no, NaN or infinity was given.
    """
    if type(value) is float and math.isfinite(value):
        return value
    if type(value) is int and -EXACT <= value <= EXACT:
        return float(value)
    if value is None or (isinstance(value, str) and not value.strip()):
        raise MissingInputError(f"missing: {name}; a number is needed")
    if isinstance(value, bool) or not isinstance(value, Real):
        raise UnreadableError(f"{name} must be a number, not {_told(value)}")
    try:
        plain = float(value)
    except OverflowError:
        plain = math.inf
    if not math.isfinite(plain):
        raise UnreadableError(f"{name} must be a finite number, not {_told(value)}")
    return plain


def positive(name: str, value: object) -> float:
    """A number above zero."""
    plain = number(name, value)
    if plain <= 0:
        raise OutOfRangeError(f"{name} is {plain:g}; it must be above 0")
    return plain


def not_negative(name: str, value: object) -> float:
    """A number of zero or more."""
    plain = number(name, value)
    if plain < 0:
        raise OutOfRangeError(f"{name} is {plain:g}; it must be 0 or more")
    return plain


def at_least_one(name: str, value: object) -> float:
    """An allowance: a factor that may add but never take away."""
    plain = number(name, value)
    if plain < 1:
        raise OutOfRangeError(f"{name} is {plain:g}; it must be 1 or more")
    return plain


def derating(name: str, value: object) -> float:
    """A factor above 0 and up to 1: no rating ever grows."""
    plain = number(name, value)
    if not 0 < plain <= 1:
        raise OutOfRangeError(f"{name} is {plain:g}; it must be above 0 and at most 1, such as 0.7 for 70 %")
    return plain


def count(name: str, value: object) -> int:
    """A whole number of one or more; 2.0 counts as 2."""
    if type(value) is int and 1 <= value <= EXACT:
        return value
    plain = number(name, value)
    if plain < 1 or not plain.is_integer():
        raise OutOfRangeError(f"{name} is {plain:g}; it must be a whole number of 1 or more")
    return int(plain)


def result(name: str, value: float) -> float:
    """An answer that is still a number: inputs of absurd size are refused, not answered with infinity."""
    if not math.isfinite(value):
        raise OutOfRangeError(f"{name} is beyond what can be worked out; check the sizes of what was given")
    return value


def _told(value: object) -> str:
    if isinstance(value, str):
        return f"the text '{value}'"
    if isinstance(value, bool):
        return "a yes or no"
    return f"{value!r}"[:40]
