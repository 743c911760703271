"""What a person should know before believing a comparison: where the two versions are unlike things."""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.changes.compare import Compared
from rigxl.changes.rows import TABLES, Entry
from rigxl.schedule.check import Checked
from rigxl.schedule.fields import FIELD

FEW = 0.2
"""With no more than this share of its rows in common, one workbook is hardly a version of the other."""
MOST_NAMED = 8


def say(compared: Compared) -> list[str]:
    """The sentences, what matters most first; "old" and "new" are the two versions."""
    return [
        *_in_common(compared),
        *_kinds_of_schedule(compared),
        *_criteria(compared),
        *_columns(compared),
        *_units(compared),
        *_roundings(compared),
        *_line_numbers(compared),
        *_not_compared(compared),
        *_stale_marks(compared),
    ]


def _in_common(compared: Compared) -> Iterator[str]:
    if compared.old.book.sha256 == compared.new.book.sha256:
        yield "the two files are the same, byte for byte"
        return
    matched = compared.matched["items"]
    paired, old, new = len(matched.pairs), len(compared.old.rows), len(compared.new.rows)
    if not paired:
        yield (
            "the two have no row in common, by tag, serial number or content: they are not versions of one "
            "schedule"
        )
    elif paired <= FEW * min(old, new):
        yield (
            f"only {paired} of {old} rows of the old version are in the new one ({new} rows): these may not "
            "be versions of one schedule"
        )


def _kinds_of_schedule(compared: Compared) -> Iterator[str]:
    if compared.joined:
        first, second = ("old", "new") if _has_lifts(compared.old) else ("new", "old")
        yield (
            f"unlike schedules: the {first} one has its lifts in a table of their own, the {second} one "
            "has them in the rows; compared is what each row takes from its lift"
        )


def _has_lifts(checked: Checked) -> bool:
    return any(table.role == "lifts" for table in checked.understood.tables)


def _criteria(compared: Compared) -> Iterator[str]:
    old, new = compared.old.criteria, compared.new.criteria
    if old.title != new.title:
        yield f"unlike criteria: the old one is judged by {old.title}, the new one by {new.title}"
    if old.judged_on > new.judged_on:
        yield (
            f"the old one is judged on {old.judged_on}, later than the new one ({new.judged_on}): "
            "are they the right way round?"
        )


def _columns(compared: Compared) -> Iterator[str]:
    for table in TABLES:
        matched = compared.matched[table]
        if not matched.pairs:
            continue
        old, new = ({name for pair in matched.pairs for name in side(pair).columns} for side in (_old, _new))
        where = "" if table == "items" else f" of {table}"
        if gone := old - new:
            yield f"the new one has no column{where} for: {_fields(gone)}"
        if came := new - old:
            yield f"the old one has no column{where} for: {_fields(came)}"


def _old(pair: object) -> Entry:
    return pair.old  # type: ignore[attr-defined, no-any-return]


def _new(pair: object) -> Entry:
    return pair.new  # type: ignore[attr-defined, no-any-return]


def _fields(names: set[str]) -> str:
    return ", ".join(FIELD[name].plain for name in FIELD if name in names)


def _units(compared: Compared) -> Iterator[str]:
    olds, news = _units_of(compared, old=True), _units_of(compared, old=False)
    said = [
        f"{FIELD[name].plain} in {' and '.join(sorted(units))} and in {' and '.join(sorted(news[name]))}"
        for name, units in olds.items()
        if name in news and not units & news[name]
    ]
    if said:
        yield f"other units in the old and the new one, compared as quantities: {'; '.join(said)}"


def _units_of(compared: Compared, *, old: bool) -> dict[str, set[str]]:
    """The units that the cells of each field are in."""
    found: dict[str, set[str]] = {}
    for pair in compared.pairs:
        entry = pair.old if old else pair.new
        for name, unit in entry.line.item.units.items():
            if name in entry.values:
                found.setdefault(name, set()).add(unit)
    return found


def _roundings(compared: Compared) -> Iterator[str]:
    if compared.roundings:
        worst = max(compared.roundings, key=lambda one: one.share)
        difference = worst.difference
        yield (
            f"{_count(len(compared.roundings), 'figure')} written in another unit and rounded, taken as the "
            f"same; the most by {worst.share:.2g} of it, {difference.old_cell} {difference.old} and "
            f"{difference.new_cell} {difference.new}"
        )


def _line_numbers(compared: Compared) -> Iterator[str]:
    if compared.line_numbers:
        yield (
            "what stands under the tags are line numbers, which name no piece: rows were paired by serial "
            "number and content, and a line number that differs is no change"
        )


def _not_compared(compared: Compared) -> Iterator[str]:
    for word, checked in (("old", compared.old), ("new", compared.new)):
        names = [
            f"'{column.heading}'"
            for table in checked.understood.tables
            for column in table.columns
            if column.is_open
        ]
        if names:
            more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
            yield f"not compared, for they are not understood, columns of the {word} one: " + (
                ", ".join(names[:MOST_NAMED]) + more
            )


def _stale_marks(compared: Compared) -> Iterator[str]:
    if compared.earlier.verdicts:
        by = f" by {compared.earlier.by}" if compared.earlier.by else ""
        yield f"the old one was marked{by}: its own marks are taken as its verdicts"


def _count(number: int, noun: str) -> str:
    return f"1 {noun} was" if number == 1 else f"{number} {noun}s were"
