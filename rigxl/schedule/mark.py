"""The marks: what is written beside each row of a schedule, and the summary sheet.

Colour never carries the meaning alone: the word is in its own column, failing rows are darker and bold,
held rows lighter and slanted, so that they differ on grey paper too.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

from rigxl.items import FAIL, HOLD, PASS
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.report import remedies, told
from rigxl.schedule.summary import summary
from rigxl.units import to_unit
from rigxl.workbook.book import mark_book
from rigxl.workbook.guard import Limits
from rigxl.workbook.marks import Block, Content, Look, MarkColumn, NewSheet, Outcome, SheetMarks

ROWS_LOOK = {
    FAIL: Look(fill="F4B69C", bold=True),
    HOLD: Look(fill="FFF3C4", italic=True),
}


def _columns(unit: str) -> tuple[MarkColumn, ...]:
    number = Look(border=True, number_format="0.00")
    text = Look(border=True, wrap=True)
    return (
        MarkColumn("rigxl verdict", 9, Look(border=True, bold=True, centred=True)),
        MarkColumn(f"rigxl force ({unit})", 11, number),
        MarkColumn("rigxl derate", 8, number),
        MarkColumn(f"rigxl required ({unit})", 11, number),
        MarkColumn("rigxl utilisation", 11, Look(border=True, number_format="0%")),
        MarkColumn("rigxl reasons", 70, text),
        MarkColumn("rigxl what would pass", 45, text),
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


def sheet_marks(checked: Checked, at: int | None = None) -> Iterator[SheetMarks]:
    """What to write on each sheet that holds checked rows."""
    by_sheet: dict[str, list[CheckedRow]] = defaultdict(list)
    for row in checked.rows:
        by_sheet[row.sheet].append(row)
    for sheet in checked.understood.sheets:
        rows = by_sheet.get(sheet.name)
        if not rows:
            continue
        unit = _unit(rows)
        blocks = []
        for listing in sheet.tables:
            cells = {row.row: _cells(row, unit) for row in rows if row.line.listing is listing}
            if cells:
                blocks.append(Block(listing.header_row, listing.first_column, listing.last_column, cells))
        yield SheetMarks(sheet.name, _columns(unit), tuple(blocks), 0, ROWS_LOOK, at)


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
