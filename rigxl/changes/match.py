"""Which row of the old version is which of the new: by tag, by serial number, else by content.

Where a row stands never counts. Every step is a look-up, so that a long schedule takes no longer a row.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import TypeAlias

from rigxl.changes.rows import Entry
from rigxl.changes.similar import SURE, alike

Key: TypeAlias = Callable[[Entry], Hashable]
Contents: TypeAlias = dict[int, dict[str, Hashable]]
IDENTITY = frozenset({"tag", "serial"})
NAMING = ("lift", "tag", "serial", "description", "kind", "position")
"""What tells rows apart, and is less likely to have changed than what is said of them."""
LIKE_OTHERS = "paired by content, and other rows are as like it"


@dataclass(slots=True, eq=False)
class Pair:
    """A row of both versions, how it was found, and in ``doubt`` what may be wrong with that."""

    old: Entry
    new: Entry
    by: str
    doubt: str = ""


@dataclass(slots=True)
class Matched:
    """The rows of one table: those of both versions, and those of one alone."""

    pairs: list[Pair] = field(default_factory=list)
    removed: list[Entry] = field(default_factory=list)
    added: list[Entry] = field(default_factory=list)
    like: dict[Entry, Entry] = field(default_factory=dict)
    """By a row of one version alone, the one of the other that says nearly the same under another name."""


def match(old: Sequence[Entry], new: Sequence[Entry], table: str, *, line_numbers: bool = False) -> Matched:
    """Pair the rows of one table of two versions, in the order of the new one.

    Args:
        old: The rows of the old version.
        new: The rows of the new one.
        table: items, lifts, inspections or ratings.
        line_numbers: Whether the tags are line numbers, which tell no piece from another.
    """
    found = _Matching(old, new, line_numbers=line_numbers)
    for keys, by in _KEYS[table]:
        if not (line_numbers and by == "tag"):
            found.by_key(keys, by)
    found.by_content()
    return found.result()


class _Matching:
    """The rows of both versions that have no partner yet, and the pairs found."""

    def __init__(self, old: Sequence[Entry], new: Sequence[Entry], *, line_numbers: bool) -> None:
        self.order = {id(entry): place for place, entry in enumerate(new)}
        self.old = dict.fromkeys(old)
        self.new = dict.fromkeys(new)
        self.pairs: list[Pair] = []
        self.contents = _contents(old, new, line_numbers)
        self.line_numbers = line_numbers

    def pair(self, old: Entry, new: Entry, by: str, doubt: str = "") -> None:
        del self.old[old]
        del self.new[new]
        self.pairs.append(Pair(old, new, by, doubt))

    def by_key(self, keys: Sequence[Key], by: str) -> None:
        """Rows that one key names: first by the fullest key that names one row in each version."""
        for key in keys:
            olds, news = _grouped(self.old, key), _grouped(self.new, key)
            for name, group in olds.items():
                others = news.get(name, ())
                if len(group) == len(others) == 1:
                    self.pair(group[0], others[0], by)
        olds, news = _grouped(self.old, keys[-1]), _grouped(self.new, keys[-1])
        for name, group in olds.items():
            if name in news:
                self._within(group, news[name], by)

    def _within(self, old: list[Entry], new: list[Entry], by: str) -> None:
        """Several rows of one name, paired by what else they say."""
        name = getattr(old[0].line.item, by, None) or old[0].name
        counted = f"{by} '{name}' stands on {_rows(old)} of the old version and {_rows(new)} of the new"
        for one, other, certain in self._alike(old, new):
            doubt = "" if certain else f"{counted}: paired by what else they say"
            self.pair(one, other, f"{by} and content", doubt)

    def by_content(self) -> None:
        """Rows without a name in common: the same content, all but one value, then most of it."""
        for one, other, certain in self._alike(list(self.old), list(self.new), strict=True):
            self.pair(one, other, "content", "" if certain else LIKE_OTHERS)

    def _alike(
        self, old: list[Entry], new: list[Entry], *, strict: bool = False
    ) -> Iterator[tuple[Entry, Entry, bool]]:
        """Pairs of rows by content, surest first, and whether each could be no other."""
        olds, news = dict.fromkeys(old), dict.fromkeys(new)

        def take(found: Iterable[tuple[Entry, Entry, bool]]) -> Iterator[tuple[Entry, Entry, bool]]:
            for one, other, certain in found:
                del olds[one], news[other]
                yield one, other, certain

        yield from take(_twins(list(olds), list(news), self.contents))
        yield from take(_but_one(list(olds), list(news), self.contents))
        allowed = self._may_be_one if strict else _any
        yield from take(alike(list(olds), list(news), self.contents, allowed))

    def _may_be_one(self, old: Entry, new: Entry) -> bool:
        """Whether two rows that are alike may be one: not where their tags or serial numbers differ."""
        for name in IDENTITY:
            if name == "tag" and self.line_numbers:
                continue
            one, other = old.content.get(name), new.content.get(name)
            if one is not None and other is not None and one != other:
                return False
        return old.line.item.kind == new.line.item.kind or None in (old.line.item.kind, new.line.item.kind)

    def result(self) -> Matched:
        self.pairs.sort(key=lambda pair: self.order[id(pair.new)])
        removed, added = list(self.old), list(self.new)
        like: dict[Entry, Entry] = {}
        for one, other, certain in alike(removed, added, self.contents, _any, least=SURE):
            if certain:
                like |= {one: other, other: one}
        return Matched(self.pairs, removed, added, like)


def _any(_: Entry, __: Entry) -> bool:
    return True


def _contents(old: Sequence[Entry], new: Sequence[Entry], line_numbers: bool) -> Contents:
    """By row, the values that can be compared: of the columns that both versions have."""
    fields = [{name for entry in rows for name in entry.content} for rows in (old, new)]
    common = fields[0] & fields[1] - ({"tag"} if line_numbers else set())
    return {
        id(entry): {name: value for name, value in entry.content.items() if name in common}
        for entry in (*old, *new)
    }


def _grouped(rows: Iterable[Entry], key: Key) -> dict[Hashable, list[Entry]]:
    groups: dict[Hashable, list[Entry]] = {}
    for entry in rows:
        name = key(entry)
        if name is not None:
            groups.setdefault(name, []).append(entry)
    return groups


def _twins(old: list[Entry], new: list[Entry], contents: Contents) -> Iterator[tuple[Entry, Entry, bool]]:
    """Rows of the same content; which of several twins is which makes no difference."""
    waiting: dict[Hashable, deque[Entry]] = {}
    for entry in old:
        waiting.setdefault(frozenset(contents[id(entry)].items()), deque()).append(entry)
    for entry in new:
        found = waiting.get(frozenset(contents[id(entry)].items()))
        if found:
            yield found.popleft(), entry, True


def _but_one(old: list[Entry], new: list[Entry], contents: Contents) -> Iterator[tuple[Entry, Entry, bool]]:
    """Rows that differ in one value: it was changed, filled in or emptied."""
    left = dict.fromkeys(old)
    index: dict[int, deque[Entry]] = {}
    for entry in old:
        for sum_ in _sums(contents[id(entry)]):
            index.setdefault(sum_, deque()).append(entry)
    claims = Counter(sum_ for entry in new for sum_ in _sums(contents[id(entry)]))
    for entry in new:
        possible: dict[Entry, bool] = {}
        for sum_ in _sums(contents[id(entry)]):
            waiting = index.get(sum_, deque())
            while waiting and waiting[0] not in left:
                waiting.popleft()
            for one in islice(waiting, 2):
                if one in left:
                    possible.setdefault(one, claims[sum_] == 1)
        if possible:
            one, alone = next(iter(possible.items()))
            del left[one]
            yield one, entry, alone and len(possible) == 1


def _sums(content: dict[str, Hashable]) -> list[int]:
    """A number for a row's whole content, and one for it without each of its values, what names it last."""
    each = [hash((name, content[name])) for name in sorted(content, key=lambda name: name in NAMING)]
    whole = sum(each)
    return [whole, *(whole - one for one in each)]


def _rows(rows: list[Entry]) -> str:
    return "1 row" if len(rows) == 1 else f"{len(rows)} rows"


def _text(entry: Entry, name: str) -> Hashable:
    return entry.content.get(name)


def _tag(entry: Entry) -> Hashable:
    return _text(entry, "tag")


def _serial(entry: Entry) -> Hashable:
    serial = _text(entry, "serial")
    return None if serial is None else (serial, _text(entry, "maker"))


def _with(key: Key, *names: str) -> Key:
    def whole(entry: Entry) -> Hashable:
        first = key(entry)
        return None if first is None else (first, *(_text(entry, name) for name in names))

    return whole


def _named(*names: str) -> Key:
    def whole(entry: Entry) -> Hashable:
        found = tuple(_text(entry, name) for name in names)
        return found if found[0] is not None else None

    return whole


_KEYS: dict[str, tuple[tuple[tuple[Key, ...], str], ...]] = {
    "items": (
        ((_with(_tag, "serial", "lift"), _with(_tag, "lift"), _with(_tag, "serial"), _tag), "tag"),
        ((_with(_serial, "lift"), _serial), "serial"),
    ),
    "lifts": (((_named("lift"),), "lift"),),
    "inspections": (
        ((_with(_tag, "inspected", "finding"), _with(_tag, "inspected"), _tag), "tag"),
        ((_with(_serial, "inspected", "finding"), _with(_serial, "inspected"), _serial), "serial"),
    ),
    "ratings": (
        ((_named("maker", "kind", "size", "type", "grade"), _named("maker", "kind", "size")), "maker"),
    ),
}
"""How the rows of each table are named: the fullest key first, the last is what several rows may share."""
