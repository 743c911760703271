"""Hooks: loaded plumb in the bowl, latched, and neither opened nor twisted.

>>> HOOKS.find("1 1/4 in").load_lb
5000
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from rigxl.criteria import Criteria
from rigxl.firm import MAY_BE_WAIVED, NO_FIT, NO_RATING
from rigxl.hardware import hook_wear
from rigxl.hardware.bought import EN_COMPONENTS, MARKED_HOOKS, Bought, Look
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
from rigxl.items import FAIL, PASS, Derate, Finding, Item, Rule
from rigxl.mechanics.angles import angle_from_horizontal
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.units import Angle, read_size
from rigxl.worksheet import worksheet

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
    "swivel eye hook",
    "eye swivel hook",
    "foundry hook",
    "sorting hook",
    "grab hook",
    "slip hook",
    "duplex hook",
    "ramshorn hook",
    "ram's horn hook",
    "rams horn hook",
    "sister hook",
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


def printed(row: Hook) -> Mapping[str, float]:
    """The opening of the throat that the page prints, in mm."""
    mm = read_size(f"{row.throat_opening_in} in").mm
    return {} if mm is None else {"throat": mm}


LEGS_WIDE = Rule(
    "hook-legs-wide",
    "No leg collected in a hook may hang more than 45° from plumb, 90° between legs.",
    SPREAD,
    firm=NO_RATING,
)
TIP_LOAD = Rule(
    "hook-tip-load",
    "A hook is loaded plumb in its bowl: no tip load and no side load.",
    LOADED,
    firm=NO_RATING,
)
LATCH = Rule("hook-latch", "A lifting hook needs a latch that closes its throat.", CATCH, firm=MAY_BE_WAIVED)
OPEN_HOOK = Rule(
    "hook-without-latch",
    "A sorting or foundry hook goes without a latch only where its maker and the work ask for it.",
    COMMON_PRACTICE,
)
SWIVELS = Rule(
    "hook-swivel-turns", "A swivel hook turns under load only on a bearing.", COMMON_PRACTICE, firm=NO_RATING
)
ONE_LEG = Rule(
    "hook-one-leg",
    "A sorting or foundry hook ends one leg: it collects none.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
TWO_BOWLS = Rule("hook-two-bowls", "A duplex hook is loaded in both its bowls alike.", COMMON_PRACTICE)
CROWDED = Rule(
    "hook-legs-per-bowl", "More than two legs in one bowl are gathered in a link.", COMMON_PRACTICE
)
THROAT_FIT = Rule("hook-fit", "What hangs in a hook must pass its throat.", COMMON_PRACTICE, firm=NO_FIT)
PLUMB = Rule("taken-as-plumb", "With no loading angle stated, a hook hangs plumb.", COMMON_PRACTICE)

RULES = (
    LEGS_WIDE, TIP_LOAD, LATCH, OPEN_HOOK, SWIVELS, ONE_LEG, TWO_BOWLS, CROWDED, THROAT_FIT, PLUMB,
    LEGS_AT_TOP, *hook_wear.RULES,
)  # fmt: skip

BOUGHT = Bought(
    MARKED_HOOKS,
    EN_COMPONENTS,
    looks=(
        Look("latch closes", "The latch closes the throat by itself and rests on the tip."),
        Look("throat measured", "The throat is as ordered, and its opening when new is written down."),
    ),
    own=("throat", "latch"),
    fit="its shank or eye where it is fixed, and what hangs in its throat",
    printed=printed,
)

LEAST_LEG_ANGLE_DEG = 45.0

STYLES = MappingProxyType(
    {
        "sorting": ("sorting",),
        "foundry": ("foundry",),
        "duplex": ("duplex", "ramshorn", "rams horn", "ram s horn", "sister hook", "double hook"),
        "swivel": ("swivel",),
        "shank": ("shank",),
        "eye": ("eye", "eye hook"),
    }
)
OPEN_STYLES = frozenset({"sorting", "foundry"})
MOST_LEGS_IN_A_BOWL = 2


def style(item: Item) -> str | None:
    """The first of the styles that the words name: sorting, foundry, duplex, swivel, shank or eye."""
    text = called(item)
    return next((name for name, phrases in STYLES.items() if says(text, *phrases)), None)


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The page is for slip and grab hooks named by their metal, so only for a hook that is called one."""
    return TABLES if says(called(item), "slip hook", "grab hook", "slip", "grab") else ()


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {
        "type",
        "loading_angle_deg",
        "latch",
        "throat_growth",
        "twist_deg",
        "throat",
        "bar",
        "sling_width",
    }
    if item.position == "top":
        fields |= {"legs"}
    if style(item) == "swivel":
        fields |= {"turns_under_load"}
    return frozenset(fields | ({"angle_deg"} if collects(item) else set()))


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating when loaded plumb in the bowl; None otherwise."""
    return None if refuses(_loading(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What the rules for hooks say of one line of a schedule."""
    yield from _loading(item)
    if item.latch is False and style(item) in OPEN_STYLES:
        yield OPEN_HOOK.holds(
            f"a {style(item)} hook without a latch: nobody says that its maker and the work ask for that",
            "a hook with a latch, or the word of whoever answers for the lift",
        )
    elif item.latch is False:
        yield LATCH.fails("it has no latch that works", "a hook with a working latch")
    elif item.latch is None and "latch" not in item.problems:
        yield LATCH.holds("whether it has a latch is not stated", "fill in the latch: yes or no")
    if style(item) == "swivel" and item.turns_under_load and not says(called(item), "bearing"):
        yield SWIVELS.holds(
            "it turns under load, and whether its swivel has a bearing for that is not stated",
            "fill in the type: swivel hook with bearing; or a bearing swivel above it",
        )
    yield from hook_wear.check(item, criteria)
    if item.throat is not None:
        for inner in (item.bar, item.sling_width):
            if inner is not None:
                yield from passes_through(THROAT_FIT, "hook", inner, item.throat, item.units)


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
    yield from _bowls(item)
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


def _bowls(item: Item) -> Iterator[Finding]:
    made, legs = style(item), item.legs or 1
    if made in OPEN_STYLES and collects(item):
        yield ONE_LEG.fails(f"a {made} hook that collects {legs} legs", "a hook made to collect, or a link")
    if item.position != "top" or item.legs is None:
        return
    if made == "duplex" and legs % 2:
        yield TWO_BOWLS.holds(
            f"a duplex hook and {legs} of its lines: how they lie in its two bowls is not stated",
            "the same in both bowls; or the rating that its maker gives for one bowl, judged by an engineer",
        )
    bowls = 2 if made == "duplex" else 1
    if legs > MOST_LEGS_IN_A_BOWL * bowls:
        yield CROWDED.advises(
            f"{legs} legs over {bowls} bowl{'s' * (bowls - 1)}: gather them in a master link"
        )


def _why_angle(angle: float) -> str:
    stands = "at or above" if angle_verdict(angle) == PASS else "below"
    return f"legs at {angle:g}°, {stands} {LEAST_LEG_ANGLE_DEG:g}°: {LEGS_WIDE.meaning} [{SPREAD.cited}]"


@worksheet("HOOKANGLEVERDICT", example=(60,), answer="PASS", source=SPREAD.cited, why=_why_angle)
def angle_verdict(angle: Angle) -> str:
    """Whether legs at this angle may be collected in a hook: PASS or FAIL.

    PASS from 45 degrees up, that is 90 degrees and less between two legs; below that they go in a link.

    Args:
        angle: Sling angle from horizontal, above 0 and at most 90 degrees.

    >>> angle_verdict(44.9)
    'FAIL'
    """
    return PASS if at_least(angle_from_horizontal("angle", angle), LEAST_LEG_ANGLE_DEG) else FAIL
