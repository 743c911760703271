"""Columns whose headings may name a field and do not say so for sure: a row that needs the field is held.

What stands under such a heading is never taken. It is never passed over either, where the field could
change the verdict and nothing else in the row gives it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.checks.condition import check as found_unfit
from rigxl.items import FAIL
from rigxl.schedule.cells import Reader, as_text
from rigxl.schedule.fields import FIELD, FIELDS
from rigxl.schedule.line import Line, address
from rigxl.schedule.listing import Listing
from rigxl.schedule.words import normal
from rigxl.units import Habits
from rigxl.workbook.values import Formula, Value

WORDED = frozenset({"in_service", "condition", "defects"})
"""Said in words of every sort: what stands there counts only if it says that the piece is unfit."""

DEVIATIONS = frozenset(
    {
        "loading_angle_deg", "wear", "throat_growth", "twist_deg", "out_of_straight", "broken_in_lay",
        "broken_in_strand",
    }
)  # fmt: skip
"""What is better the smaller it is: nothing, or none of it, is no reason to hold."""

COUNTING = WORDED | frozenset(
    field.name
    for field in FIELDS
    if field.read in ("force", "angle", "ratio", "temperature", "count", "carrying", "choice", "yes/no")
    and field.name not in ("rigging", "hitch", "quantity")
)
"""Fields that are not passed over. Other words, and lengths, are wanted by name where they count."""

NO = frozenset({"no", "none", "nil", "n", "n a", ""})


class Doubt(NamedTuple):
    """A column that may mean one of several fields, with a reader for each."""

    number: int
    heading: str
    readers: tuple[Reader, ...]

    def hold(self, line: Line, cell: Value) -> None:
        """Let the row say that it cannot be used without what this column may give."""
        item = line.item
        lacking = [
            reader.field.target
            for reader in self.readers
            if getattr(item, reader.field.target) is None
            and reader.field.target not in item.problems
            and _says_something(reader, cell)
        ]
        if not lacking:
            return
        meanings = " or ".join(dict.fromkeys(reader.field.plain for reader in self.readers))
        sentence = (
            f"{address(line.sheet, line.row, self.number)} stands under '{self.heading}', which could mean "
            f"{meanings}: head it as what it is, or say so in a mapping"
        )
        for target in lacking:
            item.problems[target] = sentence


def doubts(listing: Listing, habits: Habits) -> Iterator[Doubt]:
    """The doubtful columns of a table."""
    for column in listing.columns:
        if column.is_open:
            named = (FIELD[name] for name in column.proposals if name in COUNTING)
            readers = tuple(Reader(field, column.unit, habits) for field in named)
            if readers:
                yield Doubt(column.number, column.heading, readers)


def _says_something(reader: Reader, cell: Value) -> bool:
    """Whether the cell could say what a verdict hangs on, if the column meant this field."""
    outcome = reader.read(cell)
    if outcome.value is None and not (outcome.told and outcome.told.problem):
        return False
    if isinstance(cell, Formula):
        if not cell.calculated:
            return True
        cell = cell.result
    field, text = reader.field, "" if cell is None else as_text(cell)
    if field.name in WORDED:
        return outcome.value is False or any(found.outcome == FAIL for found in found_unfit(text))
    if field.read in ("choice", "yes/no"):
        return outcome.value is not None
    return not (field.name in DEVIATIONS and (outcome.value == 0 or normal(text) in NO))
