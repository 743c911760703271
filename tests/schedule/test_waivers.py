"""Waivers, from the sheet to the verdict: what each covers, and one sentence on each that covers nothing."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.cli import main
from rigxl.firm import OVERLOAD
from rigxl.schedule import report
from rigxl.schedule.check import Checked, check_workbook
from rigxl.schedule.mark import mark_checked
from tests.schedule.books import GOOD, HOOK, TODAY, check, decided, sentences, table

BAD = GOOD | {"Tag": "S-2", "Rated load (t)": 3.5}
"""3.089 t on 3.5 t is 88 %, and 3.861 t is required."""
OVERLOADED = GOOD | {"Tag": "S-3", "Rated load (t)": 3}
OVERDUE = GOOD | {"Tag": "S-4", "Last inspection": dt.datetime(2025, 1, 1)}
OPEN_HOOK = HOOK | {"Latch": "no"}

HEADINGS = ["Rule", "Item", "Lift", "Reason", "Who", "Until", "Utilisation up to"]
LATER = dt.datetime(2026, 12, 31)


def waiver(rule: Any, item: Any, lift: Any = None, **more: Any) -> list[Any]:
    """A line of the waivers, in order, as somebody would write it."""
    said = {"why": "weighed twice, one slow lift", "who": "A. Engel", "until": LATER, "most": None} | more
    return [rule, item, lift, said["why"], said["who"], said["until"], said["most"]]


def waived(folder: Path, rows: list[dict[str, Any]], *lines: list[Any]) -> Checked:
    """These rows with these waivers, checked."""
    return check(folder, *rows, Waivers=[["Waivers of this job"], [], HEADINGS, *lines])


def states(checked: Checked) -> list[str]:
    return [one.state for one in checked.waivers]


@pytest.mark.parametrize(
    ("row", "rule"),
    [(BAD, "design-margin"), (OVERDUE, "Inspection overdue"), (OPEN_HOOK, "hook-latch")],
    ids=["margin", "inspection", "latch"],
)
def test_a_failing_rule_is_waived(tmp_path: Path, row: dict[str, Any], rule: str) -> None:
    """By tag, whatever the case of the rule; the row fails nothing any more and does not pass."""
    checked = waived(tmp_path, [GOOD, row], waiver(rule, row["Tag"].lower()))
    assert [one.verdict for one in checked.rows] == ["PASS", "WAIVED"]
    assert states(checked) == ["in force"]
    assert checked.said == []
    assert checked.all_settled
    assert checked.counts == {"PASS": 1, "FAIL": 0, "HOLD": 0, "WAIVED": 1}
    told = report.told(checked.rows[1].judged)
    signed = "waived by A. Engel until 2026-12-31: weighed twice, one slow lift (row 4 of sheet 'Waivers')"
    assert signed in told


def test_a_lift_is_waived_row_by_row(tmp_path: Path) -> None:
    """The rule on each row of the lift that fails it, and on no other lift."""
    elsewhere = OVERDUE | {"Tag": "S-5", "Lift": "Lift 2"}
    other = OVERDUE | {"Tag": "S-6"}
    checked = waived(
        tmp_path, [GOOD, OVERDUE, other, elsewhere], waiver("inspection-overdue", None, "lift 1")
    )
    assert [one.verdict for one in checked.rows] == ["PASS", "WAIVED", "WAIVED", "FAIL"]
    (standing,) = checked.waivers
    assert [row.name for row in standing.rows] == ["S-4", "S-6"]


def test_one_column_may_name_either(tmp_path: Path) -> None:
    """'Item or lift': a lift's name is as good, unless an item has it too."""
    line = waiver("inspection-overdue", "Lift 1")
    assert waived(tmp_path, [GOOD, OVERDUE], line).rows[1].verdict == "WAIVED"
    both = waived(tmp_path, [GOOD | {"Tag": "Lift 1"}, OVERDUE], line)
    assert both.rows[1].verdict == "FAIL"
    assert "the tag of an item and the name of a lift" in both.said[0]


def test_another_failing_rule_keeps_the_row_failing(tmp_path: Path) -> None:
    """A waiver covers the rule that it names."""
    row = BAD | {"Last inspection": dt.datetime(2025, 1, 1)}
    one = waived(tmp_path, [row], waiver("design-margin", "S-2"))
    assert decided(one.rows[0]) == ("FAIL", ["inspection-overdue"])
    assert one.rows[0].waived == ("design-margin",)
    assert not one.all_settled
    both = waived(tmp_path, [row], waiver("design-margin", "S-2"), waiver("inspection-overdue", "S-2"))
    assert decided(both.rows[0]) == ("WAIVED", [])


def test_what_is_held_stays_held(tmp_path: Path) -> None:
    """Nothing unknown is waived: neither beside a waived rule, nor by a waiver of its own."""
    row = BAD | {"Maker": "TBC"}
    checked = waived(tmp_path, [row], waiver("design-margin", "S-2"), waiver("cell-unreadable", "S-2"))
    assert decided(checked.rows[0]) == ("HOLD", ["cell-unreadable", "maker-not-known"][:1])
    assert states(checked) == ["in force", "refused"]
    assert "what is not known is found out" in checked.said[0]


@pytest.mark.parametrize(
    ("row", "rule", "why"),
    [
        (OVERLOADED, "capacity", OVERLOAD),
        (GOOD | {"In service": "no"}, "out-of-service", "replaced, not excused"),
        (GOOD | {"Rating marked": "illegible"}, "rated-load-mark", "counterfeit"),
        (GOOD | {"Loading angle (deg)": 100}, "shackle-over-90", "no rating"),
        (GOOD | {"Condition": "cracked"}, "condition", "replaced, not excused"),
    ],
    ids=["capacity", "out of service", "mark", "no rating", "condition"],
)
def test_a_firm_rule_is_not_waived(tmp_path: Path, row: dict[str, Any], rule: str, why: str) -> None:
    """The row fails as before, and says why the waiver does not help."""
    before = check(tmp_path, row).rows[0]
    checked = waived(tmp_path, [row], waiver(rule, row["Tag"]))
    assert decided(checked.rows[0]) == decided(before)
    assert checked.rows[0].verdict in ("FAIL", "HOLD")
    assert states(checked) == ["refused"]
    assert why in checked.said[0]
    assert why in sentences(checked.rows[0], "waiver-refused")[0]


@pytest.mark.parametrize(
    ("line", "state", "words"),
    [
        (waiver("design-margin", "S-2", until=None), "refused", "no date until which it holds"),
        (waiver("design-margin", "S-2", until="TBC"), "refused", "no date until which it holds"),
        (waiver("design-margin", "S-2", until="next spring"), "refused", "F4: 'next spring' is not a date"),
        (waiver("design-margin", "S-2", until="3/4/2027"), "refused", "could be"),
        (waiver("design-margin", "S-2", until=20270101), "refused", "is not a date"),
        (waiver("design-margin", "S-2", until="=TODAY()+30"), "refused", "type the date"),
        (waiver("design-margin", "S-2", until=dt.datetime(2026, 11, 24)), "lapsed", "lapsed on 2026-11-24"),
        (waiver("design-margin", "S-2", until=dt.datetime(2027, 11, 26)), "too broad", "2027-11-25"),
        (waiver("design-margn", "S-2"), "refused", "did you mean design-margin"),
        (waiver(None, "S-2"), "refused", "names no rule"),
        (waiver("all", "S-2"), "too broad", "waives every rule"),
        (waiver("hook-*", "S-2"), "too broad", "waives every rule"),
        (waiver("design-margin", None), "refused", "names no item and no lift"),
        (waiver("design-margin", "ALL"), "too broad", "whole schedule"),
        (waiver("design-margin", None, "All lifts"), "too broad", "whole schedule"),
        (waiver("design-margin", "S-*"), "too broad", "whole schedule"),
        (waiver("design-margin", "S-9"), "refused", "no row has the tag or serial number 'S-9'"),
        (waiver("design-margin", "S-2", "Lift 9"), "refused", "no row is of a lift 'Lift 9'"),
        (waiver("design-margin", "S-2, S-1"), "refused", "no row has the tag"),
        (waiver("design-margin", "S-2", who=None), "refused", "who waives it"),
        (waiver("design-margin", "S-2", who="?"), "refused", "who waives it"),
        (waiver("design-margin", "S-2", who="x"), "refused", "who waives it"),
        (waiver("design-margin", "S-2", why=None), "refused", "gives no reason"),
        (waiver("design-margin", "S-2", why="TBC"), "refused", "gives no reason"),
        (waiver("design-margin", "S-2", most="110 %"), "refused", "100 %"),
        (waiver("design-margin", "S-2", most="85 %"), "outgrown", "holds up to 85 %"),
        (waiver("hook-latch", "S-2"), "unused", "nothing fails by that rule"),
        (waiver("design-margin", "S-1"), "unused", "nothing fails by that rule"),
    ],
)  # fmt: skip
def test_what_a_waiver_lacks_is_one_clear_sentence(
    tmp_path: Path, line: list[Any], state: str, words: str
) -> None:
    """The waiver covers nothing, the row fails, and the sentence names the row of the waiver."""
    checked = waived(tmp_path, [GOOD, BAD], line)
    assert [one.verdict for one in checked.rows] == ["PASS", "FAIL"]
    assert states(checked) == [state]
    (said,) = checked.said
    assert words in said
    assert "row 4 of sheet 'Waivers'" in said
    assert "\n" not in said


def test_the_last_day_counts(tmp_path: Path) -> None:
    """Until is the last day it holds, and a year ahead is not too far."""
    for until in (TODAY, dt.date(2027, 11, 25)):
        line = waiver("design-margin", "S-2", until=dt.datetime.combine(until, dt.time()))
        assert waived(tmp_path, [BAD], line).rows[0].verdict == "WAIVED"


def test_up_to_a_utilisation(tmp_path: Path) -> None:
    """88 % is within 90 %; (5.2 × 1.05 + 0.1) / (2 sin 60°) on 3.5 t is 91.7 %, and covered no more."""
    line = waiver("design-margin", "S-2", most=0.9)
    assert waived(tmp_path, [BAD], line).rows[0].verdict == "WAIVED"
    heavier = waived(tmp_path, [BAD | {"Load (t)": 5.2}], line)
    assert heavier.rows[0].verdict == "FAIL"
    assert "91.7 % is used" in sentences(heavier.rows[0], "waiver-outgrown")[0]


def test_two_rows_with_one_tag(tmp_path: Path) -> None:
    """A waiver is for one item: with the lift it says which."""
    rows = [OVERDUE, OVERDUE | {"Lift": "Lift 2"}]
    checked = waived(tmp_path, rows, waiver("inspection-overdue", "S-4"))
    assert [one.verdict for one in checked.rows] == ["FAIL", "FAIL"]
    assert "2 rows have the tag or serial number 'S-4': name the lift as well" in checked.said[0]
    named = waived(tmp_path, rows, waiver("inspection-overdue", "S-4", "Lift 2"))
    assert [one.verdict for one in named.rows] == ["FAIL", "WAIVED"]
    twice = waived(tmp_path, [OVERDUE, OVERDUE], waiver("inspection-overdue", "S-4", "Lift 1"))
    assert "give each its own tag" in twice.said[0]


def test_the_second_of_two_waivers_is_unused(tmp_path: Path) -> None:
    line = waiver("design-margin", "S-2")
    checked = waived(tmp_path, [BAD], line, line)
    assert states(checked) == ["in force", "unused"]
    assert "row 4 of sheet 'Waivers' covers already" in checked.said[0]


def test_a_use_without_a_capacity_is_not_waived(tmp_path: Path) -> None:
    """Where no capacity could be worked out there is nothing for anybody to judge."""
    row = OVERDUE | {"Rated load (t)": None, "Size": None}
    checked = waived(tmp_path, [row], waiver("inspection-overdue", "S-4"))
    assert checked.rows[0].verdict == "FAIL"
    assert states(checked) == ["refused"]
    assert "no capacity" in checked.said[0]


def test_a_sheet_that_was_not_checked(tmp_path: Path) -> None:
    """With --sheet, a waiver for an item elsewhere is neither used nor unused."""
    waived(tmp_path, [BAD], waiver("inspection-overdue", "T-1"))
    book = openpyxl.load_workbook(tmp_path / "lift.xlsx")
    second = book.copy_worksheet(book["Schedule"])
    second.title = "Second"
    second["B2"] = "T-1"
    book.save(tmp_path / "lift.xlsx")
    checked = check_workbook(tmp_path / "lift.xlsx", today=TODAY, sheets=["Schedule"])
    assert states(checked) == ["not checked"]
    assert checked.said == []
    assert "nothing fails" in check_workbook(tmp_path / "lift.xlsx", today=TODAY).said[0]


def test_a_sheet_of_waivers_without_its_headings_is_said(tmp_path: Path) -> None:
    """And columns that nobody understands are not dropped in silence."""
    checked = check(tmp_path, BAD, Waivers=[["design-margin", "S-2", "A. Engel"]])
    (why,) = [sheet.why for sheet in checked.understood.sheets if sheet.name == "Waivers"]
    assert "as headings do" in why
    assert checked.rows[0].verdict == "FAIL"
    line = waiver("design-margin", "S-2")
    more = check(tmp_path, BAD, Waivers=[[*HEADINGS, "Colour", "Waived by"], [*line, "red", "B. Nobody"]])
    assert more.rows[0].verdict == "WAIVED"
    assert more.said == [
        "sheet 'Waivers': column I says what E says: not used",
        "sheet 'Waivers': columns not used: Colour",
    ]


def test_a_hidden_sheet_counts_and_is_said(tmp_path: Path) -> None:
    waived(tmp_path, [BAD], waiver("design-margin", "S-2"))
    book = openpyxl.load_workbook(tmp_path / "lift.xlsx")
    book["Waivers"].sheet_state = "hidden"
    book.save(tmp_path / "lift.xlsx")
    checked = check_workbook(tmp_path / "lift.xlsx", today=TODAY)
    assert checked.rows[0].verdict == "WAIVED"
    assert checked.said == ["sheet 'Waivers' is hidden, and its waivers count"]
    book["Waivers"].sheet_state = "visible"
    book["Waivers"].row_dimensions[4].hidden = True
    book.save(tmp_path / "lift.xlsx")
    checked = check_workbook(tmp_path / "lift.xlsx", today=TODAY)
    assert checked.said == ["sheet 'Waivers': row 4 is hidden, and its waiver counts"]


def numbers(checked: Checked) -> list[tuple[float | None, ...]]:
    return [
        (one.judged.force, one.judged.required, one.judged.rated, one.judged.derate, one.judged.utilisation)
        for one in checked.rows
    ]


ROWS = [GOOD, BAD, OVERLOADED, OVERDUE, OPEN_HOOK, BAD | {"Tag": "S-7", "Maker": "TBC"}]
RULES = ["design-margin", "capacity", "inspection-overdue", "hook-latch", "maker-not-known", "least-angle"]


@given(
    lines=st.lists(
        st.builds(
            waiver,
            st.sampled_from([*RULES, "all", "no such rule", None]),
            st.sampled_from([*(row["Tag"] for row in ROWS), "Lift 1", "S-99", "all", None]),
            until=st.sampled_from([LATER, dt.datetime(2020, 1, 1), None, "soon"]),
            who=st.sampled_from(["A. Engel", None]),
        ),
        max_size=6,
    )
)
@settings(max_examples=60, deadline=None)
def test_no_waiver_changes_a_number_or_passes_a_row(tmp_path_factory: Any, lines: list[list[Any]]) -> None:
    """Whatever is waived: the numbers stand, only FAIL becomes WAIVED, and every waiver has its state."""
    folder = tmp_path_factory.mktemp("any")
    before, after = check(folder, *ROWS), waived(folder, ROWS, *lines)
    assert numbers(after) == numbers(before)
    for one, other in zip(before.rows, after.rows, strict=True):
        assert (one.verdict, other.verdict) in {
            ("PASS", "PASS"), ("FAIL", "FAIL"), ("HOLD", "HOLD"), ("FAIL", "WAIVED"), ("FAIL", "HOLD"),
        }  # fmt: skip
        assert {*other.rules, *other.waived} == set(one.rules)
        assert not set(other.waived) & {"capacity", "maker-not-known"}
    named = [line for line in lines if any(cell is not None for cell in line)]
    assert len(after.waivers) == len(named)
    assert all(bool(one.says) != bool(one.rows) for one in after.waivers)


def run(*arguments: str | Path) -> Any:
    return CliRunner().invoke(main, [*map(str, arguments), "--set", "judged on=2026-11-25"])


def test_waived_rows_end_with_0_and_are_counted(tmp_path: Path) -> None:
    """Everybody sees how many: in the table, in JSON and in CSV."""
    waived(tmp_path, [GOOD, BAD], waiver("design-margin", "S-2"))
    file = tmp_path / "lift.xlsx"
    table = run("check", file, "--no-marks")
    assert table.exit_code == 0
    assert "1 pass, 0 fail, 0 held, 1 waived" in table.stdout
    assert "waived by A. Engel" in " ".join(table.stdout.split())
    document = json.loads(run("check", file, "--no-marks", "--json").stdout)["workbooks"][0]
    assert document["counts"] == {"PASS": 1, "FAIL": 0, "HOLD": 0, "WAIVED": 1}
    (first, *_) = document["rows"][1]["reasons"]
    assert (first["outcome"], first["waiver"]["who"], first["waiver"]["until"]) == (
        "waived", "A. Engel", "2026-12-31",
    )  # fmt: skip
    (one,) = document["waivers"]
    assert (one["state"], one["covers"]) == ("in force", [{"sheet": "Schedule", "row": 3, "item": "S-2"}])
    lines = list(csv.DictReader(io.StringIO(run("check", file, "--no-marks", "--csv").stdout)))
    assert [(line["verdict"], line["rules"], line["waived"]) for line in lines] == [
        ("PASS", "", ""), ("WAIVED", "", "design-margin"),
    ]  # fmt: skip
    held = tmp_path / "held"
    held.mkdir()
    waived(held, [GOOD, BAD | {"Maker": None}], waiver("design-margin", "S-2"))
    assert run("check", held / "lift.xlsx", "--no-marks").exit_code == 1


def test_the_command_lists_them(tmp_path: Path) -> None:
    """With the state of each; a workbook without any says so."""
    waived(tmp_path, [BAD], waiver("design-margin", "S-2"), waiver("hook-latch", "S-2"))
    shown = run("waivers", tmp_path / "lift.xlsx")
    assert shown.exit_code == 0
    for words in ("in force", "unused", "A. Engel", "2026-12-31"):
        assert words in shown.stdout
    listed = json.loads(run("waivers", tmp_path / "lift.xlsx", "--json").stdout)
    assert [one["state"] for one in listed] == ["in force", "unused"]
    check(tmp_path, GOOD)
    assert "no waivers were found" in run("waivers", tmp_path / "lift.xlsx").stdout


def test_marks_and_summary_show_who_and_until_when(tmp_path: Path) -> None:
    """The word in the row, all of the waiver in its reasons; every waiver in the summary, with its state."""
    lapsed = waiver("inspection-overdue", "S-4", until=dt.datetime(2026, 10, 31))
    checked = waived(tmp_path, [GOOD, BAD, OVERDUE], waiver("design-margin", "S-2"), lapsed)
    mark_checked(checked, tmp_path / "marked.xlsx")
    book = openpyxl.load_workbook(tmp_path / "marked.xlsx")
    sheet = book["Schedule"]
    at = {str(cell.value): cell.column for cell in sheet[1]}
    assert [sheet.cell(row, at["rigxl verdict"]).value for row in (2, 3, 4)] == ["PASS", "WAIVED", "FAIL"]
    assert "waived by A. Engel until 2026-12-31" in str(sheet.cell(3, at["rigxl reasons"]).value)
    assert "lapsed on 2026-10-31" in str(sheet.cell(4, at["rigxl reasons"]).value)
    text = "\n".join(
        str(cell.value) for row in book["rigxl summary"].iter_rows() for cell in row if cell.value
    )
    for words in (
        "1 WAIVED",
        "Waivers, row 4",
        "in force",
        "lapsed",
        "weighed twice, one slow lift; A. Engel",
    ):
        assert words in text
    assert [cell.value for cell in book["Waivers"][4]][:2] == ["design-margin", "S-2"]
    again = check_workbook(tmp_path / "marked.xlsx", today=TODAY)
    assert [one.verdict for one in again.rows] == ["PASS", "WAIVED", "FAIL"]


@pytest.mark.parametrize("tag", [2, "2", "02", "(2)"])
def test_the_number_of_a_line_is_no_item_to_waive(tmp_path: Path, tag: Any) -> None:
    """A row put in above would carry the waiver on to another piece."""
    checked = waived(tmp_path, [OVERDUE | {"Tag": tag}], waiver("inspection-overdue", tag))
    assert [one.verdict for one in checked.rows] == ["FAIL"]
    assert states(checked) == ["refused"]
    assert "is the number of a line" in checked.waivers[0].says


def test_a_serial_number_may_be_short(tmp_path: Path) -> None:
    row = OVERDUE | {"Tag": None, "Serial no.": "12", "Quantity": 1, "Legs": 1, "Sling angle (deg)": 90}
    checked = waived(
        tmp_path,
        [row | {"Load (t)": 2, "Position": "top"}],
        waiver("inspection-overdue", "12"),
    )
    assert [one.verdict for one in checked.rows] == ["WAIVED"]


def test_a_lift_on_two_sheets_is_two_lifts(tmp_path: Path) -> None:
    """One waiver is for one lift, and nobody can tell which of the two is meant."""
    more = table(OVERDUE | {"Tag": "S-5"})
    lines = [HEADINGS, waiver("inspection-overdue", None, "Lift 1")]
    checked = check(tmp_path, OVERDUE, Other=more, Waivers=lines)
    assert [one.verdict for one in checked.rows] == ["FAIL", "FAIL"]
    assert "sheets 'Schedule' and 'Other' each have a lift 'Lift 1'" in checked.waivers[0].says
