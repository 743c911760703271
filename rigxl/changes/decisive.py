"""Which of the values that a row is judged by made its verdict: each is put back and the row judged again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace

from rigxl.changes.values import same
from rigxl.checks.judge import judge
from rigxl.checks.makers import MakersTable
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, Item
from rigxl.schedule.fields import FIELD
from rigxl.units import Size

HOW_READ = frozenset({"problems", "units", "by_gravity"})
VALUES = tuple(one.name for one in fields(Item) if one.name not in HOW_READ)
MAKERS = "makers"
"""Stands for the makers' own ratings among the names of values."""
TOGETHER = {
    "measurements": "what its inspections found",
    "arrivals": "what was found on arrival",
    "hung_above": "the weight of the device above it",
    "gathered_below": "what gathers the legs below it",
    MAKERS: "the makers' own ratings",
}
"""What is no field of a sheet, and is said of a row by others."""


def plain_name(name: str) -> str:
    """A value as a sentence speaks of it."""
    return TOGETHER.get(name) or FIELD[name].plain


def decisive(
    old: Item, new: Item, criteria: Criteria, old_makers: MakersTable | None, makers: MakersTable | None
) -> list[str]:
    """The values without whose change the new row, by itself, would be judged otherwise.

    Where none is so alone, all that changed; none at all where the row by itself is judged as before.

    Args:
        old: The row as it was judged, with what it took from its lift and its inspections.
        new: The same of the new version.
        criteria: What the new version is judged by.
        old_makers: The makers' ratings of the old version.
        makers: Those of the new one.
    """
    now = _judged(new, criteria, makers)
    changed = list(_differing(old, new))
    if old_makers is not makers:
        changed.append(MAKERS)
    if _judged(old, criteria, old_makers) == now:
        return []
    alone = [
        name
        for name in changed
        if _judged(_put_back(new, old, name), criteria, old_makers if name == MAKERS else makers) != now
    ]
    return alone or changed


def _differing(old: Item, new: Item) -> Iterator[str]:
    for name in VALUES:
        one, other = (_placeless(getattr(item, name)) for item in (old, new))
        if not same(name, one, other) or (name in old.problems) != (name in new.problems):
            yield name


def _placeless(value: object) -> object:
    """A value; of what inspections and goods-in lists found, all but where it is written."""
    if not isinstance(value, tuple) or isinstance(value, Size):
        return value
    return tuple(one._replace(where="") for one in value)


def _put_back(new: Item, old: Item, name: str) -> Item:
    """The new item with one value as it was in the old one."""
    item = replace(new, problems=dict(new.problems), units=dict(new.units))
    if name == MAKERS:
        return item
    setattr(item, name, getattr(old, name))
    for had, has in ((old.problems, item.problems), (old.units, item.units)):
        has.pop(name, None)
        if name in had:
            has[name] = had[name]
    return item


def _judged(item: Item, criteria: Criteria, makers: MakersTable | None) -> tuple[str, frozenset[str]]:
    judged = judge(replace(item, problems=dict(item.problems), units=dict(item.units)), criteria, makers)
    rules = (one.rule.name for one in judged.findings if one.outcome in (FAIL, HOLD))
    return judged.verdict, frozenset(rules)
