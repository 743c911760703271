"""What was found of a piece when it arrived, box by box of its goods-in list.

A piece that no list names is not judged by one. A piece that a list names passes only when every box that its
kind asks for is ticked, and what was read on the piece agrees with the schedule.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.criteria import Criteria
from rigxl.errors import RigxlError
from rigxl.firm import REMOVED, UNTRACED
from rigxl.hardware import kinds
from rigxl.hardware.bought import Look, looks
from rigxl.items import Arrival, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE
from rigxl.units import read_force, read_length, show_length, show_pair

COUNTERFEIT = Rule(
    "goods-in-counterfeit",
    "A piece whose marks, maker or papers are not as they should be on arrival is taken for a counterfeit.",
    COMMON_PRACTICE,
    firm=UNTRACED,
)
NOT_AS_ORDERED = Rule(
    "goods-in-not-as-ordered",
    "A piece that arrives other than it was ordered is not used.",
    COMMON_PRACTICE,
    firm=REMOVED,
)
OPEN = Rule(
    "goods-in-open",
    "A piece on a goods-in list passes only when every box that its kind asks for is ticked.",
    COMMON_PRACTICE,
)
DIFFERS = Rule(
    "goods-in-differs",
    "What was read on a piece on arrival agrees with what the schedule says of it.",
    COMMON_PRACTICE,
)

RULES = (COUNTERFEIT, NOT_AS_ORDERED, OPEN, DIFFERS)

WITHIN = 0.10
"""A size may measure so much more or less than its name: as forged, and over the strands of a rope."""
ROUNDING = 1.005
"""Half a per cent: a rating is rounded when it is marked in another unit."""

SET_ASIDE = "set it aside, and ask the maker named on it whether it is theirs"
SEND_BACK = "send it back, or have whoever answers for the lift look at it"


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of an item's goods-in list."""
    kind = kinds().get(item.kind or "")
    if not item.arrivals or kind is None:
        return
    by_name: dict[str, list[Arrival]] = {}
    for one in item.arrivals:
        by_name.setdefault(one.look, []).append(one)
    for look in looks(kind.BOUGHT, item):
        found = by_name.pop(look.name, [])
        if not found:
            yield OPEN.holds(
                f"its goods-in list ({item.arrivals[0].where}) has no box '{look.name}'",
                f"look: {look.ask}",
            )
        for one in found:
            yield from _answered(look, one, item, criteria)
    for name, found in by_name.items():
        for one in found:
            yield from _answer(Look(name, "as the list asks"), one)


def _answered(look: Look, one: Arrival, item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What a box says, and whether what was read beside a ticked one bears it out."""
    answers = list(_answer(look, one))
    yield from answers
    if answers or not look.reads:
        return
    if not one.read:
        yield OPEN.holds(
            f"the box '{look.name}' is ticked ({one.where}), and what was read is not written down",
            f"look again: {look.ask}",
        )
    elif look.reads == "force":
        yield from _rated_load(one, item, criteria)
    elif look.reads == "length":
        yield from _size(one, item, criteria)
    elif look.reads == "maker":
        yield from _same(one, item.maker, "maker", look)
    else:
        yield from _same(one, item.certificate, "certificate", look)


def _answer(look: Look, one: Arrival) -> Iterator[Finding]:
    if one.problem:
        yield OPEN.holds(one.problem, f"answer yes or no: {look.ask}")
    elif one.right is None:
        yield OPEN.holds(f"the box '{look.name}' is not ticked ({one.where})", f"look: {look.ask}")
    elif not one.right and look.sign:
        yield COUNTERFEIT.fails(f"on arrival not so: '{look.name}' ({one.where}){_beside(one)}", SET_ASIDE)
    elif not one.right:
        yield NOT_AS_ORDERED.fails(f"on arrival not so: '{look.name}' ({one.where}){_beside(one)}", SEND_BACK)


def _beside(one: Arrival) -> str:
    return f", beside it '{one.read}'" if one.read else ""


def _unreadable(one: Arrival, error: RigxlError) -> Finding:
    return OPEN.holds(f"{one.where}: '{one.read}' is not clear: {error}", "write it down with its unit")


def _rated_load(one: Arrival, item: Item, criteria: Criteria) -> Iterator[Finding]:
    """Less than the schedule counts on fails; more is as suspect."""
    try:
        marked = read_force(one.read, None, criteria.habits).value
    except RigxlError as error:
        yield _unreadable(one, error)
        return
    if item.rated_load is None:
        yield DIFFERS.holds(
            f"the mark on the piece is '{one.read}' ({one.where}), and the schedule gives no rated load",
            "fill in the rated load marked on the piece",
        )
        return
    unit = item.units.get("rated_load", "kN")
    shown, wanted = show_pair(marked, item.rated_load, unit)
    said = f"the mark on the piece is {shown} ({one.where}), and the schedule says {wanted}"
    if marked * ROUNDING < item.rated_load:
        yield NOT_AS_ORDERED.fails(said, f"a piece marked {wanted}, or another one judged by its own mark")
    elif marked > item.rated_load * ROUNDING:
        yield DIFFERS.holds(said, "read the mark again, and correct whichever is wrong")


def _size(one: Arrival, item: Item, criteria: Criteria) -> Iterator[Finding]:
    if item.size is None or item.size.mm is None:
        return
    try:
        measured = read_length(one.read, None, criteria.habits).value
    except RigxlError as error:
        yield _unreadable(one, error)
        return
    if abs(measured - item.size.mm) > WITHIN * item.size.mm:
        unit = "in" if item.size.name.endswith(" in") else "mm"
        yield NOT_AS_ORDERED.fails(
            f"it measures {show_length(measured, unit)} ({one.where}), more than 10 % from its size, "
            f"{item.size.name}",
            SEND_BACK,
        )


def _same(one: Arrival, wanted: str | None, what: str, look: Look) -> Iterator[Finding]:
    """A name or number that was read is that of the schedule, where it gives one."""
    if wanted is not None and _plain(one.read) != _plain(wanted):
        yield DIFFERS.holds(
            f"the {what} read on arrival is '{one.read}' ({one.where}), and the schedule says '{wanted}'",
            f"settle which is right; {SET_ASIDE}" if look.sign else "settle which is right",
        )


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
