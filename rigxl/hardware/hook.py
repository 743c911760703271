"""Hooks: loaded plumb in the bowl, latched, and neither opened nor twisted.

>>> HOOKS.find("1 1/4 in").load_lb
5000
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from rigxl.criteria import Criteria
from rigxl.hardware.fit import passes_through
from rigxl.hardware.usage import (
    LEGS_AT_TOP,
    called,
    collects,
    in_line,
    included_deg,
    legs_known,
    refuses,
    says,
)
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.units import show_length

KIND = "hook"
WORDS = (
    "hook",
    "crane hook",
    "hoist hook",
    "lifting hook",
    "load hook",
    "eye hook",
    "clevis hook",
    "shank hook",
    "swivel hook",
    "sling hook",
    "self-locking hook",
    "self locking hook",
    "latch hook",
    "safety hook",
    "foundry hook",
    "grab hook",
    "slip hook",
    "duplex hook",
    "ramshorn hook",
    "double hook",
)
POSITION = "top"

PRINTED = Source(
    "US Army FM 5-125 Rigging Techniques, Procedures, and Applications",
    "3 Oct 1995 with Change 1 of 23 Feb 2001",
    "Table 3-2, p. 3-4",
)
LOADED = Source("ASME B30.10 Hooks", place="loading in the bowl", note=FROM_MEMORY)
SPREAD = Source("ASME B30.10 Hooks and local construction rules", place="90° between legs", note=FROM_MEMORY)
CATCH = Source("Quebec S-2.1, r. 4, Safety Code for the construction industry", place="s. 2.15.6(7)")
OPENED = Source(
    "Workplace Health and Safety Queensland, Guide for doggers; ASME B30.10 for the 6 mm",
    "PN10123, 15 Jul 2010",
    "hook removal, 5 %",
    f"6 mm {FROM_MEMORY}",
)
OPENED_OLDER = Source("Alberta OHS Code", "2009", "s. 309(a), 15 %")
TWISTED = Source("ASME B30.10 Hooks, recent editions", place="any visible bend or twist", note=FROM_MEMORY)
TWISTED_OLDER = Source("Alberta OHS Code", "2009", "s. 309(b), 10°")


class Hook(NamedTuple):
    """Diameter of the metal, opening of the throat, safe load."""

    metal_diameter: str
    throat_opening_in: str
    load_lb: int


# fmt: off
HOOKS = Table("slip and grab hooks by diameter of metal", PRINTED, rated="load_lb", size_unit="in", rows=(
    Hook("11/16", "1 1/16",  1200),
    Hook("7/8",   "1 1/4",   2400),
    Hook("1",     "1 3/8",   3400),
    Hook("1 1/4", "1 11/16", 5000),
    Hook("1 3/8", "1 7/8",   6000),
    Hook("1 5/8", "2 1/4",   9400),
    Hook("1 7/8", "2 1/2",  11000),
    Hook("2 5/8", "3 3/8",  17000),
    Hook("3",     "4",      24000),
))
# fmt: on

TABLES = (HOOKS,)

LEGS_WIDE = Rule(
    "hook-legs-wide",
    "No leg collected in a hook may hang more than 45° from plumb, 90° between legs.",
    SPREAD,
)
TIP_LOAD = Rule("hook-tip-load", "A hook is loaded plumb in its bowl: no tip load and no side load.", LOADED)
LATCH = Rule("hook-latch", "A lifting hook needs a latch that closes its throat.", CATCH)
THROAT = Rule("hook-throat", "A throat opened by more than 5 % or 6 mm takes a hook out of service.", OPENED)
THROAT_OLDER = Rule(
    "hook-throat-older", "A throat opened by more than 15 % takes a hook out of service.", OPENED_OLDER
)
TWIST = Rule("hook-twist", "Any visible twist takes a hook out of service.", TWISTED)
TWIST_OLDER = Rule("hook-twist-older", "A twist of more than 10° takes a hook out of service.", TWISTED_OLDER)
THROAT_FIT = Rule("hook-fit", "What hangs in a hook must pass its throat.", COMMON_PRACTICE)
PLUMB = Rule("taken-as-plumb", "With no loading angle stated, a hook hangs plumb.", COMMON_PRACTICE)

RULES = (
    LEGS_WIDE, TIP_LOAD, LATCH, THROAT, THROAT_OLDER, TWIST, TWIST_OLDER, THROAT_FIT, PLUMB, LEGS_AT_TOP,
)  # fmt: skip

LEAST_LEG_ANGLE_DEG = 45.0


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The page is for slip and grab hooks named by their metal, so only for a hook that is called one."""
    return TABLES if says(called(item), "slip hook", "grab hook", "slip", "grab") else ()


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"loading_angle_deg", "latch", "throat_growth", "twist_deg", "throat", "bar"}
    if item.position == "top":
        fields |= {"legs"}
    return frozenset(fields | ({"angle_deg"} if collects(item) else set()))


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating when loaded plumb in the bowl; None otherwise."""
    return None if refuses(_loading(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What the rules for hooks say of one line of a schedule."""
    yield from _loading(item)
    if item.latch is False:
        yield LATCH.fails("it has no latch that works", "a hook with a working latch")
    elif item.latch is None and "latch" not in item.problems:
        yield LATCH.holds("whether it has a latch is not stated", "fill in the latch: yes or no")
    yield from _opened(item, criteria)
    yield from _twisted(item, criteria)
    if item.bar is not None and item.throat is not None:
        yield from passes_through(THROAT_FIT, "hook", item.bar, item.throat, item.units)


def _loading(item: Item) -> Iterator[Finding]:
    angle = item.loading_angle_deg
    if angle is None:
        yield PLUMB.notes("no loading angle is stated: taken as plumb in the bowl")
    elif not in_line(angle):
        yield TIP_LOAD.fails(
            f"loaded {angle:.4g}° off plumb, at its tip or its side",
            "rig it so that the load sits in the bowl",
        )
    yield from legs_known(item)
    if not collects(item):
        return
    included = included_deg(item)
    if item.angle_deg is None or included is None:
        if "angle_deg" not in item.problems:
            yield LEGS_WIDE.holds(
                f"it collects {item.legs} legs and their angle is not known", "fill in the sling angle"
            )
    elif not at_least(item.angle_deg, LEAST_LEG_ANGLE_DEG):
        yield LEGS_WIDE.fails(
            f"its legs hang {90 - item.angle_deg:.4g}° from plumb, {included:.4g}° apart: over 45° and 90°",
            "collect the legs in a shackle or a link, or hang them at 45° or more from the horizontal",
        )


def _opened(item: Item, criteria: Criteria) -> Iterator[Finding]:
    growth = item.throat_growth
    if growth is None:
        return
    percent = f"{growth * 100:.3g} %"
    if criteria.older_removal_rules:
        if not at_most(growth, 0.15):
            yield THROAT_OLDER.fails(f"its throat has opened by {percent}, over 15 %", "another hook")
        return
    if not at_most(growth, 0.05):
        yield THROAT.fails(f"its throat has opened by {percent}, over 5 %", "another hook")
    elif item.throat is not None and not at_most(growth * item.throat, 6):
        unit = item.units.get("throat", "mm")
        opened, limit = show_length(growth * item.throat, unit), show_length(6, unit)
        yield THROAT.fails(f"its throat has opened by {opened}, over {limit}", "another hook")


def _twisted(item: Item, criteria: Criteria) -> Iterator[Finding]:
    twist = item.twist_deg
    if twist is None:
        return
    if criteria.older_removal_rules:
        if not at_most(twist, 10):
            yield TWIST_OLDER.fails(f"it is twisted by {twist:.3g}°, over 10°", "another hook")
    elif twist > 0:
        yield TWIST.fails(f"it is twisted by {twist:.3g}°, and no twist is allowed", "another hook")
