"""The second opinion on a workbook, as plain data: what was worked out again, and what is said of it.

It makes no verdict of ours kinder or harsher. What is said of a row of items is advice on that row; the rest,
such as what is said of a table of lifts, is said of the workbook as a whole.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from rigxl.items import Rule
from rigxl.schedule.listing import Column

MOST_NAMED = 12
"""So many cells are named in one sentence."""


class Remark(NamedTuple):
    """What is said of one cell: what the sheet says and what it works out at, as people read it, and why."""

    rule: Rule
    cell: str
    heading: str
    says: str
    ours: str
    cause: str
    sentence: str
    is_kinder: bool = False
    """Whether it is a verdict of the sheet that passes what this check does not."""
    on_item: bool = True
    """Whether the cell is in a row that has a verdict of ours."""

    def data(self) -> dict[str, str]:
        """As plain data."""
        return {
            "cell": self.cell,
            "heading": self.heading,
            "rule": self.rule.name,
            "says": self.says,
            "works out at": self.ours,
            "cause": self.cause,
            "sentence": self.sentence,
        }


@dataclass
class Gone:
    """A column that was gone through: how many of its cells were held against ours, and how many were off."""

    sheet: str
    header_row: int
    column: Column
    compared: int = 0
    off: int = 0
    causes: Counter[str] = field(default_factory=Counter)

    @property
    def name(self) -> str:
        return f"{self.column.letters} '{self.column.heading}'"

    def data(self) -> dict[str, Any]:
        """As plain data."""
        return {
            "sheet": self.sheet,
            "column": self.column.letters,
            "heading": self.column.heading,
            "figure": self.column.worked,
            "worked out again": self.compared,
            "off": self.off,
        }


@dataclass
class Opinion:
    """The second opinion on a workbook."""

    columns: list[Gone] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)

    def data(self, *, whole: bool = False) -> dict[str, Any]:
        """As plain data: its columns, and what is said of cells outside rows of items, or the whole of it."""
        return {
            "columns": [one.data() for one in self.columns],
            "remarks": [one.data() for one in self.remarks if whole or not one.on_item],
        }

    @property
    def about(self) -> Iterator[str]:
        """What was gone through, table by table; the sheet's own verdicts that pass too much come first."""
        if kinder := [one.cell for one in self.remarks if one.is_kinder]:
            where = "1 row" if len(kinder) == 1 else f"{len(kinder)} rows"
            yield f"the sheet's own verdict passes {where} that this check does not pass: {_some(kinder)}"
        tables: dict[tuple[str, int], list[Gone]] = defaultdict(list)
        for one in self.columns:
            if one.compared:
                tables[one.sheet, one.header_row].append(one)
        for (sheet, row), gone in tables.items():
            yield from _about(f"the table under row {row} of sheet '{sheet}'", gone)

    @property
    def says(self) -> Iterator[str]:
        """What a person should know of it besides what is said of rows of items."""
        yield from self.about
        others = [one for one in self.remarks if not one.on_item]
        yield from (one.sentence for one in others[:MOST_NAMED])
        if len(others) > MOST_NAMED:
            yield f"and {len(others) - MOST_NAMED} more such cells: 'rigxl opinion' has them all"


def _about(table: str, columns: Sequence[Gone]) -> Iterator[str]:
    compared, off = sum(one.compared for one in columns), sum(one.off for one in columns)
    names = ", ".join(one.name for one in columns)
    figures = "1 figure" if compared == 1 else f"{compared} figures"
    agreed = "all agree" if not off else f"{off} of them {'does' if off == 1 else 'do'} not agree"
    yield f"{table}: {figures} of its own worked out again, in {names}: {agreed}"
    for one in columns:
        if one.causes:
            cause, count = one.causes.most_common(1)[0]
            if count > 2:
                yield f"column {one.name}: {count} of {one.compared} {cause}"


def _some(cells: Sequence[str]) -> str:
    more = len(cells) - MOST_NAMED
    return ", ".join(cells[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
