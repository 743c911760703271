"""The proof: any change that is not ours makes it fail, whichever way the sheet is read."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from rigxl.errors import WorkbookError
from rigxl.workbook import samesheet, verify
from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Package, Workbook
from tests.workbook import crafted
from tests.workbook.crafted import SUMMARY, marks, parts, worksheet

SHEET = "xl/worksheets/sheet1.xml"
ROWS = crafted.TABLE_ROWS + "".join(
    f'<row r="{row}" ht="20"><c r="A{row}"><v>{row}</v></c><c r="B{row}"><f>A{row}</f><v>1</v></c></row>'
    for row in range(6, 40)
)
BEFORE = '<dimension ref="A3:B39"/><cols><col min="1" max="2" width="9"/></cols>'
AFTER = (
    '<mergeCells count="1"><mergeCell ref="A1:B1"/></mergeCells>'
    '<conditionalFormatting sqref="B4:B5"><cfRule type="expression" priority="1"><formula>B4&gt;2</formula>'
    "</cfRule>"
    '</conditionalFormatting><hyperlinks><hyperlink ref="A4" r:id="h"/></hyperlinks><pageMargins left="1"/>'
)
PLAIN = worksheet(ROWS, AFTER, BEFORE)
MARKS = marks({4: ("PASS", "a"), 5: ("FAIL", "b"), 30: ("PASS", "c"), 50: ("HOLD", "d")})


def _changed(old: str, new: str, count: int = 1) -> Callable[[str], str]:
    """A change of text that must be there."""

    def change(text: str) -> str:
        assert old in text, old
        return text.replace(old, new, count)

    return change


def _without(start: str, end: str) -> Callable[[str], str]:
    """A stretch taken out."""

    def change(text: str) -> str:
        at = text.index(start)
        return text[:at] + text[text.index(end, at) + len(end) :]

    return change


def _prove(tmp_path: Path, sheet: str, part: str, change: Callable[[str], str]) -> None:
    """Mark a workbook, change the marked file, and ask for its proof."""
    source, target, tampered = tmp_path / "lift.xlsx", tmp_path / "marked.xlsx", tmp_path / "tampered.xlsx"
    source.write_bytes(crafted.zipped(parts(sheet, sheet, more={"xl/media/a.xml": "<a/>"})))
    outcome = mark_book(source, target, [MARKS], [SUMMARY])
    original = Package(source.read_bytes(), Limits())
    with zipfile.ZipFile(target) as old, zipfile.ZipFile(tampered, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            text = old.read(info).decode()
            new.writestr(info, change(text) if info.filename == part else text)
    added = [name for name in outcome.changed if not original.has(name)]
    may_change = [name for name in outcome.changed if name not in added and name != SHEET]
    verify.prove(tampered, Workbook(original), {SHEET: frozenset({3, 4})}, may_change, added)


def _unchanged(text: str) -> str:
    return text


@pytest.mark.parametrize("sheet", [PLAIN, "<!-- told by the parser -->" + PLAIN], ids=["text", "parser"])
@pytest.mark.parametrize(
    ("part", "change"),
    [
        (SHEET, _changed("<v>2.5</v>", "<v>2.6</v>")),
        (SHEET, _changed("<v>20</v>", "<v>21</v>")),
        (SHEET, _changed('<c r="A4"><v>1</v></c>', "")),
        (SHEET, _without('<row r="20"', "</row>")),
        (SHEET, _without('<row r="39"', "</row>")),
        (SHEET, _changed("</row>", '</row><row r="100"><c r="A100"><v>1</v></c></row>')),
        (SHEET, _changed("</sheetData>", '<row r="100"><c r="A100"><v>1</v></c></row></sheetData>')),
        (SHEET, _changed("</sheetData>", '<row r="7"><c r="C7"><v>1</v></c></row></sheetData>')),
        (SHEET, _changed('<c r="C4"', '<c r="E4"><v>1</v></c><c r="C4"')),
        (SHEET, _changed('<c r="D4"', '<c r="C4"><v>1</v></c><c r="D4"')),
        (SHEET, _changed('<c r="C5"', '<c r="D5"><v>1</v></c><c r="C5"')),
        (SHEET, _changed('ht="20"', 'ht="21"')),
        (SHEET, _changed('<row r="30" ht="20"', '<row r="30"')),
        (SHEET, _changed("<f>A30</f>", "")),
        (SHEET, _changed('<mergeCell ref="A1:B1"/>', '<mergeCell ref="A1:B2"/>')),
        (SHEET, _without("<mergeCells", "</mergeCells>")),
        (SHEET, _without('<conditionalFormatting sqref="B4:B5">', "</conditionalFormatting>")),
        (SHEET, _without('<hyperlink ref="A4"', "/>")),
        (SHEET, _changed('<col min="1" max="2" width="9"/>', '<col min="1" max="2" width="8"/>')),
        (SHEET, _changed('<col min="3" max="3"', '<col min="2" max="3"')),
        (SHEET, _changed("<pageMargins", "<printOptions/><pageMargins")),
        (SHEET, _changed("<cols>", "<cols></cols><cols>")),
        (SHEET, _changed("</worksheet>", "<legacyDrawing/></worksheet>")),
        (SHEET, _changed("<sheetData>", '<sheetData><row r="1" a="1 > 0"/>')),
        (SHEET, _changed("</sheetData>", "</sheetData><!")),
        ("xl/worksheets/sheet2.xml", _changed("<v>2.5</v>", "<v>2.6</v>")),
        ("xl/worksheets/sheet3.xml", _changed("<sheetData>", "<pageMargins/><sheetData>")),
        ("xl/worksheets/sheet3.xml", _changed("</worksheet>", "")),
        ("xl/media/a.xml", _changed("<a/>", "<b/>")),
        ("xl/styles.xml", _without('<xf numFmtId="164"', "/>")),
        ("xl/styles.xml", _changed('<cellXfs count="', '<cellXfs count="1')),
        ("xl/styles.xml", _changed("dd/mm/yyyy", "mm/dd/yyyy")),
        ("xl/styles.xml", _changed("<fills", "<colors/><fills")),
        ("xl/workbook.xml", _changed('name="Sheet2"', 'name="Sheet9"')),
        ("xl/workbook.xml", _changed('name="Check"', 'name="SHEET1"')),
        ("xl/workbook.xml", _changed('sheetId="3"', 'sheetId="2"')),
        ("xl/_rels/workbook.xml.rels", _changed("worksheets/sheet2.xml", "worksheets/sheet1.xml")),
        ("xl/_rels/workbook.xml.rels", _without('<Relationship Id="styles"', "/>")),
        ("[Content_Types].xml", _without('<Override PartName="/xl/styles.xml"', "/>")),
        ("[Content_Types].xml", _changed("</Types>", '<Override PartName="/xl/styles.xml" ContentType="a"/>'
            '</Types>')),
    ],
)  # fmt: skip
def test_every_tampering_is_found(
    tmp_path: Path, sheet: str, part: str, change: Callable[[str], str]
) -> None:
    """One change at a time, in every kind of part."""
    with pytest.raises(WorkbookError) as refusal:
        _prove(tmp_path, sheet, part, change)
    assert refusal.value.code == "proof-failed"


@pytest.mark.parametrize("sheet", [PLAIN, "<!-- told by the parser -->" + PLAIN], ids=["text", "parser"])
def test_what_we_write_passes(tmp_path: Path, sheet: str) -> None:
    """The marked file itself, packed anew but for nothing else, passes."""
    _prove(tmp_path, sheet, SHEET, _unchanged)


def test_entries(tmp_path: Path) -> None:
    """A part that is missing or added is found, and so is one in another place."""
    for change in (lambda names: names[:-1], lambda names: [*names, "more.xml"], lambda names: names[::-1]):
        source = crafted.save(tmp_path, parts(PLAIN))
        other = tmp_path / "other.xlsx"
        with zipfile.ZipFile(source) as old, zipfile.ZipFile(other, "w") as new:
            for name in change(old.namelist()):
                new.writestr(name, old.read(name) if name in old.namelist() else b"")
        with pytest.raises(WorkbookError) as refusal:
            verify.prove(other, Workbook(Package(source.read_bytes(), Limits())), {}, [], [])
        assert refusal.value.code == "proof-failed"


def test_a_failed_proof_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The written file is deleted, an older target stays, and the run says so."""
    source, target = crafted.save(tmp_path, parts(PLAIN)), tmp_path / "marked.xlsx"
    target.write_bytes(b"older")

    def unlike(*_: object) -> None:
        raise samesheet.UnlikeError("a row is gone")

    monkeypatch.setattr(samesheet, "same_sheet", unlike)
    with pytest.raises(WorkbookError, match=r"a row is gone.*deleted"):
        mark_book(source, target, [MARKS], [])
    assert target.read_bytes() == b"older"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["lift.xlsx", "marked.xlsx"]


def test_long_sheets_are_walked_in_pieces(tmp_path: Path) -> None:
    """Sheets longer than one piece of unpacked text, with few and with many rows marked."""
    rows = "".join(
        f'\n<row r="{row}"><c r="A{row}" t="inlineStr"><is><t>{"x" * 90}{row}</t></is></c></row>'
        for row in range(1, 25_000)
    )
    source, target = crafted.save(tmp_path, parts(worksheet(rows))), tmp_path / "marked.xlsx"
    for step in (1, 997):
        given = marks(
            {row: ("PASS", str(row)) for row in range(2, 25_050, step)}, header_row=1, last_column=1
        )
        mark_book(source, target, [given], [])
        sheet = read_book(target).sheets[0]
        assert sheet.cell(2 + 7 * step, 3) == str(2 + 7 * step)
        assert len(sheet.rows) == (25_049 if step == 1 else 24_999)
