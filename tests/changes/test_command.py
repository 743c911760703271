"""``rigxl changes``: exit codes, what is printed, JSON, the workbook, refusals, unlike things."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner, Result

from rigxl.cli import main
from rigxl.schedule.check import check_workbook
from tests.changes.books import shackle, write
from tests.changes.editing import sample


def run(*arguments: object) -> Result:
    """The command as typed."""
    return CliRunner().invoke(main, ["changes", *map(str, arguments), "--set", "judged on=2026-11-25"])


@pytest.fixture
def versions(tmp_path: Path) -> tuple[Path, Path]:
    """Two rows each: one that fails now, one that went, one that came."""
    old = write(tmp_path / "old.xlsx", [shackle(tag="S-1"), shackle(tag="S-2", remarks="=HYPERLINK(1)")])
    new = write(
        tmp_path / "new.xlsx", [shackle(tag="S-3", kind="link", type="oblong", position="top", size="1 in",
                                        rated=9, maker="Tollmark"), shackle(tag="S-1", rated=2.5)]
    )  # fmt: skip
    return old, new


def test_exit_codes(versions: tuple[Path, Path], tmp_path: Path) -> None:
    """0: nothing changed. 1: something did. 2: it could not run."""
    old, new = versions
    assert run(old, old).exit_code == 0
    assert run(old, new).exit_code == 1
    assert run(old, tmp_path / "missing.xlsx").exit_code == 2


def test_what_is_printed(versions: tuple[Path, Path]) -> None:
    """Old and new values, both verdicts, why, and the rows that came and went."""
    said = run(*versions).stdout
    for part in (
        "rated load",
        "4.25 t",
        "2.5 t",
        "PASS → FAIL",
        "because of its own rated load",
        "design-margin",
    ):
        assert part in said
    assert "1 row with changed inputs, 1 changed verdict, 1 added, 1 removed" in said


def test_json_has_all_of_it(versions: tuple[Path, Path]) -> None:
    """With where each value stands."""
    data: dict[str, Any] = json.loads(run(*versions, "--json").stdout)
    assert (data["report"], data["version"], data["nothing changed"]) == ("rigxl changes", 1, False)
    (changed,) = data["changed"]
    assert (changed["item"], changed["found by"], changed["doubt"]) == ("S-1", "tag", "")
    (each,) = changed["inputs"]
    assert each == {
        "field": "rated_load",
        "old": "4.25 t",
        "new": "2.5 t",
        "old cell": "Schedule!H2",
        "new cell": "Schedule!H3",
    }
    assert (changed["verdict"]["old"], changed["verdict"]["new"]) == ("PASS", "FAIL")
    assert changed["verdict"]["because"][0]["code"] == "inputs"
    assert [one["item"] for one in data["added"]] == ["S-3"]
    assert [one["item"] for one in data["removed"]] == ["S-2"]


def lines(path: Path, name: str) -> list[list[Any]]:
    """The filled rows of a sheet."""
    rows = openpyxl.load_workbook(path)[name].iter_rows(values_only=True)
    return [[value for value in row if value is not None] for row in rows if any(row)]


def test_the_workbook_has_a_sheet_for_each(versions: tuple[Path, Path], tmp_path: Path) -> None:
    """Changes, added, removed, criteria; text that looks like a formula stays text."""
    out = tmp_path / "out.xlsx"
    before = [path.read_bytes() for path in versions]
    assert run(*versions, "--out", out).exit_code == 1
    assert openpyxl.load_workbook(out).sheetnames == [
        "rigxl changes", "rigxl added", "rigxl removed", "rigxl criteria",
    ]  # fmt: skip
    assert [
        "item",
        "S-1",
        "Pump",
        "Schedule!2",
        "Schedule!3",
        "rated load",
        "4.25 t",
        "2.5 t",
        "PASS → FAIL",
    ] in [line[:9] for line in lines(out, "rigxl changes")]
    assert lines(out, "rigxl added")[-1][1] == "S-3"
    assert lines(out, "rigxl removed")[-1][1] == "S-2"
    assert lines(out, "rigxl criteria")[-1] == ["None."]
    assert not any(
        cell.data_type == "f"
        for sheet in openpyxl.load_workbook(out)
        for row in sheet.iter_rows()
        for cell in row
    )
    assert [path.read_bytes() for path in versions] == before


def test_the_workbook_is_no_schedule(versions: tuple[Path, Path], tmp_path: Path) -> None:
    """Beside schedules in one folder it would otherwise be held row by row, or refused for its criteria."""
    out = tmp_path / "out.xlsx"
    run(*versions, "--out", out)
    understood = check_workbook(out).understood
    assert {sheet.role for sheet in understood.sheets} == {"marks"}
    assert list(understood.tables) == []


def test_the_workbook_is_new(versions: tuple[Path, Path], tmp_path: Path) -> None:
    """Nothing that is there is written over, and nothing but a workbook is written."""
    old, new = versions
    refused = run(old, new, "--out", new)
    assert refused.exit_code == 2
    assert "is already there" in refused.stderr
    assert run(old, new, "--out", tmp_path / "out.csv").exit_code == 2
    assert not (tmp_path / "out.csv").exists()


def test_a_file_without_a_schedule_is_refused(versions: tuple[Path, Path], tmp_path: Path) -> None:
    """One sentence that names the file, and no comparison."""
    empty = write(tmp_path / "empty.xlsx", [{"Colour": "red", "Price": 5}])
    for pair in ((versions[0], empty), (empty, versions[0])):
        refused = run(*pair)
        assert refused.exit_code == 2
        assert "empty.xlsx: no row of a rigging schedule was found" in refused.stderr
        assert refused.stdout == ""


def test_the_same_file_is_said_to_be_so(versions: tuple[Path, Path]) -> None:
    """Byte for byte."""
    assert "the two files are the same, byte for byte" in run(versions[0], versions[0]).stdout


def test_unlike_things_are_said_to_be_unlike() -> None:
    """Another schedule, another kind of schedule, another set of criteria."""
    said = run(sample("footbridge"), sample("lock_gates_metric"))
    assert said.exit_code == 1
    assert "the two have no row in common" in said.stdout
    assert (
        "the new one has its lifts in a table of their own, the old one has them in the rows" in said.stdout
    )
    assert "the old one is judged by US practice" in said.stdout


def test_other_columns_and_units_are_said(tmp_path: Path) -> None:
    """Columns that one version lacks, units that differ, a heading that is not understood."""
    row = {name: value for name, value in shackle().items() if name not in ("Weight basis", "Load (t)")}
    old = write(tmp_path / "old.xlsx", [shackle()])
    new = write(tmp_path / "new.xlsx", [{**row, "Load (kg)": 4000, "Latch": "yes", "Blorp": 7}])
    said = run(old, new).stdout
    assert "the new one has no column for: weight basis" in said
    assert "the old one has no column for: latch" in said
    assert "load in t and in kg" in said
    assert "columns of the new one: 'Blorp'" in said


def test_lifts_moved_into_a_table_of_their_own_are_compared_by_what_rows_take(tmp_path: Path) -> None:
    """The same values, once in the rows and once in a table: unlike schedules, and no value changed."""
    lift = ("Load (t)", "Weight basis", "Rigging weight (t)", "Legs", "Sling angle (deg)")
    row = {name: value for name, value in shackle().items() if name not in lift}
    old = write(tmp_path / "old.xlsx", [shackle()])
    new = write(
        tmp_path / "new.xlsx", [row], Lifts=[["Lift", *lift], ["Pump", *(shackle()[one] for one in lift)]]
    )
    said = run(old, new)
    assert "unlike schedules" in said.stdout
    assert said.exit_code == 0


def test_versions_the_wrong_way_round_are_asked_about(tmp_path: Path) -> None:
    """The old one is judged on the later day."""
    old, new = (
        write(
            tmp_path / f"{day}.xlsx",
            [shackle()],
            Criteria=[["Setting", "Value"], ["judged on", f"2026-11-{day}"]],
        )
        for day in (28, 14)
    )
    result = CliRunner().invoke(main, ["changes", str(old), str(new)])
    assert "are they the right way round?" in result.stdout
