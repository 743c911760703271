"""What is in a workbook is told truly; what must be found in each file stands in ``fixtures/README.md``."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.doctor import MOST_CELLS_NAMED, Record, examine
from tests.workbook.trial import marks_for

FIXTURES = Path(__file__).parent / "fixtures"
FOREIGN = Path(__file__).parent / "foreign"


def all_things(record: Record) -> dict[str, int]:
    found = dict(record.things)
    for sheet in record.sheets:
        for name, count in sheet.things.items():
            found[name] = found.get(name, 0) + count
    return found


@pytest.mark.parametrize(
    ("name", "things"),
    [
        ("threaded-comments.xlsx", {"threaded comments", "notes", "authors of threaded comments"}),
        ("pivot-slicer-table.xlsx", {"slicers", "pivot tables", "pivot caches", "tables"}),
        ("x14-databar.xlsx", {"conditional formats"}),
        ("x14-validation.xlsx", {"validations"}),
        ("sparklines.xlsx", {"sparklines"}),
        ("comment-and-button.xlsx", {"notes", "form controls"}),
        ("vba-macro.xlsm", {"macros"}),
        ("customxml-extlink.xlsx", {"custom XML", "links to other workbooks"}),
        ("external-link.xlsx", {"links to other workbooks"}),
        ("ole-embedded.xlsx", {"embedded objects", "printer settings"}),
        ("smartart.xlsx", {"diagrams"}),
        ("dynamic-array.xlsx", {"cell metadata"}),
        ("image-in-cell.xlsx", {"cell metadata"}),
        ("checkbox-cells.xlsx", {"checkbox formats"}),
        ("table.xlsx", {"tables"}),
        ("query-table.xlsx", {"data connections", "tables"}),
        ("header-image.xlsx", {"header pictures"}),
        ("sheet-protected.xlsx", {"protected ranges"}),
    ],
)
def test_what_is_there_is_named(name: str, things: set[str]) -> None:
    record = examine(FIXTURES / name)
    assert things <= all_things(record).keys()
    assert record.markable


def test_signature() -> None:
    record = examine(FIXTURES / "signed.xlsx")
    assert record.signed
    assert not record.markable
    assert "signature" in record.why_not


def test_structure_lock() -> None:
    assert examine(FIXTURES / "structure-locked.xlsx").structure_locked
    assert not examine(FIXTURES / "table.xlsx").structure_locked


@pytest.mark.parametrize(
    ("name", "code"), [("duplicate-entry.xlsx", "duplicate-entry"), ("encrypted-ole2.xlsx", "encrypted")]
)
def test_refusal_is_told_not_raised(name: str, code: str) -> None:
    record = examine(FIXTURES / name)
    assert (record.refused, record.sheets) == (code, ())
    assert record.why_not
    assert not record.markable


def test_sheet_protection_and_merges() -> None:
    assert examine(FIXTURES / "sheet-protected.xlsx").sheets[0].protected
    assert examine(FIXTURES / "merged.xlsx").sheets[0].merged > 0
    assert examine(FIXTURES / "table.xlsx").sheets[0].tables == ("Table1",)


def test_other_kinds_can_only_be_read() -> None:
    record = examine(FOREIGN / "lift.ods")
    lift, notes = record.sheets
    assert (lift.used, lift.formulas, lift.hidden_columns) == ("A1:F10", 6, ("C",))
    assert (lift.errors, lift.error_cells) == (2, ("B3", "D3"))
    assert notes.state == "hidden"
    assert not record.markable
    assert "separate report" in record.why_not


def test_formulas_never_calculated_are_counted_and_named(tmp_path: Path) -> None:
    from openpyxl import Workbook

    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    for row in range(1, 31):
        sheet.cell(row, 1, f"=B{row}*2")
    workbook.save(tmp_path / "raw.xlsx")
    found = examine(tmp_path / "raw.xlsx").sheets[0]
    assert (found.formulas, found.never_calculated) == (30, 30)
    assert found.never_calculated_cells == tuple(f"A{row}" for row in range(1, MOST_CELLS_NAMED + 1))


def test_chart_sheet_is_listed(tmp_path: Path) -> None:
    from openpyxl import Workbook
    from openpyxl.chart import BarChart

    workbook = Workbook()
    workbook.create_chartsheet("Chart").add_chart(BarChart())
    workbook.save(tmp_path / "chart.xlsx")
    assert [(sheet.name, sheet.kind) for sheet in examine(tmp_path / "chart.xlsx").sheets] == [
        ("Sheet", "worksheet"),
        ("Chart", "chartsheet"),
    ]


def test_place_is_where_the_marks_go(tmp_path: Path) -> None:
    for name in ("table.xlsx", "merged.xlsx", "pivot-slicer-table.xlsx", "no-row-numbers.xlsx"):
        book = read_book(FIXTURES / name)
        outcome = mark_book(FIXTURES / name, tmp_path / name, marks_for(book), [])
        said = {sheet.name: sheet.place for sheet in examine(FIXTURES / name).sheets if sheet.place}
        assert said == outcome.placed
        again = {sheet.name: sheet.place for sheet in examine(tmp_path / name).sheets if sheet.place}
        assert again == outcome.placed


def test_full_sheet_has_no_place(tmp_path: Path) -> None:
    from openpyxl import Workbook

    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    sheet.cell(1, 16_384, "at the edge")
    workbook.save(tmp_path / "full.xlsx")
    found = examine(tmp_path / "full.xlsx").sheets[0]
    assert found.place == ""
    assert "XFD" in found.no_place
