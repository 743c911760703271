"""A process killed at any moment while it marks a workbook in place leaves one whole file, and its backup."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigxl.workbook.sandbox import apart

FIXTURES = Path(__file__).parent / "fixtures"


@pytest.mark.skipif(os.name != "posix", reason="needs a system on which a process can fork and be killed")
@pytest.mark.parametrize("name", ["table.xlsx", "no-row-numbers.xlsx"])
def test_kill_at_any_moment(tmp_path: Path, name: str) -> None:
    from tests.workbook.killing import kill_at_many_moments

    before, after, remains = apart(kill_at_many_moments, 120, 2 * 2**30, FIXTURES / name, tmp_path, 40)
    killed = [each for each in remains if not each.finished]
    assert len(killed) > 5
    assert before != after
    assert [each.moment for each in remains if each.file not in (before, after)] == []
    assert [each.moment for each in remains if set(each.backups) - {before}] == []
    assert [each.moment for each in remains if each.file == after and not each.backups] == []
    assert {each.file for each in killed} >= {before}
