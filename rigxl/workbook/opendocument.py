"""OpenDocument spreadsheets (.ods): the cells of content.xml as typed values.

Read by hand because other readers show an error as an empty cell. OpenDocument 1.3, part 3, chapter 9
(tables) and section 19.385 (values); errors carry LibreOffice's own ``calcext:value-type="error"``.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from dataclasses import dataclass, field

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW, Budget
from rigxl.workbook.openformula import as_elsewhere
from rigxl.workbook.values import Area, CellError, Formula, Plain, Row, Value

TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "
OFFICE = "urn:oasis:names:tc:opendocument:xmlns:office:1.0 "
TEXT = "urn:oasis:names:tc:opendocument:xmlns:text:1.0 "
STYLE = "urn:oasis:names:tc:opendocument:xmlns:style:1.0 "
DRAW = "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0 "
CALC = "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0 "

ERROR = re.compile(r"#[A-Z/0-9!?_]+[!?A-Z]|Err:\d+|#N/A")
DURATION = re.compile(r"(-?)P(?:(\d+)D)?T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:\.\d+)?)S)?")
MOST_DEPTH = 256


@dataclass
class OpenSheet:
    """One sheet of an OpenDocument spreadsheet."""

    name: str
    state: str = "visible"
    rows: list[Row] = field(default_factory=list)
    merges: list[Area] = field(default_factory=list)
    hidden_columns: set[int] = field(default_factory=set)
    filtered: bool = False
    protected: bool = False


def read_content(content: bytes, budget: Budget) -> list[OpenSheet]:
    """The sheets of a content.xml part.

    Raises:
        WorkbookError: Not well-formed (``damaged``), a document type (``doctype``), too deep
            (``too-deep``), too many filled cells (``too-many-cells``), rows or columns off the sheet
            (``off-sheet``).
    """
    return _Reader(budget).read(content)


class _Reader:
    """One pass over the part: handlers of the parser and what they have gathered."""

    def __init__(self, budget: Budget) -> None:
        self.budget = budget
        self.hidden_styles: set[str] = set()
        self.style = ""
        self.sheets: list[OpenSheet] = []
        self.sheet: OpenSheet | None = None
        self.foreign_sheet = False
        self.depth = self.aside = 0
        self.row = self.column = 0
        self.cells: dict[int, Value] = {}
        self.row_words: dict[str, str] = {}
        self.cell_words: dict[str, str] = {}
        self.lines: list[str] = []
        self.filled: list[Area] = []
        self.in_cell = self.in_line = False

    def read(self, content: bytes) -> list[OpenSheet]:
        parser = splice.new_parser("content.xml")
        parser.StartElementHandler = self.start
        parser.EndElementHandler = self.end
        parser.CharacterDataHandler = self.text
        splice.parse(parser, splice.as_utf8(content, "content.xml").text, "content.xml")
        return self.sheets

    def start(self, name: str, words: dict[str, str]) -> None:
        self.depth += 1
        if self.depth > MOST_DEPTH:
            raise WorkbookError("too-deep", f"content.xml is nested more than {MOST_DEPTH} deep")
        if self.aside:
            self.aside += 1
        elif self.in_cell:
            self.start_in_cell(name, words)
        elif name in (TABLE + "shapes", OFFICE + "forms", TABLE + "tracked-changes"):
            self.aside = 1
        elif name == STYLE + "style":
            self.style = words.get(STYLE + "name", "")
        elif name == STYLE + "table-properties" and words.get(TABLE + "display") == "false":
            self.hidden_styles.add(self.style)
        elif name == TABLE + "table":
            self.start_sheet(words)
        elif self.sheet is None:
            return
        elif name == TABLE + "table-source":
            self.foreign_sheet = True
        elif name == TABLE + "table-column":
            repeat = self.repeated(words, "columns", self.column, LAST_COLUMN)
            if words.get(TABLE + "visibility", "visible") != "visible":
                self.sheet.hidden_columns.update(range(self.column + 1, self.column + repeat + 1))
            self.column += repeat
        elif name == TABLE + "table-row":
            self.column = 0
            self.cells = {}
            self.row_words = words
        elif name in (TABLE + "table-cell", TABLE + "covered-table-cell"):
            self.cell_words = words
            self.lines = []
            self.in_cell = True

    def start_sheet(self, words: dict[str, str]) -> None:
        hidden = words.get(TABLE + "style-name", "") in self.hidden_styles
        self.sheet = OpenSheet(words.get(TABLE + "name", ""), "hidden" if hidden else "visible")
        self.sheet.protected = words.get(TABLE + "protected") == "true"
        self.foreign_sheet = False
        self.filled = []
        self.row = self.column = 0

    def start_in_cell(self, name: str, words: dict[str, str]) -> None:
        if name == OFFICE + "annotation" or name.startswith(DRAW) or name == TABLE + "table":
            self.aside = 1
        elif name == TEXT + "p":
            self.lines.append("")
            self.in_line = True
        elif not self.in_line:
            return
        elif name == TEXT + "s":
            self.lines[-1] += " " * min(_whole(words, TEXT + "c"), 32_767)
        elif name == TEXT + "tab":
            self.lines[-1] += "\t"
        elif name == TEXT + "line-break":
            self.lines[-1] += "\n"

    def text(self, text: str) -> None:
        if self.in_line and not self.aside:
            self.lines[-1] += re.sub(r"[ \t\r\n]+", " ", text)

    def end(self, name: str) -> None:
        self.depth -= 1
        if self.aside:
            self.aside -= 1
        elif self.in_cell:
            if name == TEXT + "p":
                self.in_line = False
            elif name in (TABLE + "table-cell", TABLE + "covered-table-cell"):
                self.in_cell = False
                self.end_cell()
        elif self.sheet is None:
            return
        elif name == TABLE + "table-row":
            self.end_row(self.sheet)
        elif name == TABLE + "table":
            if not self.foreign_sheet:
                self.sheets.append(self.sheet)
            self.sheet = None

    def end_cell(self) -> None:
        words = self.cell_words
        repeat = self.repeated(words, "columns", self.column, LAST_COLUMN)
        value = _value(words, self.lines, self.row + 1, self.column + 1)
        if isinstance(value, Formula) and value.fills and value.fills[:2] != value.fills[2:]:
            self.filled.append(value.fills)
        if value is not None:
            self.budget.spend(repeat, self.sheet.name if self.sheet else "")
            self.cells.update(dict.fromkeys(range(self.column + 1, self.column + repeat + 1), value))
        across = _whole(words, TABLE + "number-columns-spanned")
        down = _whole(words, TABLE + "number-rows-spanned")
        if self.sheet and (across > 1 or down > 1):
            first = self.row + 1, self.column + 1
            self.sheet.merges.append(Area(*first, self.row + down, self.column + across))
        self.column += repeat

    def end_row(self, sheet: OpenSheet) -> None:
        repeat = self.repeated(self.row_words, "rows", self.row, LAST_ROW)
        visibility = self.row_words.get(TABLE + "visibility", "visible")
        sheet.filtered |= visibility == "filter"
        for area in self.filled:
            if area.first_row <= self.row + 1 <= area.last_row:
                for column, value in self.cells.items():
                    if area.first_column <= column <= area.last_column and not isinstance(value, Formula):
                        self.cells[column] = Formula("", value, value is not None)
        if self.cells:
            self.budget.spend((repeat - 1) * len(self.cells), sheet.name)
            for number in range(self.row + 1, self.row + repeat + 1):
                sheet.rows.append(Row(number, dict(self.cells), visibility != "visible"))
        self.row += repeat

    def repeated(self, words: dict[str, str], what: str, done: int, most: int) -> int:
        """How often a row or column stands for itself, which must not lead off the sheet."""
        repeat = _whole(words, f"{TABLE}number-{what}-repeated")
        if repeat < 1 or done + repeat > most:
            raise WorkbookError("off-sheet", f"the sheet claims more than {most:,} {what}")
        return repeat


def _whole(words: dict[str, str], name: str) -> int:
    """A count that an attribute gives; 1 when it is missing."""
    raw = words.get(name, "1")
    if not re.fullmatch(r"\d{1,9}", raw):
        raise WorkbookError("damaged", f"content.xml gives {raw[:20]!r} where a count must stand")
    return int(raw)


def _value(words: dict[str, str], lines: list[str], row: int, column: int) -> Value:
    """The value of a cell from its attributes, its lines of text and where it stands."""
    formula = words.get(TABLE + "formula")
    plain = _plain(words, "\n".join(lines))
    if formula is None:
        return plain
    calculated = plain is not None or bool(lines)
    fills = None
    if TABLE + "number-matrix-rows-spanned" in words:
        down = _whole(words, TABLE + "number-matrix-rows-spanned")
        across = _whole(words, TABLE + "number-matrix-columns-spanned")
        fills = Area(row, column, row + down - 1, column + across - 1)
    told = as_elsewhere(formula) or "=" + re.sub(r"^[A-Za-z]+:", "", formula).removeprefix("=")
    return Formula(told, plain, calculated, fills=fills)


def _plain(words: dict[str, str], text: str) -> Plain:
    if words.get(CALC + "value-type") == "error":
        return CellError(text or "#ERROR!")
    kind = words.get(OFFICE + "value-type")
    if kind in ("float", "percentage", "currency"):
        return _number(words.get(OFFICE + "value", ""))
    if kind == "boolean":
        return words.get(OFFICE + "boolean-value") == "true"
    if kind == "date":
        return _date(words.get(OFFICE + "date-value", "")) or text
    if kind == "time":
        return _time(words.get(OFFICE + "time-value", ""), text)
    shown = words.get(OFFICE + "string-value", text) or text
    if TABLE + "formula" in words and ERROR.fullmatch(shown):
        return CellError(shown)
    return shown or None


def _number(raw: str) -> float | CellError:
    """A number; what is none, or too large to be one, is an error and never a blank."""
    try:
        number = float(raw)
    except ValueError:
        number = math.nan
    return number if math.isfinite(number) else CellError("#NUM!")


def _date(raw: str) -> dt.datetime | None:
    try:
        return dt.datetime.fromisoformat(raw[:26]).replace(tzinfo=None)
    except ValueError:
        return None


def _time(raw: str, text: str) -> Plain:
    """A time of day, or a longer span as days, the way a spreadsheet counts it."""
    match = DURATION.fullmatch(raw)
    if not match:
        return text or None
    sign, days, hours, minutes, seconds = match.groups("0")
    span = dt.timedelta(days=int(days), hours=int(hours), minutes=int(minutes), seconds=float(seconds))
    if sign == "-" or span >= dt.timedelta(days=1):
        return span / dt.timedelta(days=1) * (-1 if sign == "-" else 1)
    return (dt.datetime.min + span).time()
