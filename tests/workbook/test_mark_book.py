"""Marking: what changes, what stays, where marks go. One test or more for each trap of the format."""

from __future__ import annotations

import hashlib
import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from rigxl.errors import WorkbookError
from rigxl.workbook import samesheet
from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.marks import Block, Link, Look, MarkColumn, NewCell, NewSheet, Outcome, SheetMarks
from rigxl.workbook.sheet import ORDER
from rigxl.workbook.splice import index
from tests.workbook import crafted
from tests.workbook.crafted import SUMMARY, TABLE_ROWS, content, marks, parts, worksheet
from tests.workbook.inspection import Opened

SHEET = "xl/worksheets/sheet1.xml"


def _mark(
    tmp_path: Path, contents: dict[str, str | bytes], given: SheetMarks | None = None
) -> tuple[Path, Outcome]:
    """Mark a crafted workbook; the marked file and what came of it."""
    source, target = crafted.save(tmp_path, contents), tmp_path / "marked.xlsx"
    return target, mark_book(source, target, [given or marks()], [SUMMARY])


def _same_otherwise(source: Path, target: Path, changed: tuple[str, ...]) -> None:
    """Every entry that is not named has the same compressed bytes, checksum and date."""
    before, after = Opened(source), Opened(target)
    for name in before.infos:
        if name not in changed:
            assert before.raw(name) == after.raw(name), name
    before.close()
    after.close()


def test_marks_are_where_they_should_be(tmp_path: Path) -> None:
    """Headings, words, numbers, looks and the new sheet, as openpyxl reads them; all other entries raw."""
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), more={"xl/media/a.bin": b"x" * 99}))
    assert outcome.placed == {"Sheet1": "C:D"}
    assert not outcome.separate
    _same_otherwise(tmp_path / "lift.xlsx", target, outcome.changed)
    book = openpyxl.load_workbook(target)
    sheet = book["Sheet1"]
    assert [[cell.value for cell in row] for row in sheet["A3:D5"]] == [
        ["Item", "Load", "rigxl verdict", "rigxl reason"],
        [1, 2.5, "PASS", "in range"],
        [2, 3, "FAIL", "over the limit"],
    ]
    assert sheet["C4"].font.bold
    assert sheet["D4"].alignment.wrap_text
    assert sheet["C3"].alignment.wrap_text
    assert (sheet.column_dimensions["C"].width, sheet.column_dimensions["D"].width) == (12, 40)
    (area,) = sheet.conditional_formatting
    assert str(area.sqref) == "A4:D5"
    assert [(rule.formula[0][:14], rule.dxf.fill.bgColor.rgb) for rule in area.rules] == [
        ('AND($C4="FAIL"', "FFFFC7CE"),
        ('AND($C4="PASS"', "FFC6EFCE"),
    ]
    assert [[cell.value for cell in row] for row in book["Check"]["A1:B2"]] == [
        ["Checked", None],
        ["rows", 2],
    ]


def test_rows_and_cells_without_numbers_and_with_prefixes(tmp_path: Path) -> None:
    """Trap 2: no r, a prefix, a mark at the start, UTF-16, absolute targets."""
    rows = (
        "<row><c t='inlineStr'><is><t>Item</t></is></c></row><row/><row><c><v>1</v></c><c><v>2</v></c></row>"
    )
    prefixed = re.sub(r"<(/?)(?=[a-z])", r"<\1x:", f"<worksheet><sheetData>{rows}</sheetData></worksheet>")
    prefixed = prefixed.replace("<x:worksheet>", f'<x:worksheet xmlns:x="{crafted.MAIN}" b="1 > 0">')
    for encoding in ("utf-8-sig", "utf-16"):
        contents = parts(prefixed.encode(encoding))
        relations = str(contents["xl/_rels/workbook.xml.rels"])
        contents["xl/_rels/workbook.xml.rels"] = relations.replace('"worksheets/', '"/xl/worksheets/')
        given = SheetMarks(
            "Sheet1",
            crafted.COLUMNS,
            (Block(1, 1, 2, {2: ("HOLD", "x"), 3: ("PASS", "y"), 6: ("FAIL", "z")}),),
            0,
            {"FAIL": crafted.RED},
        )
        target, _ = _mark(tmp_path, contents, given)
        sheet = read_book(target).sheets[0]
        assert [sheet.cell(row, 3) for row in (1, 2, 3, 6)] == ["rigxl verdict", "HOLD", "PASS", "FAIL"]
        assert (sheet.cell(3, 1), sheet.cell(3, 2)) == (1.0, 2.0)
        with zipfile.ZipFile(target) as file:
            raw = file.read(SHEET)
        assert raw.decode(encoding).count("<x:c ") == 9
        assert openpyxl.load_workbook(target)["Sheet1"]["D3"].value == "y"


def test_strict_files_stay_strict(tmp_path: Path) -> None:
    """Trap 2: a workbook in the Strict namespaces gets its new sheet and relations in them too."""
    contents = parts(worksheet(TABLE_ROWS))
    for name in contents:
        contents[name] = (
            str(contents[name])
            .replace(crafted.MAIN, "http://purl.oclc.org/ooxml/spreadsheetml/main")
            .replace(crafted.DOCUMENT, "http://purl.oclc.org/ooxml/officeDocument/relationships")
        )
    target, outcome = _mark(tmp_path, contents)
    with zipfile.ZipFile(target) as file:
        for name in file.namelist():
            assert b"schemas.openxmlformats.org/spreadsheetml" not in file.read(name)
            assert b"schemas.openxmlformats.org/officeDocument" not in file.read(name)
    assert read_book(target).sheets[1].cell(2, 2) == 2.0
    assert len(outcome.changed) == 6


AROUND = {
    "sheetPr": "<sheetPr/>", "dimension": '<dimension ref="A3:B5"/>',
    "sheetViews": '<sheetViews><sheetView workbookViewId="0"/></sheetViews>',
    "sheetFormatPr": '<sheetFormatPr defaultRowHeight="15"/>', "sheetProtection": '<sheetProtection '
        'sheet="1"/>',
    "autoFilter": '<autoFilter ref="A3:B5"/>', "mergeCells": '<mergeCells count="1"><mergeCell ref="A1:B1"/>'
        '</mergeCells>',
    "conditionalFormatting": '<conditionalFormatting sqref="B4:B5"><cfRule type="expression" priority="7">'
                             '<formula>B4&gt;2</formula></cfRule></conditionalFormatting>',
    "dataValidations": '<dataValidations count="1"><dataValidation type="whole" sqref="A4:A5">'
                       '<formula1>1</formula1></dataValidation></dataValidations>',
    "pageMargins": '<pageMargins left="1" right="1" top="1" bottom="1" header="1" footer="1"/>',
    "rowBreaks": '<rowBreaks count="1" manualBreakCount="1"><brk id="4" max="16383" man="1"/></rowBreaks>',
    "AlternateContent": '<mc:AlternateContent xmlns:mc="urn:mc"><mc:Choice Requires="x"><controls/>'
                        '</mc:Choice></mc:AlternateContent>',
    "extLst": "<extLst><ext uri='a'/></extLst>",
}  # fmt: skip


@pytest.mark.parametrize("left_out", ["", *AROUND])
def test_elements_stay_in_the_order_of_the_format(tmp_path: Path, left_out: str) -> None:
    """Trap 3: columns, formats and links go between whatever is there; alternatives rank as their content."""
    names = [name for name in AROUND if name != left_out]
    before = [name for name in names if name in ORDER[:5]]
    given = marks({4: ("PASS", Link("see", "Check", "A1")), 5: ("FAIL", "x")})
    xml = worksheet(
        TABLE_ROWS,
        before="".join(AROUND[name] for name in before),
        after="".join(AROUND[name] for name in names if name not in before),
    )
    target, _ = _mark(tmp_path, parts(xml), given)
    tree = index(content(target, SHEET).encode(), SHEET)
    assert samesheet.in_order(tree, ORDER)
    text = content(target, SHEET)
    raw = [text[child.start : child.end] for child in tree.children]
    assert [xml for xml in raw if xml in AROUND.values()] == [
        AROUND[name] for name in names if name != "dimension"
    ]
    found = [child.name for child in tree.children]
    assert found.count("hyperlinks") == found.count("cols") == 1


def test_styles_are_appended_and_never_renumbered(tmp_path: Path) -> None:
    """Trap 4: old styles keep their numbers, ours follow; the fill of a row is a background colour."""
    target, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)))
    before, after = index(crafted.STYLES.encode(), "s"), index(content(target, "xl/styles.xml").encode(), "s")
    text = content(target, "xl/styles.xml")
    for section in before.children:
        kept = after.find(section.name)
        assert kept is not None
        old = [crafted.STYLES[child.start : child.end] for child in section.children]
        new = [text[child.start : child.end] for child in kept.children]
        assert new[: len(old)] == old
        assert kept.attributes["count"] == str(len(new))
    looks = after.find("dxfs")
    assert looks is not None
    assert text[looks.start : looks.end].count("<patternFill><bgColor") == 2


def test_a_look_is_stored_once(tmp_path: Path) -> None:
    """Trap 4: a thousand marked rows need no more styles than two."""
    few, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)))
    styles = content(few, "xl/styles.xml")
    rows = dict.fromkeys(range(4, 1004), ("PASS", "x"))
    many, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)), marks(rows))
    assert content(many, "xl/styles.xml") == styles


def test_no_room_for_styles(tmp_path: Path) -> None:
    """Trap 4: a workbook at the limit of styles gets a report workbook, with the reason in it."""
    xfs = "".join(
        f'<xf numFmtId="{at * 7919 % 99_991}" fontId="0" fillId="0" borderId="0"/>' for at in range(64_000)
    )
    full = crafted.STYLES.replace('<cellXfs count="3">', f'<cellXfs count="64003">{xfs}')
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), styles=full))
    assert outcome.separate
    assert "no room for another cell style" in outcome.warnings[0]
    assert read_book(target).sheets[1].cell(2, 2) == "PASS"


def test_our_conditions_come_last(tmp_path: Path) -> None:
    """Trap 4: our rules have the lowest priority, so those of others win."""
    xml = worksheet(TABLE_ROWS, after=AROUND["conditionalFormatting"])
    target, _ = _mark(tmp_path, parts(xml))
    assert re.findall(r'priority="(\d+)"', content(target, SHEET)) == ["7", "8", "9"]


def test_a_missing_styles_part(tmp_path: Path) -> None:
    """Trap 5: it becomes xl/styles.xml, with its type and relation."""
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), styles=None))
    assert "xl/styles.xml" in outcome.changed
    assert openpyxl.load_workbook(target)["Sheet1"]["C4"].font.bold


def test_formulas_are_never_overwritten(tmp_path: Path) -> None:
    """Trap 6: columns with a formula, and those a formula reads, are passed over; forced ones are refused."""
    rows = TABLE_ROWS.replace(
        '<c r="B5"><v>3</v></c>', '<c r="B5"><v>3</v></c><c r="D5"><f>F4+G4</f><v>1</v></c>'
    )
    _, outcome = _mark(tmp_path, parts(worksheet(rows)))
    assert outcome.placed == {"Sheet1": "H:I"}
    with pytest.raises(WorkbookError, match="Sheet1!D5 holds something of others") as refusal:
        _mark(tmp_path, parts(worksheet(rows)), marks(at=3))
    assert refusal.value.code == "column-taken"


def test_the_used_range_grows(tmp_path: Path) -> None:
    """Trap 6: dimension and spans take in our cells."""
    xml = worksheet(TABLE_ROWS, before='<dimension ref="A3:B5"/>')
    target, _ = _mark(tmp_path, parts(xml), marks({4: ("PASS", "x"), 9: ("FAIL", "y")}))
    text = content(target, SHEET)
    assert '<dimension ref="A3:D9"/>' in text
    assert re.findall(r'spans="([^"]*)"', text) == ["1:4", "1:4", "1:2"]
    assert '<row r="9"><c r="C9"' in text


@pytest.mark.parametrize(
    ("cols", "expected"),
    [
        ('<col min="1" max="9" width="7"/>', [(1, 2, "7"), (3, 3, "12"), (4, 4, "40"), (5, 9, "7")]),
        ('<col min="4" max="16384" hidden="1"/>', [(3, 3, "12"), (4, 4, "40"), (5, 16384, None)]),
        ('<col min="1" max="1" width="5"/><col min="6" max="6" width="6"/>',
         [(1, 1, "5"), (3, 3, "12"), (4, 4, "40"), (6, 6, "6")]),
        ("<col max='3' min='3' width='9'/>", [(3, 3, "12"), (4, 4, "40")]),
    ],
)  # fmt: skip
def test_columns_never_overlap(
    tmp_path: Path, cols: str, expected: list[tuple[int, int, str | None]]
) -> None:
    """Trap 6: a stretch of columns that reaches over ours is split, and ours are never hidden."""
    target, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS, before=f"<cols>{cols}</cols>")))
    listed = index(content(target, SHEET).encode(), SHEET).find("cols")
    assert listed is not None
    found = [
        (int(child.attributes["min"]), int(child.attributes["max"]), child.attributes.get("width"))
        for child in listed.children
    ]
    assert found == expected


def test_merged_cells(tmp_path: Path) -> None:
    """Traps 1 and 7: merged columns are passed over; in forced ones only the first cell gets a mark."""
    merged = '<mergeCells count="1"><mergeCell ref="C1:D1"/></mergeCells>'
    _, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS, after=merged)))
    assert outcome.placed == {"Sheet1": "E:F"}
    merged = '<mergeCells count="1"><mergeCell ref="D4:E5"/></mergeCells>'
    with pytest.raises(WorkbookError, match="lies in merged cells"):
        _mark(tmp_path, parts(worksheet(TABLE_ROWS, after=merged)), marks(at=4))


def _with_table(reference: str) -> dict[str, str | bytes]:
    table = (
        f'<table xmlns="{crafted.MAIN}" id="1" name="T" displayName="Lifts" ref="{reference}">'
        '<tableColumns count="2"><tableColumn id="1" name="Item"/><tableColumn id="2" name="Load"/>'
        "</tableColumns></table>"
    )
    relation = f'<Relationship Id="t" Type="{crafted.DOCUMENT}/table" Target="../tables/table1.xml"/>'
    xml = worksheet(TABLE_ROWS, after='<tableParts count="1"><tablePart r:id="t"/></tableParts>')
    return parts(xml, sheet_relations=relation, more={"xl/tables/table1.xml": table})


def test_tables(tmp_path: Path) -> None:
    """Traps 1 and 8: marks stand beside a table, which stays as it was; inside one they are refused."""
    target, outcome = _mark(tmp_path, _with_table("A3:B5"))
    assert outcome.placed == {"Sheet1": "C:D"}
    _same_otherwise(tmp_path / "lift.xlsx", target, outcome.changed)
    _, outcome = _mark(tmp_path, _with_table("A3:C5"))
    assert outcome.placed == {"Sheet1": "D:E"}
    with pytest.raises(WorkbookError, match="the table Lifts"):
        _mark(tmp_path, _with_table("A3:C5"), marks(at=3))


@pytest.mark.parametrize(
    ("after_sheets", "after", "more", "place"),
    [
        ('<definedNames><definedName name="R">Sheet1!$C$1:$D$2</definedName></definedNames>', "", {}, "E:F"),
        ('<definedNames><definedName name="_xlnm.Print_Titles" localSheetId="0">Sheet1!$1:$3</definedName>'
         '</definedNames>', "", {}, "C:D"),
        ('<definedNames><definedName name="_xlnm.Print_Area" localSheetId="0">Sheet1!$A$1:$C$9</definedName>'
         '</definedNames>', "", {}, "D:E"),
        ("", '<autoFilter ref="A3:C5"/>', {}, "D:E"),
        ("", AROUND["dataValidations"].replace("A4:A5", "D1:E1048576"), {}, "F:G"),
        ("", AROUND["conditionalFormatting"].replace("B4:B5", "C1 E1:E9"), {}, "F:G"),
        ("", "<extLst><ext><x:f xmlns:x='urn:x' xmlns:m='urn:m'><m:sqref xmlns:m='urn:m'>C9</m:sqref></x:f>"
             "</ext></extLst>", {}, "D:E"),
        ("", "", {"xl/charts/chart1.xml": "<c><f>Sheet1!$C$1:$C$9</f></c>"}, "D:E"),
        ("", "", {"xl/charts/chart1.xml": "<c><f>Other!$C$1:$C$9</f></c>"}, "C:D"),
    ],
)  # fmt: skip
def test_what_others_rely_on_is_passed_over(
    tmp_path: Path, after_sheets: str, after: str, more: dict[str, str | bytes], place: str
) -> None:
    """Trap 1: names, filters, validations, formats, charts and the print area."""
    contents = parts(worksheet(TABLE_ROWS, after=after), after_sheets=after_sheets, more=more)
    _, outcome = _mark(tmp_path, contents)
    assert outcome.placed == {"Sheet1": place}


@pytest.mark.parametrize(
    ("formula", "place"),
    [
        ("SUM(Sheet1!C:C)", "D:E"),
        ("Sheet1!$D$400", "E:F"),
        ("Lot2!C9+Sheet1!D400:E401", "F:G"),
        ("'Sheet1'!c9", "D:E"),
        ("Sheet3!C9+LOG10(5)+Sheet1!B2", "C:D"),
        ('"Sheet1!C9"', "C:D"),
        ("[1]Sheet1!C9", "C:D"),
    ],
)
def test_formulas_of_other_sheets(tmp_path: Path, formula: str, place: str) -> None:
    """Trap 1: a formula on any sheet keeps the columns that it reads."""
    other = worksheet(f'<row r="1"><c r="A1"><f>{formula}</f><v>1</v></c></row>')
    _, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), other))
    assert outcome.placed == {"Sheet1": place}


def test_a_shared_formula_reads_further_than_its_text(tmp_path: Path) -> None:
    """Trap 1: a formula shared over three columns reads three columns on."""
    rows = TABLE_ROWS + '<row r="9"><c r="A9"><f t="shared" ref="A9:C9" si="0">C4</f><v>1</v></c></row>'
    _, outcome = _mark(tmp_path, parts(worksheet(rows)))
    assert outcome.placed == {"Sheet1": "F:G"}


def test_whole_rows(tmp_path: Path) -> None:
    """Trap 1: a formula over whole rows leaves no place in them, so the marks go into a file of their own."""
    counted = worksheet('<row r="1"><c r="A1"><f>COUNTA(Sheet1!$4:$5)</f><v>4</v></c></row>')
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), counted))
    assert outcome.separate
    found = read_book(target)
    assert [sheet.name for sheet in found.sheets] == ["Why", "Sheet1", "Check"]
    assert "no 2 neighbouring columns right of B" in str(found.sheets[0].cell(2, 1))
    assert [found.sheets[1].cell(3, column) for column in (1, 2, 3)] == [5.0, "FAIL", "over the limit"]
    elsewhere = worksheet('<row r="1"><c r="A1"><f>COUNTA(Sheet1!$1:$2)+SUM(Sheet1!6:7)</f><v/></c></row>')
    _, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS), elsewhere))
    assert outcome.placed == {"Sheet1": "C:D"}


def test_notes(tmp_path: Path) -> None:
    """Trap 9: a column with a note is passed over; notes and their drawing are never rewritten."""
    comments = (
        f'<comments xmlns="{crafted.MAIN}"><commentList><comment ref="C4" authorId="0"/>'
        "</commentList></comments>"
    )
    relation = f'<Relationship Id="c" Type="{crafted.DOCUMENT}/comments" Target="../comments1.xml"/>'
    contents = parts(worksheet(TABLE_ROWS), sheet_relations=relation, more={"xl/comments1.xml": comments})
    _, outcome = _mark(tmp_path, contents)
    assert outcome.placed == {"Sheet1": "D:E"}


def test_pictures(tmp_path: Path) -> None:
    """Marks go beside a picture that lies over their rows; one above them is in nobody's way."""
    for row, place in ((0, "C:D"), (3, "F:G")):
        corner = f"<from><col>2</col><row>{row}</row></from><to><col>4</col><row>{row + 1}</row></to>"
        relation = (
            f'<Relationship Id="d" Type="{crafted.DOCUMENT}/drawing" Target="../drawings/drawing1.xml"/>'
        )
        drawing = f"<wsDr><twoCellAnchor>{corner}</twoCellAnchor></wsDr>"
        xml = worksheet(TABLE_ROWS, after='<drawing r:id="d"/>')
        more: dict[str, str | bytes] = {"xl/drawings/drawing1.xml": drawing}
        _, outcome = _mark(tmp_path, parts(xml, sheet_relations=relation, more=more))
        assert outcome.placed == {"Sheet1": place}


@pytest.mark.parametrize(
    ("given", "stored"),
    [
        ("=1+1", "=1+1"), ("+5", "+5"), ("-5 t", "-5 t"), ("@SUM", "@SUM"), ("\t=1", "\t=1"),
        ("\n=1", "\n=1"),
        ("a\x00\x0bb", "ab"), ("x" * 40_000, "x" * 32_767), (" kept ", " kept "), ("_x000D_", "_x000D_"),
        ("a\r\nb", "a\nb"), ("<&>\"'", "<&>\"'"), ("\ud800", None), ("é😀", "é😀"), ("]]>", "]]>"),
    ],
)  # fmt: skip
def test_text_of_others(tmp_path: Path, given: str, stored: str | None) -> None:
    """Trap 10: text stays text, whatever it begins with; what a file cannot hold is left out."""
    target, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)), marks({4: ("PASS", given)}))
    value = read_book(target).sheets[0].cell(4, 4)
    assert value == stored
    oracle = openpyxl.load_workbook(target)["Sheet1"]["D4"]
    assert oracle.data_type != "f"
    if stored is not None and "_x" not in stored:
        assert oracle.value == stored


def test_numbers_stay_numbers(tmp_path: Path) -> None:
    """Trap 10: -5 is a number, yes a yes; one that is none is our own mistake."""
    target, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)), marks({4: (-5.0, True), 5: (0.1 + 0.2, None)}))
    sheet = read_book(target).sheets[0]
    assert [sheet.cell(4, 3), sheet.cell(4, 4), sheet.cell(5, 3), sheet.cell(5, 4)] == [
        -5.0,
        True,
        0.1 + 0.2,
        None,
    ]
    with pytest.raises(ValueError, match="inf"):
        _mark(tmp_path, parts(worksheet(TABLE_ROWS)), marks({4: (float("inf"), "x")}))


def test_a_locked_structure(tmp_path: Path) -> None:
    """Trap 11: columns, but no new sheet, and a jump to it is plain text."""
    contents = parts(worksheet(TABLE_ROWS), properties='<workbookProtection lockStructure="1"/>')
    target, outcome = _mark(tmp_path, contents, marks({4: ("PASS", Link("see", "Check", "A1"))}))
    assert "structure of the workbook is locked" in outcome.warnings[0]
    assert [sheet.name for sheet in read_book(target).sheets] == ["Sheet1"]
    assert read_book(target).sheets[0].cell(4, 4) == "see"
    assert "hyperlink" not in content(target, SHEET)


def test_a_protected_sheet(tmp_path: Path) -> None:
    """Trap 11: marked, still protected, and said so."""
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS, after='<sheetProtection sheet="1"/>')))
    assert any("is protected" in warning for warning in outcome.warnings)
    assert '<sheetProtection sheet="1"/>' in content(target, SHEET)


def test_a_signed_workbook(tmp_path: Path) -> None:
    """Trap 11: refused with the reason, source and target as they were."""
    contents = parts(worksheet(TABLE_ROWS), more={"_xmlsignatures/sig1.xml": "<Signature/>"})
    source, target = crafted.save(tmp_path, contents), tmp_path / "marked.xlsx"
    before = source.read_bytes()
    with pytest.raises(WorkbookError, match="digital signature") as refusal:
        mark_book(source, target, [marks()], [SUMMARY])
    assert refusal.value.code == "signed"
    assert source.read_bytes() == before
    assert not target.exists()


def test_marking_again_changes_nothing(tmp_path: Path) -> None:
    """Trap 12: the same marks on a marked file give the same file, part by part."""
    given = marks({4: ("PASS", Link("see", "Check", "A1")), 5: ("FAIL", "x"), 8: ("HOLD", "y")})
    first, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS, before='<dimension ref="A3:B5"/>')), given)
    second = tmp_path / "again.xlsx"
    outcome = mark_book(first, second, [given], [SUMMARY])
    assert outcome.placed == {"Sheet1": "C:D"}
    with zipfile.ZipFile(first) as one, zipfile.ZipFile(second) as two:
        assert one.namelist() == two.namelist()
        for name in one.namelist():
            assert one.read(name) == two.read(name), name


def test_marking_again_replaces_our_marks_and_nothing_else(tmp_path: Path) -> None:
    """Trap 12: verdicts of rows that are no longer judged go; what others added stays."""
    first, _ = _mark(tmp_path, parts(worksheet(TABLE_ROWS)))
    book = openpyxl.load_workbook(first)
    book["Sheet1"]["E4"], book["Sheet1"]["C1"], book["Sheet1"]["A4"] = "a remark", "a title", 7
    book["Sheet1"]["D7"] = "=A4"
    book["Sheet1"].conditional_formatting.add("E4:E5", openpyxl.formatting.rule.FormulaRule(["E4>1"]))
    edited, third = tmp_path / "edited.xlsx", tmp_path / "third.xlsx"
    book.save(edited)
    outcome = mark_book(edited, third, [marks({5: ("PASS", "well now")})], [SUMMARY])
    assert outcome.placed == {"Sheet1": "F:G"}
    sheet = read_book(third).sheets[0]
    assert [sheet.cell(row, column) for row, column in ((4, 3), (4, 4), (5, 3), (3, 3))] == [None] * 4
    assert [sheet.cell(row, column) for row, column in ((4, 5), (1, 3), (4, 1))] == [
        "a remark",
        "a title",
        7.0,
    ]
    assert [sheet.cell(5, 6), sheet.cell(5, 7), sheet.cell(4, 6)] == ["PASS", "well now", None]
    assert any("Sheet1!D7 holds a formula of others" in warning for warning in outcome.warnings)
    assert content(third, SHEET).count("<conditionalFormatting") == 2
    assert [found.name for found in read_book(third).sheets] == ["Sheet1", "Check"]


def test_a_sheet_of_others_with_our_name(tmp_path: Path) -> None:
    """Trap 12: it is left alone, ours gets another name, also the next time."""
    contents = parts(
        worksheet(TABLE_ROWS), worksheet('<row r="1"><c r="A1"><v>9</v></c></row>'), names=("Sheet1", "CHECK")
    )
    first, outcome = _mark(tmp_path, contents)
    assert "has a sheet Check of its own" in outcome.warnings[0]
    second = tmp_path / "again.xlsx"
    mark_book(first, second, [marks()], [SUMMARY])
    for path in (first, second):
        book = read_book(path)
        assert [sheet.name for sheet in book.sheets] == ["Sheet1", "CHECK", "Check (2)"]
        assert book.sheets[1].cell(1, 1) == 9.0


def test_several_blocks_share_the_columns(tmp_path: Path) -> None:
    """Two tables one above the other: one set of columns, one format over both, right of the wider."""
    rows = TABLE_ROWS + TABLE_ROWS.replace('"3"', '"13"').replace('"4"', '"14"').replace(
        '"5"', '"15"'
    ).replace("A3", "A13").replace("B3", "E13").replace("A4", "A14").replace("B4", "E14").replace(
        "A5", "A15"
    ).replace("B5", "E15")
    given = SheetMarks(
        "Sheet1",
        crafted.COLUMNS,
        (Block(13, 1, 5, {14: ("FAIL", "b"), 15: ("PASS", "c")}), Block(3, 1, 2, {4: ("PASS", "a")})),
        0,
        {"FAIL": crafted.RED},
    )
    target, outcome = _mark(tmp_path, parts(worksheet(rows)), given)
    assert outcome.placed == {"Sheet1": "F:G"}
    text = content(target, SHEET)
    assert 'sqref="A4:G4 A14:G15"' in text
    assert 'AND($F4="FAIL"' in text
    sheet = read_book(target).sheets[0]
    assert [sheet.cell(row, 6) for row in (3, 4, 13, 14, 15)] == [
        "rigxl verdict",
        "PASS",
        "rigxl verdict",
        "FAIL",
        "PASS",
    ]


def test_headings_look_like_their_neighbours(tmp_path: Path) -> None:
    """A heading of ours wears the style of the heading to its left, wrapped."""
    path = tmp_path / "lift.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet()
    head = book.add_format(
        {"bold": True, "bg_color": "#112233", "font_color": "#FFFFFF", "border": 1, "align": "center"}
    )
    sheet.write_row(2, 0, ["Item", "Load"], head)
    sheet.write_row(3, 0, [1, 2.5])
    book.close()
    target = tmp_path / "marked.xlsx"
    mark_book(path, target, [marks({4: ("PASS", "x")})], [])
    cell = openpyxl.load_workbook(target)["Sheet1"]["C3"]
    assert (cell.fill.fgColor.rgb, cell.font.color.rgb, cell.border.left.style) == (
        "FF112233",
        "FFFFFFFF",
        "thin",
    )
    assert (cell.alignment.horizontal, cell.alignment.wrap_text) == ("center", True)


def test_a_new_sheet_in_full(tmp_path: Path) -> None:
    """Widths, frozen rows, merged titles, number formats, jumps and the page, as openpyxl reads them."""
    new = NewSheet(
        "Report: all",
        (10.0, 20.0),
        (
            (NewCell("Title", Look(bold=True, size=16.0)),),
            (NewCell("row"), NewCell(Link("go", "Sheet1", "B4"), Look(ink="0000FF"))),
            (
                NewCell(0.25, Look(number_format="0.0%", fill="FFEE00", border=True, centred=True)),
                NewCell(None),
            ),
        ),
        freeze_rows=2,
        wide_rows=frozenset({1}),
    )
    source, target = crafted.save(tmp_path, parts(worksheet(TABLE_ROWS))), tmp_path / "marked.xlsx"
    mark_book(source, target, [], [new])
    sheet = openpyxl.load_workbook(target)["Report all"]
    assert (sheet.freeze_panes, str(sheet.merged_cells)) == ("A3", "A1:B1")
    assert (sheet["A1"].font.sz, sheet["A3"].number_format, sheet["A3"].fill.fgColor.rgb) == (
        16,
        "0.0%",
        "FFFFEE00",
    )
    assert (sheet["B2"].hyperlink.location, sheet["B2"].value) == ("'Sheet1'!B4", "go")
    assert (sheet.page_setup.orientation, sheet.column_dimensions["B"].width) == ("landscape", 20)


def test_in_place(tmp_path: Path) -> None:
    """Only on request, with the original kept; an earlier other backup is never overwritten."""
    source = crafted.save(tmp_path, parts(worksheet(TABLE_ROWS)))
    first = source.read_bytes()
    with pytest.raises(WorkbookError) as refusal:
        mark_book(source, source, [marks()], [])
    assert refusal.value.code == "target-is-source"
    mark_book(source, source, [marks()], [], in_place=True)
    second = source.read_bytes()
    assert (tmp_path / "lift.backup.xlsx").read_bytes() == first
    mark_book(source, source, [marks({4: ("FAIL", "x")})], [], in_place=True)
    assert (tmp_path / "lift.backup.xlsx").read_bytes() == first
    assert (tmp_path / "lift.backup-2.xlsx").read_bytes() == second
    assert read_book(source).sheets[0].cell(4, 3) == "FAIL"
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "lift.backup-2.xlsx",
        "lift.backup.xlsx",
        "lift.xlsx",
    ]


def test_formats_that_can_only_be_read(tmp_path: Path) -> None:
    """A CSV file gets a report workbook beside it and stays as it was."""
    source, target = tmp_path / "lift.csv", tmp_path / "report.xlsx"
    source.write_text("Item,Load\n1,2.5\n")
    outcome = mark_book(source, target, [marks({2: ("PASS", "=ok")}, header_row=1, sheet="lift")], [SUMMARY])
    assert outcome.separate
    assert source.read_text() == "Item,Load\n1,2.5\n"
    book = openpyxl.load_workbook(target)
    assert book.sheetnames == ["Why", "lift", "Check"]
    assert [cell.value for cell in book["lift"][2]] == [2, "PASS", "=ok"]
    assert book["lift"]["C2"].data_type == "s"
    assert book["lift"]["B2"].fill.fgColor.rgb == "FFC6EFCE"


def test_macros_keep_their_name(tmp_path: Path) -> None:
    """A workbook with macros is not written under a name that spreadsheet programs refuse."""
    contents = parts(worksheet(TABLE_ROWS))
    kinds = str(contents["[Content_Types].xml"])
    contents["[Content_Types].xml"] = kinds.replace(
        f"{crafted.KIND}.sheet.main+xml", "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    )
    source = crafted.save(tmp_path, contents, "lift.xlsm")
    with pytest.raises(WorkbookError) as refusal:
        mark_book(source, tmp_path / "marked.xlsx", [marks()], [])
    assert refusal.value.code == "target-suffix"
    mark_book(source, tmp_path / "marked.xlsm", [marks()], [])
    assert read_book(tmp_path / "marked.xlsm").kind == "xlsm"


def test_a_sheet_that_is_not_there(tmp_path: Path) -> None:
    """Marks for a sheet that the workbook lacks are refused."""
    with pytest.raises(WorkbookError) as refusal:
        _mark(tmp_path, parts(worksheet(TABLE_ROWS)), marks(sheet="Lifts"))
    assert refusal.value.code == "no-such-sheet"


def test_one_sheet_is_marked_once(tmp_path: Path) -> None:
    """Two sets of marks for one sheet are a mistake of the caller, not a loss of the first."""
    source = crafted.save(tmp_path, parts(worksheet(TABLE_ROWS)))
    with pytest.raises(ValueError, match="come together"):
        mark_book(source, tmp_path / "marked.xlsx", [marks(), marks()], [])


def test_the_source_is_never_touched(tmp_path: Path) -> None:
    """Marking reads the source and leaves every byte of it."""
    source = crafted.save(tmp_path, parts(worksheet(TABLE_ROWS)))
    before = hashlib.sha256(source.read_bytes()).hexdigest()
    mark_book(source, tmp_path / "marked.xlsx", [marks()], [SUMMARY])
    assert hashlib.sha256(source.read_bytes()).hexdigest() == before
    assert read_book(source).sha256 == before


def test_columns_of_the_marks_may_be_many(tmp_path: Path) -> None:
    """A workbook with eight columns of ours, widths and words where they belong."""
    columns = tuple(MarkColumn(f"rigxl {name}", 9.0) for name in "abcdefgh")
    rows = {row: tuple(f"{name}{row}" for name in "abcdefgh") for row in (4, 5)}
    given = SheetMarks("Sheet1", columns, (Block(3, 1, 2, rows),), 7, {"h4": crafted.RED})
    target, outcome = _mark(tmp_path, parts(worksheet(TABLE_ROWS)), given)
    assert outcome.placed == {"Sheet1": "C:J"}
    assert 'AND($J4="h4"' in content(target, SHEET)
