"""Lifting beams and frames: hung from the middle, straight, as long as the load's picks are apart.

What bends the beam is shown as a figure for an enquiry: the beam is rated by its engineer alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from rigxl.criteria import Criteria
from rigxl.hardware import bars, device
from rigxl.hardware.bought import DEVICE, Look
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.beams import beam_moment, beam_shear
from rigxl.tables import Source, Table
from rigxl.units import show_force

KIND = "lifting beam"
WORDS = (
    "lifting beam",
    "lift beam",
    "lifting bar",
    "equalising beam",
    "equalizing beam",
    "equaliser beam",
    "equalizer beam",
    "lifting frame",
    "lift frame",
    "lifting yoke",
)
POSITION = "device"
TABLES: tuple[Table[Any], ...] = ()

STATICS = Source("plain statics: M = F / 2 · a and V = F / 2 for F / 2 at a either side of the pick")

BENDING = Rule(
    "beam-bending",
    "What bends and shears a beam on one pick: figures for an enquiry, which pass nothing.",
    STATICS,
)

RULES = (BENDING, *device.RULES, *bars.RULES)

BOUGHT = DEVICE._replace(
    looks=(
        *DEVICE.looks,
        Look("beam straight", "The beam is straight, and its picks are as far apart as ordered."),
    ),
    own=(*DEVICE.own, "bar_length"),
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load is the engineer's."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return device.USES | bars.USES


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """The engineer's rating as it stands."""
    return ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What the rules for lifting beams say of one line of a schedule."""
    yield from device.check(item)
    yield from bars.check(item)
    below = _load_below(item, criteria)
    span = item.bar_length or item.spread
    if below and span:
        yield BENDING.notes(partial(_figures, below, span, item.units.get("load", "kN")))


def _load_below(item: Item, criteria: Criteria) -> float | None:
    """The load on the beam's ends in newtons: the hook load less the beam's own weight."""
    total = device.hook_load(item, criteria)
    return None if total is None else total - (item.own_weight or 0) * criteria.dynamic_allowance


def _figures(load: float, span: float, unit: str) -> str:
    # a newton millimetre is a millionth of a kilonewton metre
    moment = beam_moment(load, span) / 1e6
    return (
        f"for enquiries only: half of {show_force(load, unit)} at either end of {span / 1000:.4g} m, hung "
        f"from the middle, bends the beam with {moment:.4g} kN·m and shears it with "
        f"{show_force(beam_shear(load), unit)}; the beam's own weight comes on top"
    )
