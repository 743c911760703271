"""The public face of the workbook layer: read a workbook, mark a workbook."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from rigxl.errors import WorkbookError
from rigxl.workbook import cells, layout
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.marks import NewSheet, NoPlaceError, Outcome, SheetMarks
from rigxl.workbook.package import SheetPart, Workbook, open_package, read_file
from rigxl.workbook.reader import Reader
from rigxl.workbook.values import Formula

__all__ = ["Book", "Sheet", "mark_book", "read_book"]

STANDARD = Limits()


def read_book(path: Path, limits: Limits = STANDARD) -> Book:
    """Read a workbook: every sheet, every cell with its true type.

    Args:
        path: An .xlsx, .xlsm, .xltx or .xltm file, or another format that can only be read.
        limits: How large it may be.

    Raises WorkbookError for a file that cannot be read truly.
    """
    data = read_file(path, limits)
    package = open_package(data, path.name, limits)
    if package is None:
        from rigxl.workbook.foreign import read_foreign

        return read_foreign(path, limits)
    workbook = Workbook(package)
    typing = cells.typing_of(workbook)
    reader = Reader(typing, Budget(limits))
    sheets = tuple(
        _read_sheet(workbook, sheet, reader) for sheet in workbook.sheets if sheet.kind == "worksheet"
    )
    if typing.zeros and not typing.others and not cells.shows_calculation(workbook):
        _doubt_zeros(sheets)
    return Book(
        path,
        hashlib.sha256(data).hexdigest(),
        workbook.kind,
        workbook.date_1904,
        sheets,
        workbook.names(),
        _warnings(workbook, typing),
    )


@contextmanager
def _collector_paused() -> Iterator[None]:
    """Keep the collector from walking millions of new cells again and again; none of them forms a cycle."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()


def _read_sheet(workbook: Workbook, sheet: SheetPart, reader: Reader) -> Sheet:
    """One worksheet with its rows and what stands around them."""
    frame = frame_of(workbook.package.text(sheet.part).text, sheet.part)
    tables = layout.tables(workbook.package, sheet)
    return Sheet(
        sheet.name,
        sheet.state,
        reader.rows(frame, sheet.name),
        layout.merges(frame),
        tuple(table for table, _ in tables),
        layout.filtered(frame, [tree for _, tree in tables]),
        layout.protected(frame),
        layout.hidden_columns(frame),
    )


def _doubt_zeros(sheets: tuple[Sheet, ...]) -> None:
    """Take every result for never calculated: all are 0, and nothing shows that a program worked them out."""
    for sheet in sheets:
        for row in sheet.rows:
            for column, value in row.cells.items():
                if isinstance(value, Formula):
                    row.cells[column] = value._replace(calculated=False)


def _warnings(workbook: Workbook, typing: cells.Typing) -> tuple[str, ...]:
    """What a person should know of the whole workbook before trusting its results."""
    used = typing.others + (0 if typing.zero_is_placeholder else typing.zeros)
    if used and cells.asks_for_calculation(workbook):
        return (
            "the workbook asks to be calculated when it is opened, so its stored results may be out of date: "
            "open it, let it calculate and save it",
        )
    return ()


def mark_book(
    source: Path,
    target: Path,
    marks: Sequence[SheetMarks],
    new_sheets: Sequence[NewSheet],
    *,
    limits: Limits = STANDARD,
    in_place: bool = False,
) -> Outcome:
    """Mark a workbook, losing nothing that others put in it.

    A source that cannot be marked without loss, or is of a format that can only be read, gets a report
    workbook of its own at ``target`` instead.

    Args:
        source: The workbook.
        target: The file to write; the source itself only with ``in_place``, which keeps a backup beside it.
        marks: The columns to add, by sheet.
        new_sheets: Whole sheets to add.
        limits: How large the source may be.
        in_place: Allow the target to be the source.

    Raises WorkbookError for a source that must not be altered or cannot be read, and when the written file
    does not pass its proof.
    """
    from rigxl.workbook import mark, save, separate
    from rigxl.workbook.rewrite import check_suffix, is_itself

    same = is_itself(source, target, in_place)
    package = open_package(read_file(source, limits), source.name, limits)
    reason = f"{source.name} is in a format that can be read but not marked"
    if package is not None:
        workbook = Workbook(package)
        check_suffix(workbook, source, target)
        try:
            marking = mark.mark(workbook, marks, new_sheets)
        except NoPlaceError as error:
            reason = str(error)
        else:
            if same:
                save.back_up(source)
            changed = mark.write(workbook, marking, target)
            return Outcome(marking.placed, tuple(marking.warnings), changed)
    if same:
        raise WorkbookError("cannot-mark", f"{reason}: name another file for the report")
    return separate.write_report(target, source.name, reason, marks, new_sheets)
