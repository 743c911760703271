"""Rows that have most of what they say in common, where more than one value was changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator

from rigxl.changes.rows import Entry
from rigxl.changes.values import coarse

LEAST = 0.5
"""Rows that agree on less than this share of their values are not one."""
SURE = 0.7
"""From this share on, and with no other row nearly as like, there is no doubt."""
NEAR = 0.1
"""Two candidates that are alike to within this are both possible."""
RAREST, LOOKED_AT = 6, 16
"""How many of a row's values candidates are looked up by, and how many rows of each: a bound on the work."""
GROUPS = (("lift", "kind", "position", "size"), ("lift", "kind"), ("kind", "size"))
"""Values that together are looked up as one, where no single value is rare."""

Contents = dict[int, dict[str, Hashable]]
Marks = frozenset[tuple[str, Hashable]]


def alike(
    old: list[Entry],
    new: list[Entry],
    contents: Contents,
    allowed: Callable[[Entry, Entry], bool],
    least: float = LEAST,
) -> Iterator[tuple[Entry, Entry, bool]]:
    """Pairs of rows that are alike, the likest first, and whether each could be no other.

    Args:
        old: Rows of the old version.
        new: Rows of the new one.
        contents: By row, the values that count.
        allowed: Whether two rows may be one at all.
        least: The share of their values that they must agree on.
    """
    olds = {id(entry): _marks(entry, contents) for entry in old}
    news = {id(entry): _marks(entry, contents) for entry in new}
    by_mark: dict[Hashable, list[Entry]] = {}
    for entry in old:
        for mark in (*olds[id(entry)], *_groups(olds[id(entry)])):
            by_mark.setdefault(mark, []).append(entry)
    found: list[tuple[float, int, int, Entry, Entry]] = []
    for place, entry in enumerate(new):
        for other in _candidates(news[id(entry)], by_mark):
            share = _share(olds[id(other)], news[id(entry)])
            if share >= least and allowed(other, entry):
                found.append((share, place, len(found), other, entry))
    found.sort(key=lambda one: (-one[0], one[1], one[2]))
    rivals = _rivals(found)
    taken: set[int] = set()
    for share, _, _, one, other in found:
        if id(one) not in taken and id(other) not in taken:
            taken |= {id(one), id(other)}
            yield one, other, share >= SURE and (id(one), id(other)) not in rivals


def _rivals(found: list[tuple[float, int, int, Entry, Entry]]) -> set[tuple[int, int]]:
    """The pairs of which one row is nearly as like another."""
    best: dict[int, list[float]] = {}
    for share, _, _, one, other in found:
        for side in (id(one), id(other)):
            shares = best.setdefault(side, [])
            if len(shares) < 2:
                shares.append(share)
    doubtful = {side for side, shares in best.items() if len(shares) == 2 and shares[0] - shares[1] < NEAR}
    return {(id(one), id(other)) for *_, one, other in found if id(one) in doubtful or id(other) in doubtful}


def _marks(entry: Entry, contents: Contents) -> Marks:
    return frozenset(
        (name, coarse(name, entry.values[name])) for name in contents[id(entry)] if name in entry.values
    )


def _groups(marks: Marks) -> Iterator[Hashable]:
    values = dict(marks)
    for names in GROUPS:
        yield names, tuple(values.get(name) for name in names)


def _candidates(marks: Marks, by_mark: dict[Hashable, list[Entry]]) -> list[Entry]:
    known = [mark for mark in marks if mark in by_mark]
    known.sort(key=lambda mark: (len(by_mark[mark]), str(mark)))
    found: dict[Entry, None] = {}
    for mark in (*known[:RAREST], *_groups(marks)):
        found.update(dict.fromkeys(by_mark.get(mark, ())[:LOOKED_AT]))
    return list(found)


def _share(one: Marks, other: Marks) -> float:
    return len(one & other) / max(len(one), len(other), 1)
