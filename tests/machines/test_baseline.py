"""A baseline: only what is new fails, however the rows move; what is gone is shown."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.cli import main
from tests.schedule.books import GOOD, check

BAD = GOOD | {"Tag": "S-2", "Rated load (t)": 2}
"""3.089 t on 2 t."""
UNKNOWN = GOOD | {"Tag": "S-3", "Maker": "TBC"}


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(
        main, ["check", "--no-marks", "--set", "judged on=2026-11-25", *map(str, arguments)]
    )


def written(folder: Path, *rows: dict[str, Any], **sheets: Any) -> Path:
    """A baseline of these rows."""
    check(folder, *rows, **sheets)
    result = run(folder / "lift.xlsx", "--write-baseline", folder / "known.json")
    assert result.exit_code == 0, result.output
    return folder / "known.json"


def against(folder: Path, *rows: dict[str, Any], **sheets: Any) -> tuple[int, dict[str, list[Any]]]:
    """These rows beside the baseline: the exit code, and tag and rule of what is new, known and gone."""
    check(folder, *rows, **sheets)
    result = run(folder / "lift.xlsx", "--baseline", folder / "known.json", "--json")
    found = json.loads(result.stdout)["workbooks"][0]["baseline"]
    return result.exit_code, {
        name: sorted((one["item"], one["rule"]) for one in findings) for name, findings in found.items()
    }


def test_what_is_known_does_not_fail(tmp_path: Path) -> None:
    """The verdicts stand as they are, and it is said how many are known."""
    known = written(tmp_path, GOOD, BAD, UNKNOWN)
    assert against(tmp_path, GOOD, BAD, UNKNOWN) == (
        0,
        {"new": [], "known": [("S-2", "capacity"), ("S-3", "cell-unreadable")], "gone": []},
    )
    shown = run(tmp_path / "lift.xlsx", "--baseline", known)
    assert shown.exit_code == 0
    assert "1 pass, 1 fail, 1 held" in shown.stdout
    assert "beside the baseline: 0 new, 2 known, 0 no longer found" in shown.stdout


def test_what_is_new_fails(tmp_path: Path) -> None:
    """A row more, or another rule of a known row."""
    known = written(tmp_path, GOOD, BAD)
    code, found = against(tmp_path, GOOD, BAD, UNKNOWN)
    assert (code, found["new"]) == (1, [("S-3", "cell-unreadable")])
    assert (
        "new: HOLD cell-unreadable, S-3 (Schedule!4)"
        in run(tmp_path / "lift.xlsx", "--baseline", known).stdout
    )
    code, found = against(tmp_path, GOOD, BAD | {"Condition": "cracked"})
    assert (code, found["new"], found["known"]) == (1, [("S-2", "condition")], [("S-2", "capacity")])


def test_what_is_gone_is_shown(tmp_path: Path) -> None:
    """Mended: nothing fails, and the baseline is to be written anew."""
    known = written(tmp_path, GOOD, BAD)
    assert against(tmp_path, GOOD, GOOD | {"Tag": "S-2"}) == (
        0,
        {"new": [], "known": [], "gone": [("S-2", "capacity")]},
    )
    shown = run(tmp_path / "lift.xlsx", "--baseline", known).stdout
    assert "no longer found: FAIL capacity, S-2: write the baseline anew" in shown


@given(st.permutations([GOOD, BAD, UNKNOWN, GOOD | {"Tag": "S-4"}, BAD | {"Tag": "S-5"}]), st.integers(0, 3))
@settings(max_examples=20, deadline=None)
def test_rows_may_move(tmp_path_factory: Any, rows: list[dict[str, Any]], more: int) -> None:
    """Known by tag and rule: in any order, with rows that pass between them."""
    folder = tmp_path_factory.mktemp("moved")
    written(folder, GOOD, BAD, UNKNOWN, GOOD | {"Tag": "S-4"}, BAD | {"Tag": "S-5"})
    passing = [GOOD | {"Tag": f"N-{number}"} for number in range(more)]
    code, found = against(folder, *passing, *rows)
    assert (code, found["new"], found["gone"]) == (0, [], [])


def test_an_overload_that_has_grown_is_new(tmp_path: Path) -> None:
    """Known at 154 % is not known at 160 %; less is still known."""
    written(tmp_path, BAD)
    assert against(tmp_path, BAD | {"Load (t)": 5.2})[0] == 1
    assert against(tmp_path, BAD | {"Load (t)": 4.9})[0] == 0


def test_another_outcome_is_new(tmp_path: Path) -> None:
    """What was held and now fails is not what was known."""
    written(tmp_path, GOOD | {"Size": None, "Rated load (t)": None})
    code, found = against(tmp_path, GOOD | {"Rated load (t)": 2})
    assert (code, found["new"]) == (1, [("S-1", "capacity")])


def test_rows_without_a_tag_are_new_every_time(tmp_path: Path) -> None:
    """Nothing tells them from their neighbours, and it is said."""
    nameless = BAD | {"Tag": None}
    check(tmp_path, nameless)
    result = run(tmp_path / "lift.xlsx", "--write-baseline", tmp_path / "known.json")
    assert "1 findings are of rows without a tag" in result.stderr
    assert against(tmp_path, nameless)[0] == 1


def test_one_more_row_of_a_tag_is_new(tmp_path: Path) -> None:
    """Two rows of one tag were known, and three are not; nor may the lighter loaded one grow unseen."""
    heavy = BAD | {"Rated load (t)": 1.5}
    written(tmp_path, BAD, heavy)
    assert against(tmp_path, heavy, BAD)[0] == 0
    assert against(tmp_path, heavy, heavy)[0] == 1
    assert against(tmp_path, heavy)[0] == 0
    written(tmp_path, BAD, BAD)
    assert against(tmp_path, BAD, BAD)[0] == 0
    assert against(tmp_path, BAD, BAD, BAD)[0] == 1


def test_a_waiver_that_lapses_is_new(tmp_path: Path) -> None:
    """A waived row is no finding of the baseline."""
    row = GOOD | {"Tag": "S-4", "Rated load (t)": 3.5}
    head = ["Rule", "Item", "Reason", "Who", "Until"]
    line = ["design-margin", "S-4", "weighed twice", "A. Engel"]
    written(tmp_path, row, Waivers=[head, [*line, "2026-12-31"]])
    code, found = against(tmp_path, row, Waivers=[head, [*line, "2026-11-24"]])
    assert (code, found["new"]) == (1, [("S-4", "design-margin")])


def test_the_forms_tell_new_from_known(tmp_path: Path) -> None:
    """SARIF by its own words, JUnit by what is skipped."""
    known = written(tmp_path, BAD)
    check(tmp_path, BAD, UNKNOWN)
    file = tmp_path / "lift.xlsx"
    log = json.loads(run(file, "--baseline", known, "--sarif").stdout)
    states = {one["ruleId"]: one.get("baselineState") for one in log["runs"][0]["results"]}
    assert (states["capacity"], states["cell-unreadable"]) == ("unchanged", "new")
    text = run(file, "--baseline", known, "--junit").stdout
    assert "known from the baseline, FAIL" in text
    assert text.count("<skipped") == text.count("<error") == 1
    check(tmp_path, GOOD)
    log = json.loads(run(file, "--baseline", known, "--sarif").stdout)
    assert [one["baselineState"] for one in log["runs"][0]["results"]] == ["absent"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "there is no baseline"),
        ("not JSON", "cannot be read as a baseline"),
        ("{}", "is no baseline of version 1"),
        ('{"report": "rigxl baseline", "version": 2, "findings": []}', "is no baseline of version 1"),
        ('{"report": "rigxl baseline", "version": 1}', "not whole"),
        ('{"report": "rigxl baseline", "version": 1, "findings": [{"file": "lift.xlsx"}]}', "not whole"),
        ('{"report": "rigxl baseline", "version": 1, "findings": [3]}', "not whole"),
    ],
)
def test_a_baseline_that_cannot_be_used(tmp_path: Path, content: str | None, words: str) -> None:
    """One sentence, and nothing is checked."""
    known = tmp_path / "known.json"
    if content is not None:
        known.write_text(content, encoding="utf-8")
    check(tmp_path, GOOD)
    result = run(tmp_path / "lift.xlsx", "--baseline", known)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stderr.count("\n") == 1
    assert result.stdout == ""


def test_no_baseline_of_half_a_run(tmp_path: Path) -> None:
    """Where a workbook is refused, the baseline that was there stays as it was."""
    known = written(tmp_path, BAD)
    before = known.read_bytes()
    (tmp_path / "broken.xlsx").write_bytes(b"PK broken")
    result = run(tmp_path, "--write-baseline", known)
    assert result.exit_code == 2
    assert "no baseline was written" in result.stderr
    assert known.read_bytes() == before


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (("--baseline", "b.json", "--write-baseline", "c.json"), "choose one"),
        (("--sheet", "Schedule"), "--sheet"),
    ],
)
def test_what_does_not_go_together(tmp_path: Path, more: tuple[str, ...], words: str) -> None:
    known = written(tmp_path, BAD)
    result = run(tmp_path / "lift.xlsx", "--baseline", known, *more)
    assert result.exit_code == 2
    assert words in result.stderr


def test_another_workbook_is_not_known(tmp_path: Path) -> None:
    """The same tag in another file is another finding, and a file that was not asked for is not gone."""
    known = written(tmp_path, BAD)
    (tmp_path / "lift.xlsx").rename(tmp_path / "other.xlsx")
    result = run(tmp_path / "other.xlsx", "--baseline", known, "--json")
    found = json.loads(result.stdout)["workbooks"][0]["baseline"]
    assert result.exit_code == 1
    assert (len(found["new"]), found["gone"]) == (1, [])


def test_another_unknown_of_the_same_row_is_new(tmp_path: Path) -> None:
    """One rule holds every cell that cannot be read: the maker was known to be open, the load was not."""
    written(tmp_path, GOOD, UNKNOWN)
    code, found = against(tmp_path, GOOD, GOOD | {"Tag": "S-3", "Load (t)": "TBC"})
    assert code == 1
    assert ("S-3", "cell-unreadable") in found["new"]


def test_figures_and_rows_are_not_what_a_finding_says(tmp_path: Path) -> None:
    """The same sentence of another cell and another day is the same finding."""
    late = GOOD | {"Tag": "S-4", "Lift": "Lift 2", "Quantity": 1, "Last inspection": "2025-01-01"}
    written(tmp_path, GOOD, late)
    code, found = against(tmp_path, late | {"Last inspection": "2025-02-03"}, GOOD)
    assert (code, found["new"]) == (0, [])


@pytest.mark.parametrize("tag", [2, "2", "07", "Shackle"])
def test_a_line_number_or_a_word_tells_no_piece_from_another(tmp_path: Path, tag: Any) -> None:
    """Where rows move, it would be another piece that is known."""
    written(tmp_path, BAD | {"Tag": tag})
    code, found = against(tmp_path, BAD | {"Tag": tag})
    assert (code, found["known"]) == (1, [])


def test_no_baseline_over_a_workbook(tmp_path: Path) -> None:
    """A slip of the hand must not cost a schedule."""
    check(tmp_path, BAD)
    lift = tmp_path / "lift.xlsx"
    before = lift.read_bytes()
    result = run(lift, "--write-baseline", lift)
    assert result.exit_code == 2
    assert "is there and is no baseline" in result.stderr
    assert lift.read_bytes() == before
