"""The hook that other repositories may take from this one."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from pre_commit.clientlib import load_manifest

from rigxl.cli import main
from tests.schedule.books import GOOD, check

ROOT = Path(__file__).parents[2]
(HOOK,) = load_manifest(ROOT / ".pre-commit-hooks.yaml")
"""Read and validated by the program that reads it."""


@pytest.mark.parametrize(
    ("name", "taken"),
    [
        ("lifts/north end.xlsx", True),
        ("old.xls", True),
        ("macro.xlsm", True),
        ("lift.marked.xlsx", False),
        ("lift.backup-2.xlsx", False),
        ("lifts/~$north.xlsx", False),
        ("notes.docx", False),
    ],
)
def test_which_files_it_takes(name: str, taken: bool) -> None:
    """Schedules as people write them, and none of our own results."""
    is_taken = bool(re.search(HOOK["files"], name)) and not re.search(HOOK["exclude"], name)
    assert is_taken == taken


def test_what_it_runs(tmp_path: Path) -> None:
    """Every option is one of ours; it fails where a row fails, and writes nothing."""
    program, *arguments = HOOK["entry"].split()
    assert program == "rigxl"
    for row, code in ((GOOD, 0), (GOOD | {"Rated load (t)": 1}, 1)):
        check(tmp_path, row)
        dated = [*arguments, str(tmp_path / "lift.xlsx"), "--set", "judged on=2026-11-25"]
        assert CliRunner().invoke(main, dated).exit_code == code
    assert [path.name for path in tmp_path.iterdir()] == ["lift.xlsx"]
