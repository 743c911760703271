"""Read and mark many files in one process, and tell for each what came of it. Runs in a child process."""

from __future__ import annotations

import hashlib
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook.book import Book, mark_book
from rigxl.workbook.contents import Sheet
from rigxl.workbook.foreign import read_here
from rigxl.workbook.guard import Limits
from rigxl.workbook.marks import (
    Block,
    Content,
    Link,
    Look,
    MarkColumn,
    NewCell,
    NewSheet,
    Outcome,
    SheetMarks,
)
from tests.workbook.inspection import proof

RED, GREEN = Look(fill="F8CBAD"), Look(fill="C6E0B4")
COLUMNS = (
    MarkColumn("rigxl verdict", 10, Look(bold=True)),
    MarkColumn("rigxl ratio", 8),
    MarkColumn("rigxl reason", 40, Look(wrap=True)),
)
SUMMARY = NewSheet(
    "Check",
    (12, 30),
    ((NewCell("Checked", Look(bold=True)), NewCell("5 < 6 & 'so'")), (NewCell(2.5), NewCell(None))),
)
MOST_ROWS = 2_000
SMALL = 2_000_000


class Trial(NamedTuple):
    """What came of one file: the code and sentence of a refusal, ``crash`` and what it was, or nothing.

    The code ``separate`` says that the marks went into a report workbook of their own.
    """

    name: str
    code: str = ""
    sentence: str = ""
    untouched: bool = True
    marked: bool = False
    warnings: tuple[str, ...] = ()
    unsound: str = ""


def marks_for(book: Book) -> list[SheetMarks]:
    """Marks beside every row of every sheet that can be seen: the first filled row is taken for headings."""
    return [_sheet_marks(sheet) for sheet in book.sheets if sheet.rows and sheet.state == "visible"]


def _sheet_marks(sheet: Sheet) -> SheetMarks:
    rows = sheet.rows[:MOST_ROWS]
    used = [column for row in sheet.rows for column in row.cells]
    half = len(rows) // 2 if len(rows) > 8 else len(rows)
    blocks = tuple(
        Block(part[0].number, min(used), max(used), {row.number: _contents(row.number) for row in part[1:]})
        for part in (rows[:half], rows[half:])
        if part
    )
    return SheetMarks(sheet.name, COLUMNS, blocks, 0, {"FAIL": RED, "PASS": GREEN})


def _contents(row: int) -> tuple[Content, ...]:
    """Marks of every kind in turn: words, numbers, yes or no, nothing, links, text like a formula."""
    word = ("PASS", "FAIL", "HOLD")[row % 3]
    number = (row / 7, None, row % 2 == 0, float(row))[row % 4]
    reason: Content = f"=row {row} & <so> it is"
    if row % 5 == 0:
        reason = Link("see the sheet", SUMMARY.name, "A1")
    return word, number, reason


def mark(source: Path, target: Path, limits: Limits) -> Outcome:
    """Mark every visible sheet of a workbook and add a sheet."""
    book = read_here(source, limits)
    return mark_book(source, target, marks_for(book), [SUMMARY], limits=limits)


def attempt(source: Path, target: Path | None, limits: Limits) -> Trial:
    """Read one file, mark it if there is a target, and see that it stays as it is."""
    before = hashlib.sha256(source.read_bytes()).digest()
    code = sentence = ""
    warnings: tuple[str, ...] = ()
    try:
        book = read_here(source, limits)
        if target is not None:
            outcome = mark_book(source, target, marks_for(book), [SUMMARY], limits=limits)
            warnings = outcome.warnings
            if outcome.separate:
                code, sentence = "separate", warnings[0]
    except WorkbookError as refusal:
        code, sentence = refusal.code, refusal.sentence
    except BaseException as failure:
        code, sentence = "crash", f"{type(failure).__name__}: {failure}"
    untouched = hashlib.sha256(source.read_bytes()).digest() == before
    return Trial(source.name, code, sentence, untouched, target is not None and not code, warnings)


def attempts(sources: Sequence[Path], folder: Path, limits: Limits) -> list[Trial]:
    """The trials of many files, the marked copies proved unless they are too large for it."""
    trials = []
    for source in sources:
        trial = attempt(source, folder / source.name, limits)
        if trial.marked and _unpacked(source) < SMALL:
            trial = trial._replace(unsound=proof(source, folder / source.name))
        trials.append(trial)
    return trials


def _unpacked(path: Path) -> int:
    """How many bytes the parts of a workbook have together."""
    with zipfile.ZipFile(path) as package:
        return sum(info.file_size for info in package.infolist())
