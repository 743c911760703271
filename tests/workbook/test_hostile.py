"""Every hostile file is refused in one plain sentence or read truly; none crashes, hangs or is changed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigxl.workbook.guard import Limits
from rigxl.workbook.sandbox import apart
from tests.workbook.hostile import CASES, Case
from tests.workbook.trial import Trial, attempts

BATCH = 20
BATCHES = [CASES[at : at + BATCH] for at in range(0, len(CASES), BATCH)]
SECONDS = 120
MOST_MEMORY = 1_200 * 2**20
LIMITS = Limits(cells=500_000)


def write_and_try(folder: Path, cases: list[Case]) -> list[Trial]:
    """The trials of these cases, all in one child with little memory; it must outlive them all."""
    sources = []
    for each in cases:
        source = folder / (each.name + each.suffix)
        source.write_bytes(each.make())
        sources.append(source)
    marked = folder / "marked"
    marked.mkdir()
    return apart(attempts, SECONDS, MOST_MEMORY, sources, marked, LIMITS)


@pytest.mark.parametrize("cases", BATCHES, ids=lambda cases: f"{cases[0].name}-and-on")
def test_hostile_files(tmp_path: Path, cases: list[Case]) -> None:
    trials = write_and_try(tmp_path, cases)
    assert [trial for trial in trials if trial.code == "crash"] == []
    assert [trial.name for trial in trials if not trial.untouched] == []
    assert [trial for trial in trials if trial.unsound] == []
    must = {each.name + each.suffix: each.refused for each in cases if each.refused is not None}
    assert {trial.name: trial.code not in ("", "separate") for trial in trials if trial.name in must} == must
    for trial in trials:
        if trial.code:
            assert_plain(trial)


def assert_plain(trial: Trial) -> None:
    """A short code for machines, and one sentence of a moderate length for people."""
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", trial.code)
    assert 20 < len(trial.sentence) < 300
    assert "\n" not in trial.sentence
    assert not trial.sentence.endswith(".")
