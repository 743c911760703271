"""Where a goods-in list stands, and that nothing on it or beside it goes unread."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigxl.errors import InputError
from rigxl.schedule.goods_in import HEADINGS
from tests.schedule.books import GOOD, check, decided, table

LIST = list(HEADINGS.values())
BAD = GOOD | {"Tag": "S-9", "Lift": "Lift 9", "Rated load (t)": 1}


def test_a_list_under_a_schedule_hides_no_row_of_it(tmp_path: Path) -> None:
    rows = [*table(BAD), [], LIST, ["S-1", "pin seats", None, "no"]]
    checked = check(tmp_path, GOOD, Both=rows)
    found = {row.name: decided(row) for row in checked.rows}
    assert found["S-9"] == ("FAIL", ["capacity"])
    assert found["S-1"][0] == "FAIL"
    assert any("give the list a sheet of its own" in sentence for sentence in checked.said)


@pytest.mark.parametrize(
    ("name", "headings"),
    [("Goods_in", ["Tag", "Box", "Read", "Right?"]), ("Arrived", [*LIST[:3], "So?"])],
)
def test_a_list_without_its_headings_is_refused(tmp_path: Path, name: str, headings: list[str]) -> None:
    """It may say no of a piece that would pass."""
    with pytest.raises(InputError, match="looks like a goods-in list and has no heading"):
        check(tmp_path, GOOD, **{name: [headings, ["S-1", "pin seats", "", "no"]]})


def test_a_box_without_a_name_is_read(tmp_path: Path) -> None:
    lines: list[list[Any]] = [LIST, ["S-1", None, None, "no"]]
    checked = check(tmp_path, GOOD, Arrived=lines)
    assert checked.rows[0].verdict == "FAIL"


def test_a_title_like_that_of_an_order_is_no_order(tmp_path: Path) -> None:
    checked = check(tmp_path, GOOD, Second=[["Rigging hardware order 4711: schedule"], *table(BAD)])
    assert [row.verdict for row in checked.rows] == ["PASS", "FAIL"]


def test_boxes_of_a_line_number_are_said_to_tell_no_piece(tmp_path: Path) -> None:
    """A yes would stand on another piece once rows move."""
    checked = check(tmp_path, GOOD | {"Tag": "7"}, Arrived=[LIST, ["7", "pin seats", None, "yes"]])
    assert any("goods-in boxes are joined by line numbers (7)" in sentence for sentence in checked.said)
