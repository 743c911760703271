"""The marks: what is written beside each row of a schedule, and the summary sheet."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

from rigxl.items import WORST_FIRST
from rigxl.schedule import look
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.listing import Listing
from rigxl.schedule.report import remedies, told
from rigxl.schedule.summary import summary
from rigxl.units import to_unit
from rigxl.workbook.book import mark_book
from rigxl.workbook.guard import Limits
from rigxl.workbook.heights import height
from rigxl.workbook.marks import Block, Content, MarkColumn, NewSheet, Outcome, SheetMarks
from rigxl.workbook.values import column_letters

REASONS_WIDTH, REMEDY_WIDTH = 70, 45


def _columns(unit: str) -> tuple[MarkColumn, ...]:
    return (
        MarkColumn("rigxl verdict", 10, look.VERDICT),
        MarkColumn(f"rigxl force ({unit})", 11, look.NUMBER),
        MarkColumn("rigxl derate", 8, look.NUMBER),
        MarkColumn(f"rigxl required ({unit})", 11, look.NUMBER),
        MarkColumn("rigxl utilisation", 11, look.PERCENT),
        MarkColumn("rigxl reasons", REASONS_WIDTH, look.TEXT),
        MarkColumn("rigxl what would pass", REMEDY_WIDTH, look.TEXT),
    )


def _unit(rows: list[CheckedRow]) -> str:
    """The unit most of a sheet's ratings are written in, else of its loads, else kN."""
    for name in ("rated_load", "load"):
        said = Counter(row.judged.item.units[name] for row in rows if name in row.judged.item.units)
        if said:
            return said.most_common(1)[0][0]
    return "kN"


def _cells(row: CheckedRow, unit: str) -> tuple[Content, ...]:
    judged = row.judged
    return (
        judged.verdict,
        None if judged.force is None else to_unit(judged.force, unit),
        judged.derate,
        None if judged.required is None else to_unit(judged.required, unit),
        judged.utilisation,
        told(judged) + ("\nweakest item of its lift" if row.weakest else ""),
        remedies(judged) or None,
    )


def _shared(tables: list[tuple[Listing, list[CheckedRow]]]) -> dict[int, tuple[Content, ...]]:
    """By row of the sheet, the marks of rows that stand beside each other: the worst verdict, and whose."""
    found: dict[int, list[CheckedRow]] = defaultdict(list)
    for _, rows in tables:
        for row in rows:
            found[row.row].append(row)
    return {number: _beside(rows) for number, rows in found.items() if len(rows) > 1}


def _beside(rows: list[CheckedRow]) -> tuple[Content, ...]:
    worst = next(word for word in WORST_FIRST if any(row.verdict == word for row in rows))
    of = [f"{_columns_of(row.line.listing)}, {row.name}" for row in rows]
    reasons = [f"{name}: {row.verdict}\n{told(row.judged)}" for name, row in zip(of, rows, strict=True)]
    remedy = [f"{name}: {said}" for name, row in zip(of, rows, strict=True) if (said := remedies(row.judged))]
    return worst, None, None, None, None, "\n".join(reasons), "\n".join(remedy) or None


def _columns_of(table: Listing) -> str:
    return f"columns {column_letters(table.first_column)} to {column_letters(table.last_column)}"


def sheet_marks(checked: Checked, at: int | None = None) -> Iterator[SheetMarks]:
    """What to write on each sheet that holds checked rows."""
    by_table: dict[int, list[CheckedRow]] = defaultdict(list)
    for row in checked.rows:
        by_table[id(row.line.listing)].append(row)
    for sheet in checked.understood.sheets:
        tables = [(table, by_table[id(table)]) for table in sheet.tables if id(table) in by_table]
        if not tables:
            continue
        unit = _unit([row for _, rows in tables for row in rows])
        shared = _shared(tables) if len(tables) > 1 else {}
        blocks = []
        for table, rows in tables:
            cells = {row.row: shared.get(row.row) or _cells(row, unit) for row in rows}
            heights = dict(_heights(cells))
            blocks.append(Block(table.header_row, table.first_column, table.last_column, cells, heights))
        yield SheetMarks(sheet.name, _columns(unit), tuple(blocks), 0, look.ROWS, at)


def _heights(cells: dict[int, tuple[Content, ...]]) -> Iterator[tuple[int, float]]:
    """How high the rows must be that say more than one line."""
    for row, (*_, reasons, remedy) in cells.items():
        texts = (reasons, REASONS_WIDTH), (remedy, REMEDY_WIDTH)
        high = height((text, width) for text, width in texts if isinstance(text, str))
        if high > height(()):
            yield row, high


def mark_checked(
    checked: Checked,
    target: Path,
    *,
    in_place: bool = False,
    at: int | None = None,
    limits: Limits | None = None,
) -> Outcome:
    """Write the workbook with its marks to ``target``.

    Args:
        checked: What was checked.
        target: The marked workbook; the original itself only with ``in_place``.
        in_place: Mark the original, keeping a backup beside it.
        at: The column where the marks begin, from 1; chosen where nothing else is touched unless stated.
        limits: Limits of what is read and written.

    Raises:
        WorkbookError: The workbook may not be marked; the sentence says why.
    """
    marks = list(sheet_marks(checked, at))
    sheets: list[NewSheet] = [summary(checked)]
    return mark_book(checked.book.path, target, marks, sheets, limits=limits or Limits(), in_place=in_place)
