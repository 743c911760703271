"""``rigxl why``: the row that is meant, the cells behind each number, and what is refused."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rigxl.cli import main
from rigxl.errors import InputError
from rigxl.report.explain import Explained, explain
from rigxl.report.lines import told
from rigxl.report.target import find
from rigxl.schedule.check import Checked, check_workbook

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
TODAY = dt.date(2026, 11, 25)


def sample(name: str) -> Checked:
    return check_workbook(FOLDER / f"{name}.xlsx", today=TODAY)


@pytest.fixture(scope="module")
def footbridge() -> Checked:
    return sample("footbridge")


@pytest.fixture(scope="module")
def bakery() -> Checked:
    return sample("bakery_as_received")


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["why", *map(str, arguments)])


@pytest.mark.parametrize(
    "target", ["Schedule!13", "Schedule!C13", "schedule!$c$13", "'Schedule'!13", "FB-09", " fb-09 "]
)
def test_a_row_is_found(footbridge: Checked, target: str) -> None:
    assert find(footbridge, target).row == 13


def test_a_sheet_with_spaces(bakery: Checked) -> None:
    assert find(bakery, "'Gear list'!B8").name == "BK-01"
    assert find(bakery, "Gear list!8").name == "BK-01"


@pytest.mark.parametrize(
    ("target", "sentence"),
    [
        ("Gear list!14", "Gear list!14 is no row of items (it is a row of totals): rows of items are"),
        ("Gear list!7", "Gear list!7 is no row of items: rows of items are Gear list!8 to 13, 15, 16"),
        ("Crane hire!4", "Crane hire!4 is no row of items: rows of items are Gear list!8"),
        ("Gear!8", "there is no sheet 'Gear' in bakery_as_received.xlsx: it has 'Gear list', 'Crane hire'"),
        ("BK-99", "'BK-99' is no row and no tag of an item: write one such as 'Gear list!8'"),
        ("", "'' is no row and no tag"),
        ("Gear list!", "is no row and no tag"),
    ],
)  # fmt: skip
def test_what_is_no_row_is_refused(bakery: Checked, target: str, sentence: str) -> None:
    """One sentence, which says which rows there are."""
    with pytest.raises(InputError) as refused:
        find(bakery, target)
    assert sentence in str(refused.value)


def test_a_tag_on_two_rows_is_not_chosen(tmp_path: Path) -> None:
    file = tmp_path / "two.csv"
    file.write_text("Tag,Kind,Position,Load (t),Rated load (t)\nS-1,hook,top,1,2\nS-1,hook,top,2,3\n")
    with pytest.raises(InputError, match=r"stands on several rows: name one of two!2, two!3"):
        find(check_workbook(file, today=TODAY), "S-1")


def lines_of(explained: Explained) -> dict[str, str]:
    return {line.step.name: "; ".join(cell.told for cell in line.cells) for line in explained.lines}


def test_each_number_names_its_cells(footbridge: Checked) -> None:
    """Typed again from the sample's own file: the load is in P, its basis in Q, the rigging in R."""
    found = lines_of(explain(footbridge, find(footbridge, "FB-09")))
    assert found["load"] == "load Schedule!P13 '14500' under 'Load (lb)'"
    assert "weight basis Schedule!Q13 'calculated'" in found["load with its allowance"]
    assert found["hook load"] == "rigging weight Schedule!R13 '850' under 'Rigging weight (lb)'"
    assert "Schedule!T13 '60'" in found["pull on the pick point"]
    assert found["rated load"] == "rated load Schedule!H13 '6.5' under 'Rated load (short ton)'"
    assert found["derate: loaded 30° off the pin-to-bow axis"].startswith("loading angle Schedule!J13 '30'")


def test_what_comes_from_the_table_of_lifts_names_its_cell_there() -> None:
    checked = sample("lock_gates_metric")
    explained = explain(checked, find(checked, "Hardware!9"))
    assert lines_of(explained)["load"] == "load Lifts!B5 '8.4' under 'Load (t)'"
    assert any("taken from row 5 of sheet 'Lifts'" in said for said in explained.assumed)


def test_criteria_say_who_chose_them(footbridge: Checked) -> None:
    explained = explain(footbridge, find(footbridge, "FB-09"))
    margin = next(line for line in explained.lines if line.step.name == "required capacity").settings
    assert [(one.name, one.value, one.chosen_by) for one in margin] == [
        ("margin", 0.25, "sheet 'Criteria', row 5")
    ]


def test_what_was_assumed(bakery: Checked) -> None:
    """A hidden row, and a kind that the description names."""
    hidden = explain(bakery, find(bakery, "BK-17"))
    assert "the row is hidden in the workbook: it is judged all the same" in hidden.assumed
    basket = explain(bakery, find(bakery, "BK-14"))
    assert "Gear list!C24: the kind, sling, is read from the description" in basket.assumed


def test_a_position_that_nobody_states_is_assumed(tmp_path: Path) -> None:
    file = tmp_path / "one.csv"
    file.write_text("Tag,Kind,Load (t),Rated load (t)\nH-1,hook,1,2\n")
    checked = check_workbook(file, today=TODAY)
    explained = explain(checked, checked.rows[0])
    assert "its position is not stated: taken as top, where a hook hangs" in explained.assumed
    assert "how the weight was found is not stated: taken as estimated" in explained.assumed


def test_what_is_not_known_says_why(bakery: Checked) -> None:
    """A load to be confirmed leaves the force unknown, and its cell is named."""
    text = "\n".join(told(explain(bakery, find(bakery, "BK-21")), 100))
    assert "not known" in text
    assert "Gear list!K33: 'TBC' says that the load is not known yet" in text.replace("\n" + " " * 28, " ")
    assert text.splitlines()[0].endswith("HOLD")


def test_lines_keep_to_the_width(bakery: Checked) -> None:
    for row in bakery.rows:
        assert all(len(line) <= 80 for line in told(explain(bakery, row), 80))


def test_text_from_outside_cannot_steer_a_terminal(tmp_path: Path) -> None:
    """A cell of delimited text may hold anything."""
    file = tmp_path / "bad.csv"
    file.write_text("Tag,Kind,Position,Load (t),Rated load (t)\nS-1,hook,\x1b[2J top,1,2\nS-2,hook,top,1,2\n")
    checked = check_workbook(file, today=TODAY)
    text = "\n".join(told(explain(checked, checked.rows[0]), 100))
    assert "\x1b" not in text


def test_the_command_prints_and_ends_with_0() -> None:
    """It explains a row that fails as well as one that passes: it could run."""
    result = run(FOLDER / "footbridge.xlsx", "Schedule!13", "--set", "margin=0.3")
    assert result.exit_code == 0, result.output
    assert "margin 0.3 by the command line" in result.stdout
    assert "× (1 + 0.3)" in result.stdout


def test_the_command_refuses_in_one_line() -> None:
    result = run(FOLDER / "footbridge.xlsx", "Schedule!2")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr == ("rigxl: Schedule!2 is no row of items: rows of items are Schedule!5 to 14\n")


def test_json() -> None:
    """The same working as data, unrounded: 16,800 lb ÷ (2 × sin 60°)."""
    result = run(FOLDER / "footbridge.xlsx", "FB-09", "--json")
    document = json.loads(result.stdout)
    assert (document["report"], document["version"], document["verdict"]) == ("rigxl why", 1, "FAIL")
    steps = {step["name"]: step for step in document["steps"]}
    pull = steps["pull on the pick point"]["result"]
    assert pull["unit"] == "N"
    assert pull["value"] == pytest.approx(16_800 * 4.4482216152605 / 3**0.5)
    assert steps["load"]["cells"] == [
        {"field": "load", "where": "Schedule!P13", "says": "14500", "heading": "Load (lb)"}
    ]
    assert steps["capacity"]["result"] == {"value": False, "unit": ""}
    assert document["reasons"][0]["rule"] == "capacity"
