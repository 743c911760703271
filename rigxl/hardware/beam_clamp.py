"""Beam clamps: on a flange within the jaws, and loaded within the angle the maker states.

>>> [found.sentence for found in _use(Item(thickness=200, grip_from=75, grip_to=190))]
['the width of the flange is 200 mm, over the 190 mm it is rated for', 'no loading angle...']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware import device, gripping
from rigxl.hardware.bought import DEVICE, Look
from rigxl.hardware.usage import IN_LINE, in_line, refuses
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import Table

KIND = "beam clamp"
WORDS = (
    "beam clamp",
    "girder clamp",
    "flange clamp",
    "beam lifting clamp",
    "joist clamp",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

OFF_PLUMB = Rule(
    "beam-clamp-angle",
    "A beam clamp is loaded in line with its jaws, or within the angle its maker states.",
    gripping.STATED,
    firm=NO_RATING,
)

RULES = (gripping.THICKNESS, OFF_PLUMB, IN_LINE, *device.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look(
            "jaws run",
            "The screw runs freely over the whole range that was ordered, and both jaws close alike.",
        ),
    ),
    own=(*DEVICE.own, "grip_from", "grip_to", "rated_angle_deg"),
    gear="connector",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the maker's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | gripping.CLAMP_USES | {"loading_angle_deg", "rated_angle_deg"}


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The maker's rating where the use is one it covers; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for beam clamps say of one line of a schedule."""
    yield from device.check(item)
    yield from _use(item)


def _use(item: Item) -> Iterator[Finding]:
    yield from gripping.thickness(item, gripping.FLANGE)
    yield from _loading(item)


def _loading(item: Item) -> Iterator[Finding]:
    angle, rated = item.loading_angle_deg, item.rated_angle_deg
    if angle is None:
        if "loading_angle_deg" not in item.problems:
            yield IN_LINE.notes("no loading angle is stated: taken as in line with its line")
    elif rated is not None and not at_most(angle, rated):
        yield OFF_PLUMB.fails(
            f"loaded {angle:.4g}° off its axis, and rated up to {rated:.4g}°",
            "rig it so that it is loaded in line, or a clamp rated for this angle",
        )
    elif rated is None and not in_line(angle) and "rated_angle_deg" not in item.problems:
        yield OFF_PLUMB.holds(
            f"loaded {angle:.4g}° off its axis, and the angle it is rated for is not stated",
            "fill in the angle up to which its maker rates it",
        )
