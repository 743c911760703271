"""What changed near a row: in its lift, on rows of the same piece or certificate, in its maker's ratings."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator

from rigxl.changes.compare import Cause, Changed, Compared
from rigxl.changes.rows import Entry
from rigxl.changes.values import plain
from rigxl.checks.traceability import key

QUIET = frozenset({"remarks", "description", "inspected_by"})
"""What is said for people: no verdict changes by it where anything else changed."""
ADDED, REMOVED = "added:", "removed:"
MOST_NAMED = 3


class Nearby:
    """All that changed, by what it has a say in, gathered once."""

    def __init__(self, compared: Compared) -> None:
        self.related: dict[Hashable, dict[tuple[str, str], None]] = {}
        self.moved = _moved_lifts(compared)
        self.cells = {
            cell for one in compared.changed for each in one.inputs for cell in (each.old_cell, each.new_cell)
        } | {entry.cell(name) for entry in (*compared.added, *compared.removed) for name in entry.values}
        """Every cell that changed."""
        for one in compared.changed:
            for each in one.inputs:
                if each.field not in QUIET:
                    self._relate((one.old, one.new), f"{each.plain} of", one.new)
        for entry in compared.added:
            self._relate((entry,), ADDED, entry)
        for entry in compared.removed:
            self._relate((entry,), REMOVED, entry)

    def _relate(self, versions: Iterable[Entry], what: str, whose: Entry) -> None:
        for entry in versions:
            for about in _says_of(entry):
                self.related.setdefault(about, {})[what, _named(whose)] = None

    def cause(self, one: Changed) -> Cause:
        """Why a row is judged otherwise beside others."""
        own = [each.plain for each in one.inputs if each.field not in QUIET]
        others: dict[str, dict[str, None]] = {}
        for entry in (one.old, one.new):
            for about in _concerned_by(entry):
                for what, whose in self.related.get(about, {}):
                    if whose != _named(one.new):
                        others.setdefault(what, {})[whose] = None
        said = "; ".join(f"{what} {_some(list(whose))}" for what, whose in others.items())
        if own:
            also = f"; and with them {said}" if others else ""
            return Cause("inputs", f"its own {', '.join(own)}{also}")
        if others:
            return Cause("other rows", f"what changed in its lift or piece: {said}")
        if _lift(one.new) in self.moved:
            return Cause("order", "its lift's rows stand in another order, and each is judged with the next")
        if one.inputs:
            return Cause("inputs", f"its own {', '.join(each.plain for each in one.inputs)}")
        return Cause("elsewhere", "what changed elsewhere in the workbook")


def _named(entry: Entry) -> str:
    return f"{entry.name} ({entry.where})"


def _lift(entry: Entry) -> Hashable:
    lift = entry.checked.judged.item.lift if entry.checked else entry.line.item.lift
    return ("lift", plain(lift)) if lift else None


def _says_of(entry: Entry) -> Iterator[Hashable]:
    """What a row has a say in: its lift, its piece, its papers; a line of ratings in what it rates."""
    item = entry.line.item
    if entry.table == "ratings":
        yield from _rating(entry)
        return
    if entry.table != "inspections" and (lift := _lift(entry)):
        yield lift
    for name in (item.tag, item.serial):
        if name:
            yield from (("piece", key(part)) for part in {name, *name.split(" / ")})
    if item.certificate:
        yield "certificate", plain(item.certificate)


def _concerned_by(entry: Entry) -> Iterator[Hashable]:
    """Whose changes a row is concerned by: those of its lift, piece and papers, and its maker's ratings."""
    yield from _says_of(entry)
    if entry.table == "items":
        yield from _rating(entry)


def _rating(entry: Entry) -> Iterator[Hashable]:
    item = entry.line.item
    if item.maker and item.kind:
        yield "rating", plain(item.maker), item.kind


def _moved_lifts(compared: Compared) -> set[Hashable]:
    """The lifts of which the rows stand in another order than before."""
    old_place = {id(row): place for place, row in enumerate(compared.old.rows)}
    places = {
        id(pair.new.checked): old_place[id(pair.old.checked)] for pair in compared.matched["items"].pairs
    }
    moved: set[Hashable] = set()
    for members in compared.new.together:
        order = [places[id(row)] for row in members if id(row) in places]
        if order != sorted(order) and (lift := members[0].judged.item.lift):
            moved.add(("lift", plain(lift)))
    return moved


def _some(names: list[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
