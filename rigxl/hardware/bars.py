"""What spreader bars and lifting beams have in common: slings that hang plumb from a straight bar.

>>> [found.outcome for found in check(Item(bar_length=4000, spread=4000, out_of_straight=17))]
['FAIL']
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.firm import REMOVED
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, Source
from rigxl.units import show_length

REMOVAL = Source(
    "DOE-STD-1090-96 Hoisting and Rigging Manual", "Rev. 1", "15.4.8, lifting bars and spreaders"
)

LOWER_SLINGS = Rule(
    "lower-slings-plumb",
    "The lower slings hang plumb: the bar's lower picks are as far apart as those of the load.",
    COMMON_PRACTICE,
)
STRAIGHT = Rule(
    "bar-bent",
    "A lifting bar or spreader bent more than 0.5 in in 10 ft is taken out of service.",
    REMOVAL,
    firm=REMOVED,
)

RULES = (LOWER_SLINGS, STRAIGHT)
USES = frozenset({"bar_length", "spread", "out_of_straight"})

BENT_MOST = 0.5 / 120
PLUMB_WITHIN = 0.01
"""How far the two distances may differ, of the greater."""


def check(item: Item) -> Iterator[Finding]:
    """What is to be said of a bar's length and straightness."""
    if item.bar_length is None:
        if "bar_length" not in item.problems:
            yield LOWER_SLINGS.holds(
                "the length of the bar between its lower picks is not given",
                f"fill in the bar length{_least(item)}",
            )
    elif item.spread is None:
        if "spread" not in item.problems:
            yield LOWER_SLINGS.holds(
                "the spread of the load's picks is not given", "fill in the spread of picks"
            )
    elif abs(item.bar_length - item.spread) > PLUMB_WITHIN * max(item.bar_length, item.spread):
        unit = item.units.get("bar_length", "mm")
        bar, picks = show_length(item.bar_length, unit), show_length(item.spread, unit)
        leans = "out" if item.bar_length < item.spread else "in"
        yield LOWER_SLINGS.holds(
            f"its lower picks are {bar} apart and those of the load {picks}: the lower slings lean {leans}",
            f"a bar whose lower picks are {picks} apart, or the engineer's word on slings that lean",
        )
    yield from _straight(item)


def _least(item: Item) -> str:
    if item.spread is None:
        return ""
    return f", {show_length(item.spread, item.units.get('spread', 'mm'))} for this spread of picks"


def _straight(item: Item) -> Iterator[Finding]:
    if item.out_of_straight is None or (not item.out_of_straight and item.bar_length is None):
        return
    if item.bar_length is None:
        yield STRAIGHT.holds("it is bent, and the length of the bar is not given", "fill in the bar length")
    elif not at_most(item.out_of_straight, BENT_MOST * item.bar_length):
        unit = item.units.get("out_of_straight", "mm")
        bent, most = (
            show_length(item.out_of_straight, unit),
            show_length(BENT_MOST * item.bar_length, unit),
        )
        yield STRAIGHT.fails(
            f"it is bent by {bent}, over {most}, which is 0.5 in in 10 ft of its length", "another bar"
        )
