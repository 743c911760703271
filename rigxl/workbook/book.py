"""The public face of the workbook layer: read a workbook, mark a workbook."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rigxl.workbook import cells, layout
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.package import SheetPart, Workbook, open_package, read_file
from rigxl.workbook.reader import Reader
from rigxl.workbook.values import Formula

__all__ = ["Book", "Sheet", "read_book"]

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
    reader = Reader(cells.typing_of(workbook), Budget(limits))
    sheets = tuple(
        _read_sheet(workbook, sheet, reader) for sheet in workbook.sheets if sheet.kind == "worksheet"
    )
    return Book(
        path,
        hashlib.sha256(data).hexdigest(),
        workbook.kind,
        workbook.date_1904,
        sheets,
        workbook.names(),
        _warnings(workbook, sheets),
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


def _warnings(workbook: Workbook, sheets: tuple[Sheet, ...]) -> tuple[str, ...]:
    """What a person should know of the whole workbook before trusting its results."""
    if cells.asks_for_calculation(workbook) and any(
        isinstance(value, Formula) and value.calculated
        for sheet in sheets
        for row in sheet.rows
        for value in row.cells.values()
    ):
        return (
            "the workbook asks to be calculated when it is opened, so its stored results may be out of date: "
            "open it, let it calculate and save it",
        )
    return ()
