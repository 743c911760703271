"""Results stored with the formulas of a sample, as a spreadsheet program would have left them."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple
from xml.sax.saxutils import escape

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar
from rigxl.formulas.place import Where
from rigxl.formulas.working import Working
from rigxl.workbook.book import read_book
from rigxl.workbook.values import Formula, cell_name

_CELL = re.compile(rb'<c r="([A-Z]+[0-9]+)"([^>]*)><f>(.*?)</f><v ?/?>(?:</v>)?</c>', re.DOTALL)


class Stored(NamedTuple):
    """A result that was stored and is out of date."""

    value: float


def with_results(path: Path, stale: Mapping[str, Mapping[str, float]]) -> None:
    """Store with every formula of a workbook what it gives.

    Args:
        path: The workbook.
        stale: By sheet and address, results that are stored in place of what the formula gives.
    """
    results = _results(path)
    with zipfile.ZipFile(path) as source:
        parts = [(part, source.read(part)) for part in source.infolist()]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for part, content in parts:
            number = re.fullmatch(r"xl/worksheets/sheet([0-9]+)\.xml", part.filename)
            if number:
                sheet, worked = results[int(number[1]) - 1]
                content = _stored(content, {**worked, **stale.get(sheet, {})})
            target.writestr(part, content, zipfile.ZIP_DEFLATED)


def _results(path: Path) -> list[tuple[str, dict[str, Scalar]]]:
    """What every formula gives, sheet by sheet in the order of the workbook."""
    book = read_book(path)
    working = Working(book)
    found = []
    for sheet in book.sheets:
        places = [
            Where(sheet.name, row.number, column)
            for row in sheet.rows
            for column, value in row.cells.items()
            if isinstance(value, Formula)
        ]
        found.append((sheet.name, {cell_name(*one[1:]): working.work(one).first for one in places}))
    return found


def _stored(content: bytes, results: Mapping[str, Scalar]) -> bytes:
    def cell(found: re.Match[bytes]) -> bytes:
        address, attributes, formula = found.groups()
        value = results[address.decode()]
        assert isinstance(value, str | float), f"{address.decode()} has no result to store"
        kind = b' t="e"' if isinstance(value, CellError) else b' t="str"' if isinstance(value, str) else b""
        shown = escape(value) if isinstance(value, str) else repr(value)
        return b'<c r="%s"%s%s><f>%s</f><v>%s</v></c>' % (address, attributes, kind, formula, shown.encode())

    return _CELL.sub(cell, content)
