"""Lifting magnets: rated for the thickness, surface, heat and position that the maker states.

>>> [found.sentence for found in _use(Item(thickness=8, grip_from=20)) if found.outcome == "FAIL"]
['the thickness of what it holds is 8 mm, under the 20 mm it is rated for']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.hardware import device, gripping
from rigxl.hardware.bought import DEVICE, Look
from rigxl.hardware.usage import refuses
from rigxl.items import Derate, Finding, Item
from rigxl.tables import Table

KIND = "lifting magnet"
WORDS = (
    "lifting magnet",
    "magnet",
    "permanent magnet",
    "permanent lifting magnet",
    "electromagnet",
    "electro-magnet",
    "lifting electromagnet",
    "magnetic lifter",
    "magnet lifter",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

RULES = (*gripping.SHEET_RULES, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look("switch locks", "Its lever or switch locks in both positions, and its face is flat and clean."),
    ),
    own=(*DEVICE.own, "grip_from", "rated_lay", "rated_surface", "rated_temperature"),
    gear="connector",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the maker's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | gripping.SHEET_USES


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The maker's rating where the use is one it covers; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for lifting magnets say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    yield from gripping.sheet(item)
