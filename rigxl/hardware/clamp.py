"""Plate clamps: one plate within the jaws, in the position and with the least load the maker states.

>>> [found.sentence for found in _use(Item(pieces=1, lay="vertical", rated_lay="any", least_load=1.0))]
['the thickness of the plate is not given']
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

KIND = "plate clamp"
WORDS = (
    "plate clamp",
    "plate lifting clamp",
    "vertical plate clamp",
    "horizontal plate clamp",
    "universal plate clamp",
    "lifting clamp",
    "clamp",
    "plate grab",
    "plate dog",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

RULES = (gripping.THICKNESS, gripping.LAY, gripping.ONE_PIECE, gripping.LEAST_LOAD, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look(
            "jaws sharp",
            "The teeth of the jaw are sharp, its lock holds it closed and open, and its range is as ordered.",
        ),
    ),
    own=(*DEVICE.own, "grip_from", "grip_to", "rated_lay", "least_load"),
    gear="connector",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the maker's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | gripping.PLATE_USES | {"least_load", "legs"}


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The maker's rating where the use is one it covers; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for plate clamps say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    yield from gripping.thickness(item, gripping.PLATE)
    yield from gripping.lay(item)
    yield from gripping.one_piece(item)
    yield from gripping.least_load(item)
