"""What changed, as a new workbook: a sheet each for changes, rows added, rows removed, criteria.

Nothing rests on colour: what changed stands in words, and a verdict that changed is bold on a fill too.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from rigxl.changes.compare import Changed, Compared
from rigxl.changes.rows import ORDER, Entry
from rigxl.changes.told import TABLES, counted, like, place, verdict, why
from rigxl.changes.values import shown
from rigxl.errors import WorkbookError
from rigxl.schedule.fields import FIELD
from rigxl.schedule.report import CAUTIONS, told
from rigxl.templates.style import GROUP, HEAD, look, new_book, print_set_up, save, widths
from rigxl.terminal import escaped
from rigxl.workbook.heights import height
from rigxl.workbook.save import save as put_in_place
from rigxl.workbook.values import column_letters

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

NAMES = ("rigxl changes", "rigxl added", "rigxl removed", "rigxl criteria")
"""So that a check of the folder they stand in leaves them alone."""
A4 = 9

CHANGES = {
    "Table": 11, "Item": 14, "Lift": 18, "Old row": 14, "New row": 14, "Input": 18, "Old value": 17,
    "New value": 17, "Verdict": 15, "Why": 62,
}  # fmt: skip
ALONE = {
    "Table": 11, "Item": 14, "Lift": 18, "Kind": 13, "Row": 14, "Verdict": 10, "What it says": 52,
    "Reasons": 52, "Note": 22,
}  # fmt: skip
VERDICT = 1 + list(CHANGES).index("Verdict")
CRITERIA = {"What": 30, "Old value": 30, "New value": 30, "Old chosen by": 40, "New chosen by": 40}


class Line(NamedTuple):
    """The values of a line, and the column that is emphasised, counted from 1; 0 for none."""

    values: Sequence[Any]
    strong: int = 0


def write(compared: Compared, path: Path) -> None:
    """Write the workbook; a crash leaves no half of it.

    Raises:
        WorkbookError: It cannot be written there.
    """
    book = new_book("What changed between two versions of a schedule", NAMES)
    changes, added, removed, criteria = book.worksheets
    _table(changes, _about(compared), CHANGES, list(_changes(compared.changed)), "No row changed.")
    _table(
        added, ["Rows that only the new version has"], ALONE, list(_alone(compared, compared.added)), "None."
    )
    _table(
        removed,
        ["Rows that only the old version has"],
        ALONE,
        list(_alone(compared, compared.removed)),
        "None.",
    )
    settings = [(one.name, one.old, one.new, one.old_by, one.new_by) for one in compared.basis]
    _table(
        criteria,
        ["Criteria, waivers and goods-in boxes that changed"],
        CRITERIA,
        [Line(line) for line in settings],
        "None.",
    )
    put_in_place(path, lambda file: save(book, file), _prove)


def _prove(path: Path) -> None:
    with zipfile.ZipFile(path) as written:
        if written.testzip() is not None:
            raise WorkbookError("cannot-save", "what was written cannot be read back")


def _about(compared: Compared) -> list[str]:
    versions = [
        f"{word}: {one.book.path.name}, judged on {one.criteria.judged_on} by {one.criteria.title}; "
        f"{', '.join(f'{count} {name}' for name, count in one.counts.items())}; SHA-256 {one.book.sha256}"
        for word, one in (("Old", compared.old), ("New", compared.new))
    ]
    return ["What changed", *versions, f"In all: {counted(compared)}.", *compared.said, *CAUTIONS]


def _changes(changed: Iterable[Changed]) -> Iterator[Line]:
    """A line for each input that changed; the verdict and why stand in the first of a row."""
    for one in changed:
        start = (TABLES[one.new.table], one.new.name, one.new.line.item.lift)
        rows = place(one.old), place(one.new)
        inputs = [(each.plain, each.old, each.new) for each in one.inputs] or [("", "", "")]
        ends = [(verdict(one), "\n".join(why(one))), *[("", "")] * (len(inputs) - 1)]
        for each, end in zip(inputs, ends, strict=True):
            yield Line((*start, *rows, *each, *end), VERDICT if one.verdict_changed and end[0] else 0)


def _alone(compared: Compared, entries: Iterable[Entry]) -> Iterator[Line]:
    for entry in entries:
        item = entry.line.item
        says = "; ".join(
            f"{FIELD[name].plain} {shown(name, entry.values[name], entry.unit(name))}"
            for name in sorted(entry.values, key=lambda name: ORDER[name])
        )
        reasons = told(entry.checked.judged) if entry.checked else ""
        verdict_word = entry.verdict or "–"
        start = (TABLES[entry.table], entry.name, item.lift, item.kind, place(entry), verdict_word)
        yield Line((*start, says, reasons, like(compared, entry)))


def _table(
    sheet: Worksheet,
    over: Sequence[str],
    columns: dict[str, int],
    lines: Sequence[Line],
    none: str,
) -> None:
    """Sentences over a table with a filter, wide enough to read and set up for print."""
    first, *others = over
    wide = sum(columns.values())
    look(sheet.cell(1, 1, first), size=16, bold=True, edge=False)
    sheet.row_dimensions[1].height = 26
    for row, sentence in enumerate(others, 2):
        look(sheet.cell(row, 1, escaped(sentence)), edge=False, wrap=True)
        sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=len(columns))
        sheet.row_dimensions[row].height = height([(sentence, wide)])
    head = len(over) + 2
    for column, (name, width) in enumerate(columns.items(), 1):
        look(sheet.cell(head, column, name), fill=HEAD, bold=True, colour="FFFFFF", across="left", wrap=True)
        widths(sheet, {column_letters(column): width})
    sheet.row_dimensions[head].height = 22
    for row, line in enumerate(lines, head + 1):
        _line(sheet, row, line, list(columns.values()))
    if not lines:
        look(sheet.cell(head + 1, 1, none), edge=False)
    else:
        sheet.auto_filter.ref = f"A{head}:{column_letters(len(columns))}{head + len(lines)}"
    sheet.freeze_panes = f"C{head + 1}"
    print_set_up(sheet, titles=f"{head}:{head}", paper=A4)


def _line(sheet: Worksheet, row: int, line: Line, room: Sequence[int]) -> None:
    for column, value in enumerate(line.values, 1):
        strong = column == line.strong
        cell = sheet.cell(row, column, escaped(value))
        look(cell, wrap=True, across="left", bold=strong, fill=GROUP if strong else "")
    texts = [
        (None if each is None else str(each), wide) for each, wide in zip(line.values, room, strict=True)
    ]
    sheet.row_dimensions[row].height = max(18, height(texts))
