"""Settling puts values in place of our functions, keeps each formula, and changes nothing else."""

from __future__ import annotations

import io
import warnings
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.errors import CellError, WorkbookError
from rigxl.formulas.settle import Outcome, settle
from rigxl.workbook import container, splice
from rigxl.workbook.book import read_book
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Package, Workbook
from rigxl.workbook.parts import Parts
from rigxl.workbook.values import Formula
from tests.formulas.books import everywhere
from tests.workbook import crafted, office
from tests.workbook.inspection import Opened, faults
from tests.workbook.test_fixtures import FIXTURES, MARKABLE

TENSION = 10 / 3**0.5
"""Of 10 on two legs at 60 degrees, by hand."""
ROW = 5000
FORMULAS = (
    "RIGXL.LEGTENSION(10,2,60)",
    "_xldudf_RIGXL_LEGTENSION(10,2,0)",
    "A5000*2",
    'RIGXL_HOOKANGLEVERDICT(60)&amp;""',
)
WITHOUT_NOTES = {
    "threaded-comments.xlsx",
    "comment-and-button.xlsx",
    "header-image.xlsx",
    "ole-embedded.xlsx",
    "strict.xlsx",
}
"""Those whose first sheet has notes, a drawing of the kind that shows them, or is Strict."""


def with_formulas(path: Path, folder: Path) -> Path:
    """A copy of a workbook with calls of our functions in a row far below on its first sheet."""
    workbook = Workbook(Package(path.read_bytes(), Limits()))
    part = next(sheet.part for sheet in workbook.sheets if sheet.kind == "worksheet")
    encoded = workbook.package.text(part)
    frame = frame_of(encoded.text, part)
    data = frame.tree.find("sheetData")
    assert data is not None
    cells = "".join(
        f'<c r="{"ABCD"[at]}{ROW}" t="e"><f>{text}</f><v>#NAME?</v></c>' for at, text in enumerate(FORMULAS)
    )
    xml = splice.prefixed(f'<row r="{ROW}">{cells}</row>'.encode(), splice.prefix_of(frame.text, frame.tree))
    parts = Parts(workbook)
    parts.change(part, encoded, [splice.append_child(encoded.text, data, xml)])
    target = folder / path.name
    sink = io.BytesIO()
    container.write_container(sink, workbook.package.data, workbook.package.entries, parts.changed, {})
    target.write_bytes(sink.getvalue())
    return target


@pytest.fixture(scope="module")
def settled(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Path, Path, Outcome]]:
    """Every fixture with formulas of ours in it, settled."""
    folder = tmp_path_factory.mktemp("settled")
    (folder / "before").mkdir()
    (folder / "after").mkdir()
    found = {}
    for name in MARKABLE:
        source = with_formulas(FIXTURES / name, folder / "before")
        target = folder / "after" / name
        found[name] = source, target, settle(source, target)
    return found


@pytest.mark.parametrize("name", [name for name in MARKABLE if name != "structure-locked.xlsx"])
def test_values_stand_in_place_of_formulas(settled: dict[str, tuple[Path, Path, Outcome]], name: str) -> None:
    """Three of ours settled, one of others kept and brought up to date."""
    _, target, outcome = settled[name]
    sheet = read_book(target).sheets[0]
    assert sheet.cell(ROW, 1) == pytest.approx(TENSION, rel=1e-15)
    assert sheet.cell(ROW, 2) == CellError("#N/A")
    assert sheet.cell(ROW, 4) == "PASS"
    other = sheet.cell(ROW, 3)
    assert isinstance(other, Formula)
    assert (other.text, other.result) == ("=A5000*2", pytest.approx(2 * TENSION))
    assert (len(outcome.settled), outcome.refreshed, outcome.left) == (3, 1, [])
    assert "angle is 0 degrees" in outcome.settled[1].why


@pytest.mark.parametrize("name", MARKABLE)
def test_nothing_is_lost(settled: dict[str, tuple[Path, Path, Outcome]], name: str) -> None:
    """By zipfile, ElementTree, openpyxl and calamine: what differs is the settled row alone."""
    source, target, _ = settled[name]
    if not target.exists():
        pytest.skip("nothing could be settled in it: see the test of locked workbooks")
    found = faults(source, target)
    ours = [f"{column}{ROW}" for column in "ABCD"] + [f"({ROW}, ", f"({ROW - 1}, "]
    assert [fault for fault in found.all() if not any(cell in fault for cell in ours)] == []


@pytest.mark.parametrize("name", [name for name in MARKABLE if name != "structure-locked.xlsx"])
def test_formulas_are_kept(settled: dict[str, tuple[Path, Path, Outcome]], name: str) -> None:
    """In a note on the cell, or on a list where the sheet has notes or a drawing of that kind already."""
    source, target, outcome = settled[name]
    first = read_book(target).sheets[0].name
    if name in WITHOUT_NOTES:
        (listed,) = [sheet for sheet in read_book(target).sheets if sheet.name == "rigxl settled formulas"]
        assert [listed.cell(row, 2) for row in (3, 4, 5)] == [
            "=RIGXL.LEGTENSION(10,2,60)",
            "=_xldudf_RIGXL_LEGTENSION(10,2,0)",
            '=RIGXL_HOOKANGLEVERDICT(60)&""',
        ]
        assert outcome.said
        before, after = Opened(source), Opened(target)
        for entry in before.infos:
            if "comment" in entry.lower() or entry.lower().endswith(".vml"):
                assert after.raw(entry) == before.raw(entry)
        before.close()
        after.close()
        return
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # openpyxl tells of what it would lose on saving
        sheet = openpyxl.load_workbook(target)[first]
    notes = {
        cell.coordinate: cell.comment.text
        for row in sheet.iter_rows(ROW, ROW)
        for cell in row
        if cell.comment
    }
    assert sorted(notes) == [f"A{ROW}", f"B{ROW}", f"D{ROW}"]
    assert notes[f"A{ROW}"].startswith("=RIGXL.LEGTENSION(10,2,60)\nreplaced by its value by rigxl")
    assert "is refused: LEGTENSION: angle is 0 degrees" in notes[f"B{ROW}"]


def test_a_locked_workbook(settled: dict[str, tuple[Path, Path, Outcome]]) -> None:
    """No sheet is added to it; notes are."""
    source, target, outcome = settled["structure-locked.xlsx"]
    assert [sheet.name for sheet in read_book(source).sheets] == [
        one.name for one in read_book(target).sheets
    ]
    assert (len(outcome.settled), outcome.left) == (3, [])


def test_libreoffice_reads_the_values(settled: dict[str, tuple[Path, Path, Outcome]], tmp_path: Path) -> None:
    """Without an add-in: each value where its formula stood, those of others as they were, notes shown."""
    office.program()
    both = {name: pair for name, pair in settled.items() if pair[1].exists()}
    before = office.opened([FIXTURES / name for name in both], tmp_path / "before")
    after = office.opened([target for _, target, _ in both.values()], tmp_path / "after")
    assert set(both) - set(after) <= {"sparklines.xlsx"}  # which LibreOffice 7.4 breaks down on
    for name, sheets in after.items():
        first = next(iter(sheets))
        row = {column: shown for (number, column), shown in sheets[first].items() if number == ROW}
        assert float(row[1]) == pytest.approx(TENSION)
        assert float(row[3]) == pytest.approx(2 * TENSION)
        assert row[2].startswith("#N/A") or "#N/A" in row[2]
        assert "PASS" in row[4]
        for sheet, cells in before.get(name, {}).items():
            now = sheets[sheet]
            assert {where: now.get(where) for where in cells} == cells, f"{name}, {sheet}"


def test_shared_and_array_formulas(tmp_path: Path) -> None:
    """Every member and every cell that is filled; what cannot be settled elsewhere is named."""
    source, target = everywhere(tmp_path), tmp_path / "settled.xlsx"
    outcome = settle(source, target)
    sheet = read_book(target).sheets[0]
    assert [sheet.cell(row, 4) for row in (1, 2)] == [0.5, 1.0]
    assert sheet.cell(3, 4) == CellError("#VALUE!")
    assert (sheet.cell(3, 5), sheet.cell(4, 5)) == (pytest.approx(TENSION), pytest.approx(2 * TENSION))
    assert sheet.cell(4, 6) == Formula('="_xldudf_RIGXL_LEGTENSION("', "x", True)
    assert isinstance(sheet.cell(1, 3), Formula)
    assert [said.partition(" was")[0].partition(" calls")[0] for said in outcome.left] == [
        "Sheet1!C1",
        "a name tension of the workbook",
        "a conditional format of sheet Sheet1",
        "a validation of sheet Sheet1",
        "a column tension of table T",
    ]
    assert outcome.differ == 1


def test_a_shared_formula_that_is_settled_in_part(tmp_path: Path) -> None:
    """A member that stays gets its formula in full, for its first cell has gone."""
    rows = (
        '<row r="1"><c r="A1"><v>10</v></c><c r="B1"><f t="shared" ref="B1:B2" si="0">'
        "IF(A1&gt;1,RIGXL.LEGTENSION(A1,2,60),OFFSET(A1,0,0))</f><v>1</v></c></row>"
        '<row r="2"><c r="A2"><v>1</v></c><c r="B2"><f t="shared" si="0"/><v>1</v></c></row>'
    )
    source = crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows)))
    outcome = settle(source, tmp_path / "settled.xlsx")
    sheet = read_book(tmp_path / "settled.xlsx").sheets[0]
    assert sheet.cell(1, 2) == pytest.approx(TENSION)
    assert sheet.cell(2, 2) == Formula("=IF(A2>1,RIGXL.LEGTENSION(A2,2,60),OFFSET(A2,0,0))", 1.0, True)
    assert outcome.left == [
        "Sheet1!B2 was left as it is: it uses the function OFFSET, which is not worked out here"
    ]


CHAIN = '<calcChain xmlns="{space}">{entries}</calcChain>'


@pytest.mark.parametrize(
    ("entries", "left"),
    [
        ('<c r="A1" i="1"/><c r="B1"/><c r="A1" i="2"/>', '<c r="B1" i="1"/><c r="A1" i="2"/>'),
        ('<c r="A1" i="2"/><c r="A1" i="1"/><c r="B1"/>', '<c r="A1" i="2"/><c r="B1" i="1"/>'),
        ('<c r="B1" i="1"/><c r="A1"/><c r="A1" i="2" l="1"/>', '<c r="B1" i="1"/><c r="A1" i="2" l="1"/>'),
        ('<c r="A1" i="1"/>', None),
    ],
)
def test_the_calculation_chain(tmp_path: Path, entries: str, left: str | None) -> None:
    """It must not name a cell without a formula; each entry keeps its sheet; an empty one goes altogether."""
    rows = '<row r="1"><c r="A1"><f>RIGXL.LEGTENSION(10,2,60)</f><v>1</v></c>{}</row>'
    other = '<c r="B1"><f>1+1</f><v>2</v></c>'
    contents = crafted.parts(
        crafted.worksheet(rows.format(other if left else "")),
        crafted.worksheet('<row r="1"><c r="A1"><f>1+2</f><v>3</v></c></row>'),
        more={"xl/calcChain.xml": CHAIN.format(space=crafted.MAIN, entries=entries)},
    )
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml"
    listed = f'<Override PartName="/xl/calcChain.xml" ContentType="{kind}"/></Types>'
    contents["[Content_Types].xml"] = str(contents["[Content_Types].xml"]).replace("</Types>", listed)
    relation = (
        f'<Relationship Id="cc" Type="{crafted.DOCUMENT}/calcChain" Target="calcChain.xml"/></Relationships>'
    )
    rels = "xl/_rels/workbook.xml.rels"
    contents[rels] = str(contents[rels]).replace("</Relationships>", relation)
    settle(crafted.save(tmp_path, contents), tmp_path / "settled.xlsx")
    with zipfile.ZipFile(tmp_path / "settled.xlsx") as package:
        if left is None:
            assert "xl/calcChain.xml" not in package.namelist()
            assert b"calcChain" not in package.read("[Content_Types].xml") + package.read(rels)
        else:
            assert package.read("xl/calcChain.xml").decode() == CHAIN.format(space=crafted.MAIN, entries=left)


def test_results_that_cannot_be_brought_up_to_date(tmp_path: Path) -> None:
    """They are dropped rather than left stale, and the workbook asks to be calculated."""
    rows = (
        '<row r="1"><c r="A1"><f>RIGXL.LEGTENSION(10,2,60)</f><v>1</v></c>'
        '<c r="B1"><f>OFFSET(A1,0,0)</f><v>1</v></c><c r="C1"><f>OFFSET(D1,0,0)</f><v>7</v></c></row>'
    )
    source = crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows)))
    settle(source, tmp_path / "settled.xlsx")
    sheet = read_book(tmp_path / "settled.xlsx").sheets[0]
    assert sheet.cell(1, 2) == Formula("=OFFSET(A1,0,0)", None, False)
    assert sheet.cell(1, 3) == Formula("=OFFSET(D1,0,0)", 7.0, True)
    with zipfile.ZipFile(tmp_path / "settled.xlsx") as package:
        assert b'<calcPr fullCalcOnLoad="1"/>' in package.read("xl/workbook.xml")


def test_an_empty_text_stays_a_text(tmp_path: Path) -> None:
    """A blank cell would count as 0 where a text does not."""
    rows = '<row r="1"><c r="A1" t="str"><f>IF(B1="","",RIGXL.LEGTENSION(10,2,60))</f><v></v></c></row>'
    settle(crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows))), tmp_path / "settled.xlsx")
    assert read_book(tmp_path / "settled.xlsx").sheets[0].cell(1, 1) == Formula('=""', "", True)


def test_a_workbook_saved_by_libreoffice(tmp_path: Path) -> None:
    """It says what others leave out: a style of 0, the type of a number, aca."""
    cell = '<c r="A1" s="0" t="n"><f aca="false">RIGXL.LEGTENSION(10,2,60)</f><v>1</v></c>'
    rows = f'<row r="1">{cell}<c r="B1" s="0" t="n"><f aca="false">A1*2</f><v>2</v></c></row>'
    settle(crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows))), tmp_path / "settled.xlsx")
    sheet = read_book(tmp_path / "settled.xlsx").sheets[0]
    assert sheet.cell(1, 1) == pytest.approx(TENSION)
    assert sheet.cell(1, 2) == Formula("=A1*2", pytest.approx(2 * TENSION), True)


def test_many_formulas_go_on_a_list(tmp_path: Path) -> None:
    """Beyond a thousand notes on a sheet."""
    rows = "".join(
        f'<row r="{n}"><c r="A{n}"><f>RIGXL.LEGTENSION({n},2,60)</f><v>1</v></c></row>'
        for n in range(1, 1102)
    )
    outcome = settle(
        crafted.save(tmp_path, crafted.parts(crafted.worksheet(rows))), tmp_path / "settled.xlsx"
    )
    assert len(outcome.settled) == 1101
    listed = read_book(tmp_path / "settled.xlsx").sheets[1]
    assert (listed.name, listed.rows[-1].number) == ("rigxl settled formulas", 1103)


def test_nothing_to_settle_and_refusals(tmp_path: Path) -> None:
    """No file is written, and the source is as it was."""
    assert settle(FIXTURES / "table.xlsx", tmp_path / "out.xlsx").settled == []
    with pytest.raises(WorkbookError, match="digital signature"):
        settle(FIXTURES / "signed.xlsx", tmp_path / "out.xlsx")
    source = everywhere(tmp_path)
    with pytest.raises(WorkbookError, match="is the workbook itself"):
        settle(source, source)
    assert [path.name for path in tmp_path.iterdir()] == ["everywhere.xlsx"]


def test_as_a_command(tmp_path: Path) -> None:
    """A copy beside the workbook; what had to stay is said, and the exit code says so too."""
    source = everywhere(tmp_path)
    run = CliRunner().invoke(main, ["settle", str(source)])
    assert run.exit_code == 1
    assert f"{tmp_path / 'everywhere.settled.xlsx'}: 4 formulas replaced by values" in run.stdout.replace(
        "\n", " "
    )
    assert "Sheet1!C1 was left as it is" in run.stdout
    again = CliRunner().invoke(main, ["settle", str(FIXTURES / "table.xlsx")])
    assert (again.exit_code, "no formula to settle" in again.stdout) == (0, True)
