"""The command line as a person uses it: what is printed, where, and with which exit code."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner, Result

from rigxl.cli import main
from rigxl.samples import SAMPLES

HEADINGS = (
    "Tag", "Kind", "Position", "Size", "Type", "Rated load (t)", "Maker", "Load (t)", "Weight basis",
    "Rigging weight (t)", "Legs", "Sling angle (deg)", "Rating marked", "Last inspection",
)  # fmt: skip
PASSES = (
    "S-1",
    "shackle",
    "leg",
    "7/8 in",
    "bow, screw pin",
    5.8,
    "Halden Forge",
    5,
    "weighed",
    0.1,
    2,
    60,
    "yes",
)
FAILS = (
    "S-2",
    "shackle",
    "leg",
    "1/2 in",
    "bow, screw pin",
    1.8,
    "Halden Forge",
    5,
    "weighed",
    0.1,
    2,
    60,
    "yes",
)
JUDGED_ON = ("--set", "judged on=2026-11-25")


def schedule(path: Path, *rows: tuple[Any, ...], headings: tuple[str, ...] = HEADINGS) -> Path:
    """A small schedule; every row is inspected in June 2026."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Schedule"
    sheet.append(headings)
    for row in rows:
        sheet.append((*row, "2026-06-01"))
    book.save(path)
    return path


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


def test_all_pass_is_0(tmp_path: Path) -> None:
    """And a marked copy stands beside the original, which is as it was."""
    file = schedule(tmp_path / "lift.xlsx", PASSES)
    before = file.read_bytes()
    result = run("check", file, *JUDGED_ON)
    assert result.exit_code == 0, result.output
    assert "1 pass, 0 fail, 0 held" in result.stdout
    assert file.read_bytes() == before
    marked = openpyxl.load_workbook(tmp_path / "lift.marked.xlsx")
    assert marked.sheetnames == ["Schedule", "rigxl summary"]
    cells = {str(cell.value): cell for cell in marked["Schedule"][1]}
    assert marked["Schedule"].cell(2, cells["rigxl verdict"].column).value == "PASS"


def test_a_failing_row_is_1_and_says_what_would_pass(tmp_path: Path) -> None:
    """(5 × 1.05 + 0.1) / (2 sin 60°) = 3.089 t on a rating of 1.8 t."""
    result = run("check", schedule(tmp_path / "lift.xlsx", PASSES, FAILS), *JUDGED_ON, "--json")
    assert result.exit_code == 1
    document = json.loads(result.stdout)
    assert document["version"] == 1
    good, bad = document["workbooks"][0]["rows"]
    assert (good["verdict"], bad["verdict"]) == ("PASS", "FAIL")
    assert (bad["sheet"], bad["row"], bad["item"], bad["kind"]) == ("Schedule", 3, "S-2", "shackle")
    assert bad["force"]["unit"] == "kN"
    assert bad["force"]["value"] == pytest.approx(5.35 / 3**0.5 * 9.80665, rel=1e-6)
    assert bad["required"]["value"] == pytest.approx(5.35 / 3**0.5 * 9.80665 * 1.25, rel=1e-6)
    assert bad["rated"]["value"] == pytest.approx(1.8 * 9.80665)
    assert bad["utilisation"]["value"] == pytest.approx(5.35 / 3**0.5 / 1.8, rel=1e-6)
    first = bad["reasons"][0]
    assert first["rule"] == "capacity"
    assert first["sentence"]
    assert first["source"]
    assert "rated load of 3.861 t or more" in first["remedy"]


def test_a_held_row_is_1(tmp_path: Path) -> None:
    """TBC is not known, and not known never passes."""
    row = (*PASSES[:5], "TBC", *PASSES[6:])
    result = run("check", schedule(tmp_path / "lift.xlsx", row), *JUDGED_ON, "--no-marks")
    assert result.exit_code == 1
    assert "0 pass, 0 fail, 1 held" in result.stdout
    assert "Schedule!F2" in result.stdout
    assert not (tmp_path / "lift.marked.xlsx").exists()


def test_csv_escapes_what_looks_like_a_formula(tmp_path: Path) -> None:
    """A tag that begins with = comes from outside."""
    row = ("=1+1", *PASSES[1:])
    book = openpyxl.load_workbook(schedule(tmp_path / "lift.xlsx", row))
    cell = book["Schedule"]["A2"]
    cell.data_type = "s"
    book.save(tmp_path / "lift.xlsx")
    result = run("check", tmp_path / "lift.xlsx", *JUDGED_ON, "--csv", "--no-marks")
    line = next(csv.DictReader(io.StringIO(result.stdout)))
    assert line["item"] == "'=1+1"
    assert line["verdict"] == "PASS"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("check", "no-such-file.xlsx"), ("no-such-file.xlsx",)),
        (("check", "{lift}", "--set", "margin=lots"), ("the command line", "margin", "lots")),
        (("check", "{lift}", "--set", "margin"), ("NAME=VALUE",)),
        (("check", "{lift}", "--criteria", "mars"), ("mars", "us, ontario, europe")),
        (("check", "{lift}", "--sheet", "Nowhere"), ("Nowhere", "Schedule")),
        (("check", "{lift}", "--marks-at", "7"), ("--marks-at 7", "column")),
        (("check", "{lift}", "--json", "--csv"), ("choose one",)),
        (("check", "{lift}", "--limit", "speed=3"), ("speed", "file_bytes")),
        (("check", "{text}"), ("text.xlsx",)),
        (("check", "{empty}"), ("no row",)),
        (("table", "spoon"), ("spoon", "shackle")),
        (("rules", "capcity"), ("capcity", "capacity")),
        (("calc", "LEGTENSON", "1", "2", "3"), ("LEGTENSON", "LEGTENSION")),
        (("calc", "LEGTENSION", "1000", "2", "0"), ("angle", "0")),
        (("calc", "CONVERTLOAD", "5", "ton", "kg"), ("ton", "short")),
    ],
)
def test_what_could_not_run_is_2_and_one_line(
    tmp_path: Path, arguments: tuple[str, ...], words: tuple[str, ...]
) -> None:
    """A sentence on stderr, nothing on stdout but where other workbooks went on, no traceback."""
    names = {
        "lift": schedule(tmp_path / "lift.xlsx", PASSES),
        "empty": schedule(tmp_path / "empty.xlsx", headings=("One", "Two")),
        "text": tmp_path / "text.xlsx",
    }
    names["text"].write_text("not a workbook", encoding="utf-8")
    result = run(*(one.format(**names) for one in arguments))
    assert result.exit_code == 2, result.output
    for word in words:
        assert word in result.output
    assert "Traceback" not in result.output


def test_a_folder_is_checked_workbook_by_workbook(tmp_path: Path) -> None:
    """Lock files and our own results are left out; one that cannot be read does not stop the others."""
    schedule(tmp_path / "a.xlsx", PASSES)
    schedule(tmp_path / "deeper.xlsx", PASSES)
    (tmp_path / "~$a.xlsx").write_bytes(b"lock")
    assert run("check", tmp_path, *JUDGED_ON).exit_code == 0
    again = run("check", tmp_path, *JUDGED_ON, "--json")
    assert [Path(one["file"]).name for one in json.loads(again.stdout)["workbooks"]] == [
        "a.xlsx",
        "deeper.xlsx",
    ]
    (tmp_path / "broken.xlsx").write_bytes(b"PK broken")
    broken = run("check", tmp_path, *JUDGED_ON)
    assert broken.exit_code == 2
    assert broken.stdout.count("1 pass") == 2


def test_in_place_keeps_the_original_as_a_backup(tmp_path: Path) -> None:
    """The file asked for is marked, and the bytes it had stand beside it."""
    file = schedule(tmp_path / "lift.xlsx", PASSES)
    before = file.read_bytes()
    assert run("check", file, *JUDGED_ON, "--in-place").exit_code == 0
    assert file.read_bytes() != before
    assert (tmp_path / "lift.backup.xlsx").read_bytes() == before


def test_marking_again_adds_nothing_twice(tmp_path: Path) -> None:
    """The marked copy checked again has the same marks in the same place."""
    file = schedule(tmp_path / "lift.xlsx", PASSES, FAILS)
    run("check", file, *JUDGED_ON)
    once = openpyxl.load_workbook(tmp_path / "lift.marked.xlsx")
    assert run("check", tmp_path / "lift.marked.xlsx", *JUDGED_ON, "--in-place").exit_code == 1
    twice = openpyxl.load_workbook(tmp_path / "lift.marked.xlsx")
    assert twice.sheetnames == once.sheetnames
    cells = [[cell.value for cell in row] for row in once["Schedule"].iter_rows()]
    assert [[cell.value for cell in row] for row in twice["Schedule"].iter_rows()] == cells


def test_calc_prints_the_bare_value() -> None:
    """US Army FM 5-125 p. 3-9 by its angle: 1,800 lb on two legs of 8 ft, 6 ft high is 1,200 lb a leg."""
    angle = run("calc", "SLINGANGLE", "8", str(2 * (8**2 - 6**2) ** 0.5)).stdout
    result = run("calc", "LEGTENSION", "1800", "2", angle.strip())
    assert float(result.stdout) == pytest.approx(1200)
    assert result.stdout.count("\n") == 1


@pytest.mark.parametrize("arguments", [("rules",), ("rules", "capacity"), ("table", "sling"), ("functions",)])
def test_the_lists_print(arguments: tuple[str, ...]) -> None:
    """Each rule and table with its source."""
    result = run(*arguments)
    assert result.exit_code == 0
    assert "B30" in result.stdout or "FM 5-125" in result.stdout


def test_columns_shows_what_is_understood(tmp_path: Path) -> None:
    """And what is not, with a proposal that is never taken."""
    file = schedule(tmp_path / "lift.xlsx", PASSES, headings=(*HEADINGS[:6], "Makr", *HEADINGS[7:]))
    result = run("columns", file)
    assert "may be maker" in result.stdout
    assert json.loads(run("columns", file, "--json").stdout)["sheets"][0]["role"] == "schedule"
    held = run("check", file, *JUDGED_ON, "--no-marks")
    assert "maker-not-known" in held.stdout
    assert "columns not used: Makr" in held.stdout


FIXTURES = Path(__file__).parent / "workbook" / "fixtures"


@pytest.mark.parametrize(
    ("fixture", "code", "words"),
    [
        ("pivot-slicer-table.xlsx", 0, ("1 pivot tables", "1 slicers", "it can be marked")),
        ("signed.xlsx", 0, ("cannot be marked", "digital signature")),
        ("structure-locked.xlsx", 0, ("structure is locked", "1904")),
        ("encrypted-ole2.xlsx", 2, ("cannot be read", "encrypted")),
    ],
)
def test_doctor_tells_what_is_in_a_workbook(fixture: str, code: int, words: tuple[str, ...]) -> None:
    """The fixtures' own notices say what is in them."""
    result = run("doctor", FIXTURES / fixture)
    assert result.exit_code == code
    for word in words:
        assert word in result.stdout
    assert json.loads(run("doctor", FIXTURES / fixture, "--json").stdout)["path"].endswith(fixture)


def test_rows_that_are_no_items_are_said(tmp_path: Path) -> None:
    """In the terminal, the JSON and the summary: an item left out in silence would be worse than FAIL."""
    total = ("Total", None, None, None, None, 11.6)
    book = openpyxl.load_workbook(schedule(tmp_path / "lift.xlsx", PASSES, FAILS))
    book["Schedule"].append(total)
    book.save(tmp_path / "lift.xlsx")
    result = run("check", tmp_path / "lift.xlsx", *JUDGED_ON)
    assert "Schedule: row 4 was left out: it is a row of totals" in result.stdout
    document = json.loads(run("check", tmp_path / "lift.xlsx", *JUDGED_ON, "--json").stdout)
    assert document["workbooks"][0]["left out"] == ["Schedule: row 4 was left out: it is a row of totals"]
    summary = openpyxl.load_workbook(tmp_path / "lift.marked.xlsx")["rigxl summary"]
    assert any("row 4 was left out" in str(cell.value) for cell in summary["A"])


def test_template_and_demo(tmp_path: Path) -> None:
    """What they write is there, and never over something else."""
    blank = tmp_path / "blank.xlsx"
    assert run("template", blank).exit_code == 0
    assert openpyxl.load_workbook(blank).sheetnames
    assert run("template", blank).exit_code == 2
    demo = run("demo", tmp_path / "demo")
    assert demo.exit_code == 0, demo.output
    assert len(list((tmp_path / "demo").glob("*.marked.xlsx"))) == len(SAMPLES)
    assert run("demo", tmp_path / "demo").exit_code == 2


@pytest.mark.skipif(sys.platform == "win32", reason="pipes close in another way there")
def test_output_that_nobody_reads_to_its_end_is_no_error(tmp_path: Path) -> None:
    """As with head: no word on stderr."""
    file = schedule(tmp_path / "lift.xlsx", *[PASSES] * 300)
    command = f"'{sys.executable}' -m rigxl check '{file}' --no-marks --json | head -c 10"
    done = subprocess.run(["sh", "-c", command], capture_output=True, text=True, check=True)
    assert done.stdout
    assert done.stderr == ""


def test_help_imports_next_to_nothing() -> None:
    """What a command needs is imported when it runs."""
    code = "import sys, rigxl.cli; print(' '.join(sorted(sys.modules)))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    assert not {"openpyxl", "pandas", "pint", "rich", "numpy", "python_calamine", "rigxl.hardware"} & set(
        loaded
    )


def test_opinion() -> None:
    """Exit code 1 where there is something to say, 0 where not; the same as data."""
    folder = Path(__file__).parents[1] / "sample_workbooks"
    found = run("opinion", folder / "pump_house_reworked.xlsx", "--json")
    assert found.exit_code == 1
    remarks = json.loads(found.stdout)["remarks"]
    assert {"cell": "Schedule!W9", "says": "1", "works out at": "0.7"}.items() <= remarks[0].items()
    quiet = run("opinion", folder / "footbridge.xlsx")
    assert quiet.exit_code == 0
    assert "nothing to compare" in quiet.stdout
    assert run("opinion", "nowhere.xlsx").exit_code == 2


@pytest.mark.parametrize(("of", "least"), [((), 16), (("addin",), 3)])
def test_the_list_of_commands_is_whole_at_eighty_columns(of: tuple[str, ...], least: int) -> None:
    """No line of it is cut."""
    shown = CliRunner().invoke(main, [*of, "--help"], terminal_width=80).stdout
    listed = shown.partition("Commands:\n")[2].splitlines()
    assert len(listed) >= least
    assert not [line for line in listed if line.endswith("...")]


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "--out", "{there}"),
        ("settle", "--out", "{there}"),
        ("respell", "--to", "excel", "--out", "{there}"),
        ("order", "--out", "{there}"),
        ("changes", "{sample}", "--out", "{there}"),
    ],
    ids=lambda arguments: arguments[0],
)
def test_what_is_there_is_not_written_over(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    """Another schedule, or a copy that somebody has worked on since."""
    sample = Path(__file__).parents[1] / "sample_workbooks" / "boiler_house_functions.xlsx"
    there = tmp_path / "there.xlsx"
    there.write_bytes((sample.parent / "footbridge.xlsx").read_bytes())
    before = there.read_bytes()
    command, *more = (one.format(there=there, sample=sample) for one in arguments)
    result = CliRunner().invoke(main, [command, str(sample), *more])
    assert result.exit_code == 2
    assert str(there) in result.stderr
    assert there.read_bytes() == before


def test_two_workbooks_are_not_marked_as_one(tmp_path: Path) -> None:
    """The copy of the one would stand for the other."""
    sample = (Path(__file__).parents[1] / "sample_workbooks" / "footbridge.xlsx").read_bytes()
    for name in ("north", "south", "out"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "lift.xlsx").write_bytes(sample)
    (tmp_path / "out" / "lift.xlsx").unlink()
    asked = ["check", *(str(tmp_path / name) for name in ("north", "south"))]
    result = CliRunner().invoke(main, [*asked, "--out", str(tmp_path / "out")])
    assert result.exit_code == 2
    assert "would both be marked as" in result.stderr
    assert not list((tmp_path / "out").iterdir())
    assert CliRunner().invoke(main, asked).exit_code == 1


def test_a_refused_workbook_is_named_once(tmp_path: Path) -> None:
    """By its path, whatever its own sentence begins with."""
    path = tmp_path / "gone.xlsx"
    assert run("check", path).stderr.startswith(f"rigxl: {path} cannot be opened: ")
