"""Spreader bars: two top legs press the bar, and the lower slings hang plumb from its ends.

What presses the bar is shown as a figure for an enquiry: the bar is rated by its engineer alone.

>>> height_taken(Item(bar_length=2000, angle_deg=45))
1000.0
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_FIT
from rigxl.hardware import bars, device
from rigxl.hardware.bought import DEVICE, Look
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.angles import least_height
from rigxl.mechanics.beams import spreader_compression
from rigxl.mechanics.legs import leg_tension
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, Source, Table
from rigxl.units import show_force, show_length

KIND = "spreader bar"
WORDS = (
    "spreader bar",
    "spreader",
    "spreader beam",
    "spreading bar",
    "lifting spreader",
    "adjustable spreader",
    "adjustable spreader bar",
    "telescopic spreader",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

STATICS = Source("plain statics: C = F / (2 tan θ), top leg F / (2 sin θ)")

TOP_LEGS = Rule(
    "spreader-top-legs",
    "A spreader bar hangs from two top legs, whose angle decides what presses it.",
    STATICS,
)
COMPRESSION = Rule(
    "spreader-compression",
    "What presses the bar and pulls its top legs: figures for an enquiry, which pass nothing.",
    STATICS,
)
HEIGHT = Rule(
    "spreader-headroom",
    "A spreader's top legs need their height under the hook.",
    COMMON_PRACTICE,
    firm=NO_FIT,
)

RULES = (TOP_LEGS, COMPRESSION, HEIGHT, *device.RULES, *bars.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look("bar straight", "The bar is straight, and its length between picks is as ordered."),
    ),
    own=(*DEVICE.own, "bar_length"),
)

UPRIGHT_DEG = 89.9


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the engineer's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    top = {"legs", "angle_deg", "leg_length", "height", "headroom"}
    return device.USES | bars.USES | frozenset(top)


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The engineer's rating as it stands."""
    return ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What the rules for spreader bars say of one line of a schedule."""
    yield from device.check(item)
    yield from bars.check(item)
    if item.legs == 1:
        yield TOP_LEGS.holds(
            "it is said to hang from one leg, and a spreader bar hangs from two",
            "fill in the number of top legs, or call it a lifting beam where it hangs from its middle",
        )
    if item.angle_deg is None:
        if "angle_deg" not in item.problems:
            yield TOP_LEGS.holds(
                "the angle of its top legs is not known",
                "fill in the sling angle of the top legs, or their length and the spread",
            )
        return
    load = device.hook_load(item, criteria)
    if load is not None and 0 < item.angle_deg <= 90:
        yield COMPRESSION.notes(partial(_figures, load, item.angle_deg, item.units.get("load", "kN")))
    yield from _height(item)


def height_taken(item: Item) -> float | None:
    """The height that two top legs take above the bar, in mm; None where it cannot be known."""
    length = item.bar_length or item.spread
    if not length or item.angle_deg is None or not 0 < item.angle_deg < UPRIGHT_DEG:
        return None
    return round(least_height(length, item.angle_deg), 9)


def _height(item: Item) -> Iterator[Finding]:
    taken = height_taken(item)
    if taken is None:
        return
    unit = item.units.get("headroom") or item.units.get("bar_length") or item.units.get("spread", "mm")
    shown = show_length(taken, unit)
    if item.headroom is not None and not at_most(taken, item.headroom):
        room = show_length(item.headroom, unit)
        yield HEIGHT.fails(
            f"its top legs rise {shown} above the bar, and the headroom is {room}",
            "flatter top legs as far as the least angle allows, or a lifting beam hung from its middle",
        )
    else:
        yield HEIGHT.notes(f"its top legs rise {shown} above the bar; the lower slings come on top of that")


def _figures(load: float, angle: float, unit: str) -> str:
    pressed = show_force(spreader_compression(load, angle), unit)
    pulled = show_force(leg_tension(load, 2, angle), unit)
    return (
        f"for enquiries only: {show_force(load, unit)} on two top legs at {angle:.4g}° presses the bar "
        f"with {pressed} and pulls each top leg with {pulled}"
    )
