"""Excel on Windows: the VBA text, and the wire through the real xlwings, Windows' own modules stood in for.

No Excel runs here. What the VBA does with a cell is stood in for by ``sent`` and ``shown``, which follow the
module line by line; the rest of the way is the real one.
"""

from __future__ import annotations

import pickle
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.errors import CellError, InputError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import Refused
from rigxl.hosts.desktop import FUNCTIONS as MODULE
from rigxl.hosts.desktop import PYTHON, SETTINGS, check, write
from rigxl.hosts.desktop.vba import module
from rigxl.hosts.desktop.wire import BLANK, LEFT_OUT, TOKEN
from tests.hosts.cases import CASES, TOLERANCE

TEXT = module()


def sent(value: object) -> object:
    """RigxlGiven: what the module hands over for an argument."""
    if value is None:
        return LEFT_OUT
    if isinstance(value, list):
        return tuple(tuple(map(sent_cell, row)) for row in value)
    return sent_cell(value)


def sent_cell(value: object) -> object:
    """RigxlCell."""
    if isinstance(value, CellError):
        return TOKEN + value
    return BLANK if value is None or value == "" else value


def shown(value: object) -> object:
    """RigxlShown: what the cell shows."""
    if isinstance(value, str) and value.startswith(TOKEN):
        return {"VALUE": "#VALUE!", "NA": "#N/A"}[value.removeprefix(TOKEN)]
    assert value not in (None, "")
    return value


def cell(value: object) -> object:
    """What Python says, as a cell shows it."""
    return {"VALUE": "#VALUE!", "NA": "#N/A"}[value.code] if isinstance(value, Refused) else value


def same(one: object, other: object) -> bool:
    """Two cells alike: numbers to the tolerance, anything else exactly, and never a text for a number."""
    if isinstance(one, bool) or isinstance(other, bool) or isinstance(one, str) or isinstance(other, str):
        return type(one) is type(other) and one == other
    return bool(one == pytest.approx(other, rel=TOLERANCE, abs=0))


@pytest.fixture(scope="module")
def through_xlwings() -> tuple[list[Any], str]:
    """Every case through the real wire, and the wrapper that xlwings would make of it."""
    calls = [(case.function, tuple(sent(value) for value in case.arguments)) for case in CASES]
    program = Path(__file__).with_name("fake_excel.py")
    done = subprocess.run(
        [sys.executable, str(program)], input=pickle.dumps(calls), capture_output=True, check=True
    )
    found: tuple[list[Any], str] = pickle.loads(done.stdout)
    return found


def test_every_case_as_python_has_it(through_xlwings: tuple[list[Any], str]) -> None:
    answers, _ = through_xlwings
    assert len(answers) == len(CASES)
    for case, found in zip(CASES, answers, strict=True):
        expected = case.expected if isinstance(case.expected, list) else [[case.expected]]
        assert [len(row) for row in found] == [len(row) for row in expected], case
        for found_row, row in zip(found, expected, strict=True):
            for one, other in zip(found_row, row, strict=True):
                assert same(shown(one), cell(other)), case


def test_importing_by_xlwings_own_way_offers_no_worksheet_function(
    through_xlwings: tuple[list[Any], str],
) -> None:
    """Its wrappers put the text of an exception into the cell, so they must not stand for ours."""
    _, wrapper = through_xlwings
    assert re.findall(r"^Function (\w+)", wrapper, re.M) == ["rigxl_wire"]
    assert "Err.Description" in wrapper
    assert "Err.Description" not in TEXT


def test_the_module_is_plain_text_that_vba_reads() -> None:
    """ASCII, lines and continuations within VBA's limits, each block closed, each name once."""
    assert TEXT.isascii()
    assert max(map(len, TEXT.splitlines())) < 1023
    assert len(re.findall(r"^(?:Public|Private) Function", TEXT, re.M)) == TEXT.count("\nEnd Function")
    assert len(re.findall(r"^(?:Public|Private) Sub", TEXT, re.M)) == TEXT.count("\nEnd Sub")
    names = re.findall(r"^(?:Public|Private) (?:Function|Sub) (\w+)", TEXT, re.M)
    assert len(names) == len({name.lower() for name in names})
    for line in TEXT.splitlines():
        assert line.count('"') % 2 == 0, line


def test_every_function_with_its_arguments_and_help() -> None:
    for name, entry in FUNCTIONS.items():
        found = re.search(rf"^Public Function RIGXL_{name}\((.*)\) As Variant$", TEXT, re.M)
        assert found is not None, name
        given = [one.split() for one in found[1].split(", ")]
        assert [one[-3] for one in given] == [argument.name for argument in entry.arguments]
        assert [one[0] == "Optional" for one in given] == [not one.required for one in entry.arguments]
        assert f'Macro:="RIGXL_{name}"' in TEXT
    for literal in re.findall(r'(?:told\(\d+\) = |Description:=)"((?:[^"]|"")*)"', TEXT):
        assert 0 < len(literal.replace('""', '"')) <= 255


def test_only_errors_for_refusals() -> None:
    """Each way out of the module that is no answer is a cell error."""
    assert TEXT.count("CVErr(xlErrValue)") == 1
    assert "failed:\n    RigxlAnswer = CVErr(xlErrNA)" in TEXT


def test_written(tmp_path: Path) -> None:
    """With Windows' line ends; the settings name the Python without a window."""
    written = write(tmp_path / "desktop", r"C:\rigging\.venv\Scripts\python.exe")
    assert [path.name for path in written] == [MODULE, PYTHON, SETTINGS]
    for path in written:
        data = path.read_bytes()
        assert data.count(b"\n") == data.count(b"\r\n") > 2
    settings = written[2].read_text(encoding="ascii")
    assert r'"INTERPRETER_WIN","C:\rigging\.venv\Scripts\pythonw.exe"' in settings
    assert 'PROJECT_NAME As String = "rigxl"' in written[1].read_text(encoding="ascii")


def test_without_xlwings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setitem(sys.modules, "xlwings", None)
    with pytest.raises(InputError, match=r"pip install 'rigxl\[desktop\]'"):
        write(tmp_path)
    assert not list(tmp_path.iterdir())


def test_the_command(tmp_path: Path) -> None:
    done = CliRunner().invoke(
        main, ["addin", "desktop", "--out", str(tmp_path), "--python", r"C:\p\python.exe"]
    )
    assert done.exit_code == 0
    assert [Path(line).name for line in done.stdout.splitlines()] == [MODULE, PYTHON, SETTINGS]
    assert r"C:\p\pythonw.exe" in (tmp_path / SETTINGS).read_text(encoding="ascii")


class FakeRange:
    """A range that remembers what was copied onto it."""

    def __init__(self, sheet: FakeSheet, columns: str) -> None:
        self.sheet, self.columns = sheet, columns

    def copy(self, destination: FakeRange) -> None:
        destination.sheet.received[destination.columns] = (
            self.sheet.book.path,
            self.sheet.name,
            self.columns,
        )


class FakeSheet:
    def __init__(self, book: FakeBook, name: str) -> None:
        self.book, self.name = book, name
        self.received: dict[str, tuple[str, str, str]] = {}

    def range(self, columns: str) -> FakeRange:
        return FakeRange(self, columns)

    def delete(self) -> None:
        self.book.sheets.all.remove(self)

    def copy(self, after: FakeSheet) -> None:
        at = after.book.sheets.all.index(after) + 1
        after.book.sheets.all.insert(at, FakeSheet(after.book, self.name))


class FakeSheets:
    def __init__(self) -> None:
        self.all: list[FakeSheet] = []

    def __getitem__(self, which: str | int) -> FakeSheet:
        return (
            self.all[which] if isinstance(which, int) else next(one for one in self.all if one.name == which)
        )

    def __iter__(self) -> Any:
        return iter(self.all)

    def __len__(self) -> int:
        return len(self.all)


class FakeBook:
    """An open workbook over a real file: as much of it as the macro asks for."""

    def __init__(self, path: str) -> None:
        import openpyxl

        self.path, self.name, self.closed = path, Path(path).name, False
        self.sheets = FakeSheets()
        self.sheets.all = [FakeSheet(self, name) for name in openpyxl.load_workbook(path).sheetnames]
        self.api = self
        self.app = self
        self.books = self
        self.opened: list[FakeBook] = []

    def SaveCopyAs(self, path: str) -> None:  # noqa: N802
        Path(path).write_bytes(Path(self.path).read_bytes())

    def open(self, path: str, **_: Any) -> FakeBook:
        self.opened.append(FakeBook(path))
        return self.opened[-1]

    def close(self) -> None:
        self.closed = True


SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "footbridge.xlsx"


def test_the_macro_brings_the_marks_back(tmp_path: Path) -> None:
    """Twice: the summary sheet is replaced, not added again; the file itself is not touched."""
    path = tmp_path / "open.xlsx"
    path.write_bytes(SAMPLE.read_bytes())
    book = FakeBook(str(path))
    for _ in range(2):
        told = check.check(book)
        assert re.match(r"\d+ PASS, \d+ FAIL, \d+ HOLD[,.] ", told)
        assert [sheet.name for sheet in book.sheets].count("rigxl summary") == 1
    marked = [sheet for sheet in book.sheets if sheet.received]
    assert marked
    for sheet in marked:
        for columns, (source, name, came_from) in sheet.received.items():
            assert re.fullmatch(r"[A-Z]+:[A-Z]+", columns)
            assert (name, came_from) == (sheet.name, columns)
            assert source != str(path)
    assert all(one.closed for one in book.opened)
    assert path.read_bytes() == SAMPLE.read_bytes()


def test_the_macro_says_when_there_is_no_schedule(tmp_path: Path) -> None:
    import openpyxl

    path = tmp_path / "notes.xlsx"
    openpyxl.Workbook().save(path)
    assert check.check(FakeBook(str(path))) == "No row of a rigging schedule was found in this workbook."
