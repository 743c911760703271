"""How a load is shared by the legs of a bridle.

Symmetrical bridles under one hook, with the legs at one angle from horizontal: how many legs may be counted,
what each of them carries, and the European mode factors, which say the same by legs and band of angle. Then
two legs of different length or height. Angles are from horizontal, in degrees, unless a name says otherwise.
"""

from __future__ import annotations

import math
from types import MappingProxyType

from rigxl.errors import InputError, MissingInputError, NotRatedError, OutOfRangeError
from rigxl.mechanics.angles import angle_from_horizontal, sine
from rigxl.mechanics.limits import at_most, count, positive, result
from rigxl.units import Angle, Count, Force, Ratio
from rigxl.worksheet import AnyForce, AnyLength, AsLoad, worksheet

COUNTED = MappingProxyType(
    {
        # NAVEDTRA 14080, p. 3-24: the two-leg formula also for three and four legs
        "two of four": (1, 2, 2, 2),
        # OSHA Guidance on Safe Sling Use, tables 1 and 2: quadruple slings as triple; legs equally loaded
        "three of four": (1, 2, 3, 3),
        # US Army FM 5-125, 1995, table 3-5: quadruple slings by all four; legs equalised
        "all": (1, 2, 3, 4),
    }
)
"""How many of one, two, three and four legs count, by rule."""

# EN 818-4, EN 13414-1 and EN 1492-1, from memory: up to 45 and up to 60 degrees from vertical.
MODE_FACTORS = MappingProxyType({2: (1.4, 1.0), 3: (2.1, 1.5), 4: (2.1, 1.5)})

# 29 CFR 1910.184(b): a leg this near to vertical counts as vertical.
VERTICAL_WITHIN_DEG = 5.0

# How far a stated leg length may be off its own triangle: common practice, no source.
LENGTH_SLACK = 0.01


def carrying_legs(legs: Count, stated: Count | None = None, rule: str = "two of four") -> int:
    """How many legs may be counted on to carry.

    Leg lengths never match quite, so of three or four legs on a rigid load only two are sure to carry. More
    are counted only when somebody states it, or the rule says so.

    Args:
        legs: Legs of the bridle.
        stated: How many carry according to the user; it overrides the rule.
        rule: One of ``COUNTED``.

    Raises:
        MissingInputError: More than four legs, and nobody states how many carry.

    >>> carrying_legs(4), carrying_legs(4, stated=3), carrying_legs(4, rule="all")
    (2, 3, 4)
    """
    total = count("legs", legs)
    if stated is not None:
        carrying = count("carrying", stated)
        if carrying > total:
            raise OutOfRangeError(f"carrying is {carrying}, more than the {total} legs there are")
        return carrying
    if rule not in COUNTED:
        raise InputError(f"there is no rule '{rule}' for legs that carry; there are {', '.join(COUNTED)}")
    if total > 4:
        raise MissingInputError(
            f"missing: carrying; with {total} legs it has to be stated how many of them carry"
        )
    return COUNTED[rule][total - 1]


def leg_tension(load: float, carrying: Count, angle_deg: float) -> Force:
    """The tension of each carrying leg of a symmetrical bridle: load / (carrying · sin(angle)).

    >>> leg_tension(1000, 2, 30)
    1000.0
    """
    share = positive("load", load) / count("carrying", carrying)
    return result("leg tension", share / sine("angle", angle_deg))


@worksheet("LEGTENSION", example=(10, 2, 30), answer=10.0)
def leg_tension_in_cell(load: AnyForce, legs: Count, angle: Angle, carrying: Count | None = None) -> AsLoad:
    """Tension in each carrying leg of a symmetrical bridle: load / (carrying × sin(angle)).

    Args:
        load: Load on the legs, in any unit.
        legs: Number of legs of the bridle.
        angle: Sling angle from horizontal.
        carrying: Legs that share the load; left out, all of one or two legs and two of three or four.

    Refuses: an angle of 0 or less or over 90 degrees; more than four legs unless carrying is stated; more
        legs carrying than there are.

    Source: US Army FM 5-125, 1995, p. 3-9 and figure 3-8; NAVEDTRA 14080, p. 3-24, for three and four legs.

    >>> leg_tension_in_cell(10, 4, 30), leg_tension_in_cell(10, 4, 30, carrying=4)
    (10.0, 5.0)
    """
    return leg_tension(load, carrying_legs(legs, carrying), angle)


def mode_factor(legs: Count, angle_from_vertical_deg: float) -> Ratio:
    """European mode factor: what a bridle may lift over the rating of one leg.

    Args:
        legs: 1 to 4. A single leg has to hang vertical, within 5 degrees (29 CFR 1910.184(b)).
        angle_from_vertical_deg: Angle between leg and vertical, at most 60 degrees.

    Raises:
        NotRatedError: Over 60 degrees from vertical, or more than four legs.

    Source: EN 818-4, EN 13414-1 and EN 1492-1, from memory.

    >>> mode_factor(2, 45), mode_factor(4, 60)
    (1.4, 1.5)
    """
    total = count("legs", legs)
    leaning = 90 - angle_from_horizontal("angle", 90 - angle_from_vertical_deg)
    if total > 4:
        raise NotRatedError(
            f"the European mode factors cover 1 to 4 legs, not {total} (EN 818-4, from memory)"
        )
    if not at_most(leaning, 60):
        raise NotRatedError(
            f"legs at {leaning:g} degrees from vertical have no mode factor; "
            "60 is the most (EN 818-4, EN 13414-1, EN 1492-1, from memory)"
        )
    if total == 1:
        if not at_most(leaning, VERTICAL_WITHIN_DEG):
            raise NotRatedError(
                f"a single leg has to hang vertical; it is {leaning:g} degrees off (EN 818-4, from memory)"
            )
        return 1.0
    steep, flat = MODE_FACTORS[total]
    return steep if at_most(leaning, 45) else flat


def mode_leg_force(load: float, legs: Count, angle_deg: float) -> Force:
    """What each leg must be rated for by the mode factors: load / mode factor, the angle from horizontal.

    >>> mode_leg_force(2100, 4, 45)
    1000.0
    """
    leaning = 90 - angle_from_horizontal("angle", angle_deg)
    return result("leg force", positive("load", load) / mode_factor(legs, leaning))


def unequal_legs(
    load: float,
    d1: float,
    d2: float,
    h1: float,
    h2: float,
    l1: float | None = None,
    l2: float | None = None,
) -> tuple[Force, Force]:
    """The tensions of two legs of different length or height, the hook over the centre of gravity.

    T1 = F·D2·L1 / (D2·H1 + D1·H2) and T2 = F·D1·L2 / (D2·H1 + D1·H2), from the balance of forces.

    Args:
        load: F, the load on the two legs.
        d1: D1, the horizontal distance from the centre of gravity to the first pick.
        d2: D2, to the second pick, on the other side.
        h1: H1, the height of the hook above the first pick.
        h2: H2, above the second pick.
        l1: L1, the length of the first leg if it was stated; it only has to fit its triangle.
        l2: L2, of the second leg.

    Raises:
        OutOfRangeError: A stated length that is more than 1 % off its own distance and height.

    >>> unequal_legs(1000, 3, 3, 4, 4)
    (625.0, 625.0)
    """
    force = positive("load", load)
    d1, d2 = positive("first distance", d1), positive("second distance", d2)
    h1, h2 = positive("first height", h1), positive("second height", h2)
    length1, length2 = _length("first", d1, h1, l1), _length("second", d2, h2, l2)
    per_length = force / (d2 * h1 + d1 * h2)
    return (
        result("first leg tension", per_length * d2 * length1),
        result("second leg tension", per_length * d1 * length2),
    )


@worksheet("UNEQUALLEGTENSION", example=(1000, 3, 4, 3, 4), answer=625.0)
def unequal_leg_tension_in_cell(
    load: AnyForce, distance: AnyLength, height: AnyLength, other_distance: AnyLength, other_height: AnyLength
) -> AsLoad:
    """Tension in one of two legs that differ in length or height, the hook over the centre of gravity.

    Args:
        load: Load on the two legs, in any unit.
        distance: Horizontal distance from the centre of gravity to the pick of this leg.
        height: Height of the hook above the pick of this leg, in the unit of the distance.
        other_distance: Horizontal distance from the centre of gravity to the other pick, on the other side.
        other_height: Height of the hook above the other pick.

    Refuses: anything of 0 or less.

    Source: plain statics, the balance of forces on the hook.

    >>> unequal_leg_tension_in_cell(1000, 3, 4, 3, 4)
    625.0
    """
    d1, d2 = positive("distance", distance), positive("other_distance", other_distance)
    h1, h2 = positive("height", height), positive("other_height", other_height)
    return unequal_legs(load, d1, d2, h1, h2)[0]


def _length(which: str, distance: float, height: float, stated: float | None) -> float:
    """The length that fits the triangle, once the stated one agrees with it."""
    fitting = math.hypot(distance, height)
    if stated is not None and abs(positive(f"{which} leg length", stated) - fitting) > fitting * LENGTH_SLACK:
        raise OutOfRangeError(
            f"{which} leg length is {stated:g}, but its distance {distance:g} and height {height:g} make it "
            f"{fitting:.4g}; correct the one that is wrong"
        )
    return fitting
