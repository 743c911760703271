"""Shackles: loaded off the pin-to-bow axis, collecting legs, and by type of pin.

>>> derate(0), derate(5), derate(5.5), derate(45), derate(90)
(1.0, 1.0, 0.7, 0.7, 0.5)
>>> derate(91)
Traceback (most recent call last):
    ...
NotRatedError: ...
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.criteria import Criteria
from rigxl.errors import InputError, NotRatedError, OutOfRangeError
from rigxl.hardware.fit import HOLE_FIT, hole_fits, passes_through
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.angles import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.units import Angle, Ratio
from rigxl.worksheet import worksheet

KIND = "shackle"
WORDS = (
    "shackle",
    "bow shackle",
    "anchor shackle",
    "dee shackle",
    "d shackle",
    "d-shackle",
    "chain shackle",
    "screw pin shackle",
    "screw pin anchor shackle",
    "bolt type shackle",
    "bolt type anchor shackle",
    "safety shackle",
    "safety pin shackle",
    "round pin shackle",
    "clevis shackle",
)

BANDS = Source("WAC 296-155-33905, Figure 17", place="bands 0-5, 6-45, 46-90, over 90 not permitted")
PERCENTAGES = Source("ASME B30.26 Rigging Hardware", place="shackle side loading", note=FROM_MEMORY)
SIDE_LOADING = Source(
    "WAC 296-155-33905 Figure 17 (bands); ASME B30.26 (percentages)", note=f"percentages {FROM_MEMORY}"
)
ROUND_PIN = Source("ASME B30.26 Rigging Hardware", place="round pin shackles", note=FROM_MEMORY)
COLLECTING = Source("ASME B30.26 Rigging Hardware", place="multiple slings in a bow", note=FROM_MEMORY)
GRADE_A_PAGE = Source("US Federal Specification RR-C-271, Type IVA Grade A", note=FROM_MEMORY)
OLDER_PAGE = Source("29 CFR 1926.251 Table H-19", "before 2011, withdrawn", note=FROM_MEMORY)
MARINE_PAGE = Source("Classification society code for lifting appliances", place="Table 8.5.1, a sample of its rows")


class Rated(NamedTuple):
    """Nominal size of the body, pin diameter, rating."""

    size: str
    pin_in: str
    wll_short_ton: float


class Dee(NamedTuple):
    """Safe working load, inside width a, inside length b; body and pin of mild and of higher tensile steel."""

    swl: str
    a_mm: float
    b_mm: float
    mild_d1_mm: float
    mild_d2_mm: float
    tensile_d1_mm: float
    tensile_d2_mm: float
    swl_t: float


# fmt: off
GRADE_A = Table("regular strength shackles", GRADE_A_PAGE, rated="wll_short_ton", size_unit="in", grade="A", rows=(
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

TABLES = (GRADE_A, OLDER, DEE)

OVER_NINETY = Rule("shackle-over-90", "No shackle may be loaded more than 90° off its pin-to-bow axis.", BANDS)
ACROSS_BOW = Rule("shackle-across-bow", "A shackle is never loaded across the plane of its bow.", PERCENTAGES)
ROUND_PIN_OFF_LINE = Rule(
    "round-pin-off-line",
    "A round pin is held by a cotter alone: it may be loaded in line only, and may not collect legs.",
    ROUND_PIN,
)
PIN_TYPE = Rule("pin-type", "The type of pin must be known where the shackle is not loaded in line.", ROUND_PIN)
DEE_COLLECTS = Rule("dee-collects-legs", "A dee (chain) shackle takes one line; legs go in a bow.", COLLECTING)
BOW_SPREAD = Rule("bow-spread", "Legs collected in a bow may include 120° at most.", COLLECTING)
OWN_PIN = Rule("own-pin", "A shackle's pin is its own pin: any substitute is refused.", PERCENTAGES)
PIN_SECURED = Rule(
    "pin-secured", "A screw pin that may turn is moused, or replaced by a bolt type.", COMMON_PRACTICE
)
BOW_FIT = Rule("bow-fit", "What hangs in a shackle must fit its inside width.", COMMON_PRACTICE)
IN_LINE = Rule("taken-as-in-line", "With no loading angle stated, a shackle aligns with its line.", COMMON_PRACTICE)

RULES = (
    OVER_NINETY, ACROSS_BOW, ROUND_PIN_OFF_LINE, PIN_TYPE, DEE_COLLECTS, BOW_SPREAD,
    OWN_PIN, PIN_SECURED, BOW_FIT, IN_LINE, HOLE_FIT,
)  # fmt: skip

STEPS = ((5.0, 1.0), (45.0, 0.7), (90.0, 0.5))


def _between(angle: float) -> float:
    """Straight lines through 0° 100 %, 45° 70 %, 90° 50 %."""
    return 1 - 0.3 * angle / 45 if angle <= 45 else 0.7 - 0.2 * (angle - 45) / 45


@worksheet("SHACKLEDERATE", example=(30,), result="Ratio", source=SIDE_LOADING)
def derate(angle: Angle, pin: str = "screw") -> Ratio:
    """Share of a shackle's rating left when it is loaded off its pin-to-bow axis, in the plane of the bow.

    In bands: up to 5° 1.00, up to 45° 0.70, up to 90° 0.50; a fraction of a degree over takes the worse.

    >>> derate(30)
    0.7

    Args:
        angle: Degrees between the load and the pin-to-bow axis.
        pin: The type of pin: screw, bolt or round. A round pin has no rating off its axis.

    Raises:
        NotRatedError: Over 90°, or a round pin off its axis.
        OutOfRangeError: A negative angle.
    """
    if angle < 0:
        raise OutOfRangeError(f"a loading angle of {angle:g}° is below 0: give the angle off the axis, 0 to 90")
    if pin not in ("screw", "bolt", "round"):
        raise InputError(f"'{pin}' is no type of pin: screw, bolt or round would do")
    if pin == "round" and not at_most(angle, 5):
        raise NotRatedError(f"a round pin shackle has no rating at {angle:g}° off its axis ({ROUND_PIN.cited})")
    for edge, share in STEPS:
        if at_most(angle, edge):
            return share
    raise NotRatedError(f"a shackle has no rating at {angle:g}°, over 90° off its axis ({BANDS.cited})")


def pin_type(item: Item) -> str | None:
    """The type of pin a row's words name: screw, bolt or round; None where they do not say."""
    words = (item.type or "").lower()
    if "round" in words:
        return "round"
    if "screw" in words:
        return "screw"
    if any(word in words for word in ("bolt", "safety", "nut")):
        return "bolt"
    return None


def is_dee(item: Item) -> bool:
    """Whether the row's words say that this is a dee (chain) shackle."""
    words = f" {item.type or ''} ".lower().replace("-", " ")
    return any(word in words for word in (" dee ", " d ", " chain "))


def collects(item: Item) -> bool:
    """Whether the shackle collects several legs at the top."""
    return item.position == "top" and (item.legs or 1) > 1


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"type", "loading_angle_deg", "plane", "own_pin", "pin", "hole", "bar", "inside_width", "secured"}
    return frozenset(fields | ({"legs", "angle_deg"} if collects(item) else set()))


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:
    """What the loading angle leaves of the rating; None where there is no rating for it."""
    angle = item.loading_angle_deg or 0.0
    try:
        share = derate(angle, "round" if pin_type(item) == "round" else "screw")
    except (NotRatedError, OutOfRangeError):
        return None
    if criteria.interpolated:
        share = _between(angle)
    if share == 1:
        return ()
    return (Derate(share, f"loaded {angle:g}° off the pin-to-bow axis", SIDE_LOADING),)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for shackles say of one line of a schedule."""
    pin = pin_type(item)
    yield from _loading(item, pin)
    if collects(item):
        yield from _legs(item, pin)
    if item.own_pin is False:
        yield OWN_PIN.fails("the pin is not this shackle's own pin", "a shackle with its own pin")
    if pin == "screw" and item.secured is False:
        yield PIN_SECURED.advises("the screw pin is not moused: mouse it, or take a bolt type shackle")
    if item.pin is not None and item.hole is not None:
        yield from hole_fits("shackle pin", item.pin, item.hole, item.units)
    if item.bar is not None and item.inside_width is not None:
        yield from passes_through(BOW_FIT, "shackle", item.bar, item.inside_width, item.units)


def _loading(item: Item, pin: str | None) -> Iterator[Finding]:
    angle = item.loading_angle_deg
    if angle is None:
        yield IN_LINE.notes("no loading angle is stated: taken as in line with its line")
        return
    if at_most(angle, 5):
        return
    if not at_most(angle, 90):
        yield OVER_NINETY.fails(
            f"loaded {angle:g}° off its axis, and over 90° is not permitted",
            "turn it so that it is loaded in line",
        )
    if item.plane == "across":
        yield ACROSS_BOW.fails(
            f"loaded {angle:g}° across the plane of its bow", "turn it so that the load lies in the bow"
        )
    if pin == "round":
        yield ROUND_PIN_OFF_LINE.fails(
            f"a round pin shackle loaded {angle:g}° off its axis", "a screw pin or bolt type shackle, or in line"
        )
    elif pin is None:
        yield PIN_TYPE.holds(
            f"loaded {angle:g}° off its axis and the type of pin is not stated",
            "fill in the type: screw pin, bolt type or round pin",
        )


def _legs(item: Item, pin: str | None) -> Iterator[Finding]:
    if is_dee(item):
        yield DEE_COLLECTS.fails(
            f"a dee shackle that collects {item.legs} legs", "a bow (anchor) shackle, or one line only"
        )
    if pin == "round":
        yield ROUND_PIN_OFF_LINE.fails(
            f"a round pin shackle that collects {item.legs} legs", "a screw pin or bolt type bow shackle"
        )
    elif pin is None:
        yield PIN_TYPE.holds(
            f"it collects {item.legs} legs and the type of pin is not stated",
            "fill in the type: screw pin, bolt type or round pin",
        )
    included = None if item.angle_deg is None else 180 - 2 * item.angle_deg
    if included is not None and not at_most(included, 120):
        yield BOW_SPREAD.fails(
            f"its legs include {included:.3g}°, and a bow may collect 120° at most",
            "longer legs, so that they hang 30° or more from the horizontal",
        )
