"""Shackles: by type of pin and shape, angle off the axis and legs collected; own pin, and what hangs in it.

>>> derate(0, "screw"), derate(5.5, "screw"), derate(90, "bolt")
(1.0, 0.7, 0.5)
>>> derate(91, "bolt")
Traceback (most recent call last):
    ...
NotRatedError: ...
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_FIT, NO_RATING, UNTRACED
from rigxl.hardware.bought import EN_SHACKLES, MARKED_HARDWARE, Bought, Look
from rigxl.hardware.fit import HOLE_FIT, hole_fits, passes_through
from rigxl.hardware.shackle_ratings import (
    BANDS,
    DEE,
    GRADE_A,
    OLDER,
    PERCENTAGES,
    ROUND_PIN,
    SIDE_LOADING,
    derate,
    printed,
)
from rigxl.hardware.usage import (
    IN_LINE,
    LEGS_AT_TOP,
    called,
    collects,
    in_line,
    included_deg,
    legs_known,
    refuses,
    says,
    words,
)
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table

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
    "screw pin chain shackle",
    "bolt type shackle",
    "bolt type anchor shackle",
    "bolt type chain shackle",
    "safety shackle",
    "safety pin shackle",
    "round pin shackle",
    "round pin anchor shackle",
    "round pin chain shackle",
    "clevis shackle",
)
POSITION = None

COLLECTING = Source("ASME B30.26 Rigging Hardware", place="multiple slings in a bow", note=FROM_MEMORY)

TABLES = (GRADE_A, OLDER, DEE)

OVER_NINETY = Rule(
    "shackle-over-90",
    "No shackle may be loaded more than 90° off its pin-to-bow axis.",
    BANDS,
    firm=NO_RATING,
)
ACROSS_BOW = Rule(
    "shackle-across-bow",
    "A shackle is never loaded across the plane of its bow.",
    PERCENTAGES,
    firm=NO_RATING,
)
ROUND_PIN_OFF_LINE = Rule(
    "round-pin-off-line",
    "A round pin is held by a cotter alone: it may be loaded in line only, and may not collect legs.",
    ROUND_PIN,
    firm=NO_RATING,
)
PIN_TYPE = Rule(
    "pin-type", "The type of pin must be known where the shackle is not loaded in line.", ROUND_PIN
)
DEE_COLLECTS = Rule(
    "dee-collects-legs", "A dee (chain) shackle takes one line; legs go in a bow.", COLLECTING, firm=NO_RATING
)
BOW_SPREAD = Rule(
    "bow-spread", "Legs collected in a bow may include 120° at most.", COLLECTING, firm=NO_RATING
)
OWN_PIN = Rule(
    "own-pin", "A shackle's pin is its own pin: any substitute is refused.", PERCENTAGES, firm=UNTRACED
)
PIN_SECURED = Rule(
    "pin-secured", "A screw pin that may turn is moused, or replaced by a bolt type.", COMMON_PRACTICE
)
SHAPE = Rule(
    "bow-or-dee", "Only a bow (anchor) shackle collects legs, so its shape must be known.", COLLECTING
)
BELOW_ZERO = Rule("shackle-angle", "An angle off the axis is 0° or more.", BANDS)
BOW_FIT = Rule("bow-fit", "What hangs in a shackle must fit its inside width.", COMMON_PRACTICE, firm=NO_FIT)

RULES = (
    OVER_NINETY, ACROSS_BOW, ROUND_PIN_OFF_LINE, PIN_TYPE, DEE_COLLECTS, BOW_SPREAD,
    SHAPE, BELOW_ZERO, OWN_PIN, PIN_SECURED, BOW_FIT, IN_LINE, HOLE_FIT, LEGS_AT_TOP,
)  # fmt: skip

BOUGHT = Bought(
    MARKED_HARDWARE,
    EN_SHACKLES,
    marks=("on the pin: the maker's name or mark, and its grade or rated load",),
    looks=(
        Look("pin's mark", "The pin bears the mark of the same maker as the body.", sign=True),
        Look(
            "pin seats", "The pin goes home by hand over its full thread, and its shoulder sits on the body."
        ),
    ),
    own=("pin", "inside_width"),
    measured="the diameter of the bow, away from the pin",
    fit="the pin in its hole, the bow in what it hangs from, and what hangs in the bow",
    printed=printed,
)


def _between(angle: float) -> float:
    """Straight lines through 0° 100 %, 45° 70 %, 90° 50 %."""
    return 1 - 0.3 * angle / 45 if angle <= 45 else 0.5 + 0.2 * (90 - angle) / 45


def pin_type(item: Item) -> str | None:
    """The type of pin a row's words name: screw, bolt or round; None where they name none, or several."""
    return _pin_named(called(item), words(item.type))


@lru_cache(maxsize=1024)
def _pin_named(text: str, cell: str) -> str | None:
    named = {
        "round": says(text, "round pin") or says(cell, "round"),
        "screw": says(text, "screw pin") or says(cell, "screw"),
        "bolt": says(text, "bolt type", "bolt", "safety pin", "safety shackle")
        or says(cell, "safety", "nut"),
    }
    said = [name for name, does in named.items() if does]
    return said[0] if len(said) == 1 else None


def shape(item: Item) -> str | None:
    """The shape a row's words name: bow or dee; None where they name none, or both."""
    return _shape_named(called(item), words(item.type))


@lru_cache(maxsize=1024)
def _shape_named(text: str, cell: str) -> str | None:
    dee = says(text, "dee", "d shackle", "chain shackle", "d type") or says(cell, "d", "chain")
    bow = says(text, "bow", "anchor", "omega")
    return None if dee == bow else "dee" if dee else "bow"


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The inch tables for a regular shackle, and the sample of dees for one that is not a bow."""
    inch = (GRADE_A,) if item.grade else (GRADE_A, OLDER)
    return inch if shape(item) == "bow" else (*inch, DEE)


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"type", "loading_angle_deg", "plane", "own_pin", "pin", "hole", "secured"}
    fields |= {"bar", "sling_width", "inside_width"}
    if item.position == "top":
        fields |= {"legs"}
    return frozenset(fields | ({"angle_deg"} if collects(item) else set()))


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:
    """What the loading angle leaves of the rating; None where there is no rating for the use."""
    angle = item.loading_angle_deg or 0.0
    if angle < 0 or refuses(_use(item)):
        return None
    share = _between(angle) if criteria.interpolated else derate(angle, "bolt")
    if share == 1:
        return ()
    why = f"loaded {angle:.4g}° off the pin-to-bow axis"
    formula = "on the line between the two printed beside it" if criteria.interpolated else ""
    return (Derate(share, why, SIDE_LOADING, ("loading_angle_deg",), formula),)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for shackles say of one line of a schedule."""
    yield from _use(item)
    if item.own_pin is False:
        yield OWN_PIN.fails("the pin is not this shackle's own pin", "a shackle with its own pin")
    if item.secured is False and pin_type(item) == "screw":
        yield PIN_SECURED.advises("the screw pin is not moused: mouse it, or take a bolt type shackle")
    if item.pin is not None and item.hole is not None:
        yield from hole_fits("shackle pin", item.pin, item.hole, item.units)
    if item.inside_width is not None:
        for inner in (item.bar, item.sling_width):
            if inner is not None:
                yield from passes_through(BOW_FIT, "shackle", inner, item.inside_width, item.units)


def _use(item: Item) -> Iterator[Finding]:
    pin = pin_type(item)
    yield from _loading(item, pin)
    yield from legs_known(item)
    if collects(item):
        yield from _legs(item, pin)


def _loading(item: Item, pin: str | None) -> Iterator[Finding]:
    angle = item.loading_angle_deg
    if angle is None:
        yield IN_LINE.notes("no loading angle is stated: taken as in line with its line")
        return
    if angle < 0:
        yield BELOW_ZERO.holds(
            f"loaded {angle:.4g}° off its axis, below 0", "fill in the angle off the axis, 0 to 90°"
        )
    if in_line(angle):
        return
    if not at_most(angle, 90):
        yield OVER_NINETY.fails(
            f"loaded {angle:.4g}° off its axis, and over 90° is not permitted",
            "turn it so that it is loaded in line",
        )
    if item.plane == "across":
        yield ACROSS_BOW.fails(
            f"loaded {angle:.4g}° across the plane of its bow", "turn it so that the load lies in the bow"
        )
    elif item.plane is None and "plane" not in item.problems:
        yield ACROSS_BOW.holds(
            f"loaded {angle:.4g}° off its axis, and whether in the plane of its bow is not stated",
            "fill in the plane: in or across",
        )
    if pin == "round":
        yield ROUND_PIN_OFF_LINE.fails(
            f"a round pin shackle loaded {angle:.4g}° off its axis",
            "a screw pin or bolt type shackle, or in line",
        )
    elif pin is None:
        yield PIN_TYPE.holds(
            f"loaded {angle:.4g}° off its axis and the type of pin is not stated",
            "fill in the type: screw pin, bolt type or round pin",
        )


def _legs(item: Item, pin: str | None) -> Iterator[Finding]:
    form = shape(item)
    if form == "dee":
        yield DEE_COLLECTS.fails(
            f"a dee shackle that collects {item.legs} legs", "a bow (anchor) shackle, or one line only"
        )
    elif form is None:
        yield SHAPE.holds(
            f"it collects {item.legs} legs and its shape is not stated",
            "fill in the type: bow (anchor) or dee",
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
    included = included_deg(item)
    if included is None:
        if "angle_deg" not in item.problems:
            yield BOW_SPREAD.holds(
                f"it collects {item.legs} legs and their angle is not known", "fill in the sling angle"
            )
    elif not at_most(included, 120):
        yield BOW_SPREAD.fails(
            f"its legs include {included:.4g}°, and a bow may collect 120° at most",
            "longer legs, so that they hang 30° or more from the horizontal",
        )
