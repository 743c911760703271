"""An input that a formula works out counts only while its stored result is what the formula gives."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from rigxl.errors import InputError
from rigxl.schedule.check import Checked, check_book
from rigxl.workbook.values import Formula
from tests.schedule.books import GOOD, TODAY, decided, table
from tests.schedule.sheets import book, sheet


def stored(text: str, result: Any) -> Formula:
    """A formula with the result that a file stores."""
    return Formula(text, result, True)


def checked(row: dict[str, Any], *help_cells: list[Any], **sheets: list[list[Any]]) -> Checked:
    """One row, with cells on a sheet Help and other sheets."""
    more = [sheet(name, cells) for name, cells in sheets.items()]
    return check_book(
        book(sheet("Schedule", table(GOOD | row)), sheet("Help", [*help_cells] or [["-"]]), *more),
        today=TODAY,
    )


@pytest.mark.parametrize(
    ("field", "text", "result", "cells"),
    [
        ("Load (t)", "=Help!A1*2", 1.0, [[2.5]]),
        ("Load (t)", "=Help!A1+Help!B1", 5.0, [[2.5, stored("=A1*2", 2.5)]]),
        ("Load (t)", "=Help!A1", 1.0, [[stored("=B1", 1.0), stored("=C1", 1.0), stored("=D1*2", 1.0), 2.5]]),
        ("Rating marked", '=IF(Help!A1>0,"yes","no")', "yes", [[0.0]]),
        ("Last inspection", "=Help!A1", dt.datetime(2026, 6, 1), [[dt.datetime(2020, 1, 1)]]),
    ],
    ids=["its own", "one before", "three before", "a word", "a day"],
)
def test_a_result_out_of_date_holds_its_row(
    field: str, text: str, result: Any, cells: list[list[Any]]
) -> None:
    (row,) = checked({field: stored(text, result)}, *cells).rows
    assert decided(row) == ("HOLD", ["cell-unreadable"])
    assert any("on what stands there now: recalculate" in one.sentence for one in row.judged.findings)


@pytest.mark.parametrize(
    ("text", "cells"),
    [("=Help!A1*2", [[2.5]]), ('=INDIRECT("Help!A1")', [[2.5]]), ("=Help!A1", [[stored("=NOW()", 5.0)]])],
    ids=["up to date", "not worked out", "relies on one not worked out"],
)
def test_any_other_is_taken_as_stored(text: str, cells: list[list[Any]]) -> None:
    assert [row.verdict for row in checked({"Load (t)": stored(text, 5.0)}, *cells).rows] == ["PASS"]


def test_a_criterion_out_of_date_is_refused() -> None:
    with pytest.raises(InputError, match=r"Criteria!B1 stores 0\.05, but its formula gives 0\.25"):
        checked({}, Criteria=[["margin", stored("=0.2+0.05", 0.05)]])


def test_a_table_of_lifts_out_of_date_holds_what_takes_from_it() -> None:
    lifts = [["Lift", "Load (t)", "Legs"], ["Lift 1", stored("=Help!A1*2", 1.0), 2.0]]
    found = checked({"Load (t)": None}, [2.5], Lifts=lifts)
    assert [row.verdict for row in found.rows] == ["HOLD"]


def test_circles_come_to_an_end() -> None:
    cells = [[stored("=B1+1", 5.0), stored("=A1-1", 4.0)]]
    assert len(checked({"Load (t)": stored("=Help!A1", 5.0)}, *cells).rows) == 1
