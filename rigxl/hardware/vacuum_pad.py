"""Vacuum pads: rated for the thickness, surface, heat and position that the maker states.

>>> [found.sentence for found in gripping.surface(Item(surface="oily", rated_surface="clean, dry"))]
["the surface is 'oily', and its rating is for 'clean, dry'"]
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

KIND = "vacuum pad"
WORDS = (
    "vacuum pad",
    "vacuum lifter",
    "vacuum lifting device",
    "vacuum cup",
    "suction pad",
    "suction cup",
    "vacuum lifting pad",
    "vacuum",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

RULES = (*gripping.SHEET_RULES, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look(
            "seal holds", "Its seal is whole, its gauge reads, and its warning sounds when the vacuum falls."
        ),
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
    """What the rules for vacuum pads say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    yield from gripping.sheet(item)
