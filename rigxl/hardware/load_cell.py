"""Load cells, load links and hanging scales: one line only, pulled in line, on a pin that fits.

>>> [found.outcome for found in _use(Item(loading_angle_deg=8))]
['FAIL']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware.bought import MARKED_HARDWARE, Bought, Look
from rigxl.hardware.fit import HOLE_FIT, hole_fits
from rigxl.hardware.usage import IN_LINE, along_its_axis, collects, refuses
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, Table

KIND = "load cell"
WORDS = (
    "load cell",
    "loadcell",
    "tension load cell",
    "load link",
    "tension link",
    "dynamometer",
    "crane scale",
    "hanging scale",
    "load indicator",
    "weigh link",
)
POSITION = "top"
TABLES: tuple[Table[Any], ...] = ()

ALONG = Rule(
    "load-cell-along",
    "A load cell is pulled in line: bent, it misreads and may break.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
ONE_LINE = Rule(
    "load-cell-one-line", "A load cell takes one line: legs are gathered in a link below it.", COMMON_PRACTICE
)
SHOWN = Rule("load-cell-capacity", "What a load cell can show is not what it may carry.", COMMON_PRACTICE)

RULES = (ALONG, ONE_LINE, SHOWN, HOLE_FIT, IN_LINE)

BOUGHT = Bought(
    MARKED_HARDWARE,
    marks=("what it may carry (WLL) apart from what it can show", "serial number"),
    looks=(
        Look(
            "reads true", "It reads zero unloaded, and its calibration certificate names its serial number."
        ),
    ),
    own=("pin", "hole"),
    settles=(),
    papers=("a calibration certificate, by serial number and not older than a year",),
    fit="its pins or eyes in the shackles above and below",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load must be stated."""
    return TABLES


def uses(item: Item) -> frozenset[str]:  # noqa: ARG001
    """The fields these rules would read for this item."""
    return frozenset({"loading_angle_deg", "pin", "hole"})


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating in line; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for load cells say of one line of a schedule."""
    yield from _use(item)
    if collects(item):
        yield ONE_LINE.notes(f"taken as gathering its {item.legs} legs in a link or shackle below it")
    if item.rated_load is not None:
        yield SHOWN.advises("see that its rated load is what it may carry, not the most that it can show")
    if item.pin is not None and item.hole is not None:
        yield from hole_fits("pin", item.pin, item.hole, item.units)


def _use(item: Item) -> Iterator[Finding]:
    yield from along_its_axis(ALONG, item, "hang it from a shackle or swivel that lets it line up")
