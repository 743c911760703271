"""Threads: how deep a bolt is engaged, and whether it was tightened as its maker states."""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.firm import LETS_GO, NO_RATING
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import COMMON_PRACTICE, Source
from rigxl.units import show_length, show_torque

DEPTH_PAGE = Source("WAC 296-155-56110 (2)(c); DOE-STD-1090-96, 12.4 c", place="1 1/2 diameters in steel")

ENGAGED = Rule(
    "thread-engagement",
    "A bolt in steel is engaged over 1 1/2 diameters or more.",
    DEPTH_PAGE,
    firm=NO_RATING,
)
TORQUE = Rule(
    "torque", "A bolt is tightened to the torque its maker states, on record.", COMMON_PRACTICE, firm=LETS_GO
)

RULES = (ENGAGED, TORQUE)

WANTED = (("torque", "the torque it was tightened to"), ("stated_torque", "the torque its maker states"))
DIAMETERS = 1.5
OVER_TORQUE = 1.10
USES = frozenset({"thread_engagement", "full_thread", "size"})
TORQUES = frozenset({"torque", "stated_torque"})


def engaged(item: Item, *, needed: bool = True) -> Iterator[Finding]:
    """Whether the thread is engaged deep enough for a bolt in steel.

    Args:
        item: The item; its size is the diameter of the thread.
        needed: Whether saying nothing of the thread draws advice.
    """
    if item.full_thread is False:
        yield ENGAGED.fails("its thread is not fully engaged", "a bolt engaged over its full thread")
        return
    depth = item.thread_engagement
    if depth is None:
        if (
            item.full_thread is None
            and needed
            and not {"thread_engagement", "full_thread"} & item.problems.keys()
        ):
            yield ENGAGED.advises(
                "how far its thread is engaged is not stated: see that it is 1 1/2 diameters in steel"
            )
        return
    if item.size is None or item.size.mm is None:
        yield ENGAGED.holds(
            "how far its thread is engaged is stated, and the diameter of the thread is not",
            "fill in the diameter of the thread as the size",
        )
        return
    least = DIAMETERS * item.size.mm
    if not at_least(depth, least):
        unit = item.units.get("thread_engagement", "mm")
        yield ENGAGED.fails(
            f"its thread is engaged over {show_length(depth, unit)}, under 1 1/2 times {item.size.name}",
            f"a thread engaged over {show_length(least, unit)} or more",
        )


def tightened(item: Item) -> Iterator[Finding]:
    """Whether the torque is recorded, and is the one that the maker states."""
    wanted, given = item.stated_torque, item.torque
    if given is None or wanted is None:
        for name, said in WANTED:
            if getattr(item, name) is None and name not in item.problems:
                yield TORQUE.holds(f"{said} is not recorded", f"fill in {said}")
        return
    unit = item.units.get("torque", "N·m")
    shown = f"tightened to {show_torque(given, unit)}, where its maker states {show_torque(wanted, unit)}"
    if not at_least(given, wanted):
        yield TORQUE.fails(f"{shown}: loose", "tighten it as its maker states")
    elif not at_most(given, OVER_TORQUE * wanted):
        yield TORQUE.holds(f"{shown}: over by more than 10 %", "ask the maker whether the bolt may stay")
