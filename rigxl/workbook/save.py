"""Putting a finished file in its place, so that a crash at any moment leaves one whole file."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO, TypeAlias

from rigxl.errors import WorkbookError

Write: TypeAlias = Callable[[BinaryIO], None]


def save(target: Path, write: Write, prove: Callable[[Path], None]) -> None:
    """Write a file beside its target, prove it, and only then rename it over.

    Args:
        target: Where the file is to be.
        write: Writes the content.
        prove: Raises when the written file is not as it should be; the file is deleted then.
    """
    import tempfile

    name = ""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.stem[:40]}-", suffix=".part", dir=target.parent)
        beside = Path(name)
        with os.fdopen(handle, "wb") as file:
            write(file)
            file.flush()
            os.fsync(file.fileno())
        prove(beside)
        _take_over_mode(target, beside)
        os.replace(beside, target)
        _sync_folder(target.parent)
    except OSError as error:
        raise WorkbookError(
            "cannot-save", f"{target} cannot be written: {error.strerror or error}"
        ) from error
    finally:
        if name:
            Path(name).unlink(missing_ok=True)


def back_up(path: Path) -> Path:
    """Keep a copy of a file beside it as NAME.backup.xlsx, with a number where an other one is there."""
    number = 1
    while True:
        ending = ".backup" if number == 1 else f".backup-{number}"
        copy = path.with_name(f"{path.stem}{ending}{path.suffix}")
        if not copy.exists():
            break
        if copy.read_bytes() == path.read_bytes():
            return copy
        number += 1

    put(copy, path.read_bytes())
    return copy


def put(target: Path, content: bytes) -> None:
    """Write some bytes as a file, and see that they are what stands there."""

    def write(file: BinaryIO) -> None:
        file.write(content)

    def prove(written: Path) -> None:
        if written.read_bytes() != content:
            raise WorkbookError("cannot-save", f"{target.name} was not written as it should be: try again")

    save(target, write, prove)


def _take_over_mode(target: Path, beside: Path) -> None:
    """Give the new file the permissions of the one it replaces, or those of any new file."""
    if target.exists():
        beside.chmod(target.stat().st_mode & 0o777)
    else:
        mask = os.umask(0)
        os.umask(mask)
        beside.chmod(0o666 & ~mask)


def _sync_folder(folder: Path) -> None:
    """Make the renaming last, on systems that let a folder be opened."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
