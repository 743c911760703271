"""Pallet forks: the load secured on the tines, no further out than the maker states.

>>> [found.sentence for found in _use(Item(secured=True, load_centre=700, rated_load_centre=600))]
['the load centre is 700 mm from the heel, over the 600 mm it is rated for']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import LETS_GO, NO_RATING
from rigxl.hardware import device, gripping
from rigxl.hardware.bought import DEVICE, Look
from rigxl.hardware.usage import refuses
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, Table
from rigxl.units import show_length

KIND = "pallet fork"
WORDS = (
    "pallet fork",
    "crane fork",
    "pallet lifter",
    "crane pallet fork",
    "lifting fork",
    "c-fork",
    "pallet hook",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

SLIDE = Rule(
    "fork-load-secured", "A load on a fork is secured against sliding off.", COMMON_PRACTICE, firm=LETS_GO
)
CENTRE = Rule(
    "fork-load-centre",
    "A fork is rated with its load no further out than the load centre its maker states.",
    gripping.STATED,
    firm=NO_RATING,
)

RULES = (SLIDE, CENTRE, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look("tines level", "The tines are straight, level with each other, and as long as ordered."),
    ),
    own=(*DEVICE.own, "rated_load_centre"),
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the maker's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | frozenset({"secured", "load_centre", "rated_load_centre"})


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The maker's rating where the use is one it covers; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for pallet forks say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    if item.secured is False:
        yield SLIDE.fails("the load on it is not secured", "a net, chain or strap that keeps it on")
    elif item.secured is None and "secured" not in item.problems:
        yield SLIDE.holds("whether the load on it is secured is not stated", "fill in secured: yes or no")
    for name, said in (("load_centre", "load centre"), ("rated_load_centre", "load centre it is rated for")):
        if getattr(item, name) is None and name not in item.problems:
            yield CENTRE.holds(
                f"the {said} is not given", f"fill in the {said}, from the heel of the tines, such as 600 mm"
            )
    out, most = item.load_centre, item.rated_load_centre
    if out is not None and most is not None and not at_most(out, most):
        unit = item.units.get("load_centre", "mm")
        yield CENTRE.fails(
            f"the load centre is {show_length(out, unit)} from the heel, over the "
            f"{show_length(most, unit)} it is rated for",
            "the load nearer to the heel, or a longer fork with its own rating",
        )
