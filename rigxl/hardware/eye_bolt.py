"""Eye bolts and eye nuts: plain ones in line, seated shoulder ones by angle, DIN 580 by its own values.

>>> pattern(Item(type="shoulder pattern")), pattern(Item(type="without collar")), pattern(Item(type="M20"))
('shoulder', 'plain', None)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware import pull, threads
from rigxl.hardware.bought import EN_EYE_BOLTS, MARKED_HARDWARE, Bought, Look
from rigxl.hardware.eye_bolt_ratings import BY_ANGLE, DIN_580, PRINTED, SHOULDER_ONLY, derate, din_share
from rigxl.hardware.pull import pulled_at
from rigxl.hardware.usage import called, in_line, refuses, says, words
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table

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
    "eye nut",
    "eyenut",
    "eye-nut",
    "lifting eye nut",
)
POSITION = "pick point"

AS_EYE_BOLT = "that of a shoulder eye bolt: the page allows 15° and prints no reduction"
BY_COLUMNS = "rated load printed at 45° ÷ rated load printed in line"

NUT_PAGE = Source(
    "FEMA National US&R Response System, Structural Collapse Technician, Module 4 Lifting and Rigging",
    "Feb 2000",
    "eye nuts, load within 15° of the axis",
)
SEATED = Source("ASME B30.26 Rigging Hardware", place="eye bolts, shoulder seated", note=FROM_MEMORY)
IN_PLANE = Source("ASME B30.26 Rigging Hardware", place="eye bolts, plane of the eye", note=FROM_MEMORY)

TABLES = (DIN_580,)

PLAIN = Rule(
    "plain-eye-bolt-at-angle",
    "A plain eye bolt is loaded in line with its shank only.",
    SHOULDER_ONLY,
    firm=NO_RATING,
)
PATTERN = Rule("eye-bolt-pattern", "The pattern must be known unless the load is in line.", SHOULDER_ONLY)
SHOULDER = Rule(
    "eye-bolt-seated",
    "Off its shank, an eye bolt is loaded only with its shoulder fully seated.",
    SEATED,
    firm=NO_RATING,
)
ACROSS = Rule(
    "eye-bolt-across", "An eye bolt is loaded only in the plane of its eye.", IN_PLANE, firm=NO_RATING
)
OVER_FORTY_FIVE = Rule(
    "eye-bolt-over-45", "A DIN 580 eye bolt is loaded at 45° from its shank at most.", PRINTED, firm=NO_RATING
)
OVER_NINETY = Rule(
    "eye-bolt-over-90", "No eye bolt is loaded over 90° from its shank.", BY_ANGLE, firm=NO_RATING
)
STANDARD = Rule(
    "eye-bolt-standard",
    "A metric eye bolt off its shank goes by the values of its own standard.",
    PRINTED,
    firm=NO_RATING,
)
NUT = Rule("eye-nut-over-15", "An eye nut is pulled at 15° from its axis at most.", NUT_PAGE, firm=NO_RATING)
TORQUE_SAID = Rule(
    "eye-bolt-torque", "The torque an eye bolt was tightened to is worth recording.", COMMON_PRACTICE
)

RULES = (
    PLAIN, PATTERN, SHOULDER, ACROSS, OVER_FORTY_FIVE, OVER_NINETY, STANDARD, NUT, TORQUE_SAID,
    *pull.RULES, threads.ENGAGED,
)  # fmt: skip

BOUGHT = Bought(
    MARKED_HARDWARE,
    EN_EYE_BOLTS,
    marks=("grade or material, where it is of alloy", "size and pitch of the thread"),
    looks=(
        Look("thread fits", "Its thread, size and pitch, goes in by hand over its full length."),
        Look(
            "shoulder seats", "A shoulder, where it was ordered with one, sits flat on the surface all round."
        ),
    ),
    measured="the outer diameter of the thread",
    only_size="its thread is that of the hole: a larger one does not go in, a smaller one has less thread",
)

BARE = (
    "non shoulder", "non shouldered", "no shoulder", "without shoulder", "without a shoulder",
    "no collar", "without collar", "without a collar",
)  # fmt: skip


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


def is_nut(item: Item) -> bool:
    """Whether the row says that it is an eye nut."""
    return says(called(item), "eye nut", "eyenut", "din 582", "din582")


def is_metric(item: Item) -> bool:
    """Whether the size is a metric thread."""
    return item.size is not None and re.match(r"M\d", item.size.name) is not None


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The DIN 580 values, for an eye bolt that is said to be made to it."""
    return TABLES if is_din(item) else ()


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    angle = pulled_at(item)
    off_axis = {"plane", "seated"} if angle is None or not in_line(angle) else set()
    if off_axis and is_metric(item) and not is_din(item):
        off_axis |= {"rated_angle_deg"}
    return pull.uses(item) | threads.USES | off_axis | {"type", "torque"}


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """What the angle from the shank leaves of the rating; None where there is no rating for it."""
    angle = pulled_at(item)
    if angle is None or angle < 0 or refuses(_loading(item)):
        return None
    if in_line(angle):
        return ()
    why = f"pulled at {angle:.4g}° from its shank"
    if is_nut(item):
        return (Derate(derate(angle, "shoulder"), why, BY_ANGLE, pull.reads(item), AS_EYE_BOLT),)
    if is_din(item):
        row = DIN_580.get(item.size.name) if item.size else None
        return (
            None
            if row is None
            else (Derate(din_share(row, angle), why, PRINTED, ("size", *pull.reads(item)), BY_COLUMNS),)
        )
    if pattern(item) != "shoulder":
        return None
    if is_metric(item):
        return () if _rated_there(item, angle) else None
    return (Derate(derate(angle, "shoulder"), why, BY_ANGLE, pull.reads(item)),)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for eye bolts say of one line of a schedule."""
    yield from pull.known(item)
    yield from _loading(item)
    yield from threads.engaged(item)
    if item.torque is None and "torque" not in item.problems:
        yield TORQUE_SAID.advises("the torque it was tightened to is not recorded")


def _rated_there(item: Item, angle: float) -> bool:
    """Whether the row states a rated load that its maker gives up to this angle."""
    limit = item.rated_angle_deg
    return item.rated_load is not None and limit is not None and at_most(angle, limit) and at_most(angle, 90)


def _loading(item: Item) -> Iterator[Finding]:
    angle = pulled_at(item)
    if angle is None or angle < 0 or in_line(angle):
        return
    if is_nut(item):
        yield from _nut(item, angle)
        return
    yield from _plane(item, angle)
    yield from _seat(item, angle)
    if is_din(item):
        yield from _din(item, angle)
        return
    if is_metric(item) and pattern(item) != "plain":
        yield from _metric(item, angle)
    if not at_most(angle, 90):
        yield OVER_NINETY.fails(
            f"pulled at {angle:.4g}° from its shank, over 90°", "turn the load or the bolt"
        )


def _nut(item: Item, angle: float) -> Iterator[Finding]:
    yield from _plane(item, angle)
    if not at_most(angle, 15):
        yield NUT.fails(
            f"an eye nut pulled at {angle:.4g}° from its axis, over 15°",
            "a pull within 15°, a shoulder eye bolt fully seated, or a swivel hoist ring",
        )


def _metric(item: Item, angle: float) -> Iterator[Finding]:
    if "rated_angle_deg" in item.problems or _rated_there(item, angle):
        return
    limit = item.rated_angle_deg
    if limit is None:
        yield STANDARD.holds(
            f"a metric eye bolt pulled at {angle:.4g}° from its shank: neither DIN 580 nor the angle "
            "its maker rates it up to is stated",
            "fill in DIN 580 as its type where it is marked so, or the rated angle; or take a hoist ring",
        )
    elif not at_most(angle, limit):
        yield STANDARD.fails(
            f"pulled at {angle:.4g}° from its shank, and its maker rates it up to {limit:.4g}°",
            f"a pull at {limit:.4g}° or less, or a swivel hoist ring",
        )
    elif item.rated_load is None:
        yield STANDARD.holds(
            f"pulled at {angle:.4g}° from its shank, and its maker's rating there is not stated",
            "fill in the rated load that its maker states for this angle",
        )


def _plane(item: Item, angle: float) -> Iterator[Finding]:
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


def _seat(item: Item, angle: float) -> Iterator[Finding]:
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
