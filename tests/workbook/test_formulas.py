"""The formulas of a sheet with their places: openpyxl as the oracle for texts, the bytes for places."""

from __future__ import annotations

import warnings
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from openpyxl.worksheet.formula import ArrayFormula, DataTableFormula

from rigxl.errors import WorkbookError
from rigxl.workbook import formulas, splice
from rigxl.workbook.book import read_book
from rigxl.workbook.formulas import CellFormula, cell_formulas, formulas_of
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Package, Workbook
from rigxl.workbook.values import Area, Formula
from tests.workbook import crafted
from tests.workbook.test_reader import sheets

ROOT = Path(__file__).parents[2]
REFUSED = {"duplicate-entry.xlsx", "encrypted-ole2.xlsx"}
FILES = sorted(
    path
    for folder in ("tests/workbook/fixtures", "templates", "sample_workbooks")
    for path in (ROOT / folder).glob("*.xls?")
    if path.name not in REFUSED
)
SHARED = (
    '<row r="1"><c r="A1"><f>1+1</f><v>2</v></c>'
    '<c r="B1" s="1" t="str"><f t="shared" ref="B1:C2" si="3">IF(A1&gt;1,"é&amp;",$A1)</f><v>x</v></c>'
    '<c r="C1"><f t="shared" si="3"/><v/></c></row>'
    '<row r="2"><c r="B2"><f t="shared" si="3"/></c><c r="C2"><v>7</v></c>'
    '<c r="D2"><f t="array" ref="D2:E3">A1:B2*2</f><v>4</v></c></row>'
)


def _workbook(path: Path) -> Workbook:
    return Workbook(Package(path.read_bytes(), Limits()))


def _crafted(rows: str, before: str = "") -> list[CellFormula]:
    text = crafted.worksheet(rows, before=before).encode()
    return cell_formulas(frame_of(text, "part"), "part")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_openpyxl_and_our_reader_say_the_same(path: Path) -> None:
    """Every formula that openpyxl finds, shared ones in full, and nothing else; so does ``read_book``."""
    workbook, book = _workbook(path), read_book(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        other = openpyxl.load_workbook(path)
    for sheet in book.sheets:
        found = {(one.row, one.column): one for one in formulas_of(workbook, sheet.name)}
        read = {
            (row.number, column): value
            for row in sheet.rows
            for column, value in row.cells.items()
            if isinstance(value, Formula) and (value.written or value.fills)
        }
        assert {where: (one.text, one.fills) for where, one in found.items()} == {
            where: (value.text, value.fills) for where, value in read.items()
        }
        if sheet.name not in other.sheetnames:
            continue  # openpyxl sees no sheet in a Strict file
        expected = {}
        for row in other[sheet.name].iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    value = cell.value
                    text = value.text if isinstance(value, ArrayFormula) else value
                    expected[cell.row, cell.column] = "" if isinstance(value, DataTableFormula) else text
        texts = {where: one.text for where, one in found.items()}
        assert texts == {
            where: text if text[:1] in ("=", "") else f"={text}" for where, text in expected.items()
        }


@settings(deadline=None, max_examples=300)
@given(sheets())
def test_both_ways_find_the_same(rows: str) -> None:
    """By text and by the parser; a sheet that cannot be parsed at all is refused."""
    text = crafted.worksheet(rows, before="").replace("<worksheet ", '<worksheet xmlns:x="urn:x" ').encode()
    try:
        frame = frame_of(text, "part")
        parsed = formulas._Finding(text, "part").all()
    except WorkbookError:
        return
    quick = formulas._by_text(frame) if frame.plain else None
    assert quick is None or quick == parsed


@pytest.mark.parametrize("before", ["", "<!-- by the parser -->"])
def test_kinds_texts_and_places(before: str) -> None:
    """A shared formula is told in each member; each span holds what it says."""
    text = crafted.worksheet(SHARED, before=before).encode()
    found = cell_formulas(frame_of(text, "part"), "part")
    assert [(one.row, one.column, one.kind, one.text, one.written) for one in found] == [
        (1, 1, "plain", "=1+1", True),
        (1, 2, "shared", '=IF(A1>1,"é&",$A1)', True),
        (1, 3, "shared", '=IF(B1>1,"é&",$A1)', False),
        (2, 2, "shared", '=IF(A2>1,"é&",$A2)', False),
        (2, 4, "array", "=A1:B2*2", True),
    ]
    assert found[4].fills == Area(2, 4, 3, 5)
    assert [text[slice(*one.cell)][:6] for one in found] == [b'<c r="'] * 5
    assert all(text[slice(*one.cell)].endswith(b"</c>") for one in found)
    assert [text[one.opened - 1 : one.opened + 2] for one in found] == [b"><f"] * 5
    assert text[slice(*found[1].content)] == 'IF(A1&gt;1,"é&amp;",$A1)'.encode()  # type: ignore[misc]
    assert [one.value and text[slice(*one.value)] for one in found] == [
        b"<v>2</v>", b"<v>x</v>", b"<v/>", None, b"<v>4</v>"
    ]  # fmt: skip
    assert found[1].attributes == {"s": "1", "t": "str"}


@pytest.mark.parametrize("before", ["", "<!-- by the parser -->"])
def test_a_member_before_its_first_cell(before: str) -> None:
    """It is told all the same; a member of nothing has no text."""
    rows = (
        '<row r="1"><c r="A1"><f t="shared" si="0"/></c><c r="B1"><f t="shared" si="9"/></c></row>'
        '<row r="2"><c r="A2"><f t="shared" ref="A1:A2" si="0">C2</f></c></row>'
    )
    assert [one.text for one in _crafted(rows, before)] == ["=C1", "", "=C2"]


def test_a_text_in_a_section() -> None:
    """What is in a CDATA section is read, and its place is the section's."""
    (one,) = _crafted('<row r="1"><c r="A1"><f><![CDATA[B1<2]]></f></c></row>')
    assert one.text == "=B1<2"
    assert one.content is not None
    assert one.content.end - one.content.start == len("<![CDATA[B1<2]]>")


def test_a_formula_respelt_by_its_place(tmp_path: Path) -> None:
    """Splicing the content of one formula changes that formula and no other byte."""
    path = crafted.save(tmp_path, crafted.parts(crafted.worksheet(SHARED)))
    text = _workbook(path).package.text("xl/worksheets/sheet1.xml").text
    first = formulas_of(_workbook(path), "Sheet1")[0]
    assert first.content is not None
    changed = splice.apply(text, [splice.Edit(*first.content, b"1+2")])
    assert changed.replace(b"1+2", b"1+1") == text
    assert _crafted(SHARED.replace("1+1", "1+2"))[0].text == "=1+2"
