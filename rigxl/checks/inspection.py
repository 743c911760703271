"""Inspected in time, in service, and found fit for use: the findings that every kind shares."""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Iterator
from functools import lru_cache

from rigxl.checks import condition, removal
from rigxl.criteria import Criteria
from rigxl.firm import MAY_BE_WAIVED, REMOVED
from rigxl.items import Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

YEARLY = Source("ASME B30.9, B30.10, B30.26: periodic inspection, at least yearly", note=FROM_MEMORY)

NOT_INSPECTED = Rule("inspection-not-known", "The date of the last inspection must be known.", YEARLY)
OVERDUE = Rule(
    "inspection-overdue",
    "The last inspection must lie within the interval of the criteria.",
    YEARLY,
    firm=MAY_BE_WAIVED,
)
DUE = Rule(
    "inspection-due", "An inspection that falls due within 30 days is worth knowing of.", COMMON_PRACTICE
)
OUT_OF_SERVICE = Rule(
    "out-of-service", "A piece that is out of service is not used.", condition.REMOVAL, firm=REMOVED
)

RULES = (NOT_INSPECTED, OVERDUE, DUE, OUT_OF_SERVICE)
USES = frozenset({"inspected", "in_service", "condition"}) | removal.USES


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of an item's inspection and condition."""
    if item.in_service is False:
        yield OUT_OF_SERVICE.fails(
            "it is recorded as out of service", "another piece, inspected and fit for use"
        )
    yield from _date(item, criteria)
    if item.condition is not None:
        yield from condition.check(item.condition)
    for where, text in (("remark", item.remarks), ("description", item.description), ("type", item.type)):
        if text is not None:
            yield from condition.remarked(text, where)
    yield from removal.check(item, criteria)


@lru_cache(maxsize=4096)
def months_after(day: dt.date, months: int) -> dt.date:
    """The same day some months later, or the last of that month.

    >>> months_after(dt.date(2025, 8, 31), 6)
    datetime.date(2026, 2, 28)
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return dt.date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def _date(item: Item, criteria: Criteria) -> Iterator[Finding]:
    day = item.inspected
    if day is None:
        if "inspected" not in item.problems:
            yield NOT_INSPECTED.holds(
                "no date of inspection is given", "inspect the piece, and fill in the date of inspection"
            )
        return
    today = criteria.judged_on
    if day > today:
        yield NOT_INSPECTED.holds(
            f"it is said to have been inspected on {day}, after {today}", "correct the date of inspection"
        )
        return
    due = months_after(day, criteria.inspection_months)
    if due < today:
        yield OVERDUE.fails(
            f"last inspected on {day}: overdue since {due} at every {criteria.inspection_months} months",
            "an inspection by a competent person before use",
        )
    elif due - today <= dt.timedelta(days=30):
        yield DUE.advises(f"the next inspection falls due on {due}")
