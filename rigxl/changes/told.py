"""What changed, in the words that both the terminal and the workbook use."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.changes.compare import Changed, Compared
from rigxl.changes.rows import Entry
from rigxl.schedule.report import told

TABLES = {"items": "item", "lifts": "lift", "inspections": "inspection", "ratings": "maker's rating"}
"""What a row of each table is."""


class Group(NamedTuple):
    """Rows of one lift that changed in the same way."""

    rows: list[Changed]

    @property
    def first(self) -> Changed:
        return self.rows[0]


def groups(compared: Compared) -> list[Group]:
    """The changes, those of rows of one lift that changed alike together."""
    found: dict[object, list[Changed]] = {}
    for one in compared.changed:
        inputs = tuple((each.field, each.old, each.new) for each in one.inputs)
        key = (
            one.new.table,
            one.new.line.item.lift,
            inputs,
            one.before,
            one.after,
            _codes(one),
            one.pair.doubt,
        )
        alone = () if inputs and not one.verdict_changed and not one.new_reasons else id(one)
        found.setdefault((key, alone), []).append(one)
    return [Group(rows) for rows in found.values()]


def _codes(one: Changed) -> tuple[str, ...]:
    return tuple(cause.code for cause in one.causes)


def verdict(one: Changed) -> str:
    """The verdict before and after."""
    if one.after is None:
        return "–"
    if one.verdict_changed:
        return f"{one.before} → {one.after}"
    return f"{one.after}, for other reasons" if one.new_reasons else f"{one.after} as before"


def why(one: Changed) -> Iterator[str]:
    """Why the verdict changed, what it says now, and how sure it is that the two rows are one."""
    for cause in one.causes:
        yield f"because of {cause.sentence}" if cause.code != "rigxl" else cause.sentence
    if one.causes and one.new.checked:
        yield f"now {told(one.new.checked.judged)}"
    if one.pair.doubt:
        yield f"doubtful: {one.pair.doubt}"


def counted(compared: Compared) -> str:
    """All that changed, counted in one line."""
    if compared.nothing:
        return "nothing changed"
    verdicts = sum(1 for one in compared.changed if one.verdict_changed)
    inputs = sum(1 for one in compared.changed if one.inputs)
    chosen = sum(1 for one in compared.basis if not one.goes_by_itself)
    parts = [
        f"{inputs} {_rows(inputs)} with changed inputs",
        f"{verdicts} changed {'verdict' if verdicts == 1 else 'verdicts'}",
        f"{len(compared.added)} added",
        f"{len(compared.removed)} removed",
        f"{chosen} of the criteria, waivers and goods-in boxes changed",
    ]
    return ", ".join(parts)


def _rows(count: int) -> str:
    return "row" if count == 1 else "rows"


def like(compared: Compared, entry: Entry) -> str:
    """What is to be said of a row that came or went where the other version has one nearly the same."""
    other = compared.like(entry)
    return f"nearly the same as {other.name} ({other.where}) of the other version" if other else ""


def place(entry: Entry) -> str:
    """Where a row stands, and what of it is worth knowing."""
    return f"{entry.where}{' (hidden)' if entry.line.hidden else ''}"
