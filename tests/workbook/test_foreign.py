"""Other kinds of workbook read as what they say, errors never as blanks.

``foreign/lift.ods``, ``lift.xls`` and ``lift-1904.xls`` were saved by LibreOffice 7.4 from one workbook that
openpyxl wrote; what must be read is what was put in. python-calamine is the oracle for values.
"""

from __future__ import annotations

import datetime as dt
import struct
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from rigxl.errors import WorkbookError
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.delimited import Delimited, read_delimited
from rigxl.workbook.foreign import read_foreign, read_here
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.sandbox import read_apart
from rigxl.workbook.values import Area, CellError, Formula, Plain, Value
from tests.workbook import binarybook
from tests.workbook.trial import mark

FOLDER = Path(__file__).parent / "foreign"
LIMITS = Limits()
LIFT = ["lift.ods", "lift.xls", "lift-1904.xls"]


def result(value: Value) -> Plain:
    return value.result if isinstance(value, Formula) else value


@pytest.fixture(scope="module", params=LIFT)
def lift(request: pytest.FixtureRequest) -> Book:
    return read_foreign(FOLDER / request.param, LIMITS)


@pytest.mark.parametrize(
    ("row", "column", "expected"),
    [
        (1, 1, "Item"),
        (2, 2, 12.5),
        (2, 3, dt.datetime(2024, 3, 4, 6, 30)),
        (2, 4, 25.0),
        (4, 2, "12.5 t"),
        (4, 3, dt.time(6, 30)),
        (5, 2, None),
        (5, 3, 1.25),
        (5, 4, True),
        (7, 1, "Subtotal"),
        (9, 6, "far off"),
        (10, 1, "two\nlines"),
        (10, 2, 0.5),
        (10, 3, dt.datetime(2024, 1, 2)),
    ],
)
def test_values_are_read(lift: Book, row: int, column: int, expected: Plain) -> None:
    assert result(lift.sheets[0].cell(row, column)) == expected


@pytest.mark.parametrize(("row", "column", "word"), [(3, 2, "#DIV/0!"), (3, 4, "#N/A")])
def test_error_is_an_error(lift: Book, row: int, column: int, word: str) -> None:
    found = result(lift.sheets[0].cell(row, column))
    assert isinstance(found, CellError)
    assert found == word


def test_what_stands_around_the_cells(lift: Book) -> None:
    sheet, notes = lift.sheets
    assert sheet.merges == (Area(7, 1, 7, 3),)
    assert sheet.hidden_columns == {3}
    assert [row.number for row in sheet.rows if row.hidden] == [3]
    assert (sheet.state, notes.state) == ("visible", "hidden")
    assert str(notes.cell(2, 2)).strip() == "spaced"


def test_note_is_no_value(lift: Book) -> None:
    assert all(
        value != "a note that is no value" for row in lift.sheets[0].rows for value in row.cells.values()
    )


@pytest.mark.parametrize("name", LIFT)
def test_calamine_reads_the_same(name: str) -> None:
    book = read_foreign(FOLDER / name, LIMITS)
    workbook = CalamineWorkbook.from_path(str(FOLDER / name))
    read = workbook.get_sheet_by_index(0).to_python(skip_empty_area=False)
    shown = 0
    for row, line in enumerate(read, start=1):
        for column, value in enumerate(line, start=1):
            if isinstance(value, str | float | bool) and value not in ("", "PT30H00M00S"):
                assert result(book.sheets[0].cell(row, column)) == value
                shown += 1
    assert shown > 15


def xlsb(folder: Path, rows: bytes) -> Path:
    path = folder / "lift.xlsb"
    path.write_bytes(
        binarybook.workbook(
            ("Lift", 0, binarybook.sheet(rows, 5, 3)), ("Notes", 1, binarybook.sheet(b"", 0, 0))
        )
    )
    return path


def test_binary_workbook(tmp_path: Path) -> None:
    rows = (
        binarybook.row(0)
        + binarybook.cell(binarybook.TEXT, 0, binarybook.wide("Shackle"))
        + binarybook.cell(binarybook.REAL, 1, struct.pack("<d", 12.5))
        + binarybook.cell(binarybook.ERROR, 2, b"\x07")
        + binarybook.row(4, hidden=True)
        + binarybook.formula(binarybook.FORMULA_NUMBER, 0, struct.pack("<d", 7.0))
        + binarybook.formula(binarybook.FORMULA_ERROR, 1, b"\x2a")
        + binarybook.formula(binarybook.FORMULA_TEXT, 2, binarybook.wide("ok"))
        + binarybook.cell(binarybook.YES_NO, 3, b"\x01")
    )
    book = read_foreign(xlsb(tmp_path, rows), LIMITS)
    first, last = book.sheets[0].rows
    assert first.cells == {1: "Shackle", 2: 12.5, 3: CellError("#DIV/0!")}
    assert isinstance(first.cells[3], CellError)
    assert (last.number, last.hidden) == (5, True)
    assert last.cells == {
        1: Formula("", 7.0, True),
        2: Formula("", CellError("#N/A"), True),
        3: Formula("", "ok", True),
        4: True,
    }
    assert isinstance(result(last.cells[2]), CellError)
    assert (book.kind, book.sheets[1].state) == ("xlsb", "hidden")


def test_formulas_without_any_result_were_never_calculated(tmp_path: Path) -> None:
    rows = binarybook.row(0) + binarybook.formula(binarybook.FORMULA_TEXT, 0, binarybook.wide(""))
    book = read_foreign(xlsb(tmp_path, rows), LIMITS)
    assert book.sheets[0].cell(1, 1) == Formula("", None, False)


def test_child_reads_the_same_as_this_process() -> None:
    path = FOLDER / "lift.ods"
    assert read_apart(path, LIMITS) == read_here(path, LIMITS)


@pytest.mark.parametrize("name", LIFT)
def test_content_decides_not_the_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / "renamed.dat"
    path.write_bytes((FOLDER / name).read_bytes())
    assert read_here(path, LIMITS).kind == Path(name).suffix[1:]


@pytest.mark.parametrize("name", LIFT)
def test_cells_are_limited(name: str) -> None:
    with pytest.raises(WorkbookError) as caught:
        read_here(FOLDER / name, Limits(cells=5))
    assert caught.value.code == "too-many-cells"


# Delimited text


def delimited(data: bytes | str) -> Delimited:
    return read_delimited(data.encode() if isinstance(data, str) else data, Budget(Limits(cells=1000)))


def first_rows(data: bytes | str) -> list[dict[int, Value]]:
    return [row.cells for row in delimited(data).rows]


def said(data: bytes | str) -> str:
    return " / ".join(delimited(data).warnings)


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [
        ("Item,Load\nShackle,12.5\n", "commas"),
        ("Item;Load\nShackle;12.5\n", "semicolons"),
        ("Item\tLoad\nShackle\t12.5\n", "tabs"),
        ("Item|Load\nShackle|12.5\n", "upright bars"),
        ('Item,Load\n"Shackle, bow; wide",12.5\n', "commas"),
    ],
)
def test_delimiter_is_found_and_said(text: str, delimiter: str) -> None:
    rows = first_rows(text)
    assert rows[0] == {1: "Item", 2: "Load"}
    assert rows[1][2] == 12.5
    assert f"parted by {delimiter}" in said(text)


def test_declared_delimiter() -> None:
    data = delimited(b"sep=;\r\nItem;Load\r\nA,B;5\r\n")
    assert [(row.number, row.cells) for row in data.rows] == [
        (2, {1: "Item", 2: "Load"}),
        (3, {1: "A,B", 2: 5.0}),
    ]


@pytest.mark.parametrize(
    ("encoding", "word"),
    [
        ("utf-8", ""),
        ("utf-8-sig", ""),
        ("utf-16", "UTF-16"),
        ("utf-16-le", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_encoding_is_found_and_said(encoding: str, word: str) -> None:
    data = "Item;Angle\nÖse ½;60°\n".encode(encoding)
    assert first_rows(data)[1] == {1: "Öse ½", 2: "60°"}
    assert word in said(data)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("A;12,5\n", 12.5),
        ("A;12,5\nB;-0,75\n", 12.5),
        ("A;12,5\nB;1.5\n", "12,5"),  # both signs occur: neither is sure
        ("A;1,250\n", "1,250"),
        ("A;1.250\n", "1.250"),
        ("A;12,5\nB;1,250\n", 12.5),
        ("A,1.250\n", "1.250"),  # written back it would lose the zero
        ("A,1.255\n", 1.255),
        ("A,0012\n", "0012"),
        ("A,12.50\n", "12.50"),
        ("A,+5\n", "+5"),
        ("A,1e5\n", "1e5"),
        ("A,-5\n", -5.0),
        ("A,5\n", 5.0),
        ("A,12345678901234567890\n", "12345678901234567890"),
        ("A,3/4\n", "3/4"),
        ("A,5 t\n", "5 t"),
        ("A,TRUE\n", "TRUE"),
        ("A,=B1*2\n", "=B1*2"),
        ("A,N/A\n", "N/A"),
    ],
)
def test_number_only_beyond_doubt(text: str, expected: Value) -> None:
    found = first_rows(text)[0][2]
    assert found == expected
    assert type(found) is type(expected)


@pytest.mark.parametrize("word", ["#DIV/0!", "#N/A", "#REF!", "#ref!"])
def test_error_word_is_an_error(word: str) -> None:
    assert isinstance(first_rows(f"A,{word}\n")[0][2], CellError)


def test_value_torn_in_two_is_never_trusted() -> None:
    text = "Item,Load,Rated\nShackle,5,5,8\nHook,3,4\n"
    rows = first_rows(text)
    assert all(isinstance(value, CellError) for value in rows[1].values())
    assert rows[2] == {1: "Hook", 2: 3.0, 3: 4.0}
    assert "row 2 has more cells" in said(text)


def test_title_rows_and_a_second_table_may_be_wider() -> None:
    text = "Lift plan\nProject,Dock\nItem,Load,Rated\nA,1,2\n\nPart,Size,Load,Rated\nB,3,4,5\n"
    assert not any(isinstance(value, CellError) for row in first_rows(text) for value in row.values())


def test_rows_keep_their_numbers() -> None:
    rows = delimited(b'A,1\n\n"two\nlines",2\nC,3\n').rows
    assert [(row.number, row.cells[1]) for row in rows] == [(1, "A"), (3, "two\nlines"), (4, "C")]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b'A,"5\nB,6\n', "broken-text"),
        (b"A\0B\x81\0", "not-text"),
        (b"A,\x81\x8d\n", "not-text"),
        (b"1,2\n" * 600, "too-many-cells"),
    ],
)
def test_text_that_cannot_be_read(data: bytes, code: str) -> None:
    with pytest.raises(WorkbookError) as caught:
        delimited(data)
    assert caught.value.code == code


def test_text_file_is_a_book(tmp_path: Path) -> None:
    path = tmp_path / "dock.csv"
    path.write_text("Item,Load\nShackle,5\n")
    book = read_foreign(path, LIMITS)
    assert (book.kind, book.sheets) == ("csv", (Sheet("dock", "visible", book.sheets[0].rows),))
    assert book.sheets[0].cell(2, 2) == 5.0


def test_web_page_under_a_false_name_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "export.xls"
    path.write_text("<html><table></table></html>")
    with pytest.raises(WorkbookError, match="not a workbook"):
        read_foreign(path, LIMITS)


def test_locked_open_document_is_refused(tmp_path: Path) -> None:
    from tests.workbook.rawzip import Entry, write

    path = tmp_path / "locked.ods"
    manifest = b"<manifest:manifest><manifest:encryption-data/></manifest:manifest>"
    kind = Entry("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", method=0)
    path.write_bytes(write([kind, Entry("content.xml", b"noise"), Entry("META-INF/manifest.xml", manifest)]))
    with pytest.raises(WorkbookError) as caught:
        read_here(path, LIMITS)
    assert caught.value.code == "encrypted"


@pytest.mark.parametrize("name", ["lift.ods", "lift.xls"])
def test_marks_go_into_a_report_of_their_own(tmp_path: Path, name: str) -> None:
    source = tmp_path / name
    source.write_bytes((FOLDER / name).read_bytes())
    outcome = mark(source, tmp_path / "report.xlsx", LIMITS)
    assert outcome.separate
    assert name in outcome.warnings[0]
    assert source.read_bytes() == (FOLDER / name).read_bytes()
    report = read_here(tmp_path / "report.xlsx", LIMITS)
    lift = next(sheet for sheet in report.sheets if sheet.name == "Lift")
    words = {row.cells[1]: row.cells[2] for row in lift.rows if isinstance(row.cells[1], float)}
    assert words == {
        2.0: "HOLD",
        3.0: "PASS",
        4.0: "FAIL",
        5.0: "HOLD",
        7.0: "FAIL",
        9.0: "PASS",
        10.0: "FAIL",
    }
