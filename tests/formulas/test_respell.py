"""Respelling changes the names of our functions in every formula, and no other byte."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.errors import InputError, WorkbookError
from rigxl.formulas.respell import respell
from rigxl.formulas.spelling import HOSTS, respelt
from rigxl.workbook.book import read_book
from rigxl.workbook.values import Formula
from tests.formulas.books import PLACES, everywhere
from tests.workbook import crafted
from tests.workbook.test_fixtures import FIXTURES, MARKABLE

OURS = re.compile(
    rb"(?:\[2\]!)?(?:_xldudf_RIGXL_|RIGXL_|RIGXL\.)(LEGTENSION|UTILISATION)(?=\()", re.IGNORECASE
)


def _parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {info.filename: package.read(info) for info in package.infolist()}


@pytest.mark.parametrize("host", HOSTS)
def test_every_place_and_nothing_else(tmp_path: Path, host: str) -> None:
    """Cells, shared and array formulas, names, conditional formats, validations and columns of tables."""
    source = everywhere(tmp_path)
    target = tmp_path / "out.xlsx"
    done = respell(source, target, host)
    if host == "excel":  # where only the shared formula is spelt as no program writes it
        assert (done.formulas, done.calls) == (1, 1)
    else:
        assert (done.formulas, done.calls, done.left) == (PLACES, PLACES, [])
    before, after = _parts(source), _parts(target)
    assert list(before) == list(after)
    new = HOSTS[host].encode().replace(b"{}", b"")
    for name, old in before.items():
        expected = re.sub(rb'"[^"<>]*LEGTENSION\("', lambda text: text[0].replace(b"LEGTENSION(", b"\0"), old)
        expected = OURS.sub(lambda found: new + found[1].upper(), expected).replace(b"\0", b"LEGTENSION(")
        assert after[name] == expected, name


def test_there_and_back_again(tmp_path: Path) -> None:
    """From one spelling to all the others and back, the file is the same to the byte."""
    respell(everywhere(tmp_path), tmp_path / "first.xlsx", "excel")
    at = tmp_path / "first.xlsx"
    for host in ("calc", "desktop", "excel"):
        respell(at, tmp_path / f"{host}.xlsx", host)
        at = tmp_path / f"{host}.xlsx"
    assert at.read_bytes() == (tmp_path / "first.xlsx").read_bytes()


def test_our_reader_sees_each_formula_respelt(tmp_path: Path) -> None:
    """Members of a shared formula follow their first cell; stored results stay."""
    respell(everywhere(tmp_path), tmp_path / "out.xlsx", "calc")
    before, after = read_book(tmp_path / "everywhere.xlsx"), read_book(tmp_path / "out.xlsx")
    for old, new in zip(before.sheets, after.sheets, strict=True):
        for old_row, new_row in zip(old.rows, new.rows, strict=True):
            for column, value in old_row.cells.items():
                other = new_row.cells[column]
                if isinstance(value, Formula):
                    assert isinstance(other, Formula)
                    assert other.text == respelt(value.text, "calc")
                    assert other[1:] == value[1:]
                else:
                    assert other == value
    cell = after.sheets[0].cell(3, 4)
    assert isinstance(cell, Formula)
    assert cell.text == "=RIGXL.UTILISATION(A3,$A$4)"


@pytest.mark.parametrize("name", MARKABLE)
def test_nothing_to_respell(tmp_path: Path, name: str) -> None:
    """Workbooks of others call none of our functions: nothing is written."""
    done = respell(FIXTURES / name, tmp_path / name, "calc")
    assert (done.calls, list(tmp_path.iterdir())) == (0, [])


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig", "iso-8859-1"])
def test_other_encodings(tmp_path: Path, encoding: str) -> None:
    """A part goes back into the encoding that it came in."""
    rows = '<row r="1"><c r="A1"><f>RIGXL.HOOKLOAD(1,2,3)&amp;"é"</f></c></row>'
    declared = "" if encoding == "utf-8-sig" else f'<?xml version="1.0" encoding="{encoding}"?>'
    xml = (declared + crafted.worksheet(rows)).encode(encoding)
    source = crafted.save(tmp_path, crafted.parts(xml))
    respell(source, tmp_path / "out.xlsx", "excel")
    before, after = _parts(source), _parts(tmp_path / "out.xlsx")
    sheet = "xl/worksheets/sheet1.xml"
    assert after[sheet].decode(encoding) == before[sheet].decode(encoding).replace("RIGXL.", "_xldudf_RIGXL_")


def test_sections_and_strange_spellings(tmp_path: Path) -> None:
    """A CDATA section becomes plain text; a spelling that nobody uses and a broken formula are named."""
    rows = (
        '<row r="1"><c r="A1"><f><![CDATA[IF(1<2,RIGXL.HOOKLOAD(1,2,3),0)]]></f></c>'
        '<c r="B1"><f>RIGXL.HOOK_LOAD(1)</f></c><c r="C1"><f>RIGXL.HOOKLOAD(1</f></c></row>'
    )
    source = crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows)))
    done = respell(source, tmp_path / "out.xlsx", "desktop")
    assert done.calls == 1
    assert [said.split(" ")[0] for said in done.left] == ["Sheet1!B1:", "Sheet1!C1"]
    texts = [read_book(tmp_path / "out.xlsx").sheets[0].cell(1, column) for column in (1, 2, 3)]
    assert [cell.text for cell in texts if isinstance(cell, Formula)] == [
        "=IF(1<2,RIGXL_HOOKLOAD(1,2,3),0)", "=RIGXL.HOOK_LOAD(1)", "=RIGXL.HOOKLOAD(1",
    ]  # fmt: skip


def test_refusals(tmp_path: Path) -> None:
    """Each before anything is written."""
    source = everywhere(tmp_path)
    content = source.read_bytes()
    with pytest.raises(InputError, match="there is excel, desktop, calc"):
        respell(source, tmp_path / "out.xlsx", "numbers")
    with pytest.raises(WorkbookError, match="is the workbook itself"):
        respell(source, source, "calc")
    with pytest.raises(WorkbookError, match="digital signature"):
        respell(FIXTURES / "signed.xlsx", tmp_path / "out.xlsx", "calc")
    with pytest.raises(WorkbookError, match="should end in"):
        respell(source, tmp_path / "out.xlsm", "calc")
    csv = tmp_path / "a.csv"
    csv.write_text("=RIGXL.X(1)\n")
    with pytest.raises(WorkbookError, match="can be read but not written"):
        respell(csv, tmp_path / "out.csv", "calc")
    assert source.read_bytes() == content
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.csv", "everywhere.xlsx"]


def test_as_a_command(tmp_path: Path) -> None:
    """A new file beside the old one, or in place with a backup."""
    source = everywhere(tmp_path)
    content = source.read_bytes()
    run = CliRunner().invoke(main, ["respell", str(source), "--to", "calc"])
    target = tmp_path / "everywhere.calc.xlsx"
    assert run.stdout == f"{target}: 7 calls respelt in 7 formulas; recalculate it where the add-in is\n"
    assert (run.exit_code, source.read_bytes()) == (0, content)
    run = CliRunner().invoke(main, ["respell", str(source), "--to", "calc", "--in-place"])
    assert source.read_bytes() == target.read_bytes()
    assert (tmp_path / "everywhere.backup.xlsx").read_bytes() == content
    run = CliRunner().invoke(main, ["respell", str(source), "--to", "calc", "--in-place"])
    assert run.stdout.endswith("nothing to respell, so nothing was written\n")
    assert CliRunner().invoke(main, ["respell", str(source), "--to", "lotus"]).exit_code == 2
