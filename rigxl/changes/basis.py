"""What rows are judged by besides what they say, in both versions: criteria, waivers, goods-in lists."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.changes.values import plain
from rigxl.criteria import Criteria
from rigxl.items import Waiver
from rigxl.schedule.check import Checked
from rigxl.schedule.goods_in import Box, boxes

MARKED_THEN = "the day it was marked"
ASKED_THEN = "the day asked for"
TODAY = "today's date"


class Setting(NamedTuple):
    """One of them that changed: both values, and who chose them or where they stand."""

    name: str
    old: str
    new: str
    old_by: str
    new_by: str

    @property
    def goes_by_itself(self) -> bool:
        """Whether nobody changed it: the day, where neither version says on which it is to be judged."""
        return self.new_by == TODAY and self.old_by in (TODAY, MARKED_THEN, ASKED_THEN)


def settings(old: Criteria, new: Criteria) -> Iterator[Setting]:
    for name, one in old.chosen.items():
        other = new.chosen[name]
        if _value(one.value) != _value(other.value):
            yield Setting(name, _shown(one.value), _shown(other.value), one.chosen_by, other.chosen_by)


def waivers(old: Checked, new: Checked) -> Iterator[Setting]:
    """The waivers that were written, taken out or changed, by their rule and what they are for."""
    olds, news = (
        {(plain(one.rule), plain(one.item), plain(one.lift)): one for one in _written(version)}
        for version in (old, new)
    )
    for name in dict.fromkeys((*olds, *news)):
        one, other = olds.get(name), news.get(name)
        if one is None or other is None or _says(one) != _says(other):
            first = one or other
            assert first is not None
            whom = " of ".join(filter(None, (first.item, first.lift)))
            yield Setting(
                f"waiver of {first.rule} for {whom}",
                *(_told(each) for each in (one, other)),
                *(each.where if each else "–" for each in (one, other)),
            )


def goods(old: Checked, new: Checked) -> Iterator[Setting]:
    """The boxes of goods-in lists that were answered, or answered otherwise, by tag and box."""
    olds, news = (
        {(plain(box.tag or ""), plain(box.arrival.look)): box for box in boxes(one.book, one.criteria.habits)}
        for one in (old, new)
    )
    for name in dict.fromkeys((*olds, *news)):
        one, other = olds.get(name), news.get(name)
        before, after = _answer(one), _answer(other)
        if before != after:
            first = one or other
            assert first is not None
            yield Setting(
                f"goods in, {first.tag or 'no tag'}: {first.arrival.look}",
                before,
                after,
                *(each.arrival.where if each else "–" for each in (one, other)),
            )


def _answer(box: Box | None) -> str:
    if box is None or (box.arrival.right is None and not box.arrival.problem and not box.arrival.read):
        return "–"
    if box.arrival.problem:
        return "an answer that cannot be used"
    right = {True: "yes", False: "no", None: "not ticked"}[box.arrival.right]
    return f"{right}, {box.arrival.read}" if box.arrival.read else right


def _written(version: Checked) -> Iterator[Waiver]:
    return (standing.waiver for standing in version.waivers)


def _says(waiver: Waiver) -> tuple[object, ...]:
    return plain(waiver.reason), plain(waiver.who), waiver.until, waiver.most, bool(waiver.trouble)


def _told(waiver: Waiver | None) -> str:
    if waiver is None:
        return "–"
    most = "" if waiver.most is None else f", up to {waiver.most:.0%} used"
    return f"{waiver.who or 'nobody'}, until {waiver.until or 'no day'}{most}: {waiver.reason or 'no reason'}"


def _value(value: object) -> object:
    """A setting's value as it is compared: a list of makers has no order."""
    return frozenset(part.casefold() for part in value) if isinstance(value, tuple) else value


def _shown(value: object) -> str:
    return (", ".join(value) or "none") if isinstance(value, tuple) else str(value)
