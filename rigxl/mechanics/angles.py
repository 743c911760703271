"""Sling angles and the geometry they come from.

An angle here is between the leg and the horizontal, in degrees, unless the name says otherwise: 60 degrees
from horizontal is 30 degrees from vertical, and 60 degrees between two equal legs. ``spread`` is the
horizontal distance between two opposite picks, and the hook hangs over its middle.
"""

from __future__ import annotations

import math
from typing import Annotated

from rigxl.errors import OutOfRangeError
from rigxl.mechanics.limits import at_least, at_most, number, positive, result
from rigxl.units import Angle, Length, Ratio
from rigxl.worksheet import AnyLength, worksheet


def angle_from_horizontal(name: str, value: object) -> float:
    """A sling angle in degrees: above 0, and 90 when the leg hangs plumb."""
    plain = number(name, value)
    if plain <= 0 or not at_most(plain, 90):
        raise OutOfRangeError(
            f"{name} is {plain:g} degrees; it must be above 0 and at most 90 degrees from horizontal"
        )
    return min(plain, 90.0)


def sine(name: str, angle_deg: object) -> float:
    """The sine of a sling angle from horizontal; at 30 degrees 0.5, where floating point falls short."""
    degrees = angle_from_horizontal(name, angle_deg)
    if degrees == 30:
        return 0.5
    if degrees < 1e-6:
        raise OutOfRangeError(f"{name} is so near 0 degrees that the tension has no limit")
    return math.sin(math.radians(degrees))


def from_vertical(angle_deg: float) -> Angle:
    """The angle from horizontal of a leg whose angle from vertical is given; 0 is plumb."""
    leaning = number("angle from vertical", angle_deg)
    if not 0 <= leaning < 90:
        raise OutOfRangeError(
            f"angle from vertical is {leaning:g}; it must be 0 or more and below 90 degrees"
        )
    return 90 - leaning


def from_included(angle_deg: float) -> Angle:
    """The angle from horizontal of two equal legs whose included angle is given; 0 is plumb."""
    included = number("included angle", angle_deg)
    if not 0 <= included < 180:
        raise OutOfRangeError(f"included angle is {included:g}; it must be 0 or more and below 180 degrees")
    return 90 - included / 2


@worksheet("ANGLEFROMVERTICAL", example=(30,), answer=60.0)
def from_vertical_in_cell(angle: Annotated[float, "deg"]) -> Angle:
    """Sling angle from horizontal of a leg whose angle from vertical is given: 90 - angle.

    Args:
        angle: Angle between the leg and a plumb line.

    Refuses: 0 or less, for a blank cell reads as 0 in some programs and would pass for plumb; 90 or more.

    Source: plain geometry.

    >>> from_vertical_in_cell(30)
    60.0
    """
    return from_vertical(positive("angle", angle))


@worksheet("ANGLEFROMINCLUDED", example=(120,), answer=30.0)
def from_included_in_cell(angle: Annotated[float, "deg"]) -> Angle:
    """Sling angle from horizontal of two equal legs whose included angle is given: 90 - angle / 2.

    Args:
        angle: Angle between the two legs, at the hook.

    Refuses: 0 or less, for a blank cell reads as 0 in some programs and would pass for plumb; 180 or more.

    Source: plain geometry.

    >>> from_included_in_cell(120)
    30.0
    """
    return from_included(positive("angle", angle))


@worksheet("SLINGANGLE", example=(2, 2), answer=60.0)
def angle_from_length(leg_length: AnyLength, spread: AnyLength) -> Angle:
    """Sling angle from horizontal, from the length of a leg and the spread of the picks.

    cos(angle) = (spread / 2) / leg length, for equal legs from picks at one height.

    Args:
        leg_length: Length of one leg from pick to hook, in the same unit as the spread.
        spread: Distance between two opposite picks, in the same unit as the leg length.

    Refuses: 0 or less; a leg too short to reach the hook, half the spread or less.

    Source: plain geometry; V and L of US Army FM 5-125, 1995, p. 3-9.

    >>> round(angle_from_length(2, 2), 6)
    60.0
    """
    leg = positive("leg_length", leg_length)
    half = positive("spread", spread) / 2
    if half >= leg:
        raise OutOfRangeError(
            f"leg_length is {leg:g} and spread {2 * half:g}; the leg must be longer than half the spread"
        )
    return _angle(math.degrees(math.acos(half / leg)))


@worksheet("SLINGANGLEBYHEIGHT", example=(1, 2), answer=45.0)
def angle_from_height(height: AnyLength, spread: AnyLength) -> Angle:
    """Sling angle from horizontal, from the height of the hook: tan(angle) = height / (spread / 2).

    Args:
        height: Height of the hook above the picks, in the same unit as the spread.
        spread: Distance between two opposite picks, in the same unit as the height.

    Refuses: 0 or less.

    Source: plain geometry; V and L of US Army FM 5-125, 1995, p. 3-9.

    >>> angle_from_height(1000, 2000)
    45.0
    """
    return _angle(math.degrees(math.atan2(positive("height", height), positive("spread", spread) / 2)))


def run_of_rectangle(a: float, b: float) -> Length:
    """The horizontal run of legs from the corners of a rectangle ``a`` by ``b`` to a hook over its middle.

    Half the diagonal; twice the run is the spread that the other functions ask for.

    >>> run_of_rectangle(3000, 4000)
    2500.0
    """
    return result("run", math.hypot(positive("a", a), positive("b", b)) / 2)


@worksheet("LOADANGLEFACTOR", example=(30,), answer=2.0)
def load_angle_factor(angle: Angle) -> Ratio:
    """Load angle factor of a sling angle: 1 / sin(angle).

    The tension of a leg is its share of the load times this factor.

    Args:
        angle: Sling angle from horizontal.

    Refuses: an angle of 0 or less, or over 90 degrees.

    Source: plain trigonometry; L / V of US Army FM 5-125, 1995, p. 3-9 and figure 3-8.

    >>> round(load_angle_factor(45), 3)
    1.414
    """
    return 1 / sine("angle", angle)


@worksheet("LEGLENGTHNEEDED", example=(2, 60), answer=2.0)
def least_leg_length(spread: AnyLength, angle: Angle) -> Annotated[float, "as spread"]:
    """Shortest leg that keeps a sling angle: (spread / 2) / cos(angle).

    Args:
        spread: Distance between two opposite picks, in any unit.
        angle: Least sling angle wanted, from horizontal.

    Refuses: a spread of 0 or less; an angle of 0 or less; 90 degrees, which no leg of a bridle reaches.

    Source: plain geometry; V and L of US Army FM 5-125, 1995, p. 3-9.

    >>> round(least_leg_length(2000, 60), 6)
    2000.0
    """
    return result("leg length", positive("spread", spread) / 2 / math.cos(_slanted(angle)))


@worksheet("HEADROOMNEEDED", example=(2, 45), answer=1.0)
def least_height(spread: AnyLength, angle: Angle) -> Annotated[float, "as spread"]:
    """Least height of the hook above the picks for a sling angle: (spread / 2) × tan(angle).

    Args:
        spread: Distance between two opposite picks, in any unit.
        angle: Least sling angle wanted, from horizontal.

    Refuses: a spread of 0 or less; an angle of 0 or less; 90 degrees, which no leg of a bridle reaches.

    Source: plain geometry; V and L of US Army FM 5-125, 1995, p. 3-9.

    >>> round(least_height(2000, 45), 6)
    1000.0
    """
    return result("height", positive("spread", spread) / 2 * math.tan(_slanted(angle)))


def _why_device(spread: float, headroom: float, least_angle: float) -> str:
    needed = least_height(spread, least_angle)
    has = "less than" if device_needed(spread, headroom, least_angle) else "enough:"
    return (
        f"a headroom of {headroom:.6g} is {has} the {needed:.6g} that legs at {least_angle:g} degrees need "
        f"over picks {spread:.6g} apart"
    )


@worksheet("DEVICENEEDED", example=(6, 1.5, 30), answer=True, why=_why_device)
def device_needed(spread: AnyLength, headroom: AnyLength, least_angle: Angle) -> bool:
    """Whether the headroom is too little for the least sling angle, so that the lift wants a device.

    True where headroom < (spread / 2) × tan(least angle).

    Args:
        spread: Distance between two opposite picks, in any unit.
        headroom: Height there is between the picks and the hook, in the unit of the spread.
        least_angle: Least sling angle allowed, from horizontal, such as 30 or 45.

    Refuses: a spread or headroom of 0 or less; a least angle of 0 or less, or of 90 degrees.

    Source: plain geometry; V and L of US Army FM 5-125, 1995, p. 3-9.

    >>> device_needed(6, 1.5, 30), device_needed(6, 1.8, 30)
    (True, False)
    """
    needed = least_height(spread, angle_from_horizontal("least_angle", least_angle))
    return not at_least(positive("headroom", headroom), needed)


def _angle(degrees: float) -> float:
    """An angle worked out from lengths, as long as they leave one to speak of."""
    return angle_from_horizontal("sling angle", degrees)


def _slanted(angle_deg: float) -> float:
    degrees = angle_from_horizontal("angle", angle_deg)
    if degrees > 89.999999:
        raise OutOfRangeError("angle is 90 degrees; no leg that ends away from under the hook hangs plumb")
    return math.radians(degrees)
