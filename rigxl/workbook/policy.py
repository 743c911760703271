"""Where marks go, what of a sheet is ours from an earlier run, and how our sheets are named."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import LAST_COLUMN
from rigxl.workbook.marks import NoPlaceError, SheetMarks
from rigxl.workbook.values import Value, cell_name, column_letters

if TYPE_CHECKING:
    from rigxl.workbook.rows import RowIndex
    from rigxl.workbook.touched import Touch

HEADING = "rigxl "
_NOT_IN_A_NAME = re.compile(r"[\[\]:*?/\\\x00-\x1f]")
_NAME_AT_MOST = 31


def is_ours(heading: str) -> bool:
    """Is this the heading of a column that rigxl added?

    >>> is_ours("rigxl verdict"), is_ours("Rating")
    (True, False)
    """
    return heading.startswith(HEADING)


class Place(NamedTuple):
    """Where the marks of a sheet go, and what a person should be told of it."""

    first: int
    warnings: tuple[str, ...]


class Earlier(NamedTuple):
    """The marks of an earlier run: for each of our columns the stretches of rows that are ours."""

    stretches: dict[int, list[range]]

    def holds(self, row: int, column: int) -> bool:
        """Is this cell ours?"""
        return any(row in stretch for stretch in self.stretches.get(column, ()))


def earlier_marks(marks: SheetMarks, headings: dict[int, dict[int, Value]], last_row: int) -> Earlier:
    """The columns under our headings, each down to the next heading row or the end of the sheet.

    Args:
        marks: The new marks, which say where the heading rows are.
        headings: The cells of those rows.
        last_row: The last row of the sheet.
    """
    starts = sorted({block.header_row for block in marks.blocks})
    stretches: dict[int, list[range]] = {}
    for at, row in enumerate(starts):
        end = starts[at + 1] if at + 1 < len(starts) else last_row + 1
        for column, value in headings.get(row, {}).items():
            if isinstance(value, str) and is_ours(value):
                stretches.setdefault(column, []).append(range(row, end))
    return Earlier(stretches)


def written_rows(marks: SheetMarks) -> set[int]:
    """Every row that gets a cell of ours."""
    return {row for block in marks.blocks for row in (block.header_row, *block.rows)}


def choose(marks: SheetMarks, rows: RowIndex, touches: Sequence[Touch], earlier: Earlier) -> Place:
    """The first of neighbouring columns that can take the marks.

    They lie right of every block. A column is left alone when a cell in it holds anything, or when a
    formula, name, table, pivot table, chart, note, filter or merge reaches into it; while there is a choice,
    also when a validation, a format or the print area does.
    """
    count, written = len(marks.columns), written_rows(marks)
    if marks.at is not None:
        return _forced(marks, marks.at, rows, touches, earlier)
    start = max(block.last_column for block in marks.blocks) + 1
    used = _used_columns(rows, start, written, earlier)
    firm = used | _columns(touches, start, written, firm_only=True)
    soft = firm | _columns(touches, start, written, firm_only=False)
    candidates = range(start, LAST_COLUMN - count + 2)
    ours = sorted(earlier.stretches)
    if ours and ours == list(range(ours[0], ours[0] + count)) and ours[0] in candidates:
        candidates_in_order: Iterable[int] = (ours[0], *candidates)
    else:
        candidates_in_order = candidates
    for taken in (soft, firm):
        for first in candidates_in_order:
            if taken.isdisjoint(range(first, first + count)):
                return Place(first, _said(marks, first, touches, written))
    raise NoPlaceError(
        f"sheet {marks.sheet} has no {count} neighbouring columns right of {column_letters(start - 1)} "
        "that nothing else relies on"
    )


def _used_columns(rows: RowIndex, start: int, written: set[int], earlier: Earlier) -> set[int]:
    """The columns from ``start`` on in which a cell holds anything, or is styled in a row we write to."""
    used: set[int] = set()
    for row in rows:
        if rows.last_column(row) < start:
            continue
        for cell in rows.cells(row):
            if (
                cell.column >= start
                and (cell.filled or row.number in written)
                and (cell.formula or not earlier.holds(row.number, cell.column))
            ):
                used.add(cell.column)
    return used


def _columns(touches: Sequence[Touch], start: int, rows: set[int], firm_only: bool) -> set[int]:
    """The columns from ``start`` on that touches reach into."""
    found: set[int] = set()
    for touch in touches:
        if firm_only and not touch.firm:
            continue
        first = max(start, touch.area.first_column)
        if first <= touch.area.last_column and touch.meets(first, rows):
            found.update(range(first, touch.area.last_column + 1))
    return found


def _said(marks: SheetMarks, first: int, touches: Sequence[Touch], rows: set[int]) -> tuple[str, ...]:
    """Warnings about what the chosen columns lie in, or do not lie in."""
    said = []
    columns = range(first, first + len(marks.columns))
    where = f"{column_letters(columns[0])} to {column_letters(columns[-1])} of sheet {marks.sheet}"
    reasons = {touch.why for touch in touches for column in columns if touch.meets(column, rows)}
    if reasons:
        said.append(f"the marks in columns {where} lie within {', '.join(sorted(reasons))}")
    if "the print area" in {touch.why for touch in touches} - reasons:
        said.append(f"the marks in columns {where} lie outside the print area, which was left as it is")
    return tuple(said)


def _forced(
    marks: SheetMarks, first: int, rows: RowIndex, touches: Sequence[Touch], earlier: Earlier
) -> Place:
    """The columns that the caller wants, unless something of others stands in a cell we would write."""
    columns = range(first, first + len(marks.columns))
    if not 1 <= first <= LAST_COLUMN - len(columns) + 1:
        raise WorkbookError("no-such-column", f"sheet {marks.sheet} has no column number {columns[-1]}")
    written = written_rows(marks)
    for number in sorted(written):
        row = rows.get(number)
        for cell in rows.cells(row) if row else ():
            if (
                cell.column in columns
                and cell.filled
                and (cell.formula or not earlier.holds(number, cell.column))
            ):
                raise WorkbookError(
                    "column-taken",
                    f"{marks.sheet}!{cell_name(number, cell.column)} holds something of others; "
                    "name other columns for the marks, or none to let rigxl choose",
                )
    for touch in touches:
        if touch.firm and touch.why.startswith(("the table", "a pivot", "merged")):
            area = touch.area
            if any(area.first_column <= column <= area.last_column for column in columns) and any(
                area.first_row <= number <= area.last_row for number in written
            ):
                raise WorkbookError(
                    "column-taken",
                    f"column {column_letters(first)} of sheet {marks.sheet} lies in {touch.why}; "
                    "name other columns for the marks, or none to let rigxl choose",
                )
    return Place(first, _said(marks, first, touches, written))


def sheet_name(wanted: str, taken: Iterable[str]) -> str:
    """A name for a new sheet that the format allows and no sheet has.

    >>> sheet_name("Check: all", ["check  all"]), sheet_name("Check", ["CHECK"])
    ('Check all', 'Check (2)')
    """
    name = " ".join(_NOT_IN_A_NAME.sub(" ", wanted).strip("'").split())[:_NAME_AT_MOST] or "Sheet"
    known = {other.lower() for other in taken}
    free, number = name, 1
    while free.lower() in known:
        number += 1
        ending = f" ({number})"
        free = name[: _NAME_AT_MOST - len(ending)] + ending
    return free
