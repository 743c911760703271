"""Two versions of a schedule, both checked now, and all that differs between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias

from rigxl.changes.basis import Setting, goods, settings, waivers
from rigxl.changes.differences import Difference, Rounding, differences
from rigxl.changes.earlier import Earlier, earlier
from rigxl.changes.match import Matched, Pair, match
from rigxl.changes.rows import TABLES, Entry, entries, numbered, place_of
from rigxl.schedule.check import Checked, CheckedRow

__all__ = ["Cause", "Changed", "Compared", "Setting", "compare"]


class Cause(NamedTuple):
    """Why a verdict changed: a word for machines, a sentence for people."""

    code: str
    sentence: str


Outcome: TypeAlias = tuple[str, frozenset[str], frozenset[str]]


@dataclass(slots=True, eq=False)
class Changed:
    """A row of both versions of which something changed: inputs, verdict, or the rules behind it."""

    pair: Pair
    inputs: list[Difference]
    before: str | None = None
    after: str | None = None
    rounded: frozenset[str] = frozenset()
    """The fields that were only rounded in another unit."""
    causes: list[Cause] = field(default_factory=list)

    @property
    def old(self) -> Entry:
        return self.pair.old

    @property
    def new(self) -> Entry:
        return self.pair.new

    @property
    def new_reasons(self) -> bool:
        """Whether it is failed or held by other rules than before."""
        old, new = self.old.checked, self.new.checked
        return bool(old and new and outcome(old) != outcome(new))

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdict itself is another."""
        return self.before != self.after


@dataclass
class Compared:
    """Two versions side by side: what changed, what came and went, and what a person should be told."""

    old: Checked
    new: Checked
    matched: dict[str, Matched]
    earlier: Earlier
    changed: list[Changed] = field(default_factory=list)
    settings: list[Setting] = field(default_factory=list)
    waivers: list[Setting] = field(default_factory=list)
    goods: list[Setting] = field(default_factory=list)
    roundings: list[Rounding] = field(default_factory=list)
    line_numbers: bool = False
    joined: bool = False
    said: list[str] = field(default_factory=list)

    @property
    def basis(self) -> list[Setting]:
        """All that rows are judged by besides what they say, and that changed."""
        return [*self.settings, *self.waivers, *self.goods]

    @property
    def added(self) -> list[Entry]:
        """The rows that only the new version has, table by table."""
        return [entry for table in TABLES for entry in self.matched[table].added]

    @property
    def removed(self) -> list[Entry]:
        """The rows that only the old version has, table by table."""
        return [entry for table in TABLES for entry in self.matched[table].removed]

    def like(self, entry: Entry) -> Entry | None:
        """The row of the other version that says nearly the same as one that was added or removed."""
        return self.matched[entry.table].like.get(entry)

    @property
    def pairs(self) -> Iterator[Pair]:
        """The rows of both versions, table by table."""
        return (pair for table in TABLES for pair in self.matched[table].pairs)

    @property
    def nothing(self) -> bool:
        """Whether nothing changed."""
        chosen = any(not each.goes_by_itself for each in self.settings)
        return not (self.changed or chosen or self.waivers or self.goods or self.added or self.removed)


def compare(old: Checked, new: Checked, sheets: Sequence[str] = ()) -> Compared:
    """What changed between two checked versions; why verdicts changed is added by ``causes``.

    Args:
        old: The old version, its rows not emptied.
        new: The new one, likewise.
        sheets: Only items on these sheets.
    """
    joined = _has_lifts(old) != _has_lifts(new)
    habits = new.criteria.habits
    olds, news = (entries(one, habits, sheets, joined=joined) for one in (old, new))
    line_numbers = numbered(olds["items"]) and numbered(news["items"])
    compared = Compared(
        old,
        new,
        {table: match(olds[table], news[table], table, line_numbers=line_numbers) for table in TABLES},
        earlier(old.book, old.understood),
        settings=list(settings(old.criteria, new.criteria)),
        waivers=list(waivers(old, new)),
        goods=list(goods(old, new)),
        line_numbers=line_numbers,
        joined=joined,
    )
    ignored = frozenset({"tag"}) if line_numbers else frozenset()
    for pair in compared.pairs:
        inputs, roundings = differences(pair, but=ignored)
        compared.roundings += roundings
        rounded = frozenset(one.difference.field for one in roundings)
        changed = Changed(pair, inputs, _before(pair.old, compared.earlier), pair.new.verdict, rounded)
        if inputs or changed.verdict_changed or changed.new_reasons:
            compared.changed.append(changed)
    return compared


def outcome(row: CheckedRow) -> Outcome:
    """What a row's verdict rests on: the verdict, the rules that fail or hold it, those that are waived."""
    return row.verdict, frozenset(row.rules), frozenset(row.waived)


def _before(entry: Entry, marks: Earlier) -> str | None:
    """The verdict of a row of the old version: as its own mark says, else as it is worked out now."""
    return entry.verdict and marks.verdicts.get(place_of(entry.line), entry.verdict)


def _has_lifts(checked: Checked) -> bool:
    return any(table.role == "lifts" for table in checked.understood.tables)
