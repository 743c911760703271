"""Tables of inspections, from the workbook to the verdict."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from tests.schedule.books import GOOD, HOOK, check, decided, sentences

UNDATED = {name: cell for name, cell in GOOD.items() if name != "Last inspection"}
OTHER = UNDATED | {"Tag": "S-2"}
HEADINGS = [
    "Tag",
    "Date",
    "Inspected by",
    "Kind of finding",
    "Original (mm)",
    "Measured (mm)",
    "Findings",
    "In service",
]


def inspected(tag: str | None, day: str | None, *cells: Any) -> list[Any]:
    """A row of the table of inspections; the day as people type it."""
    return [tag, day, "A. Person", *cells]


def test_the_latest_inspection_gives_the_date(tmp_path: Path) -> None:
    """Of two the later; the sheet is recognised by its headings, 'Date' and all."""
    checked = check(
        tmp_path,
        UNDATED,
        Register=[
            HEADINGS,
            inspected("s-1", "2025-06-01", None, None, None, "fit for use", "yes"),
            inspected("S-1", "2026-06-01", None, None, None, "fit for use", "yes"),
        ],
    )
    (row,) = checked.rows
    assert [sheet.role for sheet in checked.understood.sheets] == ["schedule", "inspections"]
    assert decided(row) == (PASS, [])
    assert row.judged.item.inspected == dt.date(2026, 6, 1)
    assert "last inspection: taken from row 3 of sheet 'Register'" in row.line.notes
    assert checked.said == []


def test_a_later_date_in_the_schedule_counts(tmp_path: Path) -> None:
    """And what the older inspection found still does."""
    checked = check(
        tmp_path, GOOD, Register=[HEADINGS, inspected("S-1", "2026-05-01", "pin wear", 25, 22, None, "yes")]
    )
    assert checked.rows[0].judged.item.inspected == dt.date(2026, 6, 1)
    assert decided(checked.rows[0]) == (FAIL, ["wear"])


def test_one_inspection_of_several_findings(tmp_path: Path) -> None:
    """All rows of the latest day count: a throat within 5 %, a bowl worn by 12 %."""
    checked = check(
        tmp_path,
        HOOK,
        Register=[
            HEADINGS,
            inspected("H-1", "2026-07-01", "throat opening", 60, 62, None, None),
            inspected("H-1", "2026-07-01", "wear in bowl", 50, 44, None, None),
            inspected("H-1", "2024-07-01", "throat opening", 60, 70, None, None),
        ],
    )
    assert decided(checked.rows[0]) == (FAIL, ["wear"])
    assert "row 3 of sheet 'Register'" in sentences(checked.rows[0], "wear")[0]


@pytest.mark.parametrize(("rules", "verdict"), [("strict", (FAIL, ["hook-throat"])), ("older", (PASS, []))])
def test_strict_and_older_rules(tmp_path: Path, rules: str, verdict: tuple[str, list[str]]) -> None:
    """10 %: over the 5 % of Queensland's Guide for doggers, within the 15 % of Alberta's s. 309."""
    register = [HEADINGS, inspected("H-1", "2026-07-01", "throat opening", 60, 66, None, "yes")]
    checked = check(tmp_path, HOOK, overrides={"removal rules": rules}, Register=register)
    assert decided(checked.rows[0]) == verdict


def test_without_the_original_dimension(tmp_path: Path) -> None:
    """Held, with what to fill in."""
    register = [HEADINGS, inspected("H-1", "2026-07-01", "throat opening", None, 66, None, "yes")]
    (row,) = check(tmp_path, HOOK, Register=register).rows
    assert decided(row) == (HOLD, ["measured-against-original"])
    assert sentences(row, "measured-against-original") == [
        "row 2 of sheet 'Register': the throat measured 66 mm, and its original dimension is not given"
    ]


def test_out_of_service_fails_every_row_of_the_piece(tmp_path: Path) -> None:
    """Also the row of another lift."""
    again = UNDATED | {"Lift": "Lift 2"}
    register = [
        HEADINGS,
        inspected("S-1", "2026-05-01", None, None, None, "bent", "no"),
        inspected("S-1", "2026-06-01", None, None, None, "fit for use", None),
        inspected("S-2", "2026-06-01", None, None, None, "fit for use", "yes"),
    ]
    rows = check(tmp_path, UNDATED, again, OTHER, Register=register).rows
    assert ["out-of-service" in row.rules for row in rows] == [True, True, False]
    assert all(row.verdict == FAIL for row in rows[:2])
    assert "out of service: taken from row 2 of sheet 'Register'" in rows[0].line.notes


def test_back_in_service(tmp_path: Path) -> None:
    """A later inspection says so."""
    register = [
        HEADINGS,
        inspected("S-1", "2026-05-01", None, None, None, "bent", "no"),
        inspected("S-1", "2026-06-01", None, None, None, "fit for use", "yes"),
    ]
    assert decided(check(tmp_path, UNDATED, Register=register).rows[0]) == (PASS, [])


def test_a_tag_that_no_row_has_is_said(tmp_path: Path) -> None:
    """And a row without one."""
    register = [
        HEADINGS,
        inspected("S-1", "2026-06-01", None, None, None, "ok", "yes"),
        inspected("X-9", "2026-06-01", None, None, None, "ok", "yes"),
        inspected(None, "2026-06-01", None, None, None, "ok", "yes"),
    ]
    checked = check(tmp_path, UNDATED, Register=register)
    assert "inspections of tags that no row has: 'X-9' (row 3 of sheet 'Register')" in checked.said
    assert "inspections without a tag, left alone: row 4 of sheet 'Register'" in checked.said


def test_a_tag_that_tags_no_piece(tmp_path: Path) -> None:
    """On more than a hundred rows its inspections are nobody's."""
    register = [HEADINGS, inspected("S-1", "2026-06-01", None, None, None, "ok", "yes")]
    rows = check(tmp_path, *[UNDATED] * 101, Register=register).rows
    assert {decided(row)[0] for row in rows} == {HOLD}
    assert "'s-1' stands on 101 rows" in sentences(rows[100], "cell-unreadable")[0]


def test_an_inspection_without_a_date_holds(tmp_path: Path) -> None:
    """For it might be the latest."""
    register = [
        HEADINGS,
        inspected("S-1", None, None, None, None, "fit for use", "yes"),
        inspected("S-1", "2026-06-01", None, None, None, "fit for use", "yes"),
    ]
    (row,) = check(tmp_path, UNDATED, Register=register).rows
    assert decided(row) == (HOLD, ["cell-unreadable"])
    assert "row 2 of sheet 'Register' has no date" in sentences(row, "cell-unreadable")[0]


def test_overdue_by_the_table_and_due_soon(tmp_path: Path) -> None:
    """Twelve months: ASME B30.26 (from memory), at least yearly."""
    register = [
        HEADINGS,
        inspected("S-1", "2025-11-01", None, None, None, "ok", "yes"),
        inspected("S-2", "2025-12-10", None, None, None, "ok", "yes"),
    ]
    first, second = check(tmp_path, UNDATED, OTHER, Register=register).rows
    assert decided(first) == (FAIL, ["inspection-overdue"])
    assert decided(second) == (PASS, [])
    assert sentences(second, "inspection-due") == ["the next inspection falls due on 2026-12-10"]


def test_a_result_is_read_as_what_was_found(tmp_path: Path) -> None:
    """In a table of inspections a result is no figure to work out again."""
    register = [
        ["Serial no.", "Inspected", "Inspected by", "Result"],
        ["A7", "2026-06-01", "A. Person", "Rejected"],
    ]
    checked = check(tmp_path, UNDATED | {"Serial no.": "A7", "Quantity": 1}, Register=register)
    assert "condition" in checked.rows[0].rules


def test_broken_wires_in_a_table(tmp_path: Path) -> None:
    """WAC 296-24-29425(5)(a): 5 in one strand are too many."""
    sling = UNDATED | {"Tag": "W-1", "Kind": "sling", "Type": "wire rope", "Size": None, "Hitch": "vertical"}
    headings = ["Tag", "Inspection date", "Broken wires in a lay", "Broken wires in a strand"]
    for strand, verdict in ((4, (PASS, [])), (5, (FAIL, ["broken-wires"]))):
        register = [headings, ["W-1", "2026-06-01", 8, strand]]
        assert decided(check(tmp_path, sling, Register=register).rows[0]) == verdict


def test_a_register_that_lists_kinds_and_ratings(tmp_path: Path) -> None:
    """It is no second schedule when its sheet is named for what it is."""
    register = [
        ["Tag", "Description", "WLL (t)", "Date of examination", "Examined by", "Defects"],
        ["S-1", "bow shackle", 5.8, "2026-06-01", "A. Person", "none"],
    ]
    checked = check(tmp_path, UNDATED, Thorough_examinations=register)
    assert [decided(row) for row in checked.rows] == [(PASS, [])]


def test_findings_beside_the_item_itself(tmp_path: Path) -> None:
    """A schedule may hold what was measured in its own rows."""
    row = GOOD | {"Kind of finding": "pin wear", "Original (mm)": 25, "Measured (mm)": 22}
    assert decided(check(tmp_path, row).rows[0]) == (FAIL, ["wear"])


@pytest.mark.parametrize(("tag", "said"), [("7", True), ("S-1", False), ("10234", False)])
def test_line_numbers_tell_no_piece(tmp_path: Path, tag: str, said: bool) -> None:
    """They are joined, for people number their pieces so, and it is said that rows may move."""
    row = UNDATED | {"Tag": tag}
    checked = check(tmp_path, row, Register=[HEADINGS, inspected(tag, "2026-06-01")])
    assert checked.rows[0].judged.item.inspected == dt.date(2026, 6, 1)
    told = "inspections are joined by line numbers (7), which stand on other pieces once rows move"
    assert any(told in one for one in checked.said) is said
