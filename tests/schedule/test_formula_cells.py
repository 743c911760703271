"""Cells of a schedule that call our functions: held where what they store is not what it should be."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.schedule.check import Checked, check_workbook
from rigxl.schedule.summary import summary
from tests.schedule.books import GOOD, TODAY

ANGLE = "Sling angle (deg)"
SPELT = "=_xldudf_RIGXL_SLINGANGLE(2,2)"


def written(folder: Path, stored: Any, formula: str = SPELT, column: str = ANGLE, **beside: Any) -> Path:
    """A schedule of one row that passes, in which a formula of ours gives one value.

    Args:
        folder: Where it is written.
        stored: The result that is stored with the formula.
        formula: The formula.
        column: What the formula gives.
        beside: More cells, by address.
    """
    path = folder / "schedule.xlsx"
    book = xlsxwriter.Workbook(str(path), {"default_date_format": "yyyy-mm-dd"})
    sheet = book.add_worksheet("Schedule")
    for at, (heading, value) in enumerate(GOOD.items()):
        sheet.write(0, at, heading)
        if heading == column:
            sheet.write_formula(1, at, formula, None, stored)
        elif isinstance(value, dt.datetime):
            sheet.write_datetime(1, at, value)
        elif value is not None:
            sheet.write(1, at, value)
    for address, (text, result) in beside.items():
        sheet.write_formula(address, text, None, result)
    book.close()
    return path


def checked(path: Path) -> Checked:
    return check_workbook(path, today=TODAY)


def test_a_result_as_it_should_be_passes(tmp_path: Path) -> None:
    """60 degrees, worked out again."""
    done = checked(written(tmp_path, 60))
    assert [row.verdict for row in done.rows] == ["PASS"]
    assert done.all_settled
    assert done.formulas.agree == 1


@pytest.mark.parametrize(
    ("stored", "words"),
    [
        (61, "Schedule!N2 stores 61, but works out to 60: recalculate and save"),
        ("60 deg", "stores the text '60 deg' where a number belongs; it works out to 60"),
        (
            "#NAME?",
            "stores #NAME?, for the program that saved it had no functions of rigxl; it works out to 60",
        ),
        ("#VALUE!", "stores the error #VALUE!; it works out to 60"),
        (0, "was never calculated; it works out to 60"),
    ],
)
def test_any_other_result_holds_the_row(tmp_path: Path, stored: Any, words: str) -> None:
    """With the stored result no more than with the one worked out: the row waits for a recalculation."""
    done = checked(written(tmp_path, stored))
    (row,) = done.rows
    assert row.verdict == "HOLD"
    assert any(words in finding.sentence for finding in row.judged.findings)
    assert not done.all_settled


def test_what_a_result_is_worked_out_from_may_be_elsewhere(tmp_path: Path) -> None:
    """A formula of others that relies on a stale result of ours is as stale."""
    path = written(tmp_path, 61, "=AA1", AA1=("=RIGXL.SLINGANGLE(2,2)", 61))
    (row,) = checked(path).rows
    assert row.verdict == "HOLD"
    said = [finding.sentence for finding in row.judged.findings]
    assert any(
        "Schedule!N2 relies on Schedule!AA1, whose stored result must not be used" in one for one in said
    )


def test_a_refusal_says_why(tmp_path: Path) -> None:
    """The sentence of the function stands in the row's reasons."""
    (row,) = checked(written(tmp_path, "#N/A", "=RIGXL.SLINGANGLE(1,2)")).rows
    assert row.verdict == "HOLD"
    assert any("is refused: SLINGANGLE: " in finding.sentence for finding in row.judged.findings)


def test_what_is_not_worked_out_is_held(tmp_path: Path) -> None:
    """It is not known to be right, and the sentence says what to do."""
    (row,) = checked(written(tmp_path, 60, "=RIGXL.SLINGANGLE(OFFSET(A1,0,0),2)")).rows
    assert row.verdict == "HOLD"
    assert any("put what it needs into cells of its own" in one.sentence for one in row.judged.findings)


def test_a_cell_beside_the_schedule_is_a_finding_of_the_workbook(tmp_path: Path) -> None:
    """It holds no row, and the run does not end as if all were well."""
    path = written(tmp_path, 60, AA9=("=RIGXL.SLINGANGLE(2,2)", 45))
    done = checked(path)
    assert [row.verdict for row in done.rows] == ["PASS"]
    assert not done.all_settled
    said = "Schedule!AA9 stores 45, but works out to 60: recalculate and save"
    shown = [cell.content for row in summary(done).rows for cell in row]
    assert said in shown
    assert "rigxl's functions: 2 cells worked out again, 1 as stored." in shown
    arguments = ["check", str(path), "--no-marks", "--set", f"judged on={TODAY}"]
    run = CliRunner().invoke(main, arguments)
    assert (run.exit_code, said in run.stdout.replace("\n", " ")) == (1, True)
    (workbook,) = json.loads(CliRunner().invoke(main, [*arguments, "--json"]).stdout)["workbooks"]
    assert workbook["formulas"]["cells"] == 2
    assert workbook["formulas"]["findings"] == [
        {
            "sheet": "Schedule",
            "cell": "AA9",
            "finding": "differs",
            "sentence": said,
            "formula": "=RIGXL.SLINGANGLE(2,2)",
            "stored": 45.0,
            "worked out": pytest.approx(60),
        }
    ]
