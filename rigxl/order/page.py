"""How the sheets of an order look: few looks, each a named style, so that long lists are written quickly.

No colour carries a meaning alone: the word stands in the cell, and the fills differ in grey.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from math import ceil
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

from rigxl.schedule.goods_in import ORDER as TITLE
from rigxl.templates.style import FONT, INK, print_set_up

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

Cell: TypeAlias = str | int | float | None

LETTER, A4 = 1, 9
HEAD_FILL, BAND_FILL, DARK_FILL, LIGHT_FILL = "2F4858", "E3E8EC", "BFC5CA", "EFEFEF"
EDGE = "8A949C"
ORDINARY, CENTRED, NUMBER, MASS = "order text", "order centred", "order number", "order mass"
PLAIN, STRONG, SLANTED = "order plain word", "order strong word", "order slanted word"
BOX, SHUT, SUM = "order box", "order no box", "order sum"
HEADING, BAND, TITLE_LOOK, NOTE = "order heading", "order band", "order title", "order note"
FOOT = "The makers' instructions, the local code and a licensed engineer come before this sheet."
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")
LETTERS_PER_DIGIT = 1.2
"""A column is as wide as so many digits, and words in this font take less."""
LINE_POINTS, HIGHEST_POINTS = 12.75, 400.0
MOST_IN_A_CELL = 32_767


class Column(NamedTuple):
    """A column of a sheet: its heading, its width in characters, and how its cells look."""

    heading: str
    width: float
    look: str = ORDINARY


def define_looks(book: Workbook) -> None:
    """Give a workbook the looks of an order."""
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

    def style(
        name: str,
        *,
        fill: str = "",
        across: Literal["left", "center"] = "left",
        down: Literal["top", "center"] = "top",
        number: str = "General",
        ink: str = INK,
        size: float = 10,
        bold: bool = False,
        italic: bool = False,
        edge: Literal["thin", "medium"] | None = "thin",
        wrap: bool = True,
    ) -> None:
        one = NamedStyle(name, number_format=number)
        one.font = Font(name=FONT, size=size, bold=bold, italic=italic, color=ink)
        one.alignment = Alignment(
            horizontal=across, vertical=down, wrap_text=wrap, indent=1 if across == "left" and edge else 0
        )
        if fill:
            one.fill = PatternFill("solid", fgColor=fill)
        if edge:
            side = Side(style=edge, color=EDGE if edge == "thin" else INK)
            one.border = Border(left=side, right=side, top=side, bottom=side)
        book.add_named_style(one)

    style(ORDINARY)
    style(CENTRED, across="center")
    style(NUMBER, across="center", number="0", bold=True)
    style(MASS, across="center", number="#,##0.0")
    style(STRONG, across="center", bold=True, fill=DARK_FILL)
    style(PLAIN, across="center", bold=True)
    style(SLANTED, across="center", italic=True, fill=LIGHT_FILL)
    style(BOX, across="center", bold=True, edge="medium")
    style(SHUT, fill=DARK_FILL)
    style(HEADING, across="center", down="center", bold=True, ink="FFFFFF", fill=HEAD_FILL)
    style(BAND, bold=True, fill=BAND_FILL)
    style(SUM, across="center", bold=True, fill=BAND_FILL)
    style(TITLE_LOOK, bold=True, size=16, edge=None, wrap=False)
    style(NOTE, edge=None, wrap=True)


class Page:
    """One sheet, written from the top down.

    Args:
        sheet: The empty sheet.
        about: What the sheet is, after the order's title.
        columns: Its columns.
        paper: The paper it is printed on.
    """

    def __init__(self, sheet: Worksheet, about: str, columns: Sequence[Column], paper: int) -> None:
        from openpyxl.utils import get_column_letter

        self.sheet = sheet
        self.columns = columns
        self.paper = paper
        self.row = 1
        for number, column in enumerate(columns, 1):
            sheet.column_dimensions[get_column_letter(number)].width = column.width
        self._put(1, 1, f"{TITLE}: {about}", TITLE_LOOK)
        sheet.row_dimensions[1].height = 26
        self.row = 2

    def note(self, text: str, style: str = NOTE) -> None:
        """A sentence across all columns."""
        last = len(self.columns)
        self._put(self.row, 1, text, style)
        self.sheet.merge_cells(start_row=self.row, end_row=self.row, start_column=1, end_column=last)
        width = sum(column.width for column in self.columns)
        self.sheet.row_dimensions[self.row].height = _height([(text, width)])
        self.row += 1

    def gap(self) -> None:
        """An empty row."""
        self.row += 1

    def headings(self) -> int:
        """The headings, which are repeated on every printed page; gives their row."""
        for number, column in enumerate(self.columns, 1):
            self._put(self.row, number, column.heading, HEADING)
        self._height([column.heading for column in self.columns])
        at = self.row
        self.print_on_one_width(f"{at}:{at}")
        self.sheet.freeze_panes = f"A{at + 1}"
        self.row += 1
        return at

    def print_on_one_width(self, titles: str = "") -> None:
        """Landscape, as wide as the paper; ``titles`` are the rows that every page repeats."""
        print_set_up(self.sheet, titles=titles, paper=self.paper, footer=FOOT)

    def line(self, cells: Sequence[Cell], styles: Mapping[int, str] | None = None) -> None:
        """A row of cells under the headings; ``styles`` replaces the look of some, counted from 0."""
        for number, (cell, column) in enumerate(zip(cells, self.columns, strict=True)):
            self._put(self.row, number + 1, cell, (styles or {}).get(number, column.look))
        self._height(cells)
        self.row += 1

    def _height(self, cells: Sequence[Cell]) -> None:
        widths = (column.width for column in self.columns)
        self.sheet.row_dimensions[self.row].height = _height(zip(cells, widths, strict=True))

    def _put(self, row: int, column: int, value: Cell, style: str) -> None:
        """A text stays a text, whatever it begins with: nothing from a schedule becomes a formula."""
        cell = self.sheet.cell(row, column)
        if isinstance(value, str):
            cell.value = _CONTROL.sub(" ", value)[:MOST_IN_A_CELL]
            cell.data_type = "s"
        else:
            cell.value = value
        cell.style = style


def _height(cells: Iterable[tuple[Cell, float]]) -> float:
    """How high a row must be, in points, for the wrapped texts in columns of these widths to be read."""
    most = 1
    for cell, width in cells:
        if isinstance(cell, str):
            room = max(1.0, (width - 2) * LETTERS_PER_DIGIT)
            most = max(most, sum(max(1, ceil(len(text) / room)) for text in cell.split("\n")))
    return min(HIGHEST_POINTS, most * LINE_POINTS + 5)
