"""Pad eyes and lugs bought or fitted as they are: engineered, in the plane of the eye, with a pin that fits.

>>> [found.rule.name for found in _pull(Item(loading_angle_deg=30, plane="across", rated_angle_deg=45))]
['pad-eye-across']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING, UNENGINEERED
from rigxl.hardware import pull
from rigxl.hardware.bought import ENGINEERS_MARK, Bought, Look
from rigxl.hardware.device import DENIED, NOT_NAMED
from rigxl.hardware.fit import HOLE_FIT, hole_fits
from rigxl.hardware.pull import pulled_at
from rigxl.hardware.usage import in_line, refuses, says, words
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table

KIND = "pad eye"
WORDS = (
    "pad eye",
    "padeye",
    "pad-eye",
    "lifting pad eye",
    "lifting padeye",
    "lug",
    "lifting lug",
    "lift lug",
    "weld-on lug",
    "weld on lug",
    "welded lug",
    "weld-on lifting eye",
    "weld on lifting eye",
    "weld-on lifting point",
    "weld on lifting point",
    "trunnion lug",
    "plate lug",
)
POSITION = "pick point"
TABLES: tuple[Table[Any], ...] = ()

ENGINEER = Source("ASME B30.20 and BTH-1", place="lifting lugs, by a qualified person", note=FROM_MEMORY)

ENGINEERED = Rule(
    "pad-eye-engineered",
    "A pad eye and its weld are engineered, and the drawing is named.",
    ENGINEER,
    firm=UNENGINEERED,
)
ACROSS = Rule(
    "pad-eye-across", "A pad eye is pulled only in the plane of its eye.", COMMON_PRACTICE, firm=NO_RATING
)
RANGE = Rule(
    "pad-eye-range",
    "A pad eye has its rating at the angles it was engineered for, and none beyond.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
PIN = Rule(
    "pad-eye-pin", "The pin and the hole of a pad eye are worth knowing: a loose pin bends.", COMMON_PRACTICE
)

RULES = (ENGINEERED, ACROSS, RANGE, PIN, HOLE_FIT, *pull.RULES)

BOUGHT = Bought(
    ENGINEER,
    marks=("number of the drawing", "heat or batch of the plate"),
    looks=(
        ENGINEERS_MARK,
        Look("hole measured", "The hole is round, not burnt, and of the diameter on the drawing."),
        Look("weld prepared", "The edges to be welded are prepared as on the drawing."),
    ),
    own=("engineered", "hole", "rated_angle_deg"),
    settles=(),
    gear=None,
    papers=("the engineer's drawing or calculation, by number", "the material certificate of the plate"),
    engineered=True,
    only_size="it is as its engineer drew it: another one is a new design",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load must be stated."""
    return TABLES


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    angle = pulled_at(item)
    off_axis = {"plane", "rated_angle_deg"} if angle is None or not in_line(angle) else set()
    return pull.uses(item) | off_axis | {"engineered", "pin", "hole"}


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating in the plane of the eye and within the angles it was engineered for; None otherwise."""
    return None if refuses(_pull(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for pad eyes say of one line of a schedule."""
    yield from pull.known(item)
    yield from _pull(item)
    yield from _engineered(item)
    if item.pin is not None and item.hole is not None:
        yield from hole_fits("pin", item.pin, item.hole, item.units)
    elif not {"pin", "hole"} & item.problems.keys():
        yield PIN.advises("the pin, the hole or both are not stated: their fit is not judged")


def _engineered(item: Item) -> Iterator[Finding]:
    remedy = "fill in the drawing number or engineer's mark that its rated load comes from"
    if item.engineered is None:
        if "engineered" not in item.problems:
            yield ENGINEERED.holds("no engineer's mark and no drawing number is given", remedy)
        return
    said = words(item.engineered)
    if says(said, *DENIED):
        yield ENGINEERED.fails(
            f"its engineer's mark is recorded as '{item.engineered}'",
            "a pad eye with a drawing that states its rated load",
        )
    elif said in NOT_NAMED:
        yield ENGINEERED.holds(f"'{item.engineered}' names no drawing and no engineer", remedy)


def _pull(item: Item) -> Iterator[Finding]:
    angle, limit = pulled_at(item), item.rated_angle_deg
    if angle is None or angle < 0 or in_line(angle):
        return
    if item.plane == "across":
        yield ACROSS.fails(
            f"pulled at {angle:.4g}° across the plane of its eye", "turn the eye into the plane of the sling"
        )
    elif item.plane is None and "plane" not in item.problems:
        yield ACROSS.holds(
            f"pulled at {angle:.4g}° from upright, and whether in the plane of its eye is not stated",
            "fill in the plane: in or across",
        )
    if limit is None:
        if "rated_angle_deg" not in item.problems:
            yield RANGE.holds(
                f"pulled at {angle:.4g}° from upright, and up to which angle it was engineered is not stated",
                "fill in the rated angle from the drawing",
            )
    elif not at_most(angle, limit):
        yield RANGE.fails(
            f"pulled at {angle:.4g}° from upright, and it was engineered up to {limit:.4g}°",
            f"a pull at {limit:.4g}° or less, or a pad eye engineered for this angle",
        )
