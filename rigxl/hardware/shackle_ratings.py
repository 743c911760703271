"""Shackles by size, and what is left of a rating off their axis.

The inch sizes are only from memory: a cell gets them on request, and no check passes by them.

>>> rating("3/4 in", "lb", memory="yes"), rating("8 t", "t")
(9500.0, 8.0)
>>> rating("3/4 in")
Traceback (most recent call last):
    ...
NotRatedError: ...
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from rigxl.errors import NotRatedError
from rigxl.hardware import listed
from rigxl.hardware.listed import AsUnit
from rigxl.hardware.usage import in_line
from rigxl.mechanics.limits import at_most, not_negative
from rigxl.mechanics.loads import required_capacity
from rigxl.tables import FROM_MEMORY, Source, Table
from rigxl.units import Angle, Ratio, read_size
from rigxl.worksheet import AnyForce, worksheet

Page = Literal["regular", "older"]
Memory = Literal["no", "yes"]

BANDS = Source("WAC 296-155-33905", place="Figure 17, bands 0-5, 6-45, 46-90, over 90 not permitted")
PERCENTAGES = Source("ASME B30.26 Rigging Hardware", place="shackle side loading", note=FROM_MEMORY)
SIDE_LOADING = Source(
    "WAC 296-155-33905, Figure 17 (bands); ASME B30.26 (percentages)", note=f"percentages {FROM_MEMORY}"
)
ROUND_PIN = Source("ASME B30.26 Rigging Hardware", place="round pin shackles", note=FROM_MEMORY)
GRADE_A_PAGE = Source("US Federal Specification RR-C-271", place="Type IVA, Grade A", note=FROM_MEMORY)
OLDER_PAGE = Source("29 CFR 1926.251", "before 2011, withdrawn", "Table H-19", FROM_MEMORY)
MARINE_PAGE = Source(
    "Classification society code for lifting appliances in a marine environment",
    "no edition stated",
    "Chapter 8, Section 5, Table 8.5.1, a sample of its rows",
)


class Rated(NamedTuple):
    """Nominal size of the body, pin diameter, rating."""

    size: str
    pin_diameter: str
    wll_short_ton: float


class Dee(NamedTuple):
    """Safe working load, inside width a, inside length b; body and pin in mild and in tensile steel."""

    swl: str
    a_mm: float
    b_mm: float
    mild_d1_mm: float
    mild_d2_mm: float
    tensile_d1_mm: float
    tensile_d2_mm: float
    swl_t: float


# fmt: off
GRADE_A = Table(
    "regular strength shackles", GRADE_A_PAGE, rated="wll_short_ton", size_unit="in", grade="A", rows=(
    Rated("1/4",   "5/16",   0.5),
    Rated("5/16",  "3/8",    0.75),
    Rated("3/8",   "7/16",   1),
    Rated("1/2",   "5/8",    2),
    Rated("5/8",   "3/4",    3.25),
    Rated("3/4",   "7/8",    4.75),
    Rated("7/8",   "1",      6.5),
    Rated("1",     "1 1/8",  8.5),
    Rated("1 1/8", "1 1/4",  9.5),
    Rated("1 1/4", "1 3/8", 12),
    Rated("1 1/2", "1 5/8", 17),
    Rated("2",     "2 1/4", 35),
))

OLDER = Table("shackles of the older rule", OLDER_PAGE, rated="wll_short_ton", size_unit="in", rows=(
    Rated("1/2",   "5/8",    1.4),
    Rated("5/8",   "3/4",    2.2),
    Rated("3/4",   "7/8",    3.2),
    Rated("7/8",   "1",      4.3),
    Rated("1",     "1 1/8",  5.6),
    Rated("1 1/4", "1 3/8",  8.2),
    Rated("1 1/2", "1 5/8", 11.9),
    Rated("2",     "2 1/4", 21.2),
))

DEE = Table("dee shackles by safe working load", MARINE_PAGE, rated="swl_t", size_unit="t", rows=(
    Dee("1",    20,  44, 13, 15, 11, 12,  1),
    Dee("3.2",  35,  78, 24, 27, 19, 21,  3.2),
    Dee("5",    44,  97, 29, 33, 23, 26,  5),
    Dee("8",    56, 123, 37, 42, 29, 33,  8),
    Dee("10",   63, 138, 41, 47, 33, 37, 10),
    Dee("25",   99, 218, 65, 75, 51, 59, 25),
    Dee("40",  125, 275, 83, 94, 65, 74, 40),
))
# fmt: on


def printed(row: Rated | Dee) -> Mapping[str, float]:
    """The dimensions that a line prints, in mm; a dee's pin goes by its steel, so it is not known.

    >>> printed(DEE.find("5 t"))
    {'inside_width': 44}
    """
    if isinstance(row, Dee):
        return {"inside_width": row.a_mm}
    mm = read_size(f"{row.pin_diameter} in").mm
    return {} if mm is None else {"pin": mm}


LISTED = f"{GRADE_A_PAGE.cited}; {OLDER_PAGE.cited}; {MARINE_PAGE.cited}"
STEPS = ((5.0, 1.0), (45.0, 0.7), (90.0, 0.5))


@worksheet("SHACKLEDERATE", example=(30, "screw"), answer=0.7, source=SIDE_LOADING.cited)
def derate(angle: Angle, pin: Literal["screw", "bolt", "round"] = "screw") -> Ratio:
    """Share of a shackle's rating left when it is loaded off its axis, in the plane of the bow.

    In bands: up to 5° 1.00, up to 45° 0.70, up to 90° 0.50; a fraction of a degree over takes the worse.

    Args:
        angle: Angle between the load and the pin-to-bow axis.
        pin: Type of pin: screw, bolt or round; when it is not given, screw or bolt, which are alike. A round
            pin has no rating off its axis.

    Refuses: a negative angle; over 90 degrees; a round pin more than 5 degrees off its axis.

    >>> derate(30), derate(60, "bolt")
    (0.7, 0.5)
    """
    off = not_negative("angle", angle)
    if pin == "round" and not in_line(off):
        raise NotRatedError(f"a round pin shackle has no rating at {off:g}° off its axis ({ROUND_PIN.cited})")
    for edge, share in STEPS:
        if at_most(off, edge):
            return share
    raise NotRatedError(f"a shackle has no rating at {off:g}°, over 90° off its axis ({BANDS.cited})")


def _page(size: str, page: str) -> Table[Any]:
    """The dees are named by their rating; an inch size is of the page asked for."""
    if read_size(size).mm is None:
        return DEE
    return GRADE_A if page == "regular" else OLDER


@worksheet("SHACKLERATING", example=("3/4 in", "short ton", "regular", "yes"), answer=4.75, source=LISTED)
def rating(size: str, unit: str = "", page: Page = "regular", memory: Memory = "no") -> AsUnit:
    """Rating of a shackle by its size, loaded in line; the rating marked on the piece goes before it.

    Args:
        size: Nominal size with its unit, such as 3/4 in; a dee of the marine code by its rating, such as 8 t.
        unit: Unit of the answer, such as t, lb or kN; when it is not given, short ton, and t for a dee.
        page: regular for regular strength (Grade A), older for the older and lower rule.
        memory: The inch sizes are only from memory: yes to take them all the same, for a first estimate.

    Refuses: a size that is not listed; an inch size unless memory is yes.

    >>> rating("1/2 in", "short ton", "older", "yes")
    1.4
    """
    return listed.rating(_page(size, page), size, unit, memory=memory)


@worksheet("SHACKLESIZE", example=(3, "short ton", 0, 0.25, "regular", "yes"), answer="3/4 in", source=LISTED)
def smallest_size(
    force: AnyForce,
    unit: str,
    angle: Angle = 0,
    margin: Ratio = 0.25,
    page: Page = "regular",
    memory: Memory = "no",
) -> str:
    """Smallest listed shackle for a force: its rating is at least force / derate × (1 + margin).

    Args:
        force: Force the shackle carries.
        unit: Unit of the force, such as t, lb or kN.
        angle: Angle between the load and the pin-to-bow axis, in the plane of the bow.
        margin: Design margin as a fraction, 0.25 for 25 %.
        page: regular for regular strength (Grade A), older for the older and lower rule.
        memory: The inch sizes are only from memory: yes to take them all the same, for a first estimate.

    Refuses: a force that no listed size carries; every inch size unless memory is yes.

    >>> smallest_size(3, "short ton", 45, memory="yes")
    '7/8 in'
    """
    needed = required_capacity(listed.newtons("force", force, unit), margin, derate(angle))
    return listed.smallest(GRADE_A if page == "regular" else OLDER, needed, unit, memory=memory)
