"""The cells of a sheet, typed, with their true rows.

Two readers say the same. The quick one knows only the spelling that almost all programs use, and only
where tags follow each other without a gap; a row spelt in any other way goes to the parser, and so does
a sheet whose rows carry no numbers. A test holds the two against each other.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import guard, splice, strings
from rigxl.workbook.areas import read_area
from rigxl.workbook.cells import Reading, Typing
from rigxl.workbook.frame import Frame
from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW
from rigxl.workbook.values import Area, Formula, Row, Value, cell_name, column_number

ROW = re.compile(rb'\s*<row r="([1-9][0-9]{0,6})"((?: [A-Za-z0-9:]+="[^"<&]*")*+) ?(/?)>')
CELL = re.compile(
    rb'\s*<c r="([A-Z]{1,3})([1-9][0-9]{0,6})"((?: (?:s|t|cm|vm|ph)="[A-Za-z0-9]*")*+ ?/?)>'
    rb"(?:(?<=/>)|(?<!/>)"
    rb'(<f(?: [A-Za-z0-9]+="[^"<&]*")*+ ?(?:/>|>[^<]*+</f>)(?:<v></v>|<v ?/>)?)?'
    rb'(?:<v>([^<]*+)</v>|<is><t(?: xml:space="preserve")?>([^<]*+)</t></is>)?+</c>)'
    rb"|([\s\S]+)"
)
_ATTRIBUTE = re.compile(rb'([A-Za-z]+)="([^"]*)"')
_FORMULA = re.compile(rb"<f([^>]*?)(?:/>|>([^<]*)</f>)")
_HIDDEN = re.compile(rb' hidden="(?:1|true)"')
_REFERENCE = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")
_NUMERIC = b"0123456789.-+eE"
_NUMERIC_KINDS = frozenset({b"", b"n", b"s", b"b"})
_INFINITE = (float("inf"), float("-inf"))


class Plan(NamedTuple):
    """How to read a row of one shape: for each cell its column and its reading (None when it is empty)."""

    columns: tuple[int, ...]
    readings: tuple[Reading | None, ...]
    kinds: tuple[bytes, ...]
    inline: tuple[bool, ...]
    numeric: bool
    """Is every stored value a number or an index, so that one look at all of them will do?"""


class Reader:
    """Reads the sheets of one workbook, counting their cells against the limit."""

    def __init__(self, typing: Typing, cells_left: int, limits: guard.Limits) -> None:
        self.typing = typing
        self.cells_left = cells_left
        self.limits = limits
        self._plans: dict[tuple[tuple[bytes, ...], tuple[bytes, ...]], Plan | None] = {}

    def rows(self, frame: Frame, sheet: str) -> list[Row]:
        """The rows of a sheet that hold something, ascending."""
        rows = self.quick(frame, sheet) if frame.plain else None
        if rows is not None:
            return rows
        ranges: list[Area] = []
        return self._spread(self.parsed(frame.text, sheet, ranges), ranges)

    def quick(self, frame: Frame, sheet: str) -> list[Row] | None:
        """The rows by the quick reader; None when a row carries no number or is out of order."""
        rows: list[Row] = []
        ranges: list[Area] = []
        text, at, before, end = frame.text, frame.first, 0, frame.last
        if text.count(b"<c ", at, end) > self.cells_left:
            raise guard.too_many_cells(sheet, self.limits)
        all_cells = self.cells_left
        while found := ROW.match(text, at, end):
            number = int(found[1])
            if not before < number <= LAST_ROW:
                break
            before, at = number, found.end()
            if found[3]:
                continue
            close = text.find(b"</row>", at, end)
            if close < 0:
                break
            cells = self._quick_row(text, at, close, found[1], ranges)
            if cells is None:
                rows += self.parsed(frame.alone(found.start(), close + 6), sheet, ranges)
            elif cells:
                rows.append(Row(number, cells, _HIDDEN.search(found[2]) is not None))
            at = close + 6
        if text[at:end].strip():
            self.cells_left = all_cells
            return None
        return self._spread(rows, ranges)

    def _quick_row(
        self, text: bytes, start: int, end: int, number: bytes, ranges: list[Area]
    ) -> dict[int, Value] | None:
        """The cells of one row; None when it must go to the parser."""
        tokens = CELL.findall(text, start, end)
        if tokens and tokens[-1][6]:
            if tokens.pop()[6].strip():
                return None
        if not tokens:
            return {}
        letters, numbers, attributes, formulas, values, inlines, _ = zip(*tokens, strict=True)
        shape = (letters, attributes)
        try:
            plan = self._plans[shape]
        except KeyError:
            plan = self._plan(*shape)
            if len(self._plans) < 10_000:
                self._plans[shape] = plan
        if plan is None or numbers.count(number) != len(numbers):
            return None
        if any(inlines) or True in plan.inline:
            if tuple(map(bool, inlines)) != plan.inline:
                return None
            values = tuple(inline or value for inline, value in zip(inlines, values, strict=True))
        cells: dict[int, Value]
        try:
            if any(formulas):
                cells = self._with_formulas(plan, formulas, values, int(number), ranges)
            else:
                cells = {
                    column: reading(value)
                    for column, reading, value in zip(plan.columns, plan.readings, values, strict=True)
                    if reading
                }
        except (ValueError, KeyError):
            return None
        if plan.numeric:
            joined = b"".join(values)
            if joined.translate(None, _NUMERIC) or (b"E" in joined.upper() and _infinite(cells)):
                return None
        self.cells_left -= len(tokens)
        if None in cells.values():
            return {column: value for column, value in cells.items() if value is not None}
        return cells

    def _spread(self, rows: list[Row], ranges: list[Area]) -> list[Row]:
        """Make formulas of the values that another cell's array formula fills in."""
        for area in ranges:
            first = bisect_left(rows, area.first_row, key=lambda row: row.number)
            for row in rows[first : bisect_right(rows, area.last_row, key=lambda row: row.number)]:
                for column, value in row.cells.items():
                    if area.first_column <= column <= area.last_column and not isinstance(value, Formula):
                        kind = "str" if isinstance(value, str) else ""
                        row.cells[column] = self.typing.formula("", kind, value, stored=True)
        return rows

    def _plan(self, letters: tuple[bytes, ...], attributes: tuple[bytes, ...]) -> Plan | None:
        """The plan for a row of this shape; None when its cells are out of order or not understood."""
        columns = tuple(column_number(name.decode()) for name in letters)
        if columns[-1] > LAST_COLUMN or any(a >= b for a, b in zip(columns, columns[1:], strict=False)):
            return None
        given = [dict(_ATTRIBUTE.findall(found)) for found in attributes]
        kinds = tuple(found.get(b"t", b"") for found in given)
        numeric = _NUMERIC_KINDS.issuperset(kinds)
        readings: list[Reading | None] = []
        for found, raw, kind in zip(given, attributes, kinds, strict=True):
            if raw.endswith(b"/"):
                readings.append(None)
                continue
            reading = self.typing.quick(kind, found.get(b"s", b""), careful=not numeric)
            readings.append(reading)
        inline = tuple(
            kind == b"inlineStr" and not raw.endswith(b"/")
            for kind, raw in zip(kinds, attributes, strict=True)
        )
        return Plan(columns, tuple(readings), kinds, inline, numeric)

    def _with_formulas(
        self, plan: Plan, formulas: tuple[bytes, ...], values: tuple[bytes, ...], row: int, ranges: list[Area]
    ) -> dict[int, Value]:
        """The cells of a row in which some are formulas."""
        cells: dict[int, Value] = {}
        for column, reading, kind, raw, value in zip(
            plan.columns, plan.readings, plan.kinds, formulas, values, strict=True
        ):
            if not raw:
                if reading:
                    cells[column] = reading(value)
                continue
            found = _FORMULA.match(raw)
            if reading is None or found is None:
                raise ValueError("an unusual formula")
            given = dict(_ATTRIBUTE.findall(found[1]))
            _note_range(given.get(b"t", b"").decode(), given.get(b"ref", b"").decode(), ranges)
            stored = bool(value) or found.end() < len(raw)
            result = reading(value) if value else None
            text = strings.from_xml(found[2] or b"")
            cells[column] = self.typing.formula(text, kind.decode(), result, stored)
        return cells

    def parsed(self, text: bytes, sheet: str, ranges: list[Area]) -> list[Row]:
        """The rows by the parser, whatever their spelling."""
        gathering = _Gathering(self, sheet, ranges)
        gathering.run(text)
        gathering.rows.sort(key=lambda row: row.number)
        return gathering.rows


class _Gathering:
    """One run of the parser over a sheet."""

    def __init__(self, reader: Reader, sheet: str, ranges: list[Area]) -> None:
        self.reader = reader
        self.sheet = sheet
        self.ranges = ranges
        self.rows: list[Row] = []
        self.parser = splice.new_parser(sheet)
        self.path: list[str] = []
        self.space = ""
        self.seen: set[int] = set()
        self.row, self.column, self.hidden = 0, 0, False
        self.cells: dict[int, Value] = {}
        self.cell: dict[str, str] = {}
        self.formula: dict[str, str] | None = None
        self.stored = False
        self.texts: dict[str, list[str]] = {"f": [], "v": [], "is": []}
        self.into: list[str] | None = None

    def run(self, text: bytes) -> None:
        """Parse a worksheet."""
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.finish
        self.parser.CharacterDataHandler = self.characters
        splice.parse(self.parser, text, f"sheet {self.sheet}")

    def fault(self, sentence: str) -> WorkbookError:
        """The refusal of a sheet that no spreadsheet program would open."""
        where = (
            f"{self.sheet}!{cell_name(self.row, self.column)}"
            if self.column
            else f"row {self.row} of {self.sheet}"
        )
        return WorkbookError("damaged", f"{where} {sentence}: open the workbook and save it again")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        path = self.path
        if not path:
            self.space = space
        path.append(local if space == self.space else name)
        depth = len(path)
        if depth > splice.DEPTH:
            raise splice.too_deep(f"sheet {self.sheet}")
        self.into = None
        if depth < 3 or path[1] != "sheetData":
            return
        if local == "AlternateContent":
            raise WorkbookError(
                "unusual", f"sheet {self.sheet} stores its cells in alternatives; save it again"
            )
        if depth == 3 and path[2] == "row":
            self._start_row(attributes)
        elif depth == 4 and path[2:] == ["row", "c"]:
            self._start_cell(attributes)
        elif depth > 4 and path[2:4] == ["row", "c"]:
            inner = path[4:]
            if inner == ["f"]:
                self.formula = attributes
                self.into = self.texts["f"]
            elif inner == ["v"]:
                self.stored = True
                self.into = self.texts["v"]
            elif inner in (["is", "t"], ["is", "r", "t"]):
                self.into = self.texts["is"]

    def characters(self, data: str) -> None:
        if self.into is not None:
            self.into.append(data)

    def finish(self, _: str) -> None:
        path = self.path
        self.into = None
        if path[1:] == ["sheetData", "row", "c"]:
            self._finish_cell()
        elif path[1:] == ["sheetData", "row"] and self.cells:
            self.rows.append(Row(self.row, dict(sorted(self.cells.items())), self.hidden))
        path.pop()

    def _start_row(self, attributes: dict[str, str]) -> None:
        self.column = 0
        given = attributes.get("r", str(self.row + 1)).strip()
        if not (given.isascii() and given.isdigit() and len(given) < 9 and 1 <= int(given) <= LAST_ROW):
            raise WorkbookError(
                "damaged", f"sheet {self.sheet} has a row {given[:20]!r}; a sheet ends at {LAST_ROW}"
            )
        self.row = int(given)
        if self.row in self.seen:
            raise self.fault("is stored twice")
        self.seen.add(self.row)
        self.cells = {}
        self.taken: set[int] = set()
        self.hidden = attributes.get("hidden") in ("1", "true")

    def _start_cell(self, attributes: dict[str, str]) -> None:
        self.cell, self.formula, self.stored = attributes, None, False
        for text in self.texts.values():
            text.clear()
        self.reader.cells_left -= 1
        if self.reader.cells_left < 0:
            raise guard.too_many_cells(self.sheet, self.reader.limits)
        given = attributes.get("r")
        if given is None:
            self.column += 1
        else:
            found = _REFERENCE.fullmatch(given.strip())
            if found is None or int(found[2]) != self.row:
                raise self.fault(f"holds a cell that calls itself {given[:20]!r}")
            self.column = column_number(found[1])
        if self.column > LAST_COLUMN:
            raise WorkbookError("damaged", f"row {self.row} of {self.sheet} goes on beyond the last column")
        if self.column in self.taken:
            raise self.fault("is stored twice")
        self.taken.add(self.column)

    def _finish_cell(self) -> None:
        kind, style = self.cell.get("t", ""), self.cell.get("s", "")
        typing = self.reader.typing
        text = "".join(self.texts["is" if kind == "inlineStr" else "v"])
        try:
            value = typing.plain(kind, style, text)
        except ValueError as error:
            raise self.fault(str(error)) from error
        if self.formula is not None:
            _note_range(self.formula.get("t", ""), self.formula.get("ref", ""), self.ranges)
            source = "".join(self.texts["f"])
            self.cells[self.column] = typing.formula(strings.unescaped(source), kind, value, self.stored)
        elif value is not None and value != "":
            self.cells[self.column] = value


def _infinite(cells: dict[int, Value]) -> bool:
    return any(
        value in _INFINITE or (isinstance(value, Formula) and value.result in _INFINITE)
        for value in cells.values()
    )


def _note_range(kind: str, reference: str, ranges: list[Area]) -> None:
    """Remember the cells that one formula fills: an array or a what-if table."""
    if kind in ("array", "dataTable"):
        area = read_area(reference)
        if area is not None and (area.first_row, area.first_column) != (area.last_row, area.last_column):
            ranges.append(area)
