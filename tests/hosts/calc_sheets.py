"""Calls as formulas of a sheet, each argument in cells of its own, written as .xlsx and as .ods."""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple
from xml.sax.saxutils import escape, quoteattr

from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.formula import ArrayFormula

from rigxl.errors import CellError

FORMULA_COLUMN = 12
ERROR_FORMULAS = {"#DIV/0!": "1/0", "#N/A": "NA()"}
ODS_TYPES = "application/vnd.oasis.opendocument.spreadsheet"
ODS_MANIFEST = f"""<?xml version="1.0" encoding="UTF-8"?>
<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" m:version="1.2">
<m:file-entry m:full-path="/" m:media-type="{ODS_TYPES}"/>
<m:file-entry m:full-path="content.xml" m:media-type="text/xml"/></m:manifest>
"""
ODS_CONTENT = """<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.2">
<office:body><office:spreadsheet><table:table table:name="Calls">{rows}</table:table>
</office:spreadsheet></office:body></office:document-content>
"""


class Formula(NamedTuple):
    """A formula: a spelling of the call, with ``{0}``, ``{1}``… where its arguments stand, and their values.

    An argument is a value, or rows of such, or None where it is left out.
    """

    text: str
    arguments: tuple[Any, ...]
    tall: int = 1
    """Rows of its answer; more than one, or ``array``, makes it an array formula."""
    array: bool = False

    @property
    def rows(self) -> int:
        """The rows of the sheet it takes."""
        return max([self.tall, *(len(one) for one in self.arguments if isinstance(one, list))])


class Placed(NamedTuple):
    """A formula in its place: where it is, its text by kind of file, and the values around it."""

    row: int
    formula: Formula
    places: tuple[str, ...]

    def text(self, ending: str) -> str:
        """As a file of that kind has it."""
        shown = self.places
        if ending == "ods":
            shown = tuple(":".join(f".{end}" for end in place.split(":")) for place in shown)
            shown = tuple(f"[{place}]" if place != "." else "" for place in shown)
        text = self.formula.text.format(*shown)
        return f"of:={text.replace(',', ';')}" if ending == "ods" else f"={text}"

    @property
    def cells(self) -> dict[tuple[int, int], Any]:
        """The values of its arguments, by row and column."""
        found = {}
        for column, value in enumerate(self.formula.arguments, start=1):
            for down, line in enumerate(value if isinstance(value, list) else [[value]]):
                assert len(line) == 1
                found[self.row + down, column] = line[0]
        return found


def placed(formulas: Sequence[Formula]) -> list[Placed]:
    """Formulas one below the other."""
    found, row = [], 1
    for formula in formulas:
        places = tuple(_place(value, column, row) for column, value in enumerate(formula.arguments, start=1))
        found.append(Placed(row, formula, places))
        row += formula.rows
    return found


def _place(value: Any, column: int, row: int) -> str:
    letter = get_column_letter(column)
    if value is None:
        return ""
    return f"{letter}{row}:{letter}{row + len(value) - 1}" if isinstance(value, list) else f"{letter}{row}"


def write_xlsx(path: Path, formulas: Sequence[Formula]) -> None:
    """The formulas as a workbook without results."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for one in placed(formulas):
        for (row, column), value in one.cells.items():
            cell = sheet.cell(row, column)
            if isinstance(value, CellError):
                cell.value = f"={ERROR_FORMULAS[value]}"
            elif value not in (None, ""):
                cell.value = value
        place = f"{get_column_letter(FORMULA_COLUMN)}{one.row}"
        text = one.text("xlsx")
        if one.formula.array or one.formula.tall > 1:
            end = f"{get_column_letter(FORMULA_COLUMN)}{one.row + one.formula.tall - 1}"
            sheet[place] = ArrayFormula(f"{place}:{end}", text)
        else:
            sheet[place] = text
    book.save(path)


def write_ods(path: Path, formulas: Sequence[Formula]) -> None:
    """The formulas as an OpenDocument spreadsheet without results."""
    rows: list[str] = []
    for one in placed(formulas):
        for down in range(one.formula.rows):
            cells = [
                _ods_cell(one.cells.get((one.row + down, column))) for column in range(1, FORMULA_COLUMN)
            ]
            if down == 0:
                spans = ""
                if one.formula.array or one.formula.tall > 1:
                    spans = (
                        f' table:number-matrix-rows-spanned="{one.formula.tall}"'
                        ' table:number-matrix-columns-spanned="1"'
                    )
                cells.append(f"<table:table-cell table:formula={quoteattr(one.text('ods'))}{spans}/>")
            rows.append(f"<table:table-row>{''.join(cells)}</table:table-row>")
    with zipfile.ZipFile(path, "w") as package:
        package.writestr("mimetype", ODS_TYPES)
        package.writestr("META-INF/manifest.xml", ODS_MANIFEST)
        package.writestr("content.xml", ODS_CONTENT.format(rows="".join(rows)))


def _ods_cell(value: Any) -> str:
    if value in (None, ""):
        return "<table:table-cell/>"
    if isinstance(value, CellError):
        return f'<table:table-cell table:formula="of:={ERROR_FORMULAS[value]}"/>'
    if isinstance(value, bool):
        said = str(value).lower()
        return f'<table:table-cell office:value-type="boolean" office:boolean-value="{said}"/>'
    if isinstance(value, str):
        return (
            '<table:table-cell office:value-type="string">'
            f"<text:p>{escape(value)}</text:p></table:table-cell>"
        )
    return f'<table:table-cell office:value-type="float" office:value="{value!r}"/>'


WRITERS = {"xlsx": write_xlsx, "ods": write_ods}


def shown(path: Path, formulas: Sequence[Formula]) -> list[list[Any]]:
    """What the cells of each formula show, top to bottom, in a workbook that was worked out."""
    sheet = load_workbook(path, data_only=True).active
    assert sheet is not None
    return [
        [sheet.cell(one.row + down, FORMULA_COLUMN).value for down in range(one.formula.tall)]
        for one in placed(formulas)
    ]
