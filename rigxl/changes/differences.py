"""What differs between two rows that are one: input by input, with both values as the sheets show them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.changes.match import Pair
from rigxl.changes.rows import ORDER, Entry
from rigxl.changes.values import plain, rounded, same, shown
from rigxl.schedule.fields import FIELD
from rigxl.workbook.values import column_letters


class Difference(NamedTuple):
    """One input that changed: its field, both values, and the cells they stand in."""

    field: str
    old: str
    new: str
    old_cell: str
    new_cell: str

    @property
    def plain(self) -> str:
        """The field as a sentence speaks of it."""
        return FIELD[self.field].plain


class Rounding(NamedTuple):
    """A figure that was written in another unit and rounded: taken as the same, and by how much it moved."""

    difference: Difference
    share: float


def differences(pair: Pair, *, but: frozenset[str] = frozenset()) -> tuple[list[Difference], list[Rounding]]:
    """The inputs that changed from one version of a row to the other, and those that were only rounded.

    Args:
        pair: The row in both versions.
        but: Fields that do not count, such as a tag that only numbers the lines.
    """
    old, new = pair.old, pair.new
    if old.content == new.content:
        return [], []
    names = sorted((old.values.keys() | new.values.keys()) - but, key=lambda name: ORDER[name])
    found, roundings = [], []
    for name in names:
        one, other = old.values.get(name), new.values.get(name)
        if same(name, one, other):
            continue
        unit, other_unit = old.unit(name), new.unit(name)
        difference = Difference(
            name, *_told_apart(name, (one, unit), (other, other_unit)), old.cell(name), new.cell(name)
        )
        share = rounded(name, one, unit, other, other_unit)
        if share is not None:
            roundings.append(Rounding(difference, share))
        else:
            found.append(difference)
    return list(_once(list(_blamed(found, old, new)), old, new)), roundings


def _told_apart(name: str, one: tuple[object, str], other: tuple[object, str]) -> tuple[str, str]:
    """Both values as shown, the second with its unit turned into the first's where the units differ."""
    (value, unit), (value2, unit2) = one, other
    first, second = shown(name, value, unit), shown(name, value2, unit2)
    if unit and unit2 and unit != unit2:
        second += f" ({shown(name, value2, unit)})"
    return first, second


def _blamed(found: list[Difference], old: Entry, new: Entry) -> Iterator[Difference]:
    """A type that only takes words from the cell of the kind, or of the description, changed there."""
    fields = {one.field for one in found}
    for one in found:
        if one.field != "type" or _texts(old, "type") != _texts(new, "type"):
            yield one
            continue
        blamed = next(
            (name for name in ("kind", "description") if _texts(old, name) != _texts(new, name)), None
        )
        if blamed is None:
            yield one
        elif blamed not in fields:
            before, after = (" / ".join(entry.raw(blamed)) or shown(blamed, None) for entry in (old, new))
            yield Difference(blamed, before, after, old.cell(blamed), new.cell(blamed))


def _texts(entry: Entry, name: str) -> tuple[str, ...]:
    return tuple(map(plain, entry.raw(name)))


def _once(found: list[Difference], old: Entry, new: Entry) -> Iterator[Difference]:
    """Each pair of cells once: a kind that is read from the words of the type changes with them."""
    by_cells: dict[tuple[str, str], Difference] = {}
    for one in sorted(found, key=lambda one: not (_own(old, one.field) or _own(new, one.field))):
        by_cells.setdefault((one.old_cell, one.new_cell), one)
    kept = set(by_cells.values())
    return (one for one in found if one in kept)


def _own(entry: Entry, name: str) -> bool:
    """Whether a field's value stands in a column of its own."""
    if name not in entry.values:
        return False
    letters = entry.cell(name).rpartition("!")[2].rstrip("0123456789")
    return any(
        column.field and FIELD[column.field].target == name and column_letters(column.number) == letters
        for column in entry.line.listing.columns
    )
