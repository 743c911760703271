"""A child process may die in any way; the parent gets one plain refusal."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import pytest

from rigxl.errors import WorkbookError
from rigxl.workbook.sandbox import apart

MOST = 512 * 2**20


def test_answer_comes_back() -> None:
    assert apart(sorted, 20, MOST, [3, 1, 2], reverse=True) == [3, 2, 1]


def test_refusal_comes_back_as_it_was() -> None:
    from tests.workbook.mischief import refuse

    with pytest.raises(WorkbookError, match="the sentence") as caught:
        apart(refuse, 20, MOST, "a-code", "the sentence")
    assert caught.value.code == "a-code"


def test_slow_child_is_killed() -> None:
    with pytest.raises(WorkbookError, match=r"within 0\.5 s") as caught:
        apart(time.sleep, 0.5, MOST, 60)
    assert caught.value.code == "too-slow"


@pytest.mark.parametrize("end", ["abort", "kill", "exit", "panic", "bug"])
def test_death_is_one_refusal(end: str) -> None:
    from tests.workbook.mischief import break_down

    with pytest.raises(WorkbookError, match="break down") as caught:
        apart(break_down, 20, MOST, end)
    assert caught.value.code == "reader-broke"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows cannot limit a process's memory this way")
def test_memory_is_limited() -> None:
    with pytest.raises(WorkbookError, match="within 300 MiB") as caught:
        apart(bytearray, 20, 300 * 2**20, 600 * 2**20)
    assert caught.value.code == "too-much-memory"


def test_noise_on_the_output_does_no_harm() -> None:
    from tests.workbook.mischief import chatter

    assert apart(chatter, 20, MOST) == "quiet"


def test_folder_of_the_caller_is_not_searched_for_modules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pickle.py").write_text("raise SystemExit(9)")
    monkeypatch.chdir(tmp_path)
    assert apart(os.getpid, 20, MOST) != os.getpid()
