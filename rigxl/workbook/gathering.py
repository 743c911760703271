"""The cells of a sheet by the parser, whatever their spelling: the reference for the quick reader."""

from __future__ import annotations

from rigxl.errors import WorkbookError
from rigxl.workbook import splice, strings
from rigxl.workbook.areas import column_in, row_number
from rigxl.workbook.cells import Typing
from rigxl.workbook.guard import LAST_ROW, Budget, shown
from rigxl.workbook.shared import Sharing
from rigxl.workbook.values import Row, Value, cell_name


class Gathering:
    """One run of the parser over a worksheet; its rows come out ascending.

    Args:
        sheet: The sheet's name, for messages.
        typing: Gives cells their types.
        budget: Counts cells against the limit.
        sharing: What formulas of the sheet say for other cells.
    """

    def __init__(self, sheet: str, typing: Typing, budget: Budget, sharing: Sharing) -> None:
        self.sheet = sheet
        self.typing = typing
        self.budget = budget
        self.sharing = sharing
        self.rows: list[Row] = []
        self._parser = splice.new_parser(f"sheet {sheet}")
        self._path: list[str] = []
        self._space = ""
        self._rows_seen: set[int] = set()
        self._columns_seen: set[int] = set()
        self._row = self._column = 0
        self._hidden = False
        self._cells: dict[int, Value] = {}
        self._cell: dict[str, str] = {}
        self._formula: dict[str, str] | None = None
        self._stored = False
        self._texts: dict[str, list[str]] = {"f": [], "v": [], "is": []}
        self._into: list[str] | None = None

    def run(self, text: bytes) -> list[Row]:
        """The rows that hold something."""
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._finish
        self._parser.CharacterDataHandler = self._characters
        splice.parse(self._parser, text, f"sheet {self.sheet}")
        self.rows.sort(key=lambda row: row.number)
        return self.rows

    def _fault(self, sentence: str) -> WorkbookError:
        """The refusal of a sheet that no spreadsheet program would open."""
        where = f"{self.sheet}!{cell_name(self._row, self._column)}" if self._column else ""
        where = where or f"row {self._row} of {self.sheet}"
        return WorkbookError("damaged", f"{where} {sentence}: open the workbook and save it again")

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        path = self._path
        if not path:
            self._space = space
        path.append(local if space == self._space else name)
        depth = len(path)
        if depth > splice.DEPTH:
            raise splice.too_deep(f"sheet {self.sheet}")
        self._into = None
        if depth < 3 or path[1] != "sheetData":
            return
        if local == "AlternateContent":
            raise WorkbookError("unusual", f"sheet {self.sheet} stores cells in alternatives: save it again")
        if depth == 3 and path[2] == "row":
            self._start_row(attributes)
        elif depth == 4 and path[2:] == ["row", "c"]:
            self._start_cell(attributes)
        elif depth > 4 and path[2:4] == ["row", "c"]:
            inner = path[4:]
            if inner == ["f"]:
                self._formula = attributes
                self._into = self._texts["f"]
            elif inner == ["v"]:
                self._stored = True
                self._into = self._texts["v"]
            elif inner in (["is", "t"], ["is", "r", "t"]):
                self._into = self._texts["is"]

    def _characters(self, data: str) -> None:
        if self._into is not None:
            self._into.append(data)

    def _finish(self, _: str) -> None:
        path = self._path
        self._into = None
        if path[1:] == ["sheetData", "row", "c"]:
            self._finish_cell()
        elif path[1:] == ["sheetData", "row"] and self._cells:
            self.rows.append(Row(self._row, dict(sorted(self._cells.items())), self._hidden))
        path.pop()

    def _start_row(self, attributes: dict[str, str]) -> None:
        self._column = 0
        self._row = row_number(attributes.get("r"), self._row)
        if not self._row:
            given = shown(attributes.get("r", ""))
            raise WorkbookError(
                "damaged", f"sheet {self.sheet} stores a row {given}; the last row of a sheet is {LAST_ROW}"
            )
        if self._row in self._rows_seen:
            raise self._fault("is stored twice")
        self._rows_seen.add(self._row)
        self._columns_seen.clear()
        self._cells = {}
        self._hidden = attributes.get("hidden") in ("1", "true")

    def _start_cell(self, attributes: dict[str, str]) -> None:
        self._cell, self._formula, self._stored = attributes, None, False
        for text in self._texts.values():
            text.clear()
        self.budget.spend(1, self.sheet)
        column = column_in(self._row, attributes.get("r"), self._column)
        if not column:
            given = shown(attributes["r"]) if "r" in attributes else "the one after the last"
            self._column = 0
            raise self._fault(f"holds a cell that calls itself {given}")
        self._column = column
        if self._column in self._columns_seen:
            raise self._fault("is stored twice")
        self._columns_seen.add(self._column)

    def _finish_cell(self) -> None:
        kind, style = self._cell.get("t", ""), self._cell.get("s", "")
        try:
            value = self.typing.plain(kind, style, "".join(self._texts["is" if kind == "inlineStr" else "v"]))
        except ValueError as error:
            raise self._fault(str(error)) from error
        if self._formula is not None:
            source = strings.unescaped("".join(self._texts["f"]))
            told = self.sharing.told(source, self._formula, self._row, self._column)
            self._cells[self._column] = self.typing.formula(told, kind, value, self._stored)
        elif value is not None and value != "":
            self._cells[self._column] = value
