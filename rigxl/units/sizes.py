"""Sizes of hardware as schedules name them: 3/4 in, M24, 13 mm, and the dates that spreadsheets make of them.

>>> read_size("1-1/4\\"").name
'1 1/4 in'
>>> read_size("M24x3").name
'M24'
"""

from __future__ import annotations

import re
from datetime import date, time
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple, NoReturn

from rigxl.errors import AmbiguousUnitError, OutOfRangeError, UnknownUnitError, UnreadableError
from rigxl.units.figures import EXACT, UNDECLARED, Figure, Habits, number, split_figure
from rigxl.units.names import find_unit
from rigxl.units.readings import own_unit, plain_text


class Size(NamedTuple):
    """A size as understood.

    Attributes:
        name: Canonical: ``3/4 in``, ``M24``, ``13 mm``, or ``2 t`` where a size is a rating.
        mm: The size in millimetres; None for a rating.
        said: The text as typed.
    """

    name: str
    mm: float | None
    said: str


_ROUND = frozenset("Øø⌀")
_REMEDY = "write a size such as 3/4 in, 19 mm or M24"

# Coarse pitches of ISO 261 (from memory); above M64 the one pitch that lifting eye bolts are made in.
_COARSE = {
    "5": "0.8", "6": "1", "8": "1.25", "10": "1.5", "12": "1.75", "14": "2", "16": "2", "18": "2.5",
    "20": "2.5", "22": "2.5", "24": "3", "27": "3", "30": "3.5", "33": "3.5", "36": "4", "39": "4",
    "42": "4.5", "45": "4.5", "48": "5", "52": "5", "56": "5.5", "60": "5.5", "64": "6", "72": "6",
    "80": "6", "90": "6", "100": "6",
}  # fmt: skip
_THREAD = re.compile(r"[Mm] ?([0-9]{1,3}(?:\.[0-9])?)(?: ?[xX*] ?([0-9](?:[.,][0-9]{1,2})?))?")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_TEXT_DATE = re.compile(
    rf"([0-9]{{1,2}})[- ]({'|'.join(_MONTHS)})[a-z]*|({'|'.join(_MONTHS)})[a-z]*[- ]([0-9]{{1,2}})"
)


def read_size(cell: str | float | date, unit: str | None = None, habits: Habits = UNDECLARED) -> Size:
    """The size of a piece of hardware; a bare fraction is in inches.

    Args:
        cell: A text, a number under a header that has a unit, or what the spreadsheet made of it.
        unit: The header's unit.
        habits: What the criteria say a ton and a decimal mark are.

    >>> read_size("0.75 in").name
    '3/4 in'
    """
    if isinstance(cell, date | time):
        _refuse_date(cell)
    return _read_size(cell, unit, habits)


@lru_cache(maxsize=4096, typed=True)
def _read_size(cell: str | float, unit: str | None, habits: Habits) -> Size:
    if not isinstance(cell, str):
        return _name(Figure(number(cell), "", False), unit, habits, f"{cell:.15g}")
    text = plain_text(cell, "a size", _REMEDY)
    if text[0] in _ROUND:
        unit = unit if unit and find_unit(unit, habits).measure == "length" else None
        text = text[1:].strip()
    if thread := _THREAD.fullmatch(text):
        return _thread(thread[1], thread[2], cell)
    if dated := _TEXT_DATE.fullmatch(text.lower()):
        month = _MONTHS.index(dated[2] or dated[3]) + 1
        _say_turned(cell, [f"{month}/{dated[1] or dated[4]}", f"{dated[1] or dated[4]}/{month}"])
    figure = split_figure(text, habits)
    if figure is None:
        raise UnreadableError(f"{cell!r} is not one plain size: {_REMEDY}")
    return _name(figure, unit, habits, cell)


def _thread(diameter: str, pitch: str | None, said: str) -> Size:
    """A metric thread; a coarse pitch goes without saying, any other stays in the name."""
    if float(diameter) == 0:
        raise OutOfRangeError(f"{said!r} is no size: {_REMEDY}")
    plain = pitch and pitch.replace(",", ".")
    fine = "" if not plain or _COARSE.get(diameter) == plain else f"x{plain}"
    return Size(f"M{diameter}{fine}", float(diameter), said)


def _name(figure: Figure, header: str | None, habits: Habits, said: str) -> Size:
    """The canonical name of a figure with its own unit or the header's."""
    if figure.rest:
        unit = own_unit(figure.rest, said, _REMEDY, habits)
    elif header:
        unit = find_unit(header, habits)
        if figure.fraction and unit.name not in ("in", "ft-in"):
            raise AmbiguousUnitError(
                f"{said!r} looks like inches under a header in {unit.name}: write {said} in"
            )
    elif figure.fraction:
        unit = find_unit("in")
    else:
        raise UnknownUnitError(f"{said} has no unit: {_REMEDY}, or name the unit in the header")
    if figure.value <= 0:
        raise OutOfRangeError(f"{said!r} is no size, which is more than zero: {_REMEDY}")
    if unit.measure in ("force", "mass") and _ROUND.isdisjoint(said):
        return Size(f"{_plain(figure.value)} {unit.name}", None, said)
    if unit.measure != "length" or unit.name in ("m", "yd"):
        raise UnknownUnitError(f"{said!r} is in {unit.name}, which is not the unit of a size: {_REMEDY}")
    mm = EXACT.multiply(figure.value, unit.factor)
    if mm > 100_000:
        raise OutOfRangeError(f"{said!r} is larger than any piece of hardware: {_REMEDY}")
    if unit.name in ("in", "ft", "ft-in"):
        if unit.name == "ft-in" and not figure.fraction:
            raise AmbiguousUnitError(f"{said!r} under ft-in could be feet or inches: write the unit with it")
        inches = figure.value if unit.name == "ft-in" else EXACT.divide(mm, Decimal("25.4"))
        return Size(f"{_inches(inches, said)} in", float(EXACT.multiply(inches, Decimal("25.4"))), said)
    return Size(f"{_plain(mm)} mm", float(mm), said)


def _inches(inches: Decimal, said: str) -> str:
    """Inches as a mixed number in sixty-fourths or coarser; a rounded decimal is refused."""
    parts = EXACT.multiply(inches, Decimal(64))
    if parts != parts.to_integral_value():
        below = int(parts) // 4
        near = " or ".join(f"{_mixed(sixteenths, 16)} in" for sixteenths in (below, below + 1) if sixteenths)
        raise UnreadableError(
            f"{said!r} is no fraction of an inch that sizes come in: write {near} if that is meant"
        )
    return _mixed(int(parts), 64)


def _mixed(parts: int, bottom: int) -> str:
    while parts % 2 == 0 and bottom > 1:
        parts, bottom = parts // 2, bottom // 2
    whole, top = divmod(parts, bottom)
    fraction = f"{top}/{bottom}" if top else ""
    return f"{whole or ''} {fraction}".strip()


def _plain(value: Decimal) -> str:
    return f"{value.normalize(EXACT):f}"


def _refuse_date(cell: date | time) -> NoReturn:
    """Say which sizes a date may have been; the day and month could be either way round."""
    if isinstance(cell, time):
        raise UnreadableError(f"{cell} is a time and no size: {_REMEDY} as text")
    readings = [f"{cell.month}/{cell.day}", f"{cell.day}/{cell.month}"]
    if cell.day == 1 and cell.year % 100 in (2, 4, 8, 16, 32, 64):
        readings.append(f"{cell.month}/{cell.year % 100}")
    _say_turned(f"{cell.day} {_MONTHS[cell.month - 1].title()}", readings)


def _say_turned(shown: str, readings: list[str]) -> NoReturn:
    choices = " or ".join(dict.fromkeys(readings))
    first, second, *_ = readings
    likely = first if int(first.split("/")[0]) < int(first.split("/")[1]) else second
    raise UnreadableError(
        f"a size that the spreadsheet turned into a date: {shown} may have been {choices}; "
        f"type it as text, such as '{likely} in'"
    )
