"""Lifting baskets, skips and the like: for goods, kept inside.

>>> [found.outcome for found in _use(Item(description="Man basket", secured=True))]
['HOLD']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import LETS_GO
from rigxl.hardware import device
from rigxl.hardware.bought import DEVICE, Look
from rigxl.hardware.usage import called, refuses, says
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, Source, Table

KIND = "lifting basket"
WORDS = (
    "lifting basket",
    "cargo basket",
    "crane basket",
    "transport basket",
    "material basket",
    "goods basket",
    "gas bottle basket",
    "man basket",
    "personnel basket",
    "work basket",
    "skip",
    "lifting skip",
    "concrete skip",
    "crane skip",
    "waste skip",
    "boat skip",
    "tipping skip",
    "stillage",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

PEOPLE_PAGE = Source(
    "Alberta OHS Code, Part 21", "AR 191/2021", "s. 292(1)(a), factor 10 where a worker is lifted"
)

PEOPLE = Rule(
    "basket-with-people", "Lifting people goes by rules of its own, with a factor of 10.", PEOPLE_PAGE
)
SPILL = Rule(
    "basket-load-secured",
    "What a basket holds is kept in: below its rim, or secured.",
    COMMON_PRACTICE,
    firm=LETS_GO,
)

RULES = (PEOPLE, SPILL, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look("floor and walls", "Floor, walls and gate are whole, and its lifting points are as drawn."),
    ),
)

PEOPLE_WORDS = (
    "man", "men", "people", "person", "persons", "personnel", "manrider", "man riding", "worker", "workers",
    "work basket", "work platform",
)  # fmt: skip


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the maker's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | frozenset({"secured", "type"})


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The maker's rating where the use is one it covers; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for lifting baskets say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    if says(called(item), *PEOPLE_WORDS):
        yield PEOPLE.holds(
            "it is called a basket for people, and rigxl does not judge lifts of people",
            "the rules for lifting people, by a qualified person",
        )
    if item.secured is False:
        yield SPILL.fails("what it holds is not secured", "a cover or net, or a load below its rim")
    elif item.secured is None and "secured" not in item.problems:
        yield SPILL.holds(
            "whether what it holds is kept in is not stated",
            "fill in secured: yes where all is below its rim, covered or netted",
        )
