"""Hitches: what a sling may carry as vertical leg, choker or basket, over its vertical rating.

The factors are those of wire rope, chain, web and round slings of no maker in particular: where a maker
states a choker or basket rating of its own, that rating stands.

>>> choke_factor(100)
0.87
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Literal, NamedTuple

from rigxl.errors import InputError, NotRatedError, OutOfRangeError
from rigxl.mechanics.angles import sine
from rigxl.mechanics.legs import carrying_legs
from rigxl.mechanics.limits import at_least, not_negative, positive, result
from rigxl.tables import FROM_MEMORY, Source
from rigxl.units import Angle, Count, Ratio
from rigxl.worksheet import AnyForce, AsRating, worksheet

Hitch = Literal["vertical", "choker", "basket"]
Material = Literal["wire rope", "chain", "web", "round"]

CHOKE_ANGLES = Source("ASME B30.9, wire rope slings, angle of choke", note=FROM_MEMORY)
LEAST_ANGLE = Source("ASME B30.9, slings at less than 30 degrees from horizontal", note=FROM_MEMORY)
LEAST_ANGLE_DEG = 30.0


class ChokeBand(NamedTuple):
    """From this angle of choke up to the next band, this much of the choker rating is left."""

    from_deg: float
    factor: float


CHOKE_BANDS = (
    ChokeBand(120, 1.00),
    ChokeBand(90, 0.87),
    ChokeBand(60, 0.74),
    ChokeBand(30, 0.62),
    ChokeBand(0, 0.49),
)


class Choker(NamedTuple):
    """Choker rating over vertical rating, angle of choke 120 degrees or more."""

    factor: float
    source: Source


CHOKERS = MappingProxyType(
    {
        "wire rope": Choker(0.75, Source("NAVEDTRA 14080", place="p. 3-24")),
        "chain": Choker(0.80, Source("OSHA Guidance on Safe Sling Use", place="table 3, over table 1")),
        "web": Choker(0.80, Source("EN 1492-1", place="mode factor, choked", note=FROM_MEMORY)),
        "round": Choker(0.80, Source("EN 1492-2", place="mode factor, choked", note=FROM_MEMORY)),
    }
)


@worksheet("CHOKEANGLEFACTOR", example=(100,), answer=0.87, source=CHOKE_ANGLES)
def choke_factor(angle: Angle) -> Ratio:
    """What the angle of choke leaves of the choker rating of a wire rope sling.

    A fraction of a degree between two printed bands takes the worse band.

    Args:
        angle: Angle of choke, 0 to 180 degrees; nothing is lost from 120 degrees up.

    Refuses: an angle below 0 or over 180 degrees.

    >>> choke_factor(120), choke_factor(119.5), choke_factor(29)
    (1.0, 0.87, 0.49)
    """
    choke = not_negative("angle of choke", angle)
    if choke > 180:
        raise OutOfRangeError(f"angle of choke is {choke:g}; it must be 0 to 180 degrees")
    return next(band.factor for band in CHOKE_BANDS if at_least(choke, band.from_deg))


def hitch_factor(
    material: str, hitch: str, choke_angle_deg: float | None = None, leg_angle_deg: float = 90.0
) -> Ratio:
    """What one sling may carry in a hitch over its vertical rating.

    Vertical leg sin(angle), choker its factor · choke factor · sin(angle), basket 2 · sin(angle).

    Args:
        material: ``wire rope``, ``chain``, ``web`` or ``round``.
        hitch: ``vertical``, ``choker`` or ``basket``.
        choke_angle_deg: Angle of choke; None is 120 degrees or more. Only a choker looks at it.
        leg_angle_deg: Sling angle from horizontal, of the leg or of each side of the basket. A caller who
            works with leg tensions leaves it at 90.

    Raises:
        NotRatedError: A sling angle below 30 degrees, or a choke below 120 degrees of anything but wire rope.

    >>> hitch_factor("wire rope", "choker"), hitch_factor("chain", "basket", leg_angle_deg=30)
    (0.75, 1.0)
    """
    upright = sine("sling angle", leg_angle_deg)
    if not at_least(leg_angle_deg, LEAST_ANGLE_DEG):
        raise NotRatedError(
            f"a sling at {leg_angle_deg:g} degrees from horizontal has no rating; "
            f"{LEAST_ANGLE_DEG:g} degrees is the least ({LEAST_ANGLE.cited})"
        )
    if material not in CHOKERS:
        raise InputError(f"there is no hitch factor for '{material}'; there is for {', '.join(CHOKERS)}")
    if hitch == "vertical":
        return upright
    if hitch == "basket":
        return 2 * upright
    if hitch != "choker":
        raise InputError(f"hitch '{hitch}' is not known; it must be vertical, choker or basket")
    return CHOKERS[material].factor * _choke(material, choke_angle_deg) * upright


@worksheet("HITCHFACTOR", example=("choker", 90), answer=0.75)
def hitch_factor_in_cell(
    hitch: Hitch, angle: Angle, choke_angle: Angle | None = None, material: Material = "wire rope"
) -> Ratio:
    """What one sling may carry in a hitch over its vertical rating: hitch factor × sin(angle).

    Args:
        hitch: vertical, choker or basket; a basket carries 2 × sin(angle) of its rating.
        angle: Sling angle from horizontal, of the leg or of each side of the basket.
        choke_angle: Angle of choke; left out, it is taken as 120 degrees or more, where nothing is lost.
        material: wire rope, chain, web or round; a wire rope choker carries 0.75 of vertical, others 0.80.

    Refuses: an angle below 30 degrees or over 90; an angle of choke below 120 degrees for anything but wire
        rope, where the maker's own table is needed.

    Source: NAVEDTRA 14080, p. 3-24; OSHA Guidance on Safe Sling Use, tables 1 to 3; factors of the angle of
        choke by ASME B30.9, from memory.

    >>> hitch_factor_in_cell("basket", 30), hitch_factor_in_cell("choker", 90, 100)
    (1.0, 0.6525)
    """
    return hitch_factor(material, hitch, choke_angle, angle)


@worksheet("SLINGCAPACITY", example=(10, "choker", 2, 30, 2, 90), answer=6.525)
def sling_capacity(
    rating: AnyForce,
    hitch: Hitch,
    legs: Count,
    angle: Angle,
    carrying: Count | None = None,
    choke_angle: Angle | None = None,
    material: Material = "wire rope",
) -> AsRating:
    """Load that slings may carry: rating × carrying × hitch factor × sin(angle).

    Args:
        rating: Rated load of one vertical leg, in any unit.
        hitch: vertical, choker or basket; a basket carries 2 × sin(angle) of its rating.
        legs: Number of legs; in a basket hitch, of slings.
        angle: Sling angle from horizontal.
        carrying: Legs that share the load; left out, all of one or two legs and two of three or four.
        choke_angle: Angle of choke; left out, it is taken as 120 degrees or more, where nothing is lost.
        material: wire rope, chain, web or round; a wire rope choker carries 0.75 of vertical, others 0.80.

    Refuses: an angle below 30 degrees or over 90; more than four legs unless carrying is stated; an angle of
        choke below 120 degrees for anything but wire rope, where the maker's own table is needed.

    Source: NAVEDTRA 14080, p. 3-24; OSHA Guidance on Safe Sling Use, tables 1 to 3; factors of the angle of
        choke by ASME B30.9, from memory.

    >>> sling_capacity(10, "basket", 1, 30), sling_capacity(10, "choker", 1, 90)
    (10.0, 7.5)
    """
    counted = carrying_legs(legs, carrying)
    factor = hitch_factor(material, hitch, choke_angle, angle)
    return result("sling capacity", positive("rating", rating) * counted * factor)


def _choke(material: str, choke_angle_deg: float | None) -> float:
    if choke_angle_deg is None:
        return 1.0
    factor = choke_factor(choke_angle_deg)
    if factor < 1 and material != "wire rope":
        raise NotRatedError(
            f"a choked {material} sling at {choke_angle_deg:g} degrees of choke has no rating here below "
            f"120 degrees; enter the maker's own ({CHOKE_ANGLES.cited})"
        )
    return factor
