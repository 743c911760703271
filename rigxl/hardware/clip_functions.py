"""Wire rope clips for a cell: how many, how far apart, how long a turnback, how tight.

>>> clip_count("1/2 in"), clip_count("1/2 in", page="california"), clip_spacing("3/4 in", "in")
(4, 3, 4.5)
>>> clip_count("16 in")
Traceback (most recent call last):
    ...
UnknownSizeError: ...
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from rigxl.errors import OutOfRangeError, UnknownSizeError, UnknownUnitError
from rigxl.hardware.clip_tables import (
    BY_PAGE,
    CALIFORNIA_PAGE,
    COUNTS,
    FIELD_MANUAL,
    MANUAL_PAGE,
    REGULATION_PAGE,
    TUNNEL,
    counts,
    not_listed,
    of_page,
    row_for,
    spacing,
    torques,
    turnback,
)
from rigxl.mechanics.limits import count
from rigxl.units import LENGTH_UNITS, TORQUE_UNITS, Count, read_size, unit_name
from rigxl.worksheet import worksheet

Pattern = Literal["drop forged", "other material"]
Page = Literal["strictest", "29 cfr 1918", "fm 5-125", "california"]
AsUnit = Annotated[float, "as unit"]

COUNTED = f"{REGULATION_PAGE.cited}; {MANUAL_PAGE.cited}; {CALIFORNIA_PAGE.cited}"
SPACED = f"{REGULATION_PAGE.cited}; {MANUAL_PAGE.cited}"
TIGHTENED = f"{CALIFORNIA_PAGE.cited}; {MANUAL_PAGE.cited}"


def _rope(rope: str) -> float:
    found = read_size(rope)
    if found.mm is None:
        raise UnknownSizeError(f"'{rope}' is not the diameter of a rope: write one such as 3/4 in")
    return found.mm


def _in_unit(value: float, unit: str, units: Mapping[str, float]) -> float:
    """A length or torque in a unit of its own kind; what binary floats leave past nine places is dropped."""
    name = unit_name(unit)
    if name not in units:
        raise UnknownUnitError(f"'{unit}' is not a unit for this: give one of {', '.join(units)}")
    return round(value / units[name], 9)


@worksheet("CLIPCOUNT", example=("3/4 in", "drop forged"), answer=4, source=COUNTED)
def clip_count(rope: str, pattern: Pattern = "drop forged", page: Page = "strictest") -> Count:
    """How many wire rope clips an eye needs; the most that any page asks, unless one page is named.

    Args:
        rope: Diameter of the rope with its unit, such as 3/4 in.
        pattern: drop forged, or other material such as malleable iron.
        page: strictest, 29 cfr 1918, fm 5-125 or california.

    Refuses: a rope that no page lists, such as one between two sizes.

    >>> clip_count("1 1/4 in", "other material")
    7
    """
    mm = _rope(rope)
    least = of_page(counts(mm, pattern), page)
    if least is None:
        raise UnknownSizeError(not_listed(rope, "number of clips", *BY_PAGE[page]))
    return int(least.value)


@worksheet("CLIPSPACING", example=("3/4 in", "in"), answer=4.5, source=SPACED)
def clip_spacing(rope: str, unit: str = "in") -> AsUnit:
    """Least distance between two wire rope clips: six rope diameters, or what a page rounds them up to.

    Args:
        rope: Diameter of the rope with its unit, such as 3/4 in; up to 2 in.
        unit: Unit of the answer: in or mm.

    >>> clip_spacing("7/16 in")
    2.75
    """
    mm = _rope(rope)
    least = spacing(mm)
    if least is None:
        raise UnknownSizeError(not_listed(rope, "spacing", *COUNTS))
    return _in_unit(least.value, unit, LENGTH_UNITS)


@worksheet("CLIPTURNBACK", example=("3/4 in", 4, "in"), answer=18, source=CALIFORNIA_PAGE.cited)
def clip_turnback(rope: str, clips: Count = 0, unit: str = "in") -> AsUnit:
    """Least length of rope turned back from the thimble; more clips than the page asks for need more of it.

    Args:
        rope: Diameter of the rope with its unit, such as 3/4 in.
        clips: Number of clips; when it is not given, as many as the strictest page asks.
        unit: Unit of the answer: in or mm.

    Refuses: a rope that the page does not list; fewer clips than the page asks for.

    >>> clip_turnback("1 in", 10)
    52.0
    """
    mm = _rope(rope)
    row = row_for(TUNNEL, mm)
    if row is None:
        raise UnknownSizeError(not_listed(rope, "turnback", TUNNEL))
    number = count("clips", clips) if clips != 0 else int(clip_count(rope))
    least = turnback(mm, number)
    if least is None or number < row.clips:
        raise OutOfRangeError(
            f"clips is {number}; a rope of {rope} needs {row.clips} ({CALIFORNIA_PAGE.cited})"
        )
    return _in_unit(least.value, unit, LENGTH_UNITS)


@worksheet("CLIPTORQUE", example=("3/4 in", "ft lb"), answer=130, source=TIGHTENED)
def clip_torque(rope: str, unit: str = "ft lb", page: Page = "strictest") -> AsUnit:
    """Torque of the nuts of U-bolt wire rope clips; the most that any page asks, unless one page is named.

    Args:
        rope: Diameter of the rope with its unit, such as 3/4 in.
        unit: Unit of the answer: ft lb or N m.
        page: strictest, fm 5-125 or california.

    >>> clip_torque("3/4 in", page="fm 5-125")
    100.0
    """
    mm = _rope(rope)
    least = of_page(torques(mm), page)
    if least is None:
        raise UnknownSizeError(not_listed(rope, "torque", FIELD_MANUAL, TUNNEL))
    return _in_unit(least.value, unit, TORQUE_UNITS)
