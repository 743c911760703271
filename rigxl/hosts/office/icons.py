"""The add-in's icon, drawn here: two legs under a ring, and what they carry."""

from __future__ import annotations

import struct
import zlib

SIZES = (16, 32, 64, 80)
PAPER, INK = (255, 255, 255, 255), (32, 56, 92, 255)
FINER = 4
"""Samples a pixel each way, for smooth edges."""


def icon(size: int) -> bytes:
    """A square PNG of the icon."""
    rows = b"".join(b"\0" + b"".join(_pixel(x, y, size) for x in range(size)) for y in range(size))
    header = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(map(_chunk, chunks))


def _chunk(chunk: tuple[bytes, bytes]) -> bytes:
    kind, data = chunk
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _pixel(x: int, y: int, size: int) -> bytes:
    step = 1 / (size * FINER)
    inked = sum(
        _inked((x * FINER + across + 0.5) * step, (y * FINER + down + 0.5) * step)
        for across in range(FINER)
        for down in range(FINER)
    )
    share = inked / FINER**2
    return bytes(round(ink * share + paper * (1 - share)) for ink, paper in zip(INK, PAPER, strict=True))


def _inked(x: float, y: float) -> bool:
    """Whether a point of the unit square is drawn, y downward."""
    ring = abs(((x - 0.5) ** 2 + (y - 0.17) ** 2) ** 0.5 - 0.1) < 0.04
    down = (y - 0.28) / 0.4
    legs = 0 <= down <= 1 and abs(abs(x - 0.5) - 0.34 * down) < 0.05
    load = abs(x - 0.5) < 0.44 and 0.68 < y < 0.94
    return ring or legs or load
