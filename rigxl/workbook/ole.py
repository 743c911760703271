"""The container of old Office files, [MS-CFB]: a small file system of sectors, read whole and with care."""

from __future__ import annotations

import struct
from collections.abc import Iterator, Sequence

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import OLE2

LAST_REAL = 0xFFFFFFFA
ENTRY, SMALL = 128, 64
STREAM, ROOT = 2, 5


def streams(data: bytes) -> dict[str, bytes]:
    """Every stream of a container by its name; of two with one name the first.

    Raises:
        WorkbookError: The sectors do not make sense (``damaged``).
    """
    try:
        return _streams(data)
    except (struct.error, IndexError, UnicodeDecodeError):
        raise _broken() from None


def _streams(data: bytes) -> dict[str, bytes]:
    if not data.startswith(OLE2):
        raise _broken()
    shift, small_shift = struct.unpack_from("<HH", data, 30)
    first_directory, _, small_below, first_small = struct.unpack_from("<IIII", data, 48)
    if shift not in (9, 12) or small_shift != 6:
        raise _broken()
    sectors = _Sectors(data, 1 << shift)
    entries = list(_entries(sectors.chained(first_directory)))
    small = b"".join(sectors.chained(start) for kind, _, start, _ in entries if kind == ROOT)
    small_next = _numbers(sectors.chained(first_small))
    found: dict[str, bytes] = {}
    for kind, name, start, length in entries:
        if kind != STREAM or name in found:
            continue
        if length >= small_below:
            found[name] = sectors.chained(start)[:length]
        else:
            pieces = [small[at * SMALL : (at + 1) * SMALL] for at in _chain(start, small_next)]
            found[name] = b"".join(pieces)[:length]
    return found


class _Sectors:
    """The sectors of a container and the table that says which follows which."""

    def __init__(self, data: bytes, size: int) -> None:
        self.data = data
        self.size = size
        tables = list(struct.unpack_from("<109I", data, 76))
        more, count = struct.unpack_from("<II", data, 68)
        for _ in range(min(count, len(data) // size)):
            *numbers, more = _numbers(self.sector(more))
            tables += numbers
        self.next = [
            number for table in tables if table <= LAST_REAL for number in _numbers(self.sector(table))
        ]

    def sector(self, number: int) -> bytes:
        at = (number + 1) * self.size
        if at >= len(self.data):
            raise _broken()
        return self.data[at : at + self.size].ljust(self.size, b"\0")

    def chained(self, first: int) -> bytes:
        """The sectors from the first one on, joined."""
        return b"".join(map(self.sector, _chain(first, self.next)))


def _chain(first: int, following: Sequence[int]) -> Iterator[int]:
    """The numbers of a chain; one that runs in a circle is refused."""
    steps = 0
    while first <= LAST_REAL:
        yield first
        first = following[first]
        steps += 1
        if steps > len(following):
            raise _broken()


def _entries(directory: bytes) -> Iterator[tuple[int, str, int, int]]:
    """Kind, name, first sector and length of everything the directory lists."""
    for at in range(0, len(directory) - ENTRY + 1, ENTRY):
        length, kind = struct.unpack_from("<HB", directory, at + 64)
        if kind in (STREAM, ROOT):
            name = directory[at : at + max(0, min(length, 64) - 2)].decode("utf-16-le")
            start, size = struct.unpack_from("<II", directory, at + 116)
            yield kind, name, start, size


def _numbers(data: bytes) -> tuple[int, ...]:
    return struct.unpack(f"<{len(data) // 4}I", data[: len(data) // 4 * 4])


def _broken() -> WorkbookError:
    return WorkbookError("damaged", "the file is damaged: its inner table of contents makes no sense")
