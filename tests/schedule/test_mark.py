"""Marks stand in the row they are of, whatever stands beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from rigxl.schedule.check import check_workbook
from rigxl.schedule.mark import mark_checked
from tests.schedule.books import GOOD, TODAY, table

BAD = GOOD | {"Tag": "S-2", "Rated load (t)": 1}
UNKNOWN = GOOD | {"Tag": "S-3", "Maker": "TBC"}


def marked(folder: Path, *cells: list[Any]) -> list[tuple[str, ...]]:
    """What the marks say in each row: verdict, reasons and remedies; of rows that have any."""
    book = openpyxl.Workbook()
    assert book.active is not None
    for row in cells:
        book.active.append(row)
    path, target = folder / "lift.xlsx", folder / "marked.xlsx"
    book.save(path)
    mark_checked(check_workbook(path, today=TODAY), target)
    sheet = openpyxl.load_workbook(target).worksheets[0]
    heads = [str(cell.value) for cell in sheet[1]]
    first = heads.index("rigxl verdict") + 1
    last = heads.index("rigxl what would pass") + 1
    return [
        tuple(str(sheet.cell(row, column).value) for column in (first, last - 1, last))
        for row in range(2, sheet.max_row + 1)
        if sheet.cell(row, first).value
    ]


@pytest.mark.parametrize(
    ("left", "right", "word"),
    [(BAD, GOOD, "FAIL"), (GOOD, BAD, "FAIL"), (UNKNOWN, GOOD, "HOLD"), (GOOD, UNKNOWN, "HOLD")],
)
def test_of_two_tables_side_by_side_neither_hides_the_other(
    tmp_path: Path, left: dict[str, Any], right: dict[str, Any], word: str
) -> None:
    """One row of the sheet, two items: the worse word, and each item's own with its reasons."""
    left, right = left | {"Lift": "A"}, right | {"Lift": "B", "Tag": "R-1"}
    rows = [[*one, None, *other] for one, other in zip(table(left), table(right), strict=True)]
    ((verdict, reasons, _),) = marked(tmp_path, *rows)
    words = {
        left["Tag"]: word if left["Tag"] != "S-1" else "PASS",
        "R-1": "PASS" if left["Tag"] != "S-1" else word,
    }
    assert verdict == word
    for tag, own in words.items():
        assert f"{tag}: {own}\n" in reasons


def test_rows_of_tables_below_each_other_keep_their_own(tmp_path: Path) -> None:
    head, good = table(GOOD)
    _, bad = table(BAD | {"Lift": "B"})
    assert [row[0] for row in marked(tmp_path, head, good, [], head, bad)] == [
        "PASS",
        "rigxl verdict",
        "FAIL",
    ]
