"""Whether a bridle fits under its hook, and whether the lift wants a below-the-hook device instead.

>>> item = Item(position="leg", legs=2, spread=6000.0, headroom=1500.0)
>>> [found.rule.name for found in check(item, Criteria.ready())]
['device-needed']
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.criteria import Criteria
from rigxl.firm import NO_FIT
from rigxl.hardware.usage import called, says
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.angles import angle_from_height, least_height, least_leg_length
from rigxl.mechanics.legs import VERTICAL_WITHIN_DEG
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import COMMON_PRACTICE, Source
from rigxl.units import show_length

GEOMETRY = Source("plain trigonometry: height = spread / 2 × tan(angle)")

TOO_HIGH = Rule(
    "headroom",
    "The height a bridle takes above the picks may not be more than the headroom.",
    GEOMETRY,
    firm=NO_FIT,
)
NEEDED = Rule(
    "device-needed",
    "Where the headroom cannot give the least sling angle, a below-the-hook device is wanted.",
    GEOMETRY,
)
PLUMB_PICKS = Rule(
    "device-for-plumb-picks",
    "Picks that take a plumb pull only want a spreader bar or a lifting beam above them.",
    COMMON_PRACTICE,
)

RULES = (TOO_HIGH, NEEDED, PLUMB_PICKS)

BRIDLE = frozenset({"leg", "pick point"})
PLUMB_DEG = 90 - VERTICAL_WITHIN_DEG


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    return frozenset({"headroom", "spread"}) if item.position in BRIDLE else frozenset()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of the headroom of a bridle, its sling angle settled."""
    if item.position not in BRIDLE or not item.spread or (item.legs or 0) < 2:
        return
    if item.headroom:
        yield from _fits(item, item.spread, item.headroom, criteria)
    angle = item.angle_deg
    if angle is not None and angle < PLUMB_DEG and _takes_plumb_pulls_only(item):
        yield PLUMB_PICKS.advises(
            f"plain eye bolts take a plumb pull: {_sort(item, item.spread, item.headroom, criteria)}"
        )


def _fits(item: Item, spread: float, headroom: float, criteria: Criteria) -> Iterator[Finding]:
    unit = item.units.get("headroom", "mm")
    room, least = show_length(headroom, unit), criteria.least_angle_deg
    wanted = least_height(spread, least)
    device = ""
    if not at_least(headroom, wanted):
        device = _sort(item, spread, headroom, criteria)
        yield NEEDED.advises(
            f"{show_length(wanted, unit)} above the picks is needed for {least:.4g}° and the headroom is "
            f"{room}: {device}"
        )
    angle = item.angle_deg
    if angle is None or not 0 < angle < PLUMB_DEG:
        return
    taken = least_height(spread, angle)
    if not at_most(taken, headroom):
        yield TOO_HIGH.fails(
            f"its legs at {angle:.4g}° rise {show_length(taken, unit)} above the picks, and the headroom "
            f"is {room}",
            device or _shorter(item, spread, headroom),
        )


def _shorter(item: Item, spread: float, headroom: float) -> str:
    """The legs that just fit, where they are not flatter than the least angle."""
    angle = angle_from_height(headroom, spread)
    unit = item.units.get("leg_length") or item.units.get("spread", "mm")
    return f"legs of {show_length(least_leg_length(spread, angle), unit)}, which hang at {angle:.3g}°"


def _sort(item: Item, spread: float, headroom: float | None, criteria: Criteria) -> str:
    """Which sort of device: a spreader where its top legs fit, else a beam hung from its middle."""
    picks = "lifting frame" if (item.legs or 0) > 2 else "lifting beam"
    height = least_height(spread, criteria.least_angle_deg)
    if headroom is not None and not at_least(headroom, height):
        return f"a {picks} hung from its middle; a spreader bar's own top legs would not fit either"
    unit = item.units.get("headroom") or item.units.get("spread", "mm")
    return f"a spreader bar, with {show_length(height, unit)} at least for its top legs, or a {picks}"


def _takes_plumb_pulls_only(item: Item) -> bool:
    text = called(item)
    return item.kind == "eye bolt" and says(text, "plain") and not says(text, "shoulder")
