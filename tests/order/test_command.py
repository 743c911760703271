"""``rigxl order`` as it is typed."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from rigxl.cli import main
from tests.order.schedules import ROW
from tests.schedule.books import table


@pytest.fixture
def schedule(tmp_path: Path) -> Path:
    """A schedule of two rows that pass."""
    return save(tmp_path / "lift.xlsx", ROW | {"Lift": "A"}, ROW | {"Lift": "B", "Tag": "S-2", "Quantity": 3})


def save(path: Path, *rows: dict[str, object]) -> Path:
    """A schedule as a workbook."""
    book = openpyxl.Workbook()
    for cells in table(*rows):
        book.worksheets[0].append(cells)
    book.save(path)
    return path


def run(*arguments: object) -> Result:
    """The command, judged on a day when the inspections of the tests are fresh."""
    return CliRunner().invoke(main, ["order", *map(str, arguments), "--set", "judged on=2026-11-25"])


def test_an_order_beside_the_schedule(schedule: Path) -> None:
    """0 when every row is ordered; the schedule is not touched."""
    before = schedule.read_bytes()
    done = run(schedule, "--spares", "10%")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "shackle, bow, screw pin" in done.stdout
    assert "licensed engineer govern" in done.stdout
    assert schedule.read_bytes() == before
    assert openpyxl.load_workbook(schedule.with_name("lift.order.xlsx")).sheetnames[0] == "Order"


def test_only_the_lines(schedule: Path) -> None:
    """Shown, and nothing written."""
    done = run(schedule, "--no-file")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "shackle, bow, screw pin" in done.stdout
    assert [one.name for one in schedule.parent.iterdir()] == ["lift.xlsx"]
    assert run(schedule, "--no-file", "--overwrite").exit_code == 2


def test_some_rows_not_ordered(tmp_path: Path) -> None:
    """1, and each is named with what it blocks."""
    path = save(tmp_path / "lift.xlsx", ROW | {"Lift": "A"}, ROW | {"Lift": "B", "Tag": "S-2", "Load (t)": 9})
    done = run(path)
    assert done.exit_code == 1
    assert "not ordered: S-2 (Sheet!3): FAIL, capacity: overloaded" in " ".join(done.stdout.split())
    assert "blocks line 1" in done.stdout


def test_nothing_that_passes_writes_no_order(tmp_path: Path) -> None:
    """2, one sentence, and no file."""
    path = save(tmp_path / "lift.xlsx", ROW | {"Load (t)": 9})
    done = run(path)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("rigxl: no row of lift.xlsx can be ordered (1 FAIL)")
    assert done.stderr.count("\n") == 1
    assert [one.name for one in tmp_path.iterdir()] == ["lift.xlsx"]


def test_an_order_that_is_there_is_kept(schedule: Path) -> None:
    """Unless told otherwise; the schedule itself always is."""
    target = schedule.with_name("lift.order.xlsx")
    target.write_bytes(b"somebody's")
    done = run(schedule)
    assert (done.exit_code, target.read_bytes()) == (2, b"somebody's")
    assert "is already there: name another file, or say --overwrite" in done.stderr
    assert run(schedule, "--overwrite").exit_code == 0
    assert target.read_bytes() != b"somebody's"
    done = run(schedule, "--overwrite", "--out", schedule)
    assert done.exit_code == 2
    assert "is the schedule itself" in done.stderr


@pytest.mark.parametrize(
    ("option", "value", "says"),
    [
        ("--spares", "10", "write a percentage such as 10%"),
        ("--proof", "moon", "no rule of proof loads 'moon'"),
        ("--out", "order.csv", "an order is an .xlsx workbook"),
        ("--criteria", "mars", "no ready set"),
        ("--sheet", "Nowhere", "there is no sheet 'Nowhere'"),
    ],
)
def test_what_is_refused(schedule: Path, option: str, value: str, says: str) -> None:
    """One sentence, and no file."""
    done = run(schedule, option, value)
    assert (done.exit_code, done.stdout) == (2, "")
    assert says in done.stderr
    assert [one.name for one in schedule.parent.iterdir()] == ["lift.xlsx"]


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """One sentence."""
    done = run(tmp_path / "nowhere.xlsx")
    assert done.exit_code == 2
    assert "nowhere.xlsx" in done.stderr
    assert "Traceback" not in done.stderr


def test_check_takes_the_list_back(schedule: Path) -> None:
    """An empty goods-in list holds what it names."""
    assert run(schedule).exit_code == 0
    arguments = [
        "check",
        str(schedule),
        "--goods-in",
        str(schedule.with_name("lift.order.xlsx")),
        "--no-marks",
    ]
    done = CliRunner().invoke(main, [*arguments, "--csv", "--set", "judged on=2026-11-25"])
    assert done.exit_code == 1
    assert done.stdout.count("goods-in-open") >= 2
