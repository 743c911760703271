"""A zip file written byte by byte, so that it may lie: a wrong checksum, a false size, a shared entry."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence
from dataclasses import dataclass

CHUNK = 1 << 16


@dataclass
class Entry:
    """One entry; what is None is worked out truthfully."""

    name: str | bytes
    data: bytes = b""
    method: int = 8
    packed: bytes | None = None
    checksum: int | None = None
    size: int | None = None
    packed_size: int | None = None
    flags: int = 0x800
    at: int | None = None
    local_name: bytes | None = None
    extra: bytes = b""

    def name_bytes(self) -> bytes:
        return self.name if isinstance(self.name, bytes) else self.name.encode()


def write(
    entries: Sequence[Entry], *, prefix: bytes = b"", comment: bytes = b"", count: int | None = None
) -> bytes:
    """The bytes of a zip file with these entries."""
    out = bytearray(prefix)
    directory = bytearray()
    for entry in entries:
        packed = entry.packed if entry.packed is not None else pack(entry.data, entry.method)
        checksum = zlib.crc32(entry.data) if entry.checksum is None else entry.checksum
        size = len(entry.data) if entry.size is None else entry.size
        packed_size = len(packed) if entry.packed_size is None else entry.packed_size
        name, local_name = entry.name_bytes(), entry.local_name or entry.name_bytes()
        at = len(out) if entry.at is None else entry.at
        same = struct.pack("<HHHHIII", entry.flags, entry.method, 0, 0x21, checksum, packed_size, size)
        if entry.at is None:
            out += (
                b"PK\3\4"
                + struct.pack("<H", 20)
                + same
                + struct.pack("<HH", len(local_name), len(entry.extra))
            )
            out += local_name + entry.extra + packed
        directory += b"PK\1\2" + struct.pack("<HH", 20, 20) + same
        directory += struct.pack("<HHHHHII", len(name), len(entry.extra), 0, 0, 0, 0, at) + name + entry.extra
    start = len(out)
    number = len(entries) if count is None else count
    end = struct.pack("<HHHHIIH", 0, 0, number & 0xFFFF, number & 0xFFFF, len(directory), start, len(comment))
    return bytes(out + directory + b"PK\5\6" + end + comment)


def pack(data: bytes, method: int = 8) -> bytes:
    """Deflate, or nothing at all."""
    if method != 8:
        return data
    packer = zlib.compressobj(6, zlib.DEFLATED, -15)
    return packer.compress(data) + packer.flush()


def repeated(before: bytes, block: bytes, times: int, after: bytes) -> tuple[bytes, int, int]:
    """Deflated bytes, checksum and size of a text too long to hold: one block over and over."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    head = packer.compress(before) + packer.flush(zlib.Z_FULL_FLUSH)
    body = packer.compress(block) + packer.flush(zlib.Z_FULL_FLUSH)
    tail = packer.compress(after) + packer.flush()
    checksum = zlib.crc32(before)
    for _ in range(times):
        checksum = zlib.crc32(block, checksum)
    checksum = zlib.crc32(after, checksum)
    return head + body * times + tail, checksum, len(before) + len(block) * times + len(after)
