"""Eye bolts by thread, and what is left of a rating at an angle from the shank.

>>> rating("M24"), rating("M24", 30), smallest_size(10, "kN", 30, 0.25)
(1800.0, 1290.0, 'M24')
>>> derate(4, "plain"), derate(15, "shoulder"), derate(16, "shoulder")
(1.0, 0.55, 0.25)
>>> derate(10, "plain")
Traceback (most recent call last):
    ...
NotRatedError: ...
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from rigxl.errors import NotRatedError, OutOfRangeError, UnknownSizeError
from rigxl.hardware import listed
from rigxl.hardware.listed import AsUnit
from rigxl.hardware.usage import in_line
from rigxl.mechanics.limits import at_least, at_most, not_negative
from rigxl.mechanics.loads import required_capacity
from rigxl.tables import FROM_MEMORY, Source, Table
from rigxl.units import Angle, Ratio, read_size, show_force
from rigxl.worksheet import AnyForce, worksheet

PRINTED = Source(
    "DIN 580 lifting eye bolts",
    "before 2018",
    "Annex A, Table A.1, a sample of its rows",
    "read in a page that reproduces the table",
)
BY_ANGLE = Source("ASME B30.26 and B18.15 eye bolts", place="reduction by angle", note=FROM_MEMORY)
SHOULDER_ONLY = Source("WAC 296-155-56110", place="(2)(b), angular lifting only with shouldered eyebolts")


class Bolt(NamedTuple):
    """Thread, rating along the shank, rating of each bolt of a pair at up to 45° from it."""

    thread: str
    axial_kg: int
    two_leg_45deg_kg: int


# fmt: off
DIN_580 = Table("lifting eye bolts to DIN 580", PRINTED, rated="axial_kg", rows=(
    Bolt("M8",   140,  100),
    Bolt("M12",  340,  240),
    Bolt("M16",  700,  500),
    Bolt("M24", 1800, 1290),
    Bolt("M30", 3200, 2300),
    Bolt("M42", 6300, 4500),
))
# fmt: on

STEPS = ((5.0, 1.0), (15.0, 0.55), (90.0, 0.25))
WIDEST_DIN = 45.0


@worksheet("EYEBOLTDERATE", example=(10, "shoulder"), answer=0.55, source=BY_ANGLE.cited)
def derate(angle: Angle, pattern: Literal["shoulder", "plain"]) -> Ratio:
    """Share of an eye bolt's rating left at an angle from its shank, in the plane of its eye.

    In steps, for a seated shoulder: up to 5° 1.00, up to 15° 0.55, up to 90° 0.25. Not for DIN 580.

    Args:
        angle: Angle between the pull and the shank.
        pattern: shoulder or plain; a plain eye bolt has no rating off its shank.

    Refuses: a negative angle; over 90 degrees; a plain eye bolt more than 5 degrees from its shank.

    >>> derate(45, "shoulder")
    0.25
    """
    off = not_negative("angle", angle)
    if pattern == "plain" and not in_line(off):
        raise NotRatedError(
            f"a plain eye bolt has no rating at {off:g}° from its shank ({SHOULDER_ONLY.cited})"
        )
    for edge, share in STEPS:
        if at_most(off, edge):
            return share
    raise NotRatedError(f"an eye bolt has no rating at {off:g}°, over 90° from its shank ({BY_ANGLE.cited})")


def din_share(row: Bolt, angle: float) -> float:
    """What an angle from the shank leaves of a DIN 580 rating, by the page's own two columns."""
    off = not_negative("angle", angle)
    if not at_most(off, WIDEST_DIN):
        raise NotRatedError(f"a DIN 580 eye bolt has no rating at {off:g}°, over 45° ({PRINTED.cited})")
    return 1.0 if in_line(off) else row.two_leg_45deg_kg / row.axial_kg


@worksheet("EYEBOLTRATING", example=("M24", 30, "kg"), answer=1290, source=PRINTED.cited)
def rating(size: str, angle: Angle = 0, unit: str = "kg") -> AsUnit:
    """Rating of a DIN 580 lifting eye bolt, fully seated, pulled along its shank or at up to 45° from it.

    Args:
        size: Thread, such as M24.
        angle: Angle between the pull and the shank, in the plane of the eye.
        unit: Unit of the answer, such as kg, t or kN.

    Refuses: a thread that is not listed; over 45 degrees; every inch size, for no table of them is at hand.

    >>> rating("M16", 0, "kg")
    700.0
    """
    found = read_size(size)
    if found.name.endswith(" in"):
        raise UnknownSizeError(
            f"no table of inch eye bolts such as {found.name} is at hand (ASME B18.15): "
            "use the rated load marked on the piece, with EYEBOLTDERATE for the angle"
        )
    row = listed.row_of(DIN_580, size)
    return listed.rating(DIN_580, size, unit, din_share(row, angle))


@worksheet("EYEBOLTSIZE", example=(10, "kN", 30, 0.25), answer="M24", source=PRINTED.cited)
def smallest_size(force: AnyForce, unit: str, angle: Angle = 0, margin: Ratio = 0.25) -> str:
    """Smallest listed DIN 580 eye bolt rated, at that angle, for force × (1 + margin) or more.

    Args:
        force: Force on the one eye bolt.
        unit: Unit of the force, such as t, kN or lb.
        angle: Angle between the pull and the shank, in the plane of the eye; up to 45 degrees.
        margin: Design margin as a fraction, 0.25 for 25 %.

    Refuses: a force that no listed thread carries; over 45 degrees.

    >>> smallest_size(1, "t")
    'M24'
    """
    needed = required_capacity(listed.newtons("force", force, unit), margin)
    for row in DIN_580.rows:
        if at_least(DIN_580.rating(row) * din_share(row, angle), needed):
            return DIN_580.size(row)
    last = DIN_580.rows[-1]
    most = show_force(DIN_580.rating(last) * din_share(last, angle), unit)
    raise OutOfRangeError(
        f"no {DIN_580.name} carry {show_force(needed, unit)}; they go up to {most} ({PRINTED.cited})"
    )
