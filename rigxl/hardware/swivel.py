"""Swivels: in line, and turned under load only when they are made for it.

>>> bearing(Item(type="ball bearing swivel")), bearing(Item(type="positioning")), bearing(Item(type="jaw"))
(True, False, None)
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware.bought import MARKED_HARDWARE, Bought, Look
from rigxl.hardware.usage import IN_LINE, along_its_axis, called, collects, refuses, says
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table

KIND = "swivel"
WORDS = (
    "swivel",
    "lifting swivel",
    "load swivel",
    "in-line swivel",
    "inline swivel",
    "positioning swivel",
    "bearing swivel",
    "ball bearing swivel",
    "thrust bearing swivel",
    "chain swivel",
    "eye and eye swivel",
    "jaw and eye swivel",
    "jaw and jaw swivel",
    "regular swivel",
)
POSITION = None
TABLES: tuple[Table[Any], ...] = ()

USED = Source("ASME B30.26 Rigging Hardware", place="swivels, in line; rotation under load", note=FROM_MEMORY)

ALONG = Rule("swivel-along", "A swivel is loaded in line.", USED, firm=NO_RATING)
TURNS = Rule(
    "swivel-turns",
    "A positioning swivel is never turned under load; a bearing swivel may be.",
    USED,
    firm=NO_RATING,
)
ONE_LINE = Rule(
    "swivel-one-line", "A swivel takes one line: legs are gathered in a link below it.", COMMON_PRACTICE
)

RULES = (ALONG, TURNS, ONE_LINE, IN_LINE)

BOUGHT = Bought(
    MARKED_HARDWARE,
    marks=("bearing or positioning, on the piece or its certificate",),
    looks=(Look("turns freely", "It turns by hand without play or grating, and its pins are secured."),),
    own=("ends",),
    fit="its ends in what they are pinned to",
)


def bearing(item: Item) -> bool | None:
    """Whether the words name a bearing swivel or a positioning one; None where they name neither, or both."""
    text = called(item)
    without = says(text, "non bearing", "no bearing", "without bearing")
    fixed = without or says(text, "positioning", "plain")
    turns = says(text, "bearing") and not without
    return turns if turns != fixed else None


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load must be stated."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return frozenset({"type", "loading_angle_deg", "turns_under_load"})


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating in line; None otherwise, and for one that is turned under load and may not be."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for swivels say of one line of a schedule."""
    yield from _use(item)
    if collects(item):
        yield ONE_LINE.notes(f"taken as gathering its {item.legs} legs in a link or shackle below it")


def _use(item: Item) -> Iterator[Finding]:
    yield from along_its_axis(ALONG, item, "rig it so that it is pulled in line")
    made_for_it = bearing(item)
    if made_for_it or item.turns_under_load is False:
        return
    if item.turns_under_load is None:
        if "turns_under_load" not in item.problems:
            yield TURNS.holds(
                "whether it turns under load is not stated", "fill in turns under load: yes or no"
            )
    elif made_for_it is False:
        yield TURNS.fails("a positioning swivel that turns under load", "a swivel with a bearing for that")
    else:
        yield TURNS.holds(
            "it turns under load, and whether it has a bearing for that is not stated",
            "fill in the type: positioning or bearing",
        )
