"""Saving: whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO

import pytest

from rigxl.errors import WorkbookError
from rigxl.workbook import save


def _write(content: bytes) -> save.Write:
    def write(file: BinaryIO) -> None:
        file.write(content)

    return write


def _agree(_: Path) -> None:
    """A proof that finds nothing wrong."""


def test_a_new_file(tmp_path: Path) -> None:
    """The content is there, nothing else is left, and others may read it as any new file."""
    save.save(tmp_path / "a.xlsx", _write(b"new"), _agree)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.xlsx", b"new")]
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE((tmp_path / "a.xlsx").stat().st_mode) == 0o666 & ~mask


def test_permissions_of_a_replaced_file(tmp_path: Path) -> None:
    """A file that is replaced keeps its permissions."""
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o640)
    save.save(path, _write(b"new"), _agree)
    assert (path.read_bytes(), stat.S_IMODE(path.stat().st_mode)) == (b"new", 0o640)


@pytest.mark.parametrize("failing", ["write", "prove"])
def test_failures_leave_the_old_file(tmp_path: Path, failing: str) -> None:
    """Whatever goes wrong, the old file stays and the half-written one goes."""
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")

    def fail(_: object) -> None:
        raise RuntimeError(failing)

    steps = {"write": _write(b"new"), "prove": _agree, failing: fail}
    with pytest.raises(RuntimeError, match=failing):
        save.save(path, steps["write"], steps["prove"])  # type: ignore[arg-type]
    assert [(found.name, found.read_bytes()) for found in tmp_path.iterdir()] == [("a.xlsx", b"old")]


def test_nowhere_to_write(tmp_path: Path) -> None:
    """A folder that is not there is one plain sentence."""
    with pytest.raises(WorkbookError, match="cannot be written") as refusal:
        save.save(tmp_path / "no" / "a.xlsx", _write(b"x"), _agree)
    assert refusal.value.code == "cannot-save"


def test_backups(tmp_path: Path) -> None:
    """The same content is kept once; other content gets the next number."""
    path = tmp_path / "lift.v2.xlsx"
    path.write_bytes(b"one")
    assert save.back_up(path).name == "lift.v2.backup.xlsx"
    assert save.back_up(path).name == "lift.v2.backup.xlsx"
    path.write_bytes(b"two")
    assert save.back_up(path).name == "lift.v2.backup-2.xlsx"
    assert sorted(found.read_bytes() for found in tmp_path.iterdir()) == [b"one", b"two", b"two"]
