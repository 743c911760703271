"""When a formula's stored result may be used: files as three programs really write them."""

from __future__ import annotations

import subprocess
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from rigxl.workbook.book import Book, read_book
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import Formula
from tests.workbook import crafted, office

ASKS = '<calcPr calcId="124519" fullCalcOnLoad="1"/>'
CHAIN = f'<calcChain xmlns="{crafted.MAIN}"><c r="A1" i="1"/></calcChain>'


def _by_openpyxl(path: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"] = 4
    sheet["B1"] = "=A1*2"
    sheet["C1"] = "=A1-4"
    sheet["D1"] = '=IF(A1>5,"over","")'
    book.save(path)
    return path


def _formula(sheet: Sheet, column: int) -> Formula:
    value = sheet.cell(1, column)
    assert isinstance(value, Formula)
    return value


def test_openpyxl_stores_no_result(tmp_path: Path) -> None:
    """A formula that openpyxl wrote was never calculated, and keeps its text."""
    sheet = read_book(_by_openpyxl(tmp_path / "a.xlsx")).sheets[0]
    assert _formula(sheet, 2) == Formula("=A1*2", None, False)
    assert sheet.cell(1, 1) == 4.0


def test_xlsxwriter_stores_a_zero(tmp_path: Path) -> None:
    """XlsxWriter's 0 is a placeholder; a result that its user gave counts, with a warning for the book."""
    path = tmp_path / "a.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet()
    day = book.add_format({"num_format": "d mmm yyyy"})
    sheet.write_formula("A1", "=B9*2")
    sheet.write_formula("B1", "=B9*2", None, 12.5)
    sheet.write_formula("C1", "=B9&C9", None, "shackle")
    sheet.write_formula("D1", "=B9", day)
    sheet.write_array_formula("E1:E2", "{=B9:B10*2}")
    book.close()
    read = read_book(path)
    found = read.sheets[0]
    assert [_formula(found, column).calculated for column in range(1, 6)] == [False, True, True, False, False]
    below = found.cell(2, 5)
    assert isinstance(below, Formula)
    assert not below.calculated
    assert "asks to be calculated" in read.warnings[0]


def test_libreoffice_calculates(tmp_path: Path) -> None:
    """A 0 and an empty text that LibreOffice worked out are results."""
    source = _by_openpyxl(tmp_path / "a.xlsx")
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = [
        office.program(),
        profile,
        "--headless",
        "--convert-to",
        "xlsx",
        "--outdir",
        str(tmp_path / "out"),
    ]
    subprocess.run([*command, str(source)], check=True, capture_output=True, timeout=240)
    read = read_book(tmp_path / "out" / "a.xlsx")
    assert [_formula(read.sheets[0], column)[1:3] for column in (2, 3, 4)] == [
        (8.0, True),
        (0.0, True),
        ("", True),
    ]
    assert read.warnings == ()


def _crafted(tmp_path: Path, after_sheets: str, chain: bool, application: str) -> Book:
    """A workbook with one formula of result 0 and the evidence given."""
    contents = crafted.parts(
        crafted.worksheet('<row r="1"><c r="A1"><f>B1</f><v>0</v></c></row>'), after_sheets=after_sheets
    )
    if chain:
        relations = str(contents["xl/_rels/workbook.xml.rels"])
        relation = f'<Relationship Id="chain" Type="{crafted.DOCUMENT}/calcChain" Target="calcChain.xml"/>'
        contents["xl/_rels/workbook.xml.rels"] = relations.replace(
            "</Relationships>", relation + "</Relationships>"
        )
        contents["xl/calcChain.xml"] = CHAIN
    if application:
        relations = str(contents["_rels/.rels"])
        relation = (
            f'<Relationship Id="app" Type="{crafted.DOCUMENT}/extended-properties" '
            'Target="docProps/app.xml"/>'
        )
        contents["_rels/.rels"] = relations.replace("</Relationships>", relation + "</Relationships>")
        contents["docProps/app.xml"] = f"<Properties><Application>{application}</Application></Properties>"
    return read_book(crafted.save(tmp_path, contents))


@pytest.mark.parametrize(
    ("after_sheets", "chain", "application", "calculated"),
    [
        (ASKS, False, "Microsoft Excel", False),
        (ASKS, False, "", False),
        (ASKS.replace('"1"', '"true"'), False, "", False),
        (ASKS, True, "Microsoft Excel", True),
        (ASKS, False, "LibreOffice/7.4 $Linux", True),
        ('<calcPr calcId="191029"/>', True, "Microsoft Excel", True),
        ("", False, "", False),
        ("", False, "LibreOffice/7.4 $Linux", True),
    ],
)
def test_the_evidence(
    tmp_path: Path, after_sheets: str, chain: bool, application: str, calculated: bool
) -> None:
    """A 0 is a placeholder where nothing shows a calculation and the file asks for one, or has only 0."""
    book = _crafted(tmp_path, after_sheets, chain, application)
    assert book.sheets[0].cell(1, 1) == Formula("=B1", 0.0, calculated)


@pytest.mark.parametrize(("asks", "calculated"), [("", True), (ASKS, False)])
def test_a_zero_among_other_results(tmp_path: Path, asks: str, calculated: bool) -> None:
    """Where another formula has a result and nothing asks for calculation, a 0 is a result as well."""
    rows = '<row r="1"><c r="A1"><f>B1</f><v>0</v></c><c r="B1"><f>C1</f><v>7</v></c></row>'
    book = read_book(crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows), after_sheets=asks)))
    assert book.sheets[0].cell(1, 1) == Formula("=B1", 0.0, calculated)
    assert book.sheets[0].cell(1, 2) == Formula("=C1", 7.0, True)
