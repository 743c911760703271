"""A maker's own table of ratings: on a sheet or in a file, it governs over ours row by row."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.errors import InputError
from rigxl.items import HOLD, PASS
from rigxl.rules import gathered
from rigxl.schedule.check import check_workbook
from rigxl.schedule.report import told
from tests.schedule.books import GOOD, TODAY, check, decided, sentences

UNRATED = {name: cell for name, cell in GOOD.items() if name != "Rated load (t)"}
HEADINGS = ["Kind", "Maker", "Size", "Type", "Grade", "Rated load (t)"]
LINE = ["shackle", "Halden Forge", "7/8 in", "screw pin", None, 6.5]


def table(*lines: list[Any]) -> list[list[Any]]:
    return [HEADINGS, *lines]


def test_a_row_without_a_rating_takes_the_makers(tmp_path: Path) -> None:
    """It may pass: it is the user's own table. The note names the sheet and the row."""
    checked = check(tmp_path, UNRATED, Ratings=table(LINE))
    (row,) = checked.rows
    assert [sheet.role for sheet in checked.understood.sheets] == ["schedule", "ratings"]
    assert decided(row) == (PASS, [])
    assert row.judged.rated == pytest.approx(6.5 * 9806.65)
    assert sentences(row, "rating-by-makers-table") == [
        "no rated load is given: taken from the maker's table, 6.5 t (row 2 of sheet 'Ratings')"
    ]
    assert "row 2 of sheet 'Ratings'" in told(row.judged)
    assert decided(check(tmp_path, UNRATED).rows[0]) == (HOLD, ["rating-not-known"])


def test_a_rating_over_the_makers_is_held(tmp_path: Path) -> None:
    """5.8 t stated, 5.5 t listed."""
    (row,) = check(tmp_path, GOOD, Ratings=table([*LINE[:5], 5.5])).rows
    assert decided(row) == (HOLD, ["rating-over-makers-table"])
    assert sentences(row, "rating-over-makers-table") == [
        "the row says 5.8 t, and the maker's table 5.5 t (row 2 of sheet 'Ratings'): say which"
    ]


def test_the_makers_table_governs_over_ours(tmp_path: Path) -> None:
    """7 t is over the 6.5 short tons from memory for 7/8 in, and within this maker's 7.5 t."""
    row = GOOD | {"Rated load (t)": 7}
    assert decided(check(tmp_path, row).rows[0]) == (HOLD, ["rating-over-table"])
    assert decided(check(tmp_path, row, Ratings=table([*LINE[:5], 7.5])).rows[0]) == (PASS, [])


@pytest.mark.parametrize(
    ("place", "cell"), [(1, "Oster"), (2, "1 in"), (0, "hook")], ids=["maker", "size", "kind"]
)
def test_another_line_rates_nothing_here(tmp_path: Path, place: int, cell: str) -> None:
    """Row by row: ours stays where the maker's table is silent."""
    line = [*LINE[:place], cell, *LINE[place + 1 :]]
    assert decided(check(tmp_path, UNRATED, Ratings=table(line)).rows[0]) == (HOLD, ["rating-not-known"])


def test_type_and_grade_choose_the_line(tmp_path: Path) -> None:
    """Bolt type at 8 t, screw pin at 6.5 t; the row is a screw pin."""
    bolt = ["shackle", "Halden Forge", "7/8 in", "bolt type", None, 8]
    (row,) = check(tmp_path, UNRATED, Ratings=table(bolt, LINE)).rows
    assert row.judged.rated == pytest.approx(6.5 * 9806.65)
    (row,) = check(tmp_path, UNRATED, Ratings=table(bolt)).rows
    assert decided(row) == (HOLD, ["rating-by-makers-table"])
    (row,) = check(tmp_path, GOOD, Ratings=table(bolt)).rows
    assert decided(row) == (PASS, [])
    graded = [*LINE[:4], "B", 9]
    assert decided(check(tmp_path, UNRATED, Ratings=table(graded)).rows[0])[0] == HOLD
    assert decided(check(tmp_path, UNRATED | {"Grade": "Grade B"}, Ratings=table(graded)).rows[0])[0] == PASS


def test_two_lines_that_differ_hold(tmp_path: Path) -> None:
    """Nobody can know which; the same rating twice is no trouble."""
    (row,) = check(tmp_path, GOOD, Ratings=table(LINE, [*LINE[:5], 6])).rows
    assert decided(row) == (HOLD, ["rating-by-makers-table"])
    assert (
        "row 2 of sheet 'Ratings' and row 3 of sheet 'Ratings' rate it differently"
        in (sentences(row, "rating-by-makers-table")[0])
    )
    assert decided(check(tmp_path, GOOD, Ratings=table(LINE, LINE)).rows[0]) == (PASS, [])


@pytest.mark.parametrize("cell", [None, "TBC", "6 ton", "six"])
def test_a_line_whose_rating_cannot_be_read_holds(tmp_path: Path, cell: str | None) -> None:
    """It would govern, so what it says must be known."""
    assert decided(check(tmp_path, GOOD, Ratings=table([*LINE[:5], cell])).rows[0]) == (
        HOLD,
        ["rating-by-makers-table"],
    )


def test_a_line_without_a_maker_is_said(tmp_path: Path) -> None:
    """A rating that is nobody's governs nothing."""
    checked = check(tmp_path, GOOD, Ratings=table([LINE[0], None, *LINE[2:5], 1]))
    assert "row 2 of sheet 'Ratings' rates nothing: its maker is not given" in checked.said
    assert checked.rows[0].verdict == PASS


def test_a_file_of_ratings(tmp_path: Path) -> None:
    """As xlsx and as csv; the note names the file."""
    book = openpyxl.Workbook()
    assert book.active is not None
    for line in table(LINE):
        book.active.append(line)
    book.save(tmp_path / "makers.xlsx")
    with (tmp_path / "makers.csv").open("w", newline="") as file:
        csv.writer(file).writerows(table(LINE))
    check(tmp_path, UNRATED)
    for name in ("makers.xlsx", "makers.csv"):
        checked = check_workbook(tmp_path / "lift.xlsx", today=TODAY, ratings=tmp_path / name)
        assert decided(checked.rows[0]) == (PASS, [])
        assert f"of {name})" in sentences(checked.rows[0], "rating-by-makers-table")[0]
    result = CliRunner().invoke(
        main,
        [
            "check", str(tmp_path / "lift.xlsx"), "--no-marks", "--set", "judged on=2026-11-25",
            "--ratings", str(tmp_path / "makers.csv"),
        ],
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    assert "1 pass" in result.stdout


def test_a_file_that_holds_no_ratings(tmp_path: Path) -> None:
    """One sentence, exit code 2."""
    check(tmp_path, GOOD)
    with pytest.raises(InputError, match="holds no table of ratings"):
        check_workbook(tmp_path / "lift.xlsx", today=TODAY, ratings=tmp_path / "lift.xlsx")


def test_a_schedule_on_a_sheet_called_ratings_is_a_schedule(tmp_path: Path) -> None:
    """The headings decide, not the name alone."""
    checked = check(tmp_path, GOOD, Ratings=[list(GOOD), list((GOOD | {"Tag": "S-9"}).values())])
    assert [row.sheet for row in checked.rows] == ["Schedule", "Ratings"]


def test_a_mark_that_is_the_listed_number_in_another_unit(tmp_path: Path) -> None:
    """RR-C-271 Grade A, 3/4 in: 4.75 short tons (from memory); 4.75 t is 10 % more."""
    (row,) = check(tmp_path, GOOD | {"Size": "3/4 in", "Rated load (t)": 4.75}).rows
    assert decided(row) == (HOLD, ["rating-over-table"])
    (sentence,) = sentences(row, "rating-over-table")
    assert sentence.startswith("marked 4.75 t, but the listed 3/4 in is 4.75 short ton")
    assert sentence.endswith("say which")


def test_every_rule_is_gathered() -> None:
    """So that rigxl rules can explain it."""
    assert {"rating-over-makers-table", "rating-by-makers-table", "same-tag"} <= gathered().keys()
