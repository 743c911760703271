"""Eye bolts: plain ones in line with the shank, seated shoulder ones by angle, DIN 580 by its own values.

>>> derate(4, "plain"), derate(15, "shoulder"), derate(16, "shoulder")
(1.0, 0.55, 0.25)
>>> derate(10, "plain")
Traceback (most recent call last):
    ...
NotRatedError: ...
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

from rigxl.criteria import Criteria
from rigxl.errors import NotRatedError
from rigxl.hardware.usage import called, in_line, refuses, says, words
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most, not_negative
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.units import Angle, Ratio
from rigxl.worksheet import worksheet

KIND = "eye bolt"
WORDS = (
    "eye bolt",
    "eyebolt",
    "eye-bolt",
    "lifting eye bolt",
    "lifting eyebolt",
    "lifting eye",
    "shoulder eye bolt",
    "shoulder eyebolt",
    "shouldered eye bolt",
    "plain eye bolt",
    "plain eyebolt",
    "plain pattern eye bolt",
    "shoulder pattern eye bolt",
    "machinery eye bolt",
    "collar eye bolt",
    "ring bolt",
)
POSITION = "pick point"

PRINTED = Source(
    "DIN 580 lifting eye bolts",
    "before 2018",
    "Annex A, Table A.1, a sample of its rows",
    "read in a page that reproduces the table",
)
BY_ANGLE = Source("ASME B30.26 and B18.15 eye bolts", place="reduction by angle", note=FROM_MEMORY)
SHOULDER_ONLY = Source("WAC 296-155-56110", place="(2)(b), angular lifting only with shouldered eyebolts")
SEATED = Source("ASME B30.26 Rigging Hardware", place="eye bolts, shoulder seated", note=FROM_MEMORY)
IN_PLANE = Source("ASME B30.26 Rigging Hardware", place="eye bolts, plane of the eye", note=FROM_MEMORY)


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

TABLES = (DIN_580,)

ANGLE = Rule("eye-bolt-angle", "The angle of the pull from the shank must be known.", BY_ANGLE)
ANGLE_TAKEN = Rule(
    "eye-bolt-angle-taken",
    "With no loading angle stated, the shank is taken as vertical and the sling gives the angle.",
    COMMON_PRACTICE,
)
PLAIN = Rule(
    "plain-eye-bolt-at-angle", "A plain eye bolt is loaded in line with its shank only.", SHOULDER_ONLY
)
PATTERN = Rule("eye-bolt-pattern", "The pattern must be known unless the load is in line.", SHOULDER_ONLY)
SHOULDER = Rule(
    "eye-bolt-seated", "Off its shank, an eye bolt is loaded only with its shoulder fully seated.", SEATED
)
ACROSS = Rule("eye-bolt-across", "An eye bolt is loaded only in the plane of its eye.", IN_PLANE)
OVER_FORTY_FIVE = Rule(
    "eye-bolt-over-45", "A DIN 580 eye bolt is loaded at 45° from its shank at most.", PRINTED
)
OVER_NINETY = Rule("eye-bolt-over-90", "No eye bolt is loaded over 90° from its shank.", BY_ANGLE)
STANDARD = Rule(
    "eye-bolt-standard", "A metric eye bolt off its shank goes by the values of its own standard.", PRINTED
)

RULES = (
    ANGLE, ANGLE_TAKEN, PLAIN, PATTERN, SHOULDER, ACROSS, OVER_FORTY_FIVE, OVER_NINETY, STANDARD,
)  # fmt: skip

BARE = (
    "non shoulder", "non shouldered", "no shoulder", "without shoulder", "without a shoulder",
    "no collar", "without collar", "without a collar",
)  # fmt: skip
STEPS = ((5.0, 1.0), (15.0, 0.55), (90.0, 0.25))


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


def pattern(item: Item) -> str | None:
    """The pattern a row's words name: plain or shoulder; None where they name none, or both."""
    text = called(item)
    denied = says(text, *BARE)
    plain = denied or says(text, "plain", "regular", "shoulderless", "unshouldered")
    shoulder = is_din(item) or (not denied and says(text, "shoulder", "shouldered", "collar", "collared"))
    if plain and shoulder:
        return None
    return "plain" if plain else "shoulder" if shoulder else None


def is_din(item: Item) -> bool:
    """Whether the row says that the eye bolt is made to DIN 580."""
    return says(words(item.type, item.kind, item.description, item.grade), "din 580", "din580")


def is_metric(item: Item) -> bool:
    """Whether the size is a metric thread."""
    return item.size is not None and re.match(r"M\d", item.size.name) is not None


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The DIN 580 values, for an eye bolt that is said to be made to it."""
    return TABLES if is_din(item) else ()


def loading_angle(item: Item) -> float | None:
    """The angle of the pull from the shank: as stated, or from the sling with the shank vertical."""
    if item.loading_angle_deg is not None:
        return item.loading_angle_deg
    if item.angle_deg is not None:
        return 90 - item.angle_deg if item.position == "pick point" else None
    return 0.0 if item.legs == 1 else None


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"loading_angle_deg", "type", "size"}
    if item.loading_angle_deg is None:
        fields |= {"angle_deg", "legs"}
    angle = loading_angle(item)
    if angle is None or not in_line(angle):
        fields |= {"plane", "seated"}
    return frozenset(fields)


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """What the angle from the shank leaves of the rating; None where there is no rating for it."""
    angle = loading_angle(item)
    if angle is None or angle < 0 or refuses(_loading(item)):
        return None
    if in_line(angle):
        return ()
    why = f"pulled at {angle:.4g}° from its shank"
    if is_din(item):
        row = DIN_580.get(item.size.name) if item.size else None
        return None if row is None else (Derate(row.two_leg_45deg_kg / row.axial_kg, why, PRINTED),)
    if is_metric(item) or pattern(item) != "shoulder":
        return None
    return (Derate(derate(angle, "shoulder"), why, BY_ANGLE),)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for eye bolts say of one line of a schedule."""
    angle = loading_angle(item)
    if angle is not None and item.loading_angle_deg is None:
        taken = "a single vertical line" if item.angle_deg is None else f"a sling at {item.angle_deg:.4g}°"
        yield ANGLE_TAKEN.notes(
            f"{taken} and a vertical shank: pulled at {max(angle, 0):.4g}° from its shank"
        )
    yield from _loading(item)


def _loading(item: Item) -> Iterator[Finding]:
    angle = loading_angle(item)
    if angle is None or angle < 0:
        if not {"loading_angle_deg", "angle_deg"} & item.problems.keys():
            yield ANGLE.holds(
                "the angle of the pull from its shank is not known",
                "fill in the loading angle from the shank, 0 to 90°",
            )
        return
    if in_line(angle):
        return
    yield from _plane_and_seat(item, angle)
    if is_din(item):
        yield from _din(item, angle)
        return
    if is_metric(item) and pattern(item) != "plain":
        yield STANDARD.holds(
            f"a metric eye bolt pulled at {angle:.4g}° from its shank, and its standard is not stated",
            "fill in DIN 580 as its type where it is marked so, or take a swivel hoist ring",
        )
    if not at_most(angle, 90):
        yield OVER_NINETY.fails(
            f"pulled at {angle:.4g}° from its shank, over 90°", "turn the load or the bolt"
        )


def _plane_and_seat(item: Item, angle: float) -> Iterator[Finding]:
    if item.plane == "across":
        yield ACROSS.fails(
            f"pulled at {angle:.4g}° from its shank, across the plane of its eye",
            "turn the eye into the plane of the sling, or take a swivel hoist ring",
        )
    elif item.plane is None and "plane" not in item.problems:
        yield ACROSS.holds(
            f"pulled at {angle:.4g}° from its shank, and whether in the plane of its eye is not stated",
            "fill in the plane: in or across",
        )
    found = pattern(item)
    if found == "plain":
        yield PLAIN.fails(
            f"a plain eye bolt pulled at {angle:.4g}° from its shank",
            "a shoulder eye bolt fully seated, a swivel hoist ring, or a vertical pull",
        )
    elif found is None:
        yield PATTERN.holds(
            f"pulled at {angle:.4g}° from its shank, and its pattern is not stated",
            "fill in the type: plain or shoulder",
        )
    elif item.seated is False:
        yield SHOULDER.fails(
            f"pulled at {angle:.4g}° from its shank, and its shoulder is not seated",
            "seat the shoulder fully, with shims where needed, or pull in line",
        )
    elif item.seated is None and "seated" not in item.problems:
        yield SHOULDER.holds(
            f"pulled at {angle:.4g}° from its shank, and whether its shoulder is seated is not stated",
            "fill in seated: yes or no",
        )


def _din(item: Item, angle: float) -> Iterator[Finding]:
    if not at_most(angle, 45):
        yield OVER_FORTY_FIVE.fails(
            f"pulled at {angle:.4g}° from its shank, over 45°", "a sling angle of 45° or steeper"
        )
    elif item.size is None or DIN_580.get(item.size.name) is None:
        said = item.size.said if item.size else "not given"
        yield STANDARD.holds(
            f"pulled at {angle:.4g}° from its shank, and its size ({said}) is not listed with a 45° rating",
            f"one of {', '.join(DIN_580.sizes)}, or pull in line",
        )
