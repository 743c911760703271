"""What is asked of a workbook file before any of it is parsed: limits, and what may not be in it.

Every limit can be set. The starting values come from honest workbooks (the densest part seen unpacks
170 to 1) and from hostile ones of a few kilobytes that stop other readers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, TypeVar

from rigxl.errors import InputError, WorkbookError
from rigxl.workbook.container import Entry

MEGABYTE = 1_000_000
LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
SHOWN_AT_MOST = 60
OLE2 = bytes.fromhex("d0cf11e0a1b11ae1")


@dataclass(frozen=True)
class Limits:
    """How large a workbook may be; anything beyond is refused with a sentence that names the limit."""

    file_bytes: int = 25 * MEGABYTE
    unpacked_bytes: int = 200 * MEGABYTE
    entries: int = 1_000
    cells: int = 5_000_000
    """Cells stored in the file, empty ones with a style included."""
    seconds: float = 30.0
    """For a reading in a process of its own, which can be stopped."""
    ratio: int = 300
    """How far a part of more than 1 MiB may unpack."""
    depth: int = 64
    """How deep elements may nest."""
    memory_bytes: int = 2_000 * MEGABYTE
    """For a reading in a process of its own."""


if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    SET = TypeVar("SET", bound=DataclassInstance)


def replaced(limits: SET, given: Mapping[str, str]) -> SET:
    """A set of limits with some replaced, as typed.

    Raises:
        InputError: A limit that does not exist, or a value that is no number above 0.
    """
    known = {one.name: type(getattr(limits, one.name)) for one in fields(limits)}
    numbers = {}
    for name, text in given.items():
        if name not in known:
            raise InputError(f"there is no limit '{name}'; the limits are {', '.join(known)}")
        try:
            numbers[name] = known[name](float(text))
        except (ValueError, OverflowError):
            numbers[name] = 0
        if not numbers[name] > 0:
            raise InputError(f"--limit {name}={text}: a number above 0 is needed")
    return replace(limits, **numbers)


def shown(text: str) -> str:
    """Something found in a file as a sentence shows it: quoted, and short."""
    return repr(text if len(text) <= SHOWN_AT_MOST else text[:SHOWN_AT_MOST] + "...")


def check_size(size: int, limits: Limits) -> None:
    """Refuse a file that is too large to look at."""
    if size > limits.file_bytes:
        raise WorkbookError(
            "file-too-large",
            f"the file has {size:,} bytes; at most {limits.file_bytes:,} are read (the limit can be raised)",
        )


def check_not_encrypted(data: bytes) -> None:
    """Refuse an encrypted workbook: an OLE2 container that holds an EncryptedPackage stream."""
    if data.startswith(OLE2) and "EncryptedPackage".encode("utf-16-le") in data:
        raise WorkbookError(
            "encrypted", "the workbook is encrypted: open it, take the password off and save it again"
        )


def check_entries(entries: Sequence[Entry], limits: Limits) -> None:
    """Refuse a container that is too large, too dense, ambiguous or reaches outside itself."""
    if len(entries) > limits.entries:
        raise WorkbookError(
            "too-many-entries", f"the file holds {len(entries):,} parts; at most {limits.entries:,} are read"
        )
    seen: dict[str, str] = {}
    for entry in entries:
        other = seen.setdefault(entry.name.lower(), entry.name)
        if other is not entry.name:
            raise WorkbookError(
                "duplicate-entry",
                f"the file holds {shown(other)} and {shown(entry.name)}, which programs take for one part; "
                "save it again from the spreadsheet program",
            )
        if entry.name.startswith(("/", "\\")) or ".." in entry.name.replace("\\", "/").split("/"):
            raise WorkbookError(
                "outside-name", f"the part name {shown(entry.name)} points outside the workbook"
            )
        if entry.size > 2**20 and entry.size > limits.ratio * entry.packed:
            raise WorkbookError(
                "too-dense",
                f"{shown(entry.name)} unpacks to {entry.size:,} bytes from {entry.packed:,}; "
                f"at most {limits.ratio} to 1 is read",
            )
    total = sum(entry.size for entry in entries)
    if total > limits.unpacked_bytes:
        raise WorkbookError(
            "unpacks-too-large",
            f"the file unpacks to {total:,} bytes; at most {limits.unpacked_bytes:,} are read",
        )
    _check_apart(entries)


def _check_apart(entries: Sequence[Entry]) -> None:
    """Refuse entries that share bytes: the trick behind the smallest zip bombs."""
    end, before = 0, ""
    for entry in sorted(entries, key=lambda entry: entry.start):
        if entry.start < end:
            raise WorkbookError(
                "damaged", f"the parts {shown(before)} and {shown(entry.name)} share bytes of the file"
            )
        end, before = entry.data + entry.packed, entry.name


class Budget:
    """The cells that may still be read from a workbook."""

    def __init__(self, limits: Limits) -> None:
        self.limit = self.left = limits.cells

    def spend(self, cells: int, sheet: str) -> None:
        """Count cells; refuse when there are more than allowed."""
        self.left -= cells
        if self.left < 0:
            raise WorkbookError(
                "too-many-cells",
                f"with sheet {sheet} the workbook stores more than {self.limit:,} cells, "
                "a limit that can be raised",
            )
