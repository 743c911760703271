"""OpenDocument formulas as .xlsx has them: LibreOffice is the oracle, for it writes both."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook.defined_name import DefinedName

from rigxl.workbook.book import read_book
from rigxl.workbook.openformula import as_elsewhere
from rigxl.workbook.values import Formula
from tests.workbook import office

FORMULAS = [
    "=A1+B$2*$C$3", "=SUM(A1:B2,Data!A1:$B$2)", "='Load data'!A1*2", "=SUM('it''s (A1); B'!A1:A2)",
    '=IF(A1>1,"a;[.B1]|","it''s")', "=SUM({1,2;3,4})", "=SUM(A:A)+SUM(2:3)", "=A1&\"x\"\"y\"",
    "=RIGXL.LEGTENSION(A1,2,60)", "=-A1%^2<>3",
]  # fmt: skip


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        ("of:=[.A1]", "=A1"),
        ("=[.A1]+1", "=A1+1"),
        ("of:=SUM([Data.A1:.B2])", "=SUM(Data!A1:B2)"),
        ("of:=SUM([$Data.A1:$Data.B2];[.$C$1])", "=SUM($Data.A1".replace("$Data.", "Data!") + ":B2,$C$1)"),
        ("of:=[#REF!.A1]", "=#REF!"),
        ("of:=SUM([Sheet1.A1:Sheet3.B2])", ""),
        ("of:=['file:///x.ods'#$Data.A1]", ""),
        ("of:=SUM([.A1]~[.B1])", ""),
        ("oooc:=SUM([.A1])", ""),
        ("msoxl:=SUM(A1,B1)", "=SUM(A1,B1)"),
    ],
)
def test_by_hand(formula: str, expected: str) -> None:
    """What cannot be told is empty, never half told."""
    assert as_elsewhere(formula) == expected


def test_libreoffice_writes_both(tmp_path: Path) -> None:
    """A workbook saved as .ods reads as the same formulas."""
    office.program()
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for name in ("Data", "Load data", "it's (A1); B"):
        book.create_sheet(name)
    for at, formula in enumerate(FORMULAS, 1):
        sheet.cell(at, 5).value = formula
    book.save(tmp_path / "both.xlsx")
    read = read_book(office.converted(tmp_path / "both.xlsx", tmp_path, "ods"))
    found = [read.sheets[0].cell(at, 5) for at in range(1, len(FORMULAS) + 1)]
    texts = [cell.text for cell in found if isinstance(cell, Formula)]
    assert [text.lower() for text in texts] == [formula.lower() for formula in FORMULAS]


def test_an_array_formula_fills_its_area(tmp_path: Path) -> None:
    """Its cells are no typed numbers, in .ods as in .xlsx."""
    office.program()
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"], sheet["A2"] = 1, 2
    sheet["C1"] = openpyxl.worksheet.formula.ArrayFormula("C1:C2", "=A1:A2*2")
    book.save(tmp_path / "array.xlsx")
    cells = read_book(office.converted(tmp_path / "array.xlsx", tmp_path, "ods")).sheets[0]
    first, second = cells.cell(1, 3), cells.cell(2, 3)
    assert isinstance(first, Formula)
    assert (first.text, first.result, first.fills) == ("=A1:A2*2", 2.0, (1, 3, 2, 3))
    assert second == Formula("", 4.0, True)


def test_defined_names(tmp_path: Path) -> None:
    """Of the workbook and of a sheet, of cells and of a value, as .xlsx has them."""
    office.program()
    book = openpyxl.Workbook()
    sheet, data = book.active, book.create_sheet("Load data")
    assert sheet is not None
    sheet["A1"] = 1
    told = {"rate": "'Load data'!$B$3", "angles": "Sheet!$A$1:$A$3", "factor": "1.25"}
    for name, text in told.items():
        book.defined_names[name] = DefinedName(name, attr_text=text)
    data.defined_names["local"] = DefinedName("local", attr_text="'Load data'!$D$2")
    book.save(tmp_path / "names.xlsx")
    read = read_book(office.converted(tmp_path / "names.xlsx", tmp_path, "ods"))
    assert read.names == {**told, "Load data!local": "'Load data'!$D$2"}
