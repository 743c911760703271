"""What the reader of the two binary kinds of workbook, .xls and .xlsb, leaves out.

It shows an error as an empty cell, and a formula as its result alone. Both are records of a few bytes, so
they are looked up here and laid over what it read. Layouts: Microsoft's open specifications [MS-CFB],
[MS-XLS] and [MS-XLSB].
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterator
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.values import CellError

ERRORS = {
    0x00: "#NULL!",
    0x07: "#DIV/0!",
    0x0F: "#VALUE!",
    0x17: "#REF!",
    0x1D: "#NAME?",
    0x24: "#NUM!",
    0x2A: "#N/A",
    0x2B: "#GETTING_DATA",
}
UNKNOWN = "#ERROR!"


class Layer:
    """What to lay over one sheet as the reader gave it. Rows and columns count from 1."""

    def __init__(self) -> None:
        self.errors: dict[tuple[int, int], CellError] = {}
        self.formulas: dict[tuple[int, int], bool] = {}
        """Whether a result was stored with the formula."""
        self.hidden_rows: set[int] = set()
        self.hidden_columns: set[int] = set()
        self.filtered = False
        self.protected = False

    def error(self, row: int, column: int, code: int) -> None:
        self.errors[row, column] = CellError(ERRORS.get(code, UNKNOWN))


class Layers(NamedTuple):
    """One layer a sheet, in the order of the workbook, and whether dates count from 1904."""

    sheets: list[Layer]
    date_1904: bool


def old_layers(stream: bytes) -> Layers:
    """The layers of an .xls workbook, from its Workbook stream.

    Raises:
        WorkbookError: It is locked with a password (``encrypted``), or damaged (``damaged``).
    """
    date_1904 = False
    starts: list[int] = []
    for kind, body in _old_records(stream, 0):
        if kind == 0x2F:
            raise WorkbookError("encrypted", "the workbook is locked with a password; save it without one")
        if kind == 0x22:
            date_1904 = body[:1] == b"\1"
        elif kind == 0x85 and len(body) >= 6:
            starts.append(struct.unpack_from("<I", body)[0])
    return Layers([_old_layer(stream, start) for start in starts], date_1904)


def _old_records(stream: bytes, at: int) -> Iterator[tuple[int, bytes]]:
    """The records of one part of the stream, without those of the charts inside it."""
    depth = 0
    while at + 4 <= len(stream):
        kind, length = struct.unpack_from("<HH", stream, at)
        body = stream[at + 4 : at + 4 + length]
        at += 4 + length
        if kind in (0x809, 0x409, 0x209, 0x9):
            depth += 1
        elif kind == 0x0A:
            depth -= 1
            if depth <= 0:
                return
        elif depth == 1:
            yield kind, body
    raise WorkbookError("damaged", "the workbook is damaged: it ends in the middle of a sheet")


def _old_layer(stream: bytes, start: int) -> Layer:
    layer = Layer()
    for kind, body in _old_records(stream, start):
        if kind == 0x205 and len(body) >= 8 and body[7]:
            row, column = struct.unpack_from("<HH", body)
            layer.error(row + 1, column + 1, body[6])
        elif kind in (0x06, 0x206, 0x406) and len(body) >= 14:
            row, column = struct.unpack_from("<HH", body)
            special = body[6] if body[12:14] == b"\xff\xff" else None
            layer.formulas[row + 1, column + 1] = special != 3
            if special == 2:
                layer.error(row + 1, column + 1, body[8])
        elif kind == 0x208 and len(body) >= 16 and body[12] & 0x20:
            layer.hidden_rows.add(struct.unpack_from("<H", body)[0] + 1)
        elif kind == 0x7D and len(body) >= 10 and body[8] & 1:
            first, last = struct.unpack_from("<HH", body)
            layer.hidden_columns.update(range(first + 1, min(last, 255) + 2))
        elif kind == 0x9B:
            layer.filtered = True
        elif kind == 0x12:
            layer.protected = body[:1] == b"\1"
    return layer


def new_layers(has: Callable[[str], bool], read: Callable[[str], bytes]) -> Layers:
    """The layers of an .xlsb workbook.

    Args:
        has: Says whether a part exists.
        read: The bytes of a part.

    Raises:
        WorkbookError: It is damaged (``damaged``).
    """
    try:
        return _new_layers(has, read)
    except (IndexError, struct.error, UnicodeDecodeError):
        raise WorkbookError("damaged", "the workbook is damaged: its records cannot be told apart") from None


def _new_layers(has: Callable[[str], bool], read: Callable[[str], bytes]) -> Layers:
    parts = _parts(read("xl/_rels/workbook.bin.rels"))
    date_1904 = False
    sheets = []
    for kind, body in _new_records(read("xl/workbook.bin")):
        if kind == 153:
            date_1904 = bool(body[:1] and body[0] & 1)
        elif kind == 156:
            length = struct.unpack_from("<I", body, 8)[0]
            part = parts.get(body[12 : 12 + 2 * length].decode("utf-16-le"), "")
            sheets.append(_new_layer(read(part)) if has(part) else Layer())
    return Layers(sheets, date_1904)


def _parts(relations: bytes) -> dict[str, str]:
    """The sheet parts by the relation that points to them."""
    found = {}
    for relation in splice.index(relations, "xl/_rels/workbook.bin.rels").all("Relationship"):
        target = relation.attributes.get("Target", "")
        found[relation.attributes.get("Id", "")] = target[1:] if target.startswith("/") else f"xl/{target}"
    return found


def _new_records(part: bytes) -> Iterator[tuple[int, bytes]]:
    at = 0
    while at < len(part):
        kind = part[at]
        at += 1
        if kind & 0x80:
            kind = (kind & 0x7F) | (part[at] & 0x7F) << 7
            at += 1
        length = 0
        for shift in (0, 7, 14, 21):
            byte = part[at]
            at += 1
            length |= (byte & 0x7F) << shift
            if not byte & 0x80:
                break
        yield kind, part[at : at + length]
        at += length


def _new_layer(part: bytes) -> Layer:
    layer = Layer()
    row = 0
    for kind, body in _new_records(part):
        if kind == 0:
            row = struct.unpack_from("<I", body)[0] + 1
            if len(body) > 11 and body[11] & 0x10:
                layer.hidden_rows.add(row)
        elif kind == 3 or kind in (8, 9, 10, 11):
            column = struct.unpack_from("<I", body)[0] + 1
            if kind in (3, 11):
                layer.error(row, column, body[8])
            if kind != 3:
                layer.formulas[row, column] = kind != 8 or body[8:12] != b"\0\0\0\0"
        elif kind == 60 and len(body) >= 18 and body[16] & 1:
            first, last = struct.unpack_from("<II", body)
            layer.hidden_columns.update(range(first + 1, min(last, 16383) + 2))
        elif kind == 161:
            layer.filtered = True
        elif kind == 535:
            layer.protected = True
    return layer
