"""A workbook emptied as it is read: the same lines, and no row emptied before all have read it."""

from __future__ import annotations

from typing import Any

from rigxl.schedule.map import understand
from rigxl.schedule.read import tables
from rigxl.workbook.values import Area
from tests.schedule.sheets import book, sheet

TABLE: list[list[Any]] = [
    ["Lift", "Kind", "WLL (t)", "Load (t)"],
    ["A", "shackle", 5, 3],
    [None, "hook", "not a number", None],
    ["B", "hook", 4, 2],
]


def test_emptied_rows_read_the_same() -> None:
    one, other = (book(sheet("S", TABLE, merges=(Area(2, 1, 3, 1),))) for _ in range(2))
    kept = tables(one, understand(one)).items
    spent = tables(other, understand(other), spend=True).items
    assert [line.item for line in spent] == [line.item for line in kept]
    assert [dict(line.cells) for line in spent] == [dict(line.cells) for line in kept]
    assert [bool(row.cells) for row in one.sheets[0].rows] == [True, True, True, True]
    assert [bool(row.cells) for row in other.sheets[0].rows] == [True, False, False, False]


def test_a_row_of_two_tables_is_not_emptied() -> None:
    one = book(sheet("S", TABLE))
    understood = understand(one)
    (listing,) = understood.tables
    understood.sheets[0].tables.append(listing)
    found = tables(one, understood, spend=True).items
    assert [line.item for line in found[3:]] == [line.item for line in found[:3]]
    assert all(row.cells for row in one.sheets[0].rows)
