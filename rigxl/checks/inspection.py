"""Inspected in time, and found fit for use: the findings that every kind shares."""

from __future__ import annotations

import calendar
import datetime as dt
import re
from collections.abc import Iterator

from rigxl.criteria import Criteria
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

YEARLY = Source("ASME B30.9, B30.10, B30.26: periodic inspection, at least yearly", note=FROM_MEMORY)
REMOVAL = Source("ASME B30.26 Rigging Hardware: removal criteria", note=FROM_MEMORY)
WEAR_PAGE = Source("WAC 296-155-33900", place="Table 19, dimension reduced by 10 % at any point")

NOT_INSPECTED = Rule("inspection-not-known", "The date of the last inspection must be known.", YEARLY)
OVERDUE = Rule(
    "inspection-overdue", "The last inspection must lie within the interval of the criteria.", YEARLY
)
DUE = Rule(
    "inspection-due", "An inspection that falls due within 30 days is worth knowing of.", COMMON_PRACTICE
)
OUT_OF_SERVICE = Rule("out-of-service", "A piece that is out of service is not used.", REMOVAL)
CONDITION = Rule(
    "condition",
    "Cracks, bends, heat, unauthorised welding and the like take a piece out of service.",
    REMOVAL,
)
CONDITION_UNCLEAR = Rule(
    "condition-unclear", "What an inspection found must say whether the piece is fit for use.", REMOVAL
)
WEAR = Rule(
    "wear", "Wear of more than 10 % of the original dimension takes a piece out of service.", WEAR_PAGE
)

RULES = (NOT_INSPECTED, OVERDUE, DUE, OUT_OF_SERVICE, CONDITION, CONDITION_UNCLEAR, WEAR)
USES = frozenset({"inspected", "in_service", "condition", "wear"})

FIT = re.compile(
    r"(ok(ay)?|good|very good|excellent|sound|fit( for use)?|serviceable|satisfactory|pass(ed)?|accept(ed|able)?|new|as new|"
    r"(no|nil|without|free (of|from)) (visible |apparent )?(defects?|damage|findings?|faults?|wear)|none|nil)"
)
UNFIT = re.compile(
    r"\b(crack\w*|nick\w*|goug\w*|bent|bend|twist\w*|stretch\w*|deform\w*|pit(s|ted|ting)?|corro\w*|heat\w*|burn\w*|"
    r"weld\w*|spatter|kink\w*|bird ?cag\w*|cut|cuts|torn|tear|broken|fray\w*|abra\w*|worn|damag\w*|distort\w*|"
    r"elongat\w*|illegible|substitut\w*|reject\w*|fail\w*|scrap\w*|unserviceable|not fit|unfit|missing|condemn\w*)\b"
)
DENIED = re.compile(r"\b(no|not|nil|without|free)\b")


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of an item's inspection and condition."""
    if item.in_service is False:
        yield OUT_OF_SERVICE.fails(
            "it is recorded as out of service", "another piece, inspected and fit for use"
        )
    yield from _date(item, criteria)
    if item.condition is not None:
        yield from _condition(item.condition)
    if item.wear is not None and not at_most(item.wear, 0.10):
        yield WEAR.fails(
            f"it is worn by {item.wear:.3g}, over 0.10 of the original dimension", "another piece"
        )


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


def _condition(text: str) -> Iterator[Finding]:
    plain = " ".join(re.sub(r"[^\w ]", " ", text.lower()).split())
    if FIT.fullmatch(plain):
        return
    if UNFIT.search(plain) and not DENIED.search(plain):
        yield CONDITION.fails(
            f"its condition is recorded as '{text}'", "another piece, inspected and fit for use"
        )
    else:
        yield CONDITION_UNCLEAR.holds(
            f"its condition is recorded as '{text}', which does not say whether it is fit for use",
            "fill in 'fit for use', or what was found",
        )
