"""Hooks in service: how far a throat may have opened and a hook be twisted, by the strict or the older rule.

>>> throat_verdict(50, 52.5, "mm"), throat_verdict(50, 52.6, "mm"), throat_verdict(50, 57.5, "mm", "older")
('PASS', 'FAIL', 'PASS')
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from rigxl.criteria import Criteria
from rigxl.errors import OutOfRangeError, UnknownUnitError
from rigxl.firm import REMOVED
from rigxl.items import FAIL, PASS, Finding, Item, Rule
from rigxl.mechanics.limits import at_most, positive
from rigxl.tables import FROM_MEMORY, Source
from rigxl.units import LENGTH_UNITS, show_length, unit_name
from rigxl.worksheet import AnyLength, worksheet

OPENED = Source(
    "Workplace Health and Safety Queensland, Guide for doggers; ASME B30.10 for the 6 mm",
    "PN10123, 15 Jul 2010",
    "hook removal, 5 %",
    f"6 mm {FROM_MEMORY}",
)
OPENED_OLDER = Source("Alberta OHS Code", "2009", "s. 309(a), 15 %")
TWISTED = Source("ASME B30.10 Hooks, recent editions", place="any visible bend or twist", note=FROM_MEMORY)
TWISTED_OLDER = Source("Alberta OHS Code", "2009", "s. 309(b), 10°")

THROAT = Rule(
    "hook-throat",
    "A throat opened by more than 5 % or 6 mm takes a hook out of service.",
    OPENED,
    firm=REMOVED,
)
THROAT_OLDER = Rule(
    "hook-throat-older",
    "A throat opened by more than 15 % takes a hook out of service.",
    OPENED_OLDER,
    firm=REMOVED,
)
TWIST = Rule("hook-twist", "Any visible twist takes a hook out of service.", TWISTED, firm=REMOVED)
TWIST_OLDER = Rule(
    "hook-twist-older", "A twist of more than 10° takes a hook out of service.", TWISTED_OLDER, firm=REMOVED
)

RULES = (THROAT, THROAT_OLDER, TWIST, TWIST_OLDER)

MOST_OPENED_MM = 6.0

Rules = Literal["strict", "older"]


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of a hook that has opened or twisted."""
    yield from _opened(item, criteria)
    yield from _twisted(item, criteria)


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
    elif item.throat is not None and not at_most(growth * item.throat, MOST_OPENED_MM):
        unit = item.units.get("throat", "mm")
        opened, limit = show_length(growth * item.throat, unit), show_length(MOST_OPENED_MM, unit)
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


def _why_throat(original: float, measured: float, unit: str, rules: Rules = "strict") -> str:
    limit, page = f"5 % and {show_length(MOST_OPENED_MM, unit_name(unit))}", OPENED
    if rules == "older":
        limit, page = "15 %", OPENED_OLDER
    within = "within" if throat_verdict(original, measured, unit, rules) == PASS else "over"
    return f"opened by {measured / original - 1:.3%}, {within} {limit} [{page.cited}]"


@worksheet(
    "THROATVERDICT",
    example=(50, 51, "mm", "strict"),
    answer="PASS",
    source=f"{OPENED.cited}; {OPENED_OLDER.cited}",
    why=_why_throat,
)
def throat_verdict(original: AnyLength, measured: AnyLength, unit: str, rules: Rules = "strict") -> str:
    """Whether a hook's throat has stayed within what it may open: PASS or FAIL.

    strict: up to 5 % and up to 6 mm over the original; older: up to 15 %.

    Args:
        original: Throat opening of the hook when it was new.
        measured: Throat opening now, at its narrowest, in the same unit.
        unit: Unit of both, such as mm or in.
        rules: strict or older.

    Refuses: an opening of 0 or less; one that is under the original; a unit nobody defined.

    >>> throat_verdict(6, 6.25, "in")
    'FAIL'
    """
    name = unit_name(unit)
    if name not in LENGTH_UNITS:
        raise UnknownUnitError(f"'{unit}' is not a unit of length: give one such as mm or in")
    new, now = positive("original", original), positive("measured", measured)
    if now < new:
        raise OutOfRangeError(f"measured is {now:g}, under the original {new:g}: measure both again")
    if rules == "older":
        return PASS if at_most(now, 1.15 * new) else FAIL
    within = at_most(now, 1.05 * new) and at_most((now - new) * LENGTH_UNITS[name], MOST_OPENED_MM)
    return PASS if within else FAIL
