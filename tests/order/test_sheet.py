"""The workbook of an order as it is on the disk, and its goods-in list filled in and read back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from rigxl.errors import InputError, WorkbookError
from rigxl.items import FAIL, HOLD, PASS
from rigxl.order.lines import Order
from rigxl.order.sheet import SHEETS, write_order
from rigxl.schedule.check import Checked, check_workbook
from rigxl.schedule.goods_in import CHECK, READ, RIGHT, TAG
from tests.order.schedules import DEVICE, ROW, order
from tests.schedule.books import TODAY, table
from tests.workbook.office import opened

ROWS = (
    ROW | {"Lift": "A", "Tag": "S-1"},
    ROW | {"Lift": "B", "Tag": "S-2", "Quantity": 3, "Type": "bow, bolt type"},
    DEVICE | {"Lift": "C"},
    ROW | {"Lift": "D", "Tag": "S-4", "Load (t)": 9},
)
READINGS = {
    "rated load mark": {"shackle": "5.8 t", "spreader bar": "10 t"},
    "size measured": {"shackle": "22 mm"},
}


@pytest.fixture
def written(tmp_path: Path) -> Path:
    """The order of some rows, with a tenth of spares."""
    path = tmp_path / "lift.order.xlsx"
    write_order(order(*ROWS, spares="1/10"), path)
    return path


@pytest.fixture
def schedule(tmp_path: Path) -> Path:
    """The schedule it is of, as a workbook."""
    path = tmp_path / "lift.xlsx"
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Schedule"
    for cells in table(*ROWS):
        sheet.append(cells)
    book.save(path)
    return path


def rows(sheet: Worksheet) -> list[dict[str, Any]]:
    """The rows under the headings that are repeated on paper, by heading."""
    first = int(str(sheet.print_title_rows).split("$")[1].rstrip(":"))
    headings = [cell.value for cell in sheet[first]]
    found = sheet.iter_rows(min_row=first + 1, values_only=True)
    return [dict(zip(headings, cells, strict=True)) for cells in found]  # type: ignore[arg-type]


def test_what_purchasing_sees(written: Path) -> None:
    """Line by line: S-4 fails and blocks the line of S-1, which has no number to order."""
    book = openpyxl.load_workbook(written)
    assert tuple(book.sheetnames) == SHEETS
    found = rows(book["Order"])
    assert [(row["Line"], row["Status"], row["What"], row["Size"]) for row in found[:-1]] == [
        (1, "ORDER", "shackle, bow, bolt type", "7/8 in"),
        (2, "BLOCKED", "shackle, bow, screw pin", "7/8 in"),
        (3, "ORDER", "spreader bar", "not stated"),
    ]
    assert [(row["Pieces that pass"], row["Spares"], row["To order"]) for row in found] == [
        (3, 1, 4),
        (2, 1, "BLOCKED"),
        (1, 1, 2),
        (6, 2, 6),
    ]
    assert [row["Total mass (kg)"] for row in found] == [
        "not known",
        "not known",
        pytest.approx(1800),
        "1,800.0 of 1 of 2 lines; the rest not known",
    ]
    assert found[1]["Before it is ordered"] == "S-4 (Schedule!5) is FAIL: may be the same item"
    (blocked,) = rows(book["Not ordered"])
    assert (blocked["Item"], blocked["Verdict"], blocked["Blocks lines"]) == ("S-4", "FAIL", "2")
    assert "overloaded" in blocked["Why it is not ordered"]
    assert "S-4" not in {row[TAG] for row in rows(book["Goods in"])}
    text = "\n".join(
        str(cell.value) for sheet in book for cells in sheet.iter_rows() for cell in cells if cell.value
    )
    for caution in ("licensed engineer", "look at the piece itself", "under a suspended load"):
        assert caution in text


def test_every_sheet_prints(written: Path) -> None:
    """Landscape, as wide as the paper, the headings on every page, letter paper by US practice."""
    for sheet in openpyxl.load_workbook(written):
        assert sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.paperSize == 1
        assert sheet.title == "About" or sheet.print_title_rows


def test_a4_by_european_practice(tmp_path: Path) -> None:
    """Paper 9 of ECMA-376-1, 18.3.1.63."""
    found = order(ROW)
    found.checked.criteria = found.checked.criteria.ready("europe").on(TODAY)
    write_order(found, tmp_path / "o.xlsx")
    assert {sheet.page_setup.paperSize for sheet in openpyxl.load_workbook(tmp_path / "o.xlsx")} == {9}


def test_nothing_from_the_schedule_becomes_a_formula(tmp_path: Path) -> None:
    """Nor breaks the file."""
    path = tmp_path / "o.xlsx"
    write_order(order(ROW | {"Tag": "=1+1 S-1\x07", "Maker": '=HYPERLINK("http://example.org")'}), path)
    cells = [cell for sheet in openpyxl.load_workbook(path) for row in sheet.iter_rows() for cell in row]
    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    assert "=1+1 S-1 " in {cell.value for cell in cells}


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """One sentence, and nothing is left behind."""
    with pytest.raises(WorkbookError, match="cannot be written"):
        write_order(order(ROW), tmp_path / "nowhere" / "o.xlsx")
    assert list(tmp_path.iterdir()) == []


def test_a_crash_leaves_the_old_order_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is written beside and renamed only when it is whole."""
    path = tmp_path / "o.xlsx"
    path.write_bytes(b"the order before")
    monkeypatch.setattr(openpyxl.Workbook, "save", _fall_over)
    with pytest.raises(RuntimeError):
        write_order(order(ROW), path)
    assert path.read_bytes() == b"the order before"
    assert [one.name for one in tmp_path.iterdir()] == ["o.xlsx"]


def _fall_over(*_: Any) -> None:
    raise RuntimeError("the power went")


Answer = Callable[[dict[str, Any]], tuple[Any, Any]]


def right(row: dict[str, Any]) -> tuple[Any, Any]:
    """Every box as it should be."""
    kind = "spreader bar" if row[TAG] in ("D-1", "spare of line 3") else "shackle"
    asked = {"maker's mark": "Halden Forge", "certificate number": f"C-{row[TAG]}"}
    read = READINGS.get(row[CHECK], {}).get(kind) or asked.get(row[CHECK])
    return read, "yes"


def fill(path: Path, answer: Answer) -> None:
    """Fill the goods-in list in as people do."""
    book = openpyxl.load_workbook(path)
    sheet = book["Goods in"]
    for cells, row in zip(_entries(sheet), rows(sheet), strict=True):
        cells[READ].value, cells[RIGHT].value = answer(row)
    book.save(path)


def _entries(sheet: Worksheet) -> Iterator[dict[str, Any]]:
    first = int(str(sheet.print_title_rows).split("$")[1].rstrip(":"))
    headings = [cell.value for cell in sheet[first]]
    for cells in sheet.iter_rows(min_row=first + 1):
        yield dict(zip(map(str, headings), cells, strict=True))


def verdicts(checked: Checked) -> dict[str, tuple[str, tuple[str, ...]]]:
    """The verdict of each tag and what fails or holds it."""
    return {row.name: (row.verdict, row.rules) for row in checked.rows}


def test_filled_in_and_read_back(written: Path, schedule: Path) -> None:
    """All as it should be: what passed passes, and the certificates are those that were read."""
    fill(written, right)
    checked = check_workbook(schedule, goods=written, today=TODAY)
    assert checked.said == []
    assert [row.verdict for row in checked.rows] == [PASS, PASS, PASS, FAIL]
    assert [row.judged.item.certificate for row in checked.rows] == [None, "C-S-2", "C-D-1", None]


def test_saved_by_libreoffice_and_read_back(written: Path, schedule: Path, tmp_path: Path) -> None:
    """The same list, opened and saved as an OpenDocument by another program than wrote it."""
    fill(written, right)
    shown = opened([written], tmp_path / "office")
    assert tuple(shown["lift.order.xlsx"]) == SHEETS
    checked = check_workbook(schedule, goods=tmp_path / "office" / "out" / "lift.order.ods", today=TODAY)
    assert [row.verdict for row in checked.rows] == [PASS, PASS, PASS, FAIL]


def test_a_list_that_nobody_filled_in(written: Path, schedule: Path) -> None:
    """Every piece on it is held."""
    found = verdicts(check_workbook(schedule, goods=written, today=TODAY))
    assert found["S-2"] == found["D-1"] == (HOLD, ("goods-in-open",))
    assert found["S-1"] == (PASS, ())


def test_a_counterfeit_fails_its_tag(written: Path, schedule: Path) -> None:
    """And only that; a bad spare is said of the workbook."""
    bad = ("S-2", "spare of line 1")

    def answer(row: dict[str, Any]) -> tuple[Any, Any]:
        read, _ = right(row)
        return read, "no" if row[TAG] in bad and row[CHECK] == "maker's mark" else "yes"

    fill(written, answer)
    checked = check_workbook(schedule, goods=written, today=TODAY)
    assert verdicts(checked)["S-2"] == (FAIL, ("goods-in-counterfeit",))
    assert verdicts(checked)["D-1"][0] == PASS
    (said,) = checked.said
    assert said.startswith(
        "goods-in boxes of tags that no row has: 'spare of line 1' (lift.order.xlsx, Goods in!I"
    )
    assert "where 'maker's mark' is not so" in said


@pytest.mark.parametrize(
    ("typed", "rule"),
    [("x", "open"), ("maybe", "open"), ("n/a", "open"), (None, "open"), (False, "not-as-ordered")],
)  # fmt: skip
def test_answers_that_are_not_yes(written: Path, schedule: Path, typed: Any, rule: str) -> None:
    """A cross may be a tick; a FALSE is a no."""

    def answer(row: dict[str, Any]) -> tuple[Any, Any]:
        read, _ = right(row)
        return read, typed if row[CHECK] == "pin seats" else "yes"

    fill(written, answer)
    assert verdicts(check_workbook(schedule, goods=written, today=TODAY))["S-2"][1] == (f"goods-in-{rule}",)


def test_as_a_sheet_of_the_schedule(written: Path, schedule: Path) -> None:
    """Copied into the schedule's own workbook it is found by its headings, and is no schedule."""
    fill(written, right)
    book = openpyxl.load_workbook(schedule)
    copy = book.create_sheet("Arrived")
    for cells in openpyxl.load_workbook(written)["Goods in"].iter_rows(values_only=True):
        copy.append(cells)
    copy["I9"].value = "no"
    book.save(schedule)
    checked = check_workbook(schedule, today=TODAY)
    assert [sheet.role for sheet in checked.understood.sheets] == ["schedule", "goods in"]
    assert len(checked.rows) == 4
    assert [row.verdict for row in checked.rows].count(FAIL) == 2


def test_an_order_is_no_schedule(written: Path) -> None:
    """Its own sheets are not checked, nor ordered again."""
    checked = check_workbook(written, today=TODAY)
    assert checked.rows == []
    from rigxl.order.gather import gather

    with pytest.raises(InputError, match=r"lift\.order\.xlsx is itself an order"):
        gather(checked)


def test_a_file_without_a_list(schedule: Path) -> None:
    """What is given as a goods-in list must be one."""
    with pytest.raises(InputError, match=r"lift\.xlsx holds no goods-in list"):
        check_workbook(schedule, goods=schedule, today=TODAY)


def test_untagged_pieces_are_listed_and_said(tmp_path: Path) -> None:
    """Without a tag nothing joins."""
    path = tmp_path / "o.xlsx"
    found: Order = order(ROW | {"Tag": None})
    write_order(found, path)
    tags = {row[TAG] for row in rows(openpyxl.load_workbook(path)["Goods in"])}
    assert tags == {"no tag (Schedule, row 2)"}
    schedule = tmp_path / "s.xlsx"
    book = openpyxl.Workbook()
    for cells in table(ROW | {"Tag": None}):
        book.worksheets[0].append(cells)
    book.save(schedule)
    checked = check_workbook(schedule, goods=path, today=TODAY)
    assert "goods-in boxes without a tag, left alone" in checked.said[0]
