"""Reading one cell: a load, a length, an angle, a temperature, a ratio or a count.

Nothing is guessed. A text that is not one plain value, a missing unit and a unit with more than one
meaning are refused by a sentence that says what was found and what would do.

>>> read_force("5.5 t").value
53936.575
>>> read_length("5'-6\\"").value
1676.4
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from rigxl.errors import (
    AmbiguousUnitError,
    MissingInputError,
    OutOfRangeError,
    UnknownUnitError,
    UnreadableError,
)
from rigxl.units.figures import EXACT, LONGEST_CELL, UNDECLARED, Figure, Habits, number, split_figure, tidy
from rigxl.units.headers import is_not_known
from rigxl.units.names import Unit, find_unit


class Reading(NamedTuple):
    """One cell as understood.

    Attributes:
        value: In N, mm, N·mm, degrees, degrees Celsius or 1.
        unit: The unit as understood, in its canonical spelling.
        by_gravity: Whether a mass was read as a force, by standard gravity.
        said: The text as typed.
    """

    value: float
    unit: str
    by_gravity: bool
    said: str


class _Quantity(NamedTuple):
    """What a reader wants: the word for it, its measures, a remedy and the unit of a bare number."""

    word: str
    measures: tuple[str, ...]
    remedy: str
    bare: str | None = None


_QUANTITIES = {
    "force": _Quantity(
        "a load", ("force", "mass"), "write one value with its unit, such as 5 t, 50 kN or 11000 lb"
    ),
    "length": _Quantity(
        "a length", ("length",), "write one value with its unit, such as 25 mm, 1 1/4 in or 5 ft 6 in"
    ),
    "torque": _Quantity("a torque", ("torque",), "write one value with its unit, such as 65 ft lb or 90 N m"),
    "angle": _Quantity("an angle", ("angle",), "write one angle such as 60 deg", bare="deg"),
    "temperature": _Quantity(
        "a temperature", ("temperature",), "write one value with its unit, such as 60 °C or 140 °F"
    ),
    "ratio": _Quantity("a ratio", ("ratio",), "write one ratio such as 0.25 or 25 %", bare="1"),
    "count": _Quantity("a number of pieces", ("count",), "write one whole number such as 2", bare="count"),
}

_FEET = re.compile(
    r"(?P<feet>[0-9]{1,4}) ?(?:'|ft\.?|foot|feet) ?-? ?"
    r"(?P<inches>[0-9]{1,2}(?:\.[0-9]+)?|(?:[0-9]{1,2}(?: ?- ?| {1,2}))?[0-9]{1,2}/[0-9]{1,2})"
    r" ?(?P<mark>\"|''|in\.?|inch|inches)?",
    re.IGNORECASE,
)
_FEET_DASH_INCHES = re.compile(
    r"(?P<feet>[0-9]{1,4})-(?P<inches>[0-9]{1,2}(?:\.[0-9]+)?|[0-9]{1,2}(?:-| {1,2})[0-9]{1,2}/[0-9]{1,2})"
)
_NUMBER_WORDS = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6",
    "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12",
}  # fmt: skip
_WORDS = re.compile(rf"({'|'.join(_NUMBER_WORDS)})(?![a-z])", re.IGNORECASE)
_TO_ONE = re.compile(r"([0-9]+(?:[.,][0-9]+)?) ?: ?1")
_UNIT_LIKE = re.compile(r"[A-Za-z°%'\"#./&() _·-]+")


def read_force(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A load, weight or rating in newtons; a mass counts under standard gravity, 9.80665 m/s2.

    Args:
        cell: A text such as ``5.5 t``, or a number when the unit is in the header.
        unit: The header's unit, for a bare number; the cell's own unit wins.
        habits: What the criteria say a ton and a decimal mark are.

    >>> read_force("5 ton")
    Traceback (most recent call last):
        ...
    AmbiguousUnitError: ...
    """
    return _read(cell, unit, habits, "force")


def read_length(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A length in millimetres; feet and inches, fractions and mixed numbers are understood.

    Args:
        cell: A text such as ``1-1/4"`` or ``5 ft 6 in``, or a number when the unit is in the header.
        unit: The header's unit; under ``ft-in`` a bare 5-6 is five feet six inches.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "length")


def read_angle(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """An angle from 0 to 360 degrees; a bare number is in degrees.

    Args:
        cell: A number, or a text such as ``60°`` or ``1.05 rad``.
        unit: The header's unit.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "angle")


def read_torque(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A torque in N·mm.

    Args:
        cell: A text such as ``65 ft lb`` or ``90 N m``, or a number when the unit is in the header.
        unit: The header's unit.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "torque")


def read_temperature(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A temperature in degrees Celsius; a bare number needs a unit in the header.

    Args:
        cell: A text such as ``-20 °C`` or ``140 F``, or a number.
        unit: The header's unit.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "temperature")


def read_ratio(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A ratio: 0.25, 25 % and 5:1 are 0.25, 0.25 and 5.

    A cell that the spreadsheet formats as a percentage holds the ratio itself: pass it without a unit.

    Args:
        cell: A number, or a text.
        unit: The header's unit. Under ``%`` a bare 1 or less is refused: it could be either.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "ratio")


def read_count(cell: str | float, unit: str | None = None, habits: Habits = UNDECLARED) -> Reading:
    """A whole number of pieces, such as ``2``, ``2 legs``, ``4 off`` or ``two``.

    Args:
        cell: A number, or a text.
        unit: The header's unit, such as ``pcs``.
        habits: What the criteria say a decimal mark is.
    """
    return _read(cell, unit, habits, "count")


@lru_cache(maxsize=8192, typed=True)
def _read(cell: str | float, unit: str | None, habits: Habits, what: str) -> Reading:
    quantity = _QUANTITIES[what]
    if not isinstance(cell, str):
        return _finish(Figure(number(cell), "", False), unit, habits, quantity, f"{cell:.15g}")
    text = plain_text(cell, quantity.word, quantity.remedy)
    if what == "length":
        feet = _feet_and_inches(text, unit, habits)
        if feet is not None:
            return Reading(float(EXACT.multiply(feet, Decimal("304.8"))), "ft-in", False, cell)
    elif what == "count":
        text = _word_as_figure(text)
    elif what == "ratio" and (to_one := _TO_ONE.fullmatch(text)):
        text = to_one[1]
        unit = None
    figure = split_figure(text, habits)
    if figure is None:
        raise UnreadableError(f"{cell!r} is not one plain value: {quantity.remedy}")
    return _finish(figure, unit, habits, quantity, cell)


def _word_as_figure(text: str) -> str:
    """The text with a number word at its beginning made a figure."""
    found = _WORDS.match(text)
    return _NUMBER_WORDS[found[1].lower()] + text[found.end() :] if found else text


def plain_text(cell: str, word: str, remedy: str) -> str:
    """The tidy text of a cell, once it is neither blank, too long nor a way of saying not known."""
    if len(cell) > LONGEST_CELL:
        raise UnreadableError(f"{cell[:20]!r}... is too long for one value: {remedy}")
    text = tidy(cell).strip()
    if not text:
        raise MissingInputError(f"nothing is given where {word} is needed: {remedy}")
    if not text[0].isdigit() and is_not_known(text):
        raise MissingInputError(f"{cell!r} says that {word} is not known yet: {remedy}")
    return text


def own_unit(rest: str, said: str, remedy: str, habits: Habits) -> Unit:
    """The unit written behind a figure; what could hide a second value is refused."""
    name = rest[1:] if rest[0] == "-" and rest[1:3].isalpha() and len(rest) > 2 else rest
    if name[0] in "-./_&" or not _UNIT_LIKE.fullmatch(name):
        raise UnreadableError(f"{said!r} is not one plain value: {remedy}")
    try:
        return find_unit(name, habits, said)
    except UnknownUnitError:
        raise UnknownUnitError(f"{said!r} has a unit that nobody defined, {name!r}: {remedy}") from None


def _finish(figure: Figure, header: str | None, habits: Habits, quantity: _Quantity, said: str) -> Reading:
    """The figure and its unit as one value, checked for kind and range."""
    if figure.rest:
        unit = own_unit(figure.rest, said, quantity.remedy, habits)
    elif header or quantity.bare:
        unit = find_unit(header or quantity.bare or "", habits)
    else:
        raise UnknownUnitError(f"{said} has no unit: {quantity.remedy}, or name the unit in the header")
    if unit.measure not in quantity.measures:
        raise UnknownUnitError(
            f"{said!r} is in {unit.name}, which is not the unit of {quantity.word}: {quantity.remedy}"
        )
    value = figure.value
    if unit.name == "ft-in":
        raise AmbiguousUnitError(
            f"{said!r} under ft-in could be feet or feet and inches: write 5'-6\" or 5.5 ft"
        )
    if unit.name == "%" and not figure.rest and 0 < value.copy_abs() <= 1:
        percent = EXACT.multiply(value, Decimal(100)).normalize(EXACT)
        raise AmbiguousUnitError(
            f"{said} under % could be {said} % or {percent:f} %: write the % sign in the cell"
        )
    if quantity.measures[0] == "temperature":
        if unit.name == "degF":
            value = EXACT.divide(EXACT.subtract(value, Decimal(32)), Decimal("1.8"))
    else:
        value = EXACT.multiply(value, unit.factor)
    _check_range(value, quantity, said)
    # plus() makes a plain zero of -0.
    return Reading(float(EXACT.plus(value)), unit.name, unit.measure == "mass", said)


def _check_range(value: Decimal, quantity: _Quantity, said: str) -> None:
    if quantity.measures[0] == "temperature":
        if value < Decimal("-273.15"):
            raise OutOfRangeError(f"{said!r} is colder than -273.15 °C: {quantity.remedy}")
    elif value < 0:
        raise OutOfRangeError(f"{said!r} is negative, and {quantity.word} cannot be: {quantity.remedy}")
    if quantity.measures[0] == "angle" and value > 360:
        raise OutOfRangeError(f"{said!r} is more than a full turn of 360 deg: {quantity.remedy}")
    if quantity.measures[0] == "count" and value != value.to_integral_value():
        raise UnreadableError(f"{said!r} is not a whole number: {quantity.remedy}")
    if value.copy_abs() > Decimal("1e15"):
        raise OutOfRangeError(f"{said!r} is too large for {quantity.word}: {quantity.remedy}")


def _feet_and_inches(text: str, unit: str | None, habits: Habits) -> Decimal | None:
    """Feet and inches as feet; None when the text is something else."""
    found = _FEET.fullmatch(text)
    if found is None and unit and find_unit(unit, habits).name == "ft-in":
        found = _FEET_DASH_INCHES.fullmatch(text)
    if found is None:
        return None
    inches = split_figure(found["inches"], UNDECLARED)
    if inches is None or inches.value >= 12:
        raise UnreadableError(
            f"{text!r} is not one plain value: write feet and inches below 12, such as 5'-6\""
        )
    return EXACT.add(Decimal(found["feet"]), EXACT.divide(inches.value, Decimal(12)))
