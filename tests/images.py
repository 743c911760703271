"""Small pictures, made by the letter of their standards."""

from __future__ import annotations

import struct
import zlib


def png(wide: int, high: int, *, claimed: tuple[int, int] | None = None) -> bytes:
    """A grey PNG by the letter of ISO/IEC 15948, whose header may claim another size."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    header = struct.pack(">IIBBBBB", *(claimed or (wide, high)), 8, 0, 0, 0, 0)
    rows = zlib.compress(b"".join(b"\x00" + b"\x80" * wide for _ in range(high)))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def jpeg(wide: int, high: int) -> bytes:
    """The head of a JPEG (ITU-T T.81, B.2): a segment that holds a false frame, then the true one."""
    false_frame = b"\xff\xc0\x00\x11\x08" + struct.pack(">HH", 60_000, 60_000)
    frame = b"\xff\xc0\x00\x11\x08" + struct.pack(">HH", high, wide) + b"\x03" + bytes(9)
    return b"\xff\xd8\xff\xe0" + struct.pack(">H", 2 + len(false_frame)) + false_frame + frame + b"\xff\xd9"
