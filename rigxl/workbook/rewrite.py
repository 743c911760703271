"""Rewriting a workbook part by part: what may be rewritten, and how it is written and proven."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO

from rigxl.errors import WorkbookError
from rigxl.workbook import container, save
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Workbook, open_package, read_file
from rigxl.workbook.parts import Parts


def is_itself(source: Path, target: Path, in_place: bool) -> bool:
    """Whether a workbook is to be written over itself.

    Raises:
        WorkbookError: It would be, and nobody asked for that (``target-is-source``).
    """
    same = target.exists() and source.exists() and target.samefile(source)
    if same and not in_place:
        raise WorkbookError(
            "target-is-source", f"{target.name} is the workbook itself: name another file to write"
        )
    return same


def check_suffix(workbook: Workbook, source: Path, target: Path) -> None:
    """Spreadsheet programs refuse a file whose name says something else than its content."""
    macros = workbook.kind in ("xlsm", "xltm")
    suffix = target.suffix.lower()
    if suffix != source.suffix.lower() and macros is not (suffix in (".xlsm", ".xltm")):
        raise WorkbookError(
            "target-suffix", f"{target.name} should end in .{workbook.kind}, as {source.name} does"
        )


def check_unsigned(workbook: Workbook) -> None:
    """Refuse a workbook with a digital signature."""
    if workbook.signed:
        raise WorkbookError(
            "signed",
            "the workbook carries a digital signature, which any change would break; "
            "it was left as it is: save a copy without the signature and mark that",
        )


def open_to_rewrite(source: Path, limits: Limits) -> Workbook:
    """A workbook whose parts can be rewritten.

    Raises:
        WorkbookError: It cannot be read, is signed, or is of a format that can only be read.
    """
    package = open_package(read_file(source, limits), source.name, limits)
    if package is None:
        raise WorkbookError(
            "cannot-rewrite",
            f"{source.name} is in a format that can be read but not written: save it as .xlsx and name that",
        )
    workbook = Workbook(package)
    check_unsigned(workbook)
    return workbook


def write(
    source: Path, target: Path, parts: Parts, prove: Callable[[Path], None], *, in_place: bool = False
) -> None:
    """Write a workbook with changed parts, prove it and put it in its place.

    Args:
        source: Where the workbook was read from.
        target: The file to write; the source itself only with ``in_place``, which keeps a backup beside it.
        parts: What changed.
        prove: Looks at the written file, and raises WorkbookError where it is not as it should be.
        in_place: Allow the target to be the source.
    """
    workbook = parts.workbook
    same = is_itself(source, target, in_place)
    check_suffix(workbook, source, target)
    parts.finish()
    entries = [entry for entry in workbook.package.entries if entry.name not in parts.dropped]

    def write_file(file: BinaryIO) -> None:
        container.write_container(file, workbook.package.data, entries, parts.changed, parts.added)

    if same:
        save.back_up(source)
    save.save(target, write_file, prove)
