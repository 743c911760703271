"""What README says to scripts, run as it stands there."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from rigxl.cli import main
from tests.readme import README

SAMPLES = README.parent / "sample_workbooks"
LINES = re.findall(r"^rigxl (check schedules .*)$", README.read_text(encoding="utf-8"), re.M)


def test_the_lines_for_scripts_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In order: a failing schedule, its baseline written, and nothing new beside it."""
    (tmp_path / "schedules").mkdir()
    shutil.copy(SAMPLES / "footbridge.xlsx", tmp_path / "schedules")
    monkeypatch.chdir(tmp_path)
    codes = [CliRunner().invoke(main, shlex.split(line.partition(">")[0])).exit_code for line in LINES]
    assert codes == [1, 0, 0]
    assert (tmp_path / "rigxl-baseline.json").exists()


def test_the_exit_codes_of_the_page() -> None:
    """0, 1 and 2, and no other: what each of them means is tested where it arises."""
    table = re.search(
        r"\| exit code \| means \|\n\|---\|---\|\n((?:\|.*\n)+)", README.read_text(encoding="utf-8")
    )
    assert table is not None
    assert [line.split("|")[1].strip() for line in table[1].splitlines()] == ["0", "1", "2"]
