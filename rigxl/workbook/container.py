"""The zip container: its directory read strictly, its entries copied raw, new entries packed.

An entry that is not changed keeps its compressed bytes, its checksum, its date and its name to the
bit; only its offset and, where sizes stood behind the data, their place change.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections import deque
from collections.abc import Iterable, Iterator
from typing import NamedTuple, Protocol

from rigxl.errors import WorkbookError

LOCAL, CENTRAL, END = b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"
END_64, LOCATOR_64 = b"PK\x06\x06", b"PK\x06\x07"
STORED, DEFLATED = 0, 8
ENCRYPTED, SIZES_BEHIND, UTF8_NAMES = 0x1, 0x8, 0x800
FULL = 0xFFFFFFFF
FIRST_DATE = 33  # 1 January 1980, so that the same marks give the same file
PIECE, READ = 2**20, 2**17
QUICK_ABOVE = 2**23


class Entry(NamedTuple):
    """One entry of the directory; offsets are into the file."""

    name: str
    raw_name: bytes
    versions: tuple[int, int]
    flags: int
    method: int
    moment: int
    crc: int
    packed: int
    size: int
    extra: bytes
    local_extra: bytes
    comment: bytes
    attributes: tuple[int, int]
    start: int
    data: int


class Packed(NamedTuple):
    """New content, compressed, in stretches that make up one stream."""

    body: tuple[bytes, ...]
    crc: int
    size: int


class Sink(Protocol):
    """Where a container is written to."""

    def write(self, data: bytes, /) -> int:
        """Take the bytes, say how many."""


def _damaged(what: str) -> WorkbookError:
    return WorkbookError("damaged", f"the file is damaged or cut short: {what}")


def read_directory(data: bytes, most: int) -> list[Entry]:
    """The entries of a zip file, in the order of its directory.

    Args:
        data: The whole file.
        most: Refuse a directory of more entries before reading it.
    """
    end = data.rfind(END, max(0, len(data) - 65_557))
    if end < 0 or len(data) < end + 22:
        raise _damaged("it has no directory")
    count, length, offset = struct.unpack_from("<HII", data, end + 10)
    if data[end - 20 : end - 16] == LOCATOR_64:
        (at,) = struct.unpack_from("<Q", data, end - 12)
        if data[at : at + 4] != END_64 or len(data) < at + 56:
            raise _damaged("its long directory is not where it should be")
        count, length, offset = struct.unpack_from("<QQQ", data, at + 32)
    if count > most:
        raise WorkbookError("too-many-entries", f"the file holds {count:,} parts; at most {most:,} are read")
    if offset + length > end:
        raise _damaged("its directory does not fit")
    entries = []
    try:
        for _ in range(count):
            entry, offset = _read_entry(data, offset)
            entries.append(entry)
    except (struct.error, UnicodeDecodeError) as error:
        raise _damaged("its directory cannot be read") from error
    return entries


def _comment(data: bytes) -> bytes:
    """The comment at the end of a zip file."""
    end = data.rfind(END, max(0, len(data) - 65_557))
    return data[end + 22 :][: int.from_bytes(data[end + 20 : end + 22], "little")] if end >= 0 else b""


def _read_entry(data: bytes, offset: int) -> tuple[Entry, int]:
    """One record of the directory and the offset of the next."""
    if data[offset : offset + 4] != CENTRAL:
        raise _damaged("its directory has fewer records than it says")
    made, needed, flags, method, moment, crc, packed, size = struct.unpack_from("<HHHHIIII", data, offset + 4)
    name_length, extra_length, comment_length, _, inner, outer, start = struct.unpack_from(
        "<HHHHHII", data, offset + 28
    )
    at = offset + 46
    raw_name = data[at : at + name_length]
    extra = data[at + name_length : at + name_length + extra_length]
    comment = data[at + name_length + extra_length :][:comment_length]
    name = raw_name.decode("utf-8" if flags & UTF8_NAMES else "cp437")
    if FULL in (size, packed, start):
        size, packed, start = _long_sizes(extra, size, packed, start)
    if flags & ENCRYPTED:
        raise WorkbookError(
            "encrypted", f"{name[:60]} in the file is encrypted: save the file without a password"
        )
    if method not in (STORED, DEFLATED):
        raise _damaged(f"{name[:60]} is packed in a way (method {method}) that workbooks do not use")
    if method == STORED and packed != size:
        raise _damaged(f"{name[:60]} has two sizes")
    if data[start : start + 4] != LOCAL:
        raise _damaged(f"{name[:60]} is not where the directory says")
    local_name, local_extra = struct.unpack_from("<HH", data, start + 26)
    if data[start + 30 : start + 30 + local_name] != raw_name:
        raise _damaged(f"{name[:60]} has two names")
    begin = start + 30 + local_name + local_extra
    if begin + packed > len(data):
        raise _damaged(f"{name[:60]} does not fit")
    entry = Entry(
        name, raw_name, (made, needed), flags, method, moment, crc, packed, size,
        extra, data[begin - local_extra : begin], comment, (inner, outer), start, begin,
    )  # fmt: skip
    return entry, at + name_length + extra_length + comment_length


def _fields(extra: bytes) -> Iterator[tuple[int, bytes]]:
    """The fields of an extra block: kind, and the whole field with its head."""
    at = 0
    while at + 4 <= len(extra):
        kind, length = struct.unpack_from("<HH", extra, at)
        yield kind, extra[at : at + 4 + length]
        at += 4 + length


def _long_sizes(extra: bytes, size: int, packed: int, start: int) -> tuple[int, int, int]:
    """Sizes and offset from the long field, for those that say they are there."""
    longs = next((field[4:] for kind, field in _fields(extra) if kind == 1), b"")
    values = list(struct.unpack(f"<{len(longs) // 8}Q", longs[: len(longs) // 8 * 8]))
    found = []
    for value in (size, packed, start):
        if value == FULL:
            if not values:
                raise _damaged("a long size is missing")
            value = values.pop(0)
        found.append(value)
    return found[0], found[1], found[2]


def unpack(data: bytes, entry: Entry) -> bytes:
    """The content of one entry, its checksum proven."""
    content = io.BytesIO()
    for piece in unpack_slowly(data, entry):
        content.write(piece)
    return content.getvalue()


def unpack_slowly(data: bytes, entry: Entry) -> Iterator[bytes]:
    """The content of one entry in pieces, never more than it says; the last comes when all is proven."""
    crc = size = 0
    waiting = b""
    for piece in _inflated(data, entry) if entry.method == DEFLATED else _stored(data, entry):
        crc, size = zlib.crc32(piece, crc), size + len(piece)
        if size > entry.size:
            raise _damaged(f"{entry.name} is larger than it says")
        if waiting:
            yield waiting
        waiting = piece
    if size != entry.size or crc != entry.crc:
        raise _damaged(f"{entry.name} is not what its checksum says")
    yield waiting


def _stored(data: bytes, entry: Entry) -> Iterator[bytes]:
    yield data[entry.data : entry.data + entry.packed]


def _inflated(data: bytes, entry: Entry) -> Iterator[bytes]:
    engine = zlib.decompressobj(-15)
    end = entry.data + entry.packed
    try:
        for at in range(entry.data, end, READ):
            waiting = data[at : min(at + READ, end)]
            while waiting and not engine.eof:
                yield engine.decompress(waiting, PIECE)
                waiting = engine.unconsumed_tail
        while not engine.eof and (piece := engine.decompress(b"", PIECE)):
            yield piece
    except zlib.error as error:
        raise _damaged(f"{entry.name} does not unpack") from error
    if not engine.eof:
        raise _damaged(f"{entry.name} ends too soon")


def pack(pieces: Iterable[bytes | memoryview], about: int = 0) -> Packed:
    """Compress pieces of content as one entry, never holding more than a few of them.

    Args:
        pieces: The content.
        about: How large it will be, roughly; large content is packed a little less tightly.
    """
    level = 1 if about > QUICK_ABOVE else 6
    if about <= PIECE:
        content = b"".join(pieces)
        engine = zlib.compressobj(level, zlib.DEFLATED, -15)
        body = engine.compress(content) + engine.flush()
        return Packed((body,), zlib.crc32(content), len(content))
    crc = size = 0
    packed: list[bytes] = []
    from concurrent.futures import Future, ThreadPoolExecutor

    with ThreadPoolExecutor(2) as pool:
        waiting: deque[Future[bytes]] = deque()
        for block in _blocks(pieces):
            crc, size = zlib.crc32(block, crc), size + len(block)
            waiting.append(pool.submit(_pack_block, block, level))
            if len(waiting) > 2:
                packed.append(waiting.popleft().result())
        packed += [future.result() for future in waiting]
    # An empty last block ends the stream that the flushed blocks make up together.
    return Packed((*packed, b"\x03\x00"), crc, size)


def _blocks(pieces: Iterable[bytes | memoryview]) -> Iterator[bytes]:
    """The content in blocks of about one size."""
    block = bytearray()
    for piece in pieces:
        if len(piece) > PIECE:
            yield bytes(block)
            block.clear()
            for at in range(0, len(piece), PIECE):
                yield bytes(piece[at : at + PIECE])
            continue
        block += piece
        if len(block) >= PIECE:
            yield bytes(block)
            block.clear()
    yield bytes(block)


def _pack_block(block: bytes, level: int) -> bytes:
    """One stretch of a compressed stream that others can follow."""
    engine = zlib.compressobj(level, zlib.DEFLATED, -15)
    return engine.compress(block) + engine.flush(zlib.Z_FULL_FLUSH)


def write_container(
    sink: Sink, data: bytes, entries: Iterable[Entry], changed: dict[str, Packed], added: dict[str, Packed]
) -> None:
    """Write a zip file: the entries of ``data`` as they are or as ``changed``, then those ``added``."""
    at = count = 0
    directory: list[bytes] = []
    everything: list[tuple[Entry, Packed | None]] = [(entry, changed.get(entry.name)) for entry in entries]
    everything += [(_new_entry(name), packed) for name, packed in added.items()]
    for entry, new in everything:
        if new is None:
            body: tuple[bytes, ...] = (data[entry.data : entry.data + entry.packed],)
            method = entry.method
            crc, size = entry.crc, entry.size
        else:
            body, method, crc, size = new.body, DEFLATED, new.crc, new.size
        length = sum(map(len, body))
        flags = entry.flags & ~SIZES_BEHIND
        shared = struct.pack(
            "<HHHIIIIH", entry.versions[1], flags, method, entry.moment, crc, length, size,
            len(entry.raw_name),
        )  # fmt: skip
        extra, local_extra = _without_sizes(entry.extra), _without_sizes(entry.local_extra)
        head = LOCAL + shared + struct.pack("<H", len(local_extra)) + entry.raw_name + local_extra
        sink.write(head)
        for stretch in body:
            sink.write(stretch)
        inner, outer = entry.attributes
        directory.append(
            CENTRAL
            + struct.pack("<H", entry.versions[0])
            + shared
            + struct.pack("<HHHHII", len(extra), len(entry.comment), 0, inner, outer, at)
            + entry.raw_name
            + extra
            + entry.comment
        )
        at += len(head) + length
        count += 1
    listing = b"".join(directory)
    sink.write(listing)
    comment = _comment(data)
    sink.write(END + struct.pack("<HHHHIIH", 0, 0, count, count, len(listing), at, len(comment)) + comment)


def _without_sizes(extra: bytes) -> bytes:
    """An extra block without the long sizes, which the plain fields now hold."""
    if not any(kind == 1 for kind, _ in _fields(extra)):
        return extra
    return b"".join(field for kind, field in _fields(extra) if kind != 1)


def _new_entry(name: str) -> Entry:
    """The directory record of an entry of ours."""
    return Entry(
        name, name.encode(), (20, 20), 0, DEFLATED, FIRST_DATE << 16, 0, 0, 0, b"", b"", b"", (0, 0), 0, 0
    )
