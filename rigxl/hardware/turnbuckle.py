"""Turnbuckles: in line, by the weaker of two ends, locked against turning, in full thread.

>>> rating("3/4 in", "eye"), rating("3/4 in", "stub", "short ton")
(4000.0, 2.0)
>>> ends(Item(ends="jaw and hook"))
('jaw', 'hook')
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

from rigxl.criteria import Criteria
from rigxl.firm import LETS_GO, NO_RATING
from rigxl.hardware import listed
from rigxl.hardware.bought import MARKED_HARDWARE, Bought, Look
from rigxl.hardware.listed import AsUnit
from rigxl.hardware.usage import IN_LINE, along_its_axis, called, refuses, says, words
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.worksheet import worksheet

KIND = "turnbuckle"
WORDS = (
    "turnbuckle",
    "turn buckle",
    "rigging screw",
    "bottle screw",
    "bottlescrew",
    "straining screw",
    "jaw and jaw turnbuckle",
    "jaw and eye turnbuckle",
    "eye and eye turnbuckle",
    "hook and eye turnbuckle",
    "hook and hook turnbuckle",
    "hook and jaw turnbuckle",
    "stub end turnbuckle",
)
POSITION = "leg"

PRINTED = Source(
    "AASHTO M 269-77 Turnbuckles and Shackles",
    "1977",
    "Table 2, forged turnbuckles with eye or stub ends",
    "guardrail and sign supports, not overhead lifting; working load = breaking strength / 5",
)
COMMERCIAL_PAGE = Source("ASTM F1145, FF-T-791 turnbuckles", place="eye and jaw ends", note=FROM_MEMORY)
HOOK_PAGE = Source(
    "FEMA National US&R Response System, Structural Collapse Technician, Module 4 Lifting and Rigging",
    "Feb 2000",
    "turnbuckle ends, hook 2/3 of eye or jaw",
)
USED = Source("ASME B30.26 Rigging Hardware", place="turnbuckles", note=FROM_MEMORY)


class Forged(NamedTuple):
    """Diameter of the thread, breaking strength, working load."""

    thread: str
    breaking_lb: int
    load_lb: int


class Commercial(NamedTuple):
    """Diameter of the thread, working load with eye or jaw ends."""

    thread: str
    wll_lb: int


# fmt: off
FORGED = Table("forged turnbuckles with eye or stub ends", PRINTED,
               rated="load_lb", size_unit="in", rows=(
    Forged("3/4",    20000,  4000),
    Forged("1",      38000,  7600),
    Forged("1 1/4",  60000, 12000),
    Forged("1 1/2",  85000, 17000),
    Forged("1 3/4", 115000, 23000),
    Forged("2 1/4", 197000, 39400),
))

COMMERCIAL = Table("turnbuckles with eye or jaw ends", COMMERCIAL_PAGE, rated="wll_lb", size_unit="in", rows=(
    Commercial("3/8",    1200),
    Commercial("1/2",    2200),
    Commercial("5/8",    3500),
    Commercial("3/4",    5200),
    Commercial("7/8",    7200),
    Commercial("1",     10000),
    Commercial("1 1/4", 15200),
    Commercial("1 1/2", 21400),
    Commercial("1 3/4", 28000),
    Commercial("2",     37000),
    Commercial("2 1/2", 60000),
))
# fmt: on

TABLES = (FORGED, COMMERCIAL)

ALONG = Rule(
    "turnbuckle-along",
    "A turnbuckle is loaded in line with its screws, never sideways.",
    USED,
    firm=NO_RATING,
)
ENDS = Rule(
    "turnbuckle-ends", "A turnbuckle is worth the weaker of its two ends: both must be known.", HOOK_PAGE
)
HOOK_END = Rule(
    "turnbuckle-hook", "A turnbuckle with a hook end is not for overhead lifting.", USED, firm=NO_RATING
)
STUB_END = Rule(
    "turnbuckle-stub",
    "A stub end is as good as the weld that holds it, which is not judged here.",
    COMMON_PRACTICE,
)
LOCKED = Rule("turnbuckle-locked", "A turnbuckle is secured against turning by itself.", USED, firm=LETS_GO)
THREAD = Rule(
    "turnbuckle-thread", "Both screws are engaged over the full thread of the body.", USED, firm=NO_RATING
)
NOT_FOR_LIFTING = Rule(
    "turnbuckle-rating",
    "The printed loads are not for overhead lifting: the maker's rating is needed.",
    PRINTED,
)

RULES = (ALONG, ENDS, HOOK_END, STUB_END, LOCKED, THREAD, NOT_FOR_LIFTING, IN_LINE)

BOUGHT = Bought(
    MARKED_HARDWARE,
    marks=("for lifting, on the piece or its certificate",),
    looks=(
        Look("ends as ordered", "Both ends are as ordered, jaw or eye, and none is a hook."),
        Look(
            "thread full", "Both screws turn by hand over their full thread and cannot be drawn out unseen."
        ),
    ),
    own=("ends",),
    settles=("size",),
    measured="the outer diameter of its screws",
    listed=False,
    fit="its jaws and eyes on what they are pinned to, and its length",
)

END_SHARES = MappingProxyType({"eye": 1.0, "jaw": 1.0, "stub": 1.0, "hook": 2 / 3})
"""What an end leaves of the printed working load."""
NAMED = MappingProxyType(
    {"eye": "eye", "eyes": "eye", "jaw": "jaw", "jaws": "jaw", "clevis": "jaw", "fork": "jaw"}
    | {"stub": "stub", "stubs": "stub", "hook": "hook", "hooks": "hook"}
)
JOINING = frozenset({"and", "both", "double", "each", "end", "ends", "two", "2"})


@worksheet(
    "TURNBUCKLERATING",
    example=("3/4 in", "eye", "lb"),
    answer=4000,
    source=f"{PRINTED.cited}; {HOOK_PAGE.cited}",
)
def rating(size: str, weaker_end: Literal["eye", "jaw", "stub", "hook"], unit: str = "lb") -> AsUnit:
    """Printed working load of a forged turnbuckle for guys and supports; never for overhead lifting.

    Eye, jaw and stub ends have the full printed load, a hook end two thirds of it.

    Args:
        size: Diameter of the thread with its unit, such as 3/4 in.
        weaker_end: The weaker of its two ends: eye, jaw, stub or hook.
        unit: Unit of the answer, such as lb, kN or t.

    Refuses: a size that the page does not list; nothing is read between two sizes.

    >>> rating("1 in", "jaw")
    7600.0
    """
    return listed.rating(FORGED, size, unit, END_SHARES[weaker_end])


def ends(item: Item) -> tuple[str, ...]:
    """The two ends that a row names, in its column of ends or else in its words; none where not clear."""
    if item.ends is not None:
        return _pair(words(item.ends).split())
    if says(called(item), "hook", "hooks"):
        return ("hook",)
    pairs = (_pair(words(cell).split()) for cell in (item.type, item.description) if cell)
    return next((pair for pair in pairs if len(pair) == 2), ())


def _pair(said: list[str]) -> tuple[str, ...]:
    found = tuple(NAMED[word] for word in said if word in NAMED)
    if "hook" in found or len(found) == 2:
        return found
    # one name, with nothing unknown beside it, stands for both ends
    return found * 2 if len(found) == 1 and all(word in NAMED or word in JOINING for word in said) else ()


def tables(item: Item) -> tuple[Table[Any], ...]:
    """Both tables, for a turnbuckle without a hook."""
    return () if "hook" in ends(item) else TABLES


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    return frozenset({"type"} if item.ends is None else ()) | frozenset(
        {"ends", "loading_angle_deg", "secured", "full_thread"}
    )


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating in line and without a hook; None otherwise."""
    return None if refuses(_use(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for turnbuckles say of one line of a schedule."""
    yield from _use(item)
    if item.rated_load is None and "rated_load" not in item.problems:
        yield NOT_FOR_LIFTING.holds(
            "no rated load is given, and what is printed for its size is not for overhead lifting",
            "fill in the rated load that its maker states for lifting",
        )
    if item.secured is False:
        yield LOCKED.fails("it is not secured against turning", "lock it as its maker states")
    elif item.secured is None and "secured" not in item.problems:
        yield LOCKED.holds("whether it is secured is not stated", "fill in secured: yes or no")
    if item.full_thread is False:
        yield THREAD.fails("its screws are not fully engaged", "screw both ends in over the full thread")
    elif item.full_thread is None and "full_thread" not in item.problems:
        yield THREAD.holds(
            "whether its screws are fully engaged is not stated", "fill in full thread engagement: yes or no"
        )


def _use(item: Item) -> Iterator[Finding]:
    yield from along_its_axis(ALONG, item, "rig it so that it is pulled in line with its screws")
    found = ends(item)
    if "hook" in found:
        yield HOOK_END.fails(
            "one of its ends is a hook, at two thirds of an eye or jaw and not for overhead lifting",
            "a turnbuckle with eye or jaw ends",
        )
    elif not found and "ends" not in item.problems:
        said = f"its ends are given as '{item.ends}'" if item.ends else "its ends are not stated"
        yield ENDS.holds(said, "fill in both ends: eye, jaw, stub or hook, as in 'jaw and eye'")
    if "stub" in found:
        yield STUB_END.advises("a stub end: whoever answers for its weld must say that it holds the force")
