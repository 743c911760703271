"""Where each row of a sheet stands in its bytes, and each cell of a row."""

from __future__ import annotations

import re
from array import array
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.areas import column_in, row_number
from rigxl.workbook.frame import Frame
from rigxl.workbook.guard import LAST_ROW
from rigxl.workbook.values import column_number

_ROW = re.compile(rb'\s*(<row r="([1-9][0-9]{0,6})"(?: [A-Za-z0-9:]+="[^"<&]*")*+ ?(/?)>)')
_CELL = re.compile(
    rb'\s*(<c r="([A-Z]{1,3})[1-9][0-9]{0,6}"((?: (?:s|t|cm|vm|ph)="[A-Za-z0-9]*")*+) ?'
    rb"(?:/>|>((?:<f[ />]|<v>|<is>)(?:[^<]|<(?!/c>|c ))*+)?</c>))"
)
_LAST = re.compile(rb'<c r="([A-Z]{1,3})[1-9]')
_NUMBERED = re.compile(rb"\sr\s*=")
_STYLE = re.compile(rb' s="([0-9]+)"')


class CellSpan(NamedTuple):
    """One cell: where it begins and ends, its style, and whether it holds a value or a formula."""

    column: int
    start: int
    end: int
    style: str
    filled: bool
    formula: bool


class RowSpan(NamedTuple):
    """One row: its tag from ``start`` to ``opened``, its cells up to ``closing`` (equal when it has none)."""

    number: int
    start: int
    opened: int
    closing: int
    end: int


class RowIndex:
    """The rows of a sheet in the order of the file, by offsets; small enough for a million rows.

    Args:
        frame: The sheet.
        part: Its name, for messages.
    """

    def __init__(self, frame: Frame, part: str) -> None:
        self.frame = frame
        self.part = part
        self._cells: dict[int, list[CellSpan]] | None = None
        self._numbers, self._offsets = array("q"), array("q")
        self._at: dict[int, int] | None = None
        if not (frame.plain and self._by_text()):
            self._by_parser()

    def _add(self, number: int, start: int, opened: int, closing: int, end: int) -> None:
        self._numbers.append(number)
        self._offsets.extend((start, opened, closing, end))

    def _by_text(self) -> bool:
        """Find the rows by their tags; say whether that could be done."""
        text, at, end = self.frame.text, self.frame.first, self.frame.last
        if text.find(b"<!", at, end) >= 0 or text.find(b"<?", at, end) >= 0:
            return False
        match, find, before = _ROW.match, text.find, 0
        numbers, offsets = array("q"), array("q")
        while found := match(text, at, end):
            number, opened = int(found[2]), found.end()
            if not before < number <= LAST_ROW:
                return False
            before = number
            if found[3]:
                at = closing = opened
            else:
                closing = find(b"</row>", opened, end)
                if closing < 0:
                    return False
                at = closing + 6
            numbers.append(number)
            offsets.extend((found.start(1), opened, closing, at))
        self._numbers, self._offsets = numbers, offsets
        # a row closed by "</row >" would swallow the next one
        return not text[at:end].strip() and text.count(b"<row", self.frame.first, end) == len(numbers)

    def _by_parser(self) -> None:
        """Find the rows, and all their cells, by the parser."""
        indexing = _Indexing(self.frame.text, self.part)
        self._cells = indexing.cells
        self._numbers, self._offsets = array("q"), array("q")
        for row in indexing.rows:
            self._numbers.append(row.number)
            self._offsets.extend(row[1:])
        self._at = {number: at for at, number in enumerate(self._numbers)}
        if any(one > next_one for one, next_one in pairwise(self._numbers)):
            raise WorkbookError(
                "damaged", f"{self.part} stores its rows out of order: open the workbook and save it again"
            )

    def __len__(self) -> int:
        return len(self._numbers)

    def __iter__(self) -> Iterator[RowSpan]:
        offsets = iter(self._offsets)
        return map(RowSpan, self._numbers, offsets, offsets, offsets, offsets)

    @property
    def numbers(self) -> Sequence[int]:
        """The numbers of the rows, in the order of the file."""
        return self._numbers

    def get(self, number: int) -> RowSpan | None:
        """The row of a number."""
        at = bisect_left(self._numbers, number) if self._at is None else self._at.get(number, -1)
        if not 0 <= at < len(self._numbers) or self._numbers[at] != number:
            return None
        return RowSpan(number, *self._offsets[4 * at : 4 * at + 4])

    @property
    def last_row(self) -> int:
        """The number of the last row; 0 when there is none."""
        return max(self._numbers, default=0)

    def alone(self, row: RowSpan) -> bytes:
        """A worksheet of this row only."""
        text = self.frame.text[row.start : row.end]
        tag = text[: row.opened - row.start]
        if not _NUMBERED.search(tag):
            name = tag[1:].split(None, 1)[0].rstrip(b"/>")
            text = text.replace(b"<" + name, b'<%s r="%d"' % (name, row.number), 1)
        return self.frame.alone(text)

    def last_column(self, row: RowSpan) -> int:
        """The column of a row's last cell; 0 when it has none."""
        if self._cells is not None:
            return max((cell.column for cell in self._cells[row.number]), default=0)
        column = last_column_by_text(self.frame.text, row.opened, row.closing)
        return column if column >= 0 else max((cell.column for cell in self.cells(row)), default=0)

    def cells(self, row: RowSpan) -> list[CellSpan]:
        """The cells of a row, from its ``opened`` on."""
        if self._cells is not None:
            return [cell for cell in self._cells[row.number] if cell.start >= row.opened]
        cells = cells_by_text(self.frame.text, row.opened, row.closing)
        if cells is not None:
            return cells
        alone = self.alone(row)
        shift = row.start - alone.index(self.frame.text[row.start : row.opened])
        parsed = _Indexing(alone, self.part).cells[row.number]
        return [cell._replace(start=cell.start + shift, end=cell.end + shift) for cell in parsed]


def cells_by_text(text: bytes, at: int, end: int) -> list[CellSpan] | None:
    """The cells between two offsets by their tags; None when they cannot be told by text."""
    cells = []
    while found := _CELL.match(text, at, end):
        style = _STYLE.search(found[3])
        content = found[4] or b""
        cells.append(
            CellSpan(
                column_of(found[2]),
                found.start(1),
                found.end(1),
                style[1].decode() if style else "",
                bool(content),
                content.startswith(b"<f"),
            )
        )
        at = found.end()
    return None if text[at:end].strip() else cells


def last_column_by_text(text: bytes, at: int, end: int) -> int:
    """The column of the last cell between two offsets; 0 when there is none, -1 when text cannot tell."""
    start = text.rfind(b"<c ", at, end)
    if start < 0:
        return 0
    found = _LAST.match(text, start)
    return column_of(found[1]) if found else -1


_COLUMNS: dict[bytes, int] = {}


def column_of(letters: bytes) -> int:
    """The number of a column, remembered."""
    number = _COLUMNS.get(letters)
    if number is None:
        number = _COLUMNS[letters] = column_number(letters.decode())
    return number


def cells_by_parser(worksheet: bytes, number: int) -> list[CellSpan]:
    """The cells of one row of a worksheet, by the parser."""
    return _Indexing(worksheet, "a sheet").cells.get(number, [])


class _Indexing:
    """One run of the parser that notes where rows and cells stand."""

    def __init__(self, text: bytes, part: str) -> None:
        self.rows: list[RowSpan] = []
        self.cells: dict[int, list[CellSpan]] = {}
        self._text = text
        self._part = part
        self._parser = splice.new_parser(part)
        self._path: list[str] = []
        self._space = ""
        self._number = self._column = self._row_at = self._cell_at = 0
        self._style = ""
        self._filled = self._formula = False
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._finish
        splice.parse(self._parser, text, part)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        self._space = self._space or space
        self._path.append(local if space == self._space else name)
        path = self._path[1:]
        if len(path) >= splice.DEPTH:
            raise splice.too_deep(self._part)
        if path == ["sheetData", "row"]:
            self._number = row_number(attributes.get("r"), self._number)
            if not self._number or self._number in self.cells:
                raise WorkbookError("damaged", f"{self._part} stores a row twice or outside a sheet")
            self._row_at, self._column = self._parser.CurrentByteIndex, 0
            self.cells[self._number] = []
        elif path == ["sheetData", "row", "c"]:
            self._column = column_in(self._number, attributes.get("r"), self._column)
            if not self._column:
                raise WorkbookError("damaged", f"{self._part} stores a cell outside its row")
            self._cell_at, self._style = self._parser.CurrentByteIndex, attributes.get("s", "")
            self._filled = self._formula = False
        elif path[:3] == ["sheetData", "row", "c"] and len(path) == 4:
            self._filled = self._filled or path[3] in ("f", "v", "is")
            self._formula = self._formula or path[3] == "f"

    def _finish(self, _: str) -> None:
        path = self._path[1:]
        if path == ["sheetData", "row"]:
            self.rows.append(
                RowSpan(
                    self._number,
                    self._row_at,
                    *splice.extent(self._parser, self._text, self._row_at, self._part),
                )
            )
        elif path == ["sheetData", "row", "c"]:
            end = splice.extent(self._parser, self._text, self._cell_at, self._part)[2]
            self.cells[self._number].append(
                CellSpan(self._column, self._cell_at, end, self._style, self._filled, self._formula)
            )
        self._path.pop()
