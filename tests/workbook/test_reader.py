"""Typed cells: each kind by hand, the two readers against each other, other programs as oracles."""

from __future__ import annotations

import datetime as dt
import random
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook.areas import read_area
from rigxl.workbook.book import read_book
from rigxl.workbook.cells import Typing
from rigxl.workbook.dates import Shows
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.reader import Reader
from rigxl.workbook.values import Area, CellError, Formula, Row, TableArea, Value
from tests.workbook import crafted

SHARED = (
    f'<sst xmlns="{crafted.MAIN}"><si><t>shackle</t></si><si><t></t></si><si><r><t>3/4</t></r><r>'
    "<t> in</t></r></si></sst>"
)


def _cell(tmp_path: Path, xml: str, properties: str = "") -> Value:
    """What a cell A1 stored like this is read as."""
    rows = f'<row r="1">{xml}</row>'
    path = crafted.save(
        tmp_path, crafted.parts(crafted.worksheet(rows), shared=SHARED, properties=properties)
    )
    return read_book(path).sheets[0].cell(1, 1)


@pytest.mark.parametrize(
    ("xml", "value"),
    [
        ('<c r="A1"><v>2.5</v></c>', 2.5),
        ('<c r="A1" t="n"><v>-1E3</v></c>', -1000.0),
        ('<c r="A1"><v> 7 </v></c>', 7.0),
        ('<c r="A1" t="s"><v>0</v></c>', "shackle"),
        ('<c r="A1" t="s"><v>2</v></c>', "3/4 in"),
        ('<c r="A1" t="s"><v>1</v></c>', None),
        ('<c r="A1" t="str"><v>a_x0041_ &amp;</v></c>', "aA &"),
        ('<c r="A1" t="inlineStr"><is><t xml:space="preserve"> 5 t </t></is></c>', " 5 t "),
        ('<c r="A1" t="inlineStr"><is><r><t>5</t></r><r><t> t</t></r><rPh><t>x</t></rPh></is></c>', "5 t"),
        ('<c r="A1" t="b"><v>1</v></c>', True),
        ('<c r="A1" t="b"><v>-0</v></c>', False),  # as LibreOffice writes =-FALSE
        ('<c r="A1" t="e"><v>#DIV/0!</v></c>', CellError("#DIV/0!")),
        ('<c r="A1" t="e"><v>#N/A</v></c>', CellError("#N/A")),
        ('<c r="A1" t="d"><v>2026-01-02T03:04:05</v></c>', dt.datetime(2026, 1, 2, 3, 4, 5)),
        ('<c r="A1" s="1"><v>46000.5</v></c>', dt.datetime(2025, 12, 9, 12)),
        ('<c r="A1" s="2"><v>0.25</v></c>', dt.time(6)),
        ('<c r="A1" s="2"><v>1.5</v></c>', dt.datetime(1900, 1, 1, 12)),
        ('<c r="A1" s="1"/>', None),
        ('<c r="A1" s="1"><v></v></c>', None),
        ('<c r="A1"><f>B1*2</f><v>3</v></c>', Formula("=B1*2", 3.0, True)),
        ('<c r="A1"><f>B1*2</f></c>', Formula("=B1*2", None, False)),
        ('<c r="A1"><f>B1*2</f><v></v></c>', Formula("=B1*2", None, False)),
        ('<c r="A1" t="str"><f>B1&amp;""</f><v></v></c>', Formula('=B1&""', "", True)),
        ('<c r="A1" t="str"><f>B1</f></c>', Formula("=B1", None, False)),
        ('<c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c>', Formula("=1/0", CellError("#DIV/0!"), True)),
        ('<c r="A1" s="1"><f>NOW()</f><v>46000</v></c>', Formula("=NOW()", dt.datetime(2025, 12, 9), True)),
        ('<c r="A1"><f t="shared" si="0"/><v>4</v></c>', Formula("", 4.0, True)),
    ],
)  # fmt: skip
def test_kinds(tmp_path: Path, xml: str, value: Value) -> None:
    """Every kind of cell keeps its own type; an error never looks blank or like text."""
    found = _cell(tmp_path, xml)
    assert found == value
    assert type(found) is type(value)
    if isinstance(found, Formula) and isinstance(value, Formula):
        assert type(found.result) is type(value.result)


@pytest.mark.parametrize(
    ("xml", "words"),
    [
        ('<c r="A1" t="s"><v>9</v></c>', "points at the text '9'"),
        ('<c r="A1"><v>five</v></c>', "holds 'five' where only a number"),
        ('<c r="A1"><v>1_0</v></c>', "holds '1_0'"),
        ('<c r="A1"><v>nan</v></c>', "holds 'nan'"),
        ('<c r="A1"><v>1e999</v></c>', "larger than a spreadsheet can count"),
        ('<c r="A1" t="b"><v>2</v></c>', "only yes or no"),
        ('<c r="A1" t="d"><v>soon</v></c>', "only a date"),
        ('<c r="A1" t="zz"><v>2</v></c>', "unknown type 'zz'"),
        ('<c r="A1"><v>1</v></c><c r="A1"><v>2</v></c>', "is stored twice"),
        ('<c r="A2"><v>1</v></c>', "calls itself 'A2'"),
        ('<c r="XFD1"/><c><v>1</v></c>', "calls itself the one after the last"),
        ('<c r="XFE1"><v>1</v></c>', "row 1 of Sheet1 holds a cell that calls itself 'XFE1'"),
    ],
)
def test_cells_no_program_would_open(tmp_path: Path, xml: str, words: str) -> None:
    """A cell that cannot be read truly refuses the file and names the cell."""
    with pytest.raises(WorkbookError, match=words) as refusal:
        _cell(tmp_path, xml)
    assert refusal.value.code == "damaged"


@pytest.mark.parametrize("row", ["1048577", "0", "18446744073709551616", "x", "-1"])
def test_rows_outside_the_grid(tmp_path: Path, row: str) -> None:
    """A row outside the grid refuses the file."""
    path = crafted.save(tmp_path, crafted.parts(crafted.worksheet(f'<row r="{row}"><c><v>1</v></c></row>')))
    with pytest.raises(WorkbookError):
        read_book(path)


def test_the_calendar_from_1904(tmp_path: Path) -> None:
    """The workbook says which calendar its serials count in."""
    value = _cell(tmp_path, '<c r="A1" s="1"><v>1</v></c>', properties='<workbookPr date1904="1"/>')
    assert value == dt.datetime(1904, 1, 2)


def test_what_an_array_formula_fills(tmp_path: Path) -> None:
    """Cells that another cell's formula fills are formulas too, so that none passes for a typed number."""
    rows = (
        '<row r="1"><c r="A1"><f t="array" ref="A1:B2">X1:Y2</f><v>1</v></c><c r="B1"><v>2</v></c></row>'
        '<row r="2"><c r="A2"><v>3</v></c><c r="B2" t="str"><v>x</v></c><c r="C2"><v>5</v></c></row>'
    )
    sheet = read_book(crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows)))).sheets[0]
    assert sheet.cell(1, 2) == Formula("", 2.0, True)
    assert sheet.cell(2, 2) == Formula("", "x", True)
    assert sheet.cell(2, 3) == 5.0


def test_what_stands_around_the_rows(tmp_path: Path) -> None:
    """Merges, tables, filters, protection, hidden rows and columns, states and names come through."""
    table = (
        f'<table xmlns="{crafted.MAIN}" id="1" name="T" displayName="Lifts" ref="A3:B6" totalsRowCount="1">'
        '<autoFilter ref="A3:B5"><filterColumn colId="0"/></autoFilter></table>'
    )
    xml = crafted.worksheet(
        crafted.TABLE_ROWS.replace('r="5"', 'r="5" hidden="1"'),
        before='<cols><col min="2" max="3" hidden="1"/></cols>',
        after='<sheetProtection sheet="1"/><mergeCells><mergeCell ref="A1:B2"/></mergeCells>',
    )
    contents = crafted.parts(
        xml,
        crafted.worksheet(""),
        after_sheets='<definedNames><definedName name="Rate">Sheet1!$B$4</definedName>'
        '<definedName name="Rate" localSheetId="1">5</definedName></definedNames>',
        sheet_relations=f'<Relationship Id="t" Type="{crafted.DOCUMENT}/table" '
        f'Target="/xl/tables/table1.xml"/>',
        more={"xl/tables/table1.xml": table},
    )
    workbook = str(contents["xl/workbook.xml"]).replace('name="Sheet2"', 'name="Sheet2" state="veryHidden"')
    book = read_book(crafted.save(tmp_path, contents | {"xl/workbook.xml": workbook}))
    first, second = book.sheets
    assert first.merges == (Area(1, 1, 2, 2),)
    assert first.tables == (TableArea("Lifts", Area(3, 1, 6, 2), 1),)
    assert (first.filtered, first.protected, first.hidden_columns) == (True, True, frozenset({2, 3}))
    assert [(row.number, row.hidden) for row in first.rows] == [(3, False), (4, False), (5, True)]
    assert (second.state, second.rows) == ("veryHidden", [])
    assert book.names == {"Rate": "Sheet1!$B$4", "Sheet2!Rate": "5"}


USUAL = [
    '<c r="{A}"><v>1.5</v></c>', '<c r="{A}" s="1"><v>45000</v></c>', '<c r="{A}" t="s"><v>0</v></c>',
    '<c r="{A}" t="s"><v>1</v></c>', '<c r="{A}" s="2"/>', '<c r="{A}" s="2" />', '<c r="{A}"></c>',
    '<c r="{A}" t="str"><v>a &lt; b</v></c>', '<c r="{A}" t="inlineStr"><is><t>x_x0041_</t></is></c>',
    '<c r="{A}" t="inlineStr"><is><t> y\r\n</t></is></c>',
    '<c r="{A}" t="inlineStr"><is><t></t></is></c>',
    '<c r="{A}" t="b"><v>1</v></c>', '<c r="{A}" t="e"><v>#N/A</v></c>',
    '<c r="{A}"><f>B1</f><v>0</v></c>', '<c r="{A}"><f>B1</f><v>2e-3</v></c>',
    '<c r="{A}"><f>B1&lt;2</f></c>', '<c r="{A}" t="str"><f>B1</f><v></v></c>', '<c r="{A}"><f/><v/></c>',
    '<c r="{A}"><f t="array" ref="A1:C9">B1</f><v>4</v></c>', '<c r="{A}" t="n"><v>1e3</v></c>',
    '<c r="{A}"><v>-0.1</v></c>', '<c r="{A}" s="1"><v>60</v></c>', '<c r="{A}" t="str"><v>]]&gt;</v></c>',
    '\n  <c r="{A}"><v>9</v></c>', '<c r="{A}" cm="1"><v>8</v></c>', "", "",
    '<c r="{A}"><f t="shared" ref="A1:D9" si="0">B1*$C$2</f><v>4</v></c>',
    '<c r="{A}"><f t="shared" si="0"/><v>4</v></c>',
]  # fmt: skip
ODD = [
    '<c r="{A}"><v>1e400</v></c>', '<c r="{A}"><v>1_0</v></c>', '<c r="{A}"><v> 3</v></c>',
    '<c r="{A}"><v>nan</v></c>', '<c r="{A}" s="1"><v>1_0</v></c>', '<c r="{A}"><f>B1</f><v>1_0</v></c>',
    '<c r="{A}"><is><t>5</t></is></c>', '<c r="{A}" t="inlineStr"><v>5</v></c>',
    '<c t="b" r="{A}"><v>0</v></c>', "<c r='{A}'><v>2</v></c>", '<c r="{A}"><v>7</v><!-- </row> --></c>',
    '<c r="{A}" t="str"><v><![CDATA[<v>]]></v></c>', '<c r="{A}" t="s"><v>99</v></c>',
    '<c r="{A}"><v>1.2.3</v></c>', '<c r="{A}" t="inlineStr"><is><r><t>r</t></r></is></c>',
    "<c><v>6</v></c>", '<c r="{A}" t="s"><v>-1</v></c>', '<c r="A1"><v>1</v></c>', '<c r="{A}"><v>1</v>',
    '<c r="{A}" t="str"><v>a &nope; b</v></c>', '<c r="{A}" t="str"><v>\x01</v></c>',
]  # fmt: skip
TAGS = ['<row r="{n}">', '<row r="{n}">', '<row r="{n}" spans="1:4" x:a="1">', '<row r="{n}" hidden="1">']


@st.composite
def sheets(draw: st.DrawFn) -> str:
    """Enough rows of a few usual shapes for a grammar to be learned, and now and then something odd."""
    shapes = draw(st.lists(st.lists(st.sampled_from(USUAL), max_size=4), min_size=1, max_size=3))
    rows, number = [], 0
    for _ in range(draw(st.integers(1, 50))):
        number += draw(st.sampled_from([1, 1, 1, 2]))
        cells = list(draw(st.sampled_from(shapes)))
        tag = draw(st.sampled_from(TAGS))
        odd = draw(st.integers(0, 60))
        if odd == 0:
            cells = [*cells[:3], draw(st.sampled_from(ODD))]
        elif odd == 1:
            tag = draw(st.sampled_from(["<row>", "<row r='{n}'>", '<row r="3">']))
        elif odd == 2:
            cells = draw(st.lists(st.sampled_from(USUAL), max_size=4))
        inner = "".join(cell.replace("{A}", f"{'ABCD'[at]}{number}") for at, cell in enumerate(cells))
        rows.append(tag.replace("{n}", str(number)) + inner + "</row>")
    return draw(st.sampled_from(["", "\n"])).join(rows)


def _readings(rows: str) -> tuple[object, object]:
    """The rows by the quick reader and by the parser; a refusal counts by its code."""
    xml = (
        f'<worksheet xmlns="{crafted.MAIN}" xmlns:x="urn:x"><sheetData>{rows}</sheetData></worksheet>'
    ).encode()
    typing = Typing(["shackle", ""], [Shows.NUMBER, Shows.DATE, Shows.TIME], False, zero_is_placeholder=True)
    found: list[object] = []
    for plain in (True, False):
        try:
            frame = frame_of(xml, "part")._replace(plain=plain and frame_of(xml, "part").plain)
            read = Reader(typing, Budget(Limits())).rows(frame, "Sheet")
            found.append([(row, [type(value) for value in row.cells.values()]) for row in read])
        except WorkbookError as refusal:
            found.append(refusal.code)
    return found[0], found[1]


@settings(deadline=None, max_examples=600)
@given(sheets())
def test_both_readers_say_the_same(rows: str) -> None:
    """Whatever the spelling, the quick reader and the parser give the same rows, types and refusals."""
    quick, parsed = _readings(rows)
    assert quick == parsed


def test_the_quick_reader_is_used() -> None:
    """Rows of the usual spelling never reach the parser; else the test above compares it with itself."""
    rows = "".join(
        f'<row r="{n}"><c r="A{n}" s="1"><v>{n}</v></c><c r="B{n}"><f>A{n}</f><v>2</v></c></row>'
        for n in range(1, 99)
    )
    frame = frame_of(crafted.worksheet(rows).encode(), "part")
    reader = Reader(Typing([], [], False, zero_is_placeholder=False), Budget(Limits()))
    assert reader.quick(frame, "Sheet") == [
        Row(n, {1: float(n), 2: Formula(f"=A{n}", 2.0, True)}) for n in range(1, 99)
    ]
    reader.parsed = None  # type: ignore[assignment, method-assign]
    assert len(reader.rows(frame, "Sheet")) == 98


def test_openpyxl_reads_the_same(tmp_path: Path) -> None:
    """A file of all kinds written by XlsxWriter: every cell equals what openpyxl finds."""
    path, chance = tmp_path / "mixed.xlsx", random.Random(1)
    book = xlsxwriter.Workbook(str(path), {"default_date_format": "d mmm yyyy hh:mm"})
    sheet = book.add_worksheet()
    kinds = [
        lambda r, c: sheet.write_number(r, c, round(chance.uniform(-1e6, 1e6), 4)),
        lambda r, c: sheet.write_string(r, c, chance.choice(["a & b", " kept ", "2 < 3", "é", "_x0041_"])),
        lambda r, c: sheet.write_datetime(
            r, c, dt.datetime(2000, 1, 1) + dt.timedelta(minutes=chance.randrange(10**7))
        ),
        lambda r, c: sheet.write_boolean(r, c, chance.random() < 0.5),
        lambda *_: None,
    ]
    for row in range(300):
        for column in range(12):
            chance.choice(kinds)(row, column)
    book.close()
    ours = read_book(path).sheets[0]
    theirs = openpyxl.load_workbook(path).worksheets[0]
    for row in theirs.iter_rows():
        for cell in row:
            value = ours.cell(cell.row, cell.column)
            if isinstance(value, dt.datetime) and isinstance(cell.value, dt.datetime):
                assert abs(value - cell.value) <= dt.timedelta(milliseconds=1)
            else:
                assert value == cell.value
                assert isinstance(value, bool) is isinstance(cell.value, bool)


@pytest.mark.parametrize("reference", ["A0", "XFE1", "A1:B", "1:1048577", "", "A1:B2:C3", "Rate"])
def test_references_that_are_none(reference: str) -> None:
    """What is outside the grid is no area."""
    assert read_area(reference) is None
