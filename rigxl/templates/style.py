"""How our workbooks look, and how they are saved so that the same content gives the same file."""

from __future__ import annotations

import datetime as dt
import re
import zipfile
from collections.abc import Iterable, Mapping
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.cell.cell import Cell, MergedCell
    from openpyxl.worksheet.worksheet import Worksheet

FONT = "Arial"
INK = "1F2A37"
HEAD = "2F4858"
GROUP = "DCE5EB"
INPUT = "FFF9DB"
WORKED = "ECEFF1"
EDGE = "B7C0C7"
RED, AMBER, GREEN = "F8D0CC", "FDE7B3", "D5EBD3"

WRITTEN = dt.datetime(2026, 1, 5, 8, 0, 0)
"""The date our workbooks bear: a fixed one, so that writing them again changes nothing."""


def look(
    cell: Cell | MergedCell,
    *,
    fill: str = "",
    bold: bool = False,
    size: float = 10,
    colour: str = INK,
    across: str = "",
    wrap: bool = False,
    edge: bool = True,
    number: str = "",
    locked: bool = True,
) -> None:
    """Give a cell its look: fill and colour as hex, ``across`` the horizontal alignment."""
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side

    cell.font = Font(name=FONT, size=size, bold=bold, color=colour)
    cell.alignment = Alignment(
        horizontal=across or None,
        vertical="center",
        wrap_text=wrap,
        indent=1 if across in ("left", "right") else 0,
    )
    if fill:
        cell.fill = PatternFill("solid", fgColor=fill)
    if edge:
        side = Side(style="thin", color=EDGE)
        cell.border = Border(left=side, right=side, top=side, bottom=side)
    if number:
        cell.number_format = number
    if not locked:
        cell.protection = Protection(locked=False)


def widths(sheet: Worksheet, columns: Mapping[str, float]) -> None:
    """Set column widths, in characters, by letter."""
    for letter, width in columns.items():
        sheet.column_dimensions[letter].width = width


def fit_widths(sheet: Worksheet, first_row: int, least: float = 7, most: float = 34) -> None:
    """Make every column as wide as its longest cell from ``first_row`` down, and the words over it."""
    from openpyxl.utils import get_column_letter

    for cells in sheet.iter_cols(min_row=first_row):
        longest = max((len(shown(cell.value)) for cell in cells), default=0)
        column = cells[0].column or 1
        words = shown(sheet.cell(first_row - 1, column).value).split()
        wordy = max(map(len, words), default=0) * 1.25 + 1
        sheet.column_dimensions[get_column_letter(column)].width = min(max(longest + 2.5, wordy, least), most)


def shown(value: Any) -> str:
    """About what a cell shows of a value; of a formula nothing is known."""
    if isinstance(value, dt.date):
        return value.isoformat()[:10]
    return "" if value is None or str(value).startswith("=") else str(value)


def lock(sheet: Worksheet) -> None:
    """Protect the cells that are not to be filled in; no password, and columns may be made wider."""
    sheet.protection.sheet = True
    sheet.protection.formatColumns = False
    sheet.protection.formatRows = False


def define(book: Workbook, name: str, place: str) -> None:
    """Give a cell or a range a name that formulas can use."""
    from openpyxl.workbook.defined_name import DefinedName

    book.defined_names[name] = DefinedName(name, attr_text=place)


def print_set_up(sheet: Worksheet, *, titles: str = "", paper: int = 8, footer: str = "") -> None:
    """Landscape on one page's width, the headings on every page, the page number below.

    Args:
        sheet: The sheet to set up.
        titles: The rows that repeat, such as ``5:6``.
        paper: 8 is A3, 9 is A4.
        footer: What stands at the left of the foot.
    """
    from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.sheet_view.showGridLines = False
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = paper
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = titles or None
    sheet.page_margins.left = sheet.page_margins.right = 0.4
    sheet.page_margins.top, sheet.page_margins.bottom = 0.6, 0.8
    sheet.page_margins.footer = 0.4
    sheet.print_options.horizontalCentered = True
    sheet.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart(footer), right=_HeaderFooterPart("Page &P of &N")
    )


def new_book(title: str, names: Iterable[str]) -> Workbook:
    """A workbook with empty sheets of these names, and properties that never change."""
    from openpyxl import Workbook

    book = Workbook()
    first, *others = names
    book.worksheets[0].title = first
    for name in others:
        book.create_sheet(name)
    book.properties.title = title
    book.properties.creator = "rigxl"
    book.properties.created = WRITTEN
    return book


def save(book: Workbook, path: Path | BinaryIO) -> None:
    """Save a workbook with fixed dates, inside and on every part, so that its bytes depend on it alone."""
    written = BytesIO()
    book.save(written)
    stamp = WRITTEN.strftime("%Y-%m-%dT%H:%M:%SZ")
    with zipfile.ZipFile(written) as source, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for part in source.infolist():
            content = source.read(part)
            if part.filename == "docProps/core.xml":
                content = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp.encode(), content)
            target.writestr(
                zipfile.ZipInfo(part.filename, WRITTEN.timetuple()[:6]), content, zipfile.ZIP_DEFLATED
            )
