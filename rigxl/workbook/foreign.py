"""Workbooks of other kinds, read only: .csv, .xls, .xlsb and .ods.

What they are is told by their content, not by their name. An error is never read as a blank: where the
reader of a kind drops errors, they are looked up in the file (see ``binary``) and laid over its values.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from rigxl.errors import WorkbookError
from rigxl.workbook import guard
from rigxl.workbook.binary import Layer, Layers, new_layers, old_layers
from rigxl.workbook.book import read_book
from rigxl.workbook.container import LOCAL
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.delimited import read_delimited
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.ole import streams
from rigxl.workbook.opendocument import read_content
from rigxl.workbook.opennames import read_names
from rigxl.workbook.package import Package, open_package, read_file
from rigxl.workbook.sandbox import apart
from rigxl.workbook.values import Area, Formula, Plain, Row, Value

if TYPE_CHECKING:
    from python_calamine import CalamineSheet

Found: TypeAlias = tuple[list[Sheet], bool, list[str]]
"""The sheets, whether dates count from 1904, and what a person should be told."""

STANDARD = Limits()


def kind_of(path: Path, data: bytes, limits: Limits) -> str:
    """What a file is: xlsx (with its kin), xls, xlsb, ods or csv.

    Raises:
        WorkbookError: It is none of these (``not-a-workbook``), or locked (``encrypted``).
    """
    if open_package(data, path.name, limits) is not None:
        return "xlsx"
    if data.startswith(guard.OLE2):
        return "xls"
    if data.startswith(LOCAL):
        return "xlsb" if Package(data, limits).has("xl/workbook.bin") else "ods"
    return "csv"


def read_foreign(path: Path, limits: Limits = STANDARD) -> Book:
    """A workbook that is not .xlsx. The binary kinds and .ods are read in a child process.

    Args:
        path: The file.
        limits: How large it may be, and how long and with how much memory the child may work.

    Raises:
        WorkbookError: The file cannot be read truly; nothing of it is used.
    """
    data = read_file(path, limits)
    if kind_of(path, data, limits) == "csv":
        return read_here(path, limits)
    return apart(read_here, limits.seconds, limits.memory_bytes, path, limits)


def read_here(path: Path, limits: Limits) -> Book:
    """A workbook of any kind, read in this process."""
    data = read_file(path, limits)
    kind = kind_of(path, data, limits)
    if kind == "xlsx":
        return read_book(path, limits)
    reader = {"csv": _read_csv, "ods": _read_ods, "xls": _read_xls, "xlsb": _read_xlsb}[kind]
    sheets, date_1904, warnings = reader(path, data, limits)
    digest = hashlib.sha256(data).hexdigest()
    names = read_names(Package(data, limits).raw("content.xml")) if kind == "ods" else {}
    return Book(path, digest, kind, date_1904, tuple(sheets), names, tuple(warnings))


def _read_csv(path: Path, data: bytes, limits: Limits) -> Found:
    rows, warnings = read_delimited(data, Budget(limits))
    return [Sheet(path.stem[:31], "visible", rows)], False, warnings


def _read_ods(_: Path, data: bytes, limits: Limits) -> Found:
    package = Package(data, limits)
    if package.has("META-INF/manifest.xml") and b"encryption-data" in package.raw("META-INF/manifest.xml"):
        raise WorkbookError("encrypted", "the workbook is locked with a password; save it without one")
    sheets = [
        Sheet(
            sheet.name,
            sheet.state,
            sheet.rows,
            merges=tuple(sheet.merges),
            filtered=sheet.filtered,
            protected=sheet.protected,
            hidden_columns=frozenset(sheet.hidden_columns),
        )
        for sheet in read_content(package.raw("content.xml"), Budget(limits))
    ]
    return sheets, False, []


def _read_xls(_: Path, data: bytes, limits: Limits) -> Found:
    inside = streams(data)
    book = inside.get("Workbook") or inside.get("Book")
    if book is None:
        raise WorkbookError("not-a-workbook", "the file is an old office document but not a workbook")
    return _calamine(data, old_layers(book), limits)


def _read_xlsb(_: Path, data: bytes, limits: Limits) -> Found:
    package = Package(data, limits)
    return _calamine(data, new_layers(package.has, package.raw), limits)


def _calamine(data: bytes, layers: Layers, limits: Limits) -> Found:
    """The sheets as calamine reads them, with the errors and formulas it leaves out laid over them."""
    from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

    sheets = []
    budget = Budget(limits)
    try:
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(data))
        listed = workbook.sheets_metadata
        if len(listed) != len(layers.sheets):
            raise WorkbookError("damaged", "the workbook lists its sheets in two ways that do not agree")
        results = any(any(layer.formulas.values()) for layer in layers.sheets)
        for index, (about, layer) in enumerate(zip(listed, layers.sheets, strict=True)):
            if about.typ != SheetTypeEnum.WorkSheet:
                continue
            read = workbook.get_sheet_by_index(index)
            rows = _rows(read, layer, results)
            budget.spend(sum(len(row.cells) for row in rows), about.name)
            merges = [
                Area(top + 1, left + 1, bottom + 1, right + 1)
                for (top, left), (bottom, right) in read.merged_cell_ranges or []
            ]
            sheets.append(
                Sheet(
                    about.name,
                    "visible" if about.visible == SheetVisibleEnum.Visible else "hidden",
                    rows,
                    merges=tuple(merges),
                    filtered=layer.filtered,
                    protected=layer.protected,
                    hidden_columns=frozenset(layer.hidden_columns),
                )
            )
    except CalamineError as error:
        raise WorkbookError("damaged", f"the workbook cannot be read: {error}") from None
    warnings = ["the results of formulas were read as they were last saved; the formulas themselves were not"]
    return sheets, layers.date_1904, warnings if any(layer.formulas for layer in layers.sheets) else []


def _rows(read: CalamineSheet, layer: Layer, results: bool) -> list[Row]:
    """The filled rows of one sheet. ``results`` says whether any formula of the workbook holds a result."""
    first_row, first_column = read.start or (0, 0)
    cells: dict[int, dict[int, Value]] = {}
    for number, line in enumerate(read.to_python(skip_empty_area=True), start=first_row + 1):
        found: dict[int, Value] = {
            column: _plain(value) for column, value in enumerate(line, start=first_column + 1) if value != ""
        }
        if found:
            cells[number] = found
    for (row, column), error in layer.errors.items():
        cells.setdefault(row, {})[column] = error
    for (row, column), stored in layer.formulas.items():
        found = cells.setdefault(row, {})
        value = found.get(column)
        plain = None if isinstance(value, Formula) else value
        found[column] = Formula("", plain, stored or results)
    return [Row(number, cells[number], number in layer.hidden_rows) for number in sorted(cells)]


def _plain(value: object) -> Plain:
    """A value of calamine as one of ours: spans of time as days, the way the sheet stores them."""
    if isinstance(value, bool | str | dt.datetime | dt.time):
        return value
    if isinstance(value, dt.date):
        return dt.datetime(value.year, value.month, value.day)
    if isinstance(value, dt.timedelta):
        return value / dt.timedelta(days=1)
    return float(value)  # type: ignore[arg-type]
