"""What a reference means: cells of a workbook, by address, by defined name or by table."""

from __future__ import annotations

import re
from typing import NamedTuple

from rigxl.formulas.arithmetic import UnworkableError
from rigxl.workbook.areas import read_area
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Area, TableArea, cell_name

_OTHER_BOOK = re.compile(r"'?[^'!]*\[[^\]]+\][^!]*!")
_TABLE = re.compile(r"(?P<name>[^\[\]!]*)\[(?P<inside>.*)\]", re.DOTALL)
_ITEM = re.compile(r"\[((?:'.|[^\[\]'])*)\](?:\s*([:,])\s*)?")
_PARTS = frozenset({"#all", "#headers", "#data", "#totals", "#this row"})


class Cells(NamedTuple):
    """A rectangle of cells on a sheet."""

    sheet: str
    area: Area

    @property
    def single(self) -> bool:
        """Whether it is one cell."""
        return self.area[:2] == self.area[2:]


class Where(NamedTuple):
    """The cell that a formula stands in."""

    sheet: str
    row: int
    column: int

    @property
    def address(self) -> str:
        """The cell as a sentence names it, such as Sheet1!C17."""
        return f"{self.sheet}!{cell_name(self.row, self.column)}"


class Places:
    """The sheets, names and tables of a workbook, looked up without regard to case."""

    def __init__(self, book: Book) -> None:
        self.sheets: dict[str, Sheet] = {sheet.name.lower(): sheet for sheet in book.sheets}
        self._names = {name.lower(): text for name, text in book.names.items()}
        self._tables = {
            table.name.lower(): (sheet.name, table) for sheet in book.sheets for table in sheet.tables
        }

    def cells(self, text: str, where: Where) -> Cells | None:
        """The cells that a reference means; None where it is no address and no table.

        Raises:
            UnworkableError: It leads out of the workbook, over several sheets, or to nothing that is there.
        """
        if "!" not in text and "[" not in text:
            area = read_area(text)
            return Cells(where.sheet, area) if area else None
        if _OTHER_BOOK.match(text):
            raise UnworkableError(f"{text} is in another workbook")
        table = _TABLE.fullmatch(text)
        if table:
            return self._table(table["name"], table["inside"], text, where)
        sheet, bang, address = text.rpartition("!")
        area = read_area(address)
        if area is None:
            return None
        return Cells(self._sheet(sheet, text) if bang else where.sheet, area)

    def name(self, text: str, where: Where) -> str:
        """The text of a defined name, with its equals sign: that of a sheet before that of the workbook.

        Raises:
            UnworkableError: There is no such name.
        """
        sheet, bang, name = text.rpartition("!")
        owner = self._sheet(sheet, text) if bang else where.sheet
        for key in (f"{owner}!{name}", name):
            found = self._names.get(key.lower())
            if found is not None:
                return f"={found}"
        raise UnworkableError(f"there is no name {text} in the workbook")

    def _sheet(self, spelt: str, text: str) -> str:
        name = spelt[1:-1].replace("''", "'") if spelt.startswith("'") else spelt
        found = self.sheets.get(name.lower())
        if found is None:
            why = "reaches over several sheets" if ":" in name else "is on a sheet that is not there"
            raise UnworkableError(f"{text} {why}")
        return found.name

    def _table(self, name: str, inside: str, text: str, where: Where) -> Cells:
        """The cells of a table that a structured reference means (ECMA-376-1, 18.17.6.1)."""
        sheet, table = self._tables.get(name.strip().lower()) or self._table_at(where, text)
        parts, columns = _parts_of(inside, text)
        area = table.area
        first = area.first_row + table.header_rows
        last = area.last_row - table.totals_rows
        if "#this row" in parts:
            if where.sheet != sheet or not first <= where.row <= last:
                raise UnworkableError(f"{text} means a row of table {table.name}, and this is none")
            first = last = where.row
        elif "#headers" in parts:
            first, last = area.first_row, area.first_row + table.header_rows - 1
        elif "#totals" in parts:
            first, last = area.last_row - table.totals_rows + 1, area.last_row
        elif "#all" in parts:
            first, last = area.first_row, area.last_row
        if len(parts) > 1 or last < first:
            raise UnworkableError(f"{text} means no one stretch of table {table.name}")
        at = [_column(table, column, text) for column in columns] or [area.first_column, area.last_column]
        return Cells(sheet, Area(first, min(at), last, max(at)))

    def _table_at(self, where: Where, text: str) -> tuple[str, TableArea]:
        """The table that a formula stands in, which it need not name."""
        if text.startswith("["):
            for table in self.sheets[where.sheet.lower()].tables:
                area = table.area
                if (
                    area.first_row <= where.row <= area.last_row
                    and area.first_column <= where.column <= area.last_column
                ):
                    return where.sheet, table
        raise UnworkableError(f"{text} is of a table that is not there")


def _parts_of(inside: str, text: str) -> tuple[set[str], list[str]]:
    """The parts of a table (#All, #This Row …) and the columns, one or the first and last, of a reference."""
    if inside.startswith("@"):
        inside = (
            f"[#This Row],{inside[1:] if inside[1:2] == '[' else f'[{inside[1:]}]'}"
            if inside[1:]
            else "#This Row"
        )
    if not inside.startswith("["):
        inside = f"[{inside}]" if inside else ""
    parts: set[str] = set()
    columns: list[str] = []
    at, joined = 0, ""
    while at < len(inside):
        found = _ITEM.match(inside, at)
        if found is None or (columns and joined != ":") or len(columns) > 1:
            raise UnworkableError(f"{text} is not understood")
        item = re.sub(r"'(.)", r"\1", found[1])
        if found[1].lower() in _PARTS:
            parts.add(found[1].lower())
        else:
            columns.append(item)
        at, joined = found.end(), found[2] or ""
    return parts, columns


def _column(table: TableArea, name: str, text: str) -> int:
    for at, column in enumerate(table.columns):
        if column.casefold() == name.casefold():
            return table.area.first_column + at
    raise UnworkableError(f"{text}: table {table.name} has no column '{name}'")
