"""Links and rings of all shapes: pulled along their length, their legs within the included angle.

No published table is at hand, so the rated load must be stated on the piece.

>>> allowed_included_deg(Item(rated_included_angle_deg=90)), allowed_included_deg(Item())
(90, 60.0)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_FIT, NO_RATING
from rigxl.hardware.bought import EN_COMPONENTS, MARKED_HARDWARE, Bought, Look
from rigxl.hardware.fit import passes_through
from rigxl.hardware.usage import (
    IN_LINE,
    LEGS_AT_TOP,
    called,
    collects,
    in_line,
    included_deg,
    legs_known,
    refuses,
)
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, PRACTICE, Source, Table

KIND = "link"
WORDS = (
    "link",
    "ring",
    "master link",
    "master ring",
    "master link assembly",
    "oblong link",
    "oblong master link",
    "oval link",
    "pear link",
    "pear shaped link",
    "pear-shaped link",
    "weldless link",
    "round ring",
    "collecting ring",
    "gathering ring",
    "end link",
    "intermediate link",
    "sub link",
    "sub-link",
    "coupling link",
    "connecting link",
    "coupling",
    "chain coupling",
)
POSITION = "top"
TABLES: tuple[Table[Any], ...] = ()

MOST_SPREAD = Source("ASME B30.26 Rigging Hardware", place="links and rings, 120°", note=FROM_MEMORY)
RATED_SPREAD = Source("ASME B30.26 Rigging Hardware (120°)", note=f"60° by default {PRACTICE}")

SPREAD = Rule(
    "link-spread",
    "A link has its full rating up to the included angle its maker rates it for, 60° where nobody says.",
    RATED_SPREAD,
    firm=NO_RATING,
)
OVER_SPREAD = Rule(
    "link-over-120", "Legs collected in a link may include 120° at most.", MOST_SPREAD, firm=NO_RATING
)
CROWDED = Rule(
    "link-legs",
    "Three legs and more go on a master link by its sub-links, two on each: a plain link or ring is crowded.",
    COMMON_PRACTICE,
)
ALONG = Rule(
    "link-along",
    "A link or ring is loaded along its length, never across it.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
LINK_FIT = Rule("link-fit", "What hangs in a link must pass its opening.", COMMON_PRACTICE, firm=NO_FIT)

RULES = (SPREAD, OVER_SPREAD, CROWDED, ALONG, IN_LINE, LINK_FIT, LEGS_AT_TOP)

BOUGHT = Bought(
    MARKED_HARDWARE,
    EN_COMPONENTS,
    marks=(
        "the included angle it is rated for, on the piece or its certificate",
        "grade, where it is of alloy",
    ),
    looks=(
        Look("weld sound", "Its weld, where it has one, is smooth all round and no thicker than the bar."),
    ),
    own=("inside_width", "bar", "rated_included_angle_deg"),
    measured="the diameter of the bar, away from the weld",
    fit="the bar in the hook or shackle it hangs in, and what hangs in it",
)

DEFAULT_INCLUDED_DEG = 60.0
MOST_INCLUDED_DEG = 120.0
MOST_LEGS = 2
SUB_LINKS = re.compile(r"(?<! no)(?<! without) (sub links?|sublinks?|intermediate links?|assembly) ")


def with_sub_links(item: Item) -> bool:
    """Whether the words name a master link with sub-links."""
    return SUB_LINKS.search(called(item)) is not None


def allowed_included_deg(item: Item) -> float:
    """The included angle up to which the link has its full rating."""
    stated = item.rated_included_angle_deg
    return DEFAULT_INCLUDED_DEG if stated is None else min(stated, MOST_INCLUDED_DEG)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load must be stated."""
    return TABLES


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"loading_angle_deg", "bar", "inside_width"}
    if item.position == "top":
        fields |= {"legs"}
    return frozenset(
        fields | ({"type", "angle_deg", "rated_included_angle_deg"} if collects(item) else set())
    )


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating along its length and within its included angle; None otherwise."""
    return None if refuses(_loading(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for links and rings say of one line of a schedule."""
    yield from _loading(item)
    if item.bar is not None and item.inside_width is not None:
        yield from passes_through(LINK_FIT, "link", item.bar, item.inside_width, item.units)


def _loading(item: Item) -> Iterator[Finding]:
    angle = item.loading_angle_deg
    if angle is None:
        yield IN_LINE.notes("no loading angle is stated: taken as in line with its line")
    elif not in_line(angle):
        yield ALONG.fails(
            f"loaded {angle:.4g}° off its length", "rig it so that it is loaded along its length"
        )
    yield from legs_known(item)
    if collects(item):
        yield from _spread(item)
        if (item.legs or 1) > MOST_LEGS and not with_sub_links(item) and "type" not in item.problems:
            yield CROWDED.advises(
                f"{item.legs} legs on a link that is not said to have sub-links: take a master link with them"
            )


def _spread(item: Item) -> Iterator[Finding]:
    included, allowed = included_deg(item), allowed_included_deg(item)
    stated = item.rated_included_angle_deg is not None
    if included is None:
        if "angle_deg" not in item.problems:
            yield SPREAD.holds(
                f"it collects {item.legs} legs and their angle is not known", "fill in the sling angle"
            )
    elif not at_most(included, MOST_INCLUDED_DEG):
        yield OVER_SPREAD.fails(
            f"its legs include {included:.4g}°, and a link may collect 120° at most",
            "longer legs, so that they hang 30° or more from the horizontal",
        )
    elif at_most(included, allowed):
        if not stated:
            yield SPREAD.notes(f"its legs include {included:.4g}°, within the 60° taken where nobody says")
    elif stated:
        yield SPREAD.fails(
            f"its legs include {included:.4g}°, and it is rated for {allowed:.4g}°",
            f"legs that hang {90 - allowed / 2:.4g}° or steeper, or a link rated for this spread",
        )
    else:
        yield SPREAD.holds(
            f"its legs include {included:.4g}°, over the 60° taken where nobody says",
            "fill in the included angle the maker rates it for",
        )
