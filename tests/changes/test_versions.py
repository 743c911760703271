"""What is no change is not reported, and what was changed is: the oracle is what the test itself did."""

from __future__ import annotations

import random
import subprocess
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigxl.changes.compare import Compared
from rigxl.changes.versions import compare_workbooks
from tests.changes.editing import SAMPLES, TODAY, Edited, sample
from tests.workbook.office import program

SOME = settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    derandomize=True,
)
names = st.sampled_from(SAMPLES)
seeds = st.integers(0, 2**32)


def compared(name: str, new: Path) -> Compared:
    """A sample beside an edited copy of it."""
    return compare_workbooks(sample(name), new, today=TODAY)


def reported(found: Compared) -> list[str]:
    """All that is reported, in words that tell a failure."""
    return [
        *(f"{one.new.where}: {one.inputs} {one.before} {one.after} {one.causes}" for one in found.changed),
        *(f"added {entry.where}" for entry in found.added),
        *(f"removed {entry.where}" for entry in found.removed),
        *map(str, found.settings),
    ]


@SOME
@given(names, seeds)
def test_columns_moved_headings_renamed_and_units_converted_are_no_change(
    tmp_path: Path, name: str, seed: int
) -> None:
    """All of them at once."""
    edited = Edited(sample(name), random.Random(seed))
    edited.rename_headings()
    assert edited.convert_units() or name == "bakery_as_received"
    edited.move_columns()
    found = compared(name, edited.save(tmp_path / "new.xlsx"))
    assert reported(found) == []
    assert found.nothing


@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "bakery_as_received"])
@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_saving_in_another_program_is_no_change(tmp_path: Path, name: str, kind: str) -> None:
    """LibreOffice writes every part anew; the sample left out has a formula that it works out."""
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = [program(), profile, "--headless", "--convert-to", kind, "--outdir", str(tmp_path)]
    subprocess.run([*command, str(sample(name))], check=True, capture_output=True, timeout=240)
    found = compared(name, tmp_path / f"{name}.{kind}")
    assert reported(found) == []
    assert found.nothing


@SOME
@given(names, seeds)
def test_the_order_of_rows_is_no_change(tmp_path: Path, name: str, seed: int) -> None:
    """Where a verdict rests on which row comes next, the order is named as its cause, and nothing else."""
    edited = Edited(sample(name), random.Random(seed))
    edited.shuffle_rows()
    found = compared(name, edited.save(tmp_path / "new.xlsx"))
    for one in found.changed:
        assert not one.inputs
        assert [cause.code for cause in one.causes] == ["order"], reported(found)
    assert [*found.added, *found.removed, *found.settings] == []
    assert found.nothing or name == "turbine_hall_every_kind"


@SOME
@given(names, seeds)
def test_a_changed_input_is_found_and_nothing_else(tmp_path: Path, name: str, seed: int) -> None:
    """One cell changed at random among moved rows: that cell is reported, and what follows from it."""
    chance = random.Random(seed)
    edited = Edited(sample(name), chance)
    cell = chance.choice(list(edited.cells()))
    was, put = edited.change(cell)
    found = compared(name, edited.save(tmp_path / "new.xlsx"))
    told = f"{cell.address} ({cell.column.field}): {was!r} to {put!r}\n" + "\n".join(reported(found))
    inputs = [one for changed in found.changed for one in changed.inputs]
    assert [one.new_cell for one in inputs] == [cell.address], told
    assert [*found.added, *found.removed, *found.settings] == [], told
    for one in found.changed:
        codes = {cause.code for cause in one.causes}
        if one.inputs and codes:
            assert "inputs" in codes, told
        elif not one.inputs:
            assert codes, told
            assert codes <= {"other rows", "taken"}, told
