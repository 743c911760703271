"""A small .xlsb written record by record, [MS-XLSB] 2.4: there is no free program that writes one."""

from __future__ import annotations

import struct

from tests.workbook.forging import DOCUMENT, HEAD, PACKAGE
from tests.workbook.rawzip import Entry, write

BINARY = "application/vnd.ms-excel"
ROW, RK, ERROR, YES_NO, REAL, TEXT = 0, 2, 3, 4, 5, 6
FORMULA_TEXT, FORMULA_NUMBER, FORMULA_ERROR = 8, 9, 11


def record(kind: int, body: bytes = b"") -> bytes:
    """One record: its number and length in groups of seven bits."""
    head = bytes([kind]) if kind < 0x80 else bytes([kind & 0x7F | 0x80, kind >> 7])
    length = len(body)
    out = b""
    while length >= 0x80:
        out += bytes([length & 0x7F | 0x80])
        length >>= 7
    return head + out + bytes([length]) + body


def wide(text: str) -> bytes:
    """A text with its length before it."""
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def row(number: int, hidden: bool = False) -> bytes:
    """The head of a row, counted from 0."""
    return record(ROW, struct.pack("<IIHBBBI", number, 0, 300, 0, 0x10 if hidden else 0, 0, 0))


def cell(kind: int, column: int, body: bytes) -> bytes:
    """A cell of a column, counted from 0."""
    return record(kind, struct.pack("<II", column, 0) + body)


def formula(kind: int, column: int, result: bytes) -> bytes:
    """A formula that says 1, with a result of its own."""
    return cell(kind, column, result + struct.pack("<HI", 0, 3) + b"\x1e\x01\x00" + struct.pack("<I", 0))


def sheet(rows: bytes, last_row: int, last_column: int) -> bytes:
    """A sheet part."""
    size = record(148, struct.pack("<IIII", 0, last_row, 0, last_column))
    return record(129) + size + record(145) + rows + record(146) + record(130)


def workbook(*sheets: tuple[str, int, bytes]) -> bytes:
    """A workbook of sheets, each a name, a state (0 visible, 1 hidden) and a part."""
    listed = b"".join(
        record(156, struct.pack("<II", state, number) + wide(f"rId{number}") + wide(name))
        for number, (name, state, _) in enumerate(sheets, start=1)
    )
    relations = "".join(
        f'<Relationship Id="rId{number}" Type="{DOCUMENT}/worksheet" Target="worksheets/sheet{number}.bin"/>'
        for number, _ in enumerate(sheets, start=1)
    )
    main = (
        record(131)
        + record(153, struct.pack("<III", 0, 0, 0))
        + record(143)
        + listed
        + record(144)
        + record(132)
    )
    types = "http://schemas.openxmlformats.org/package/2006/content-types"
    return write(
        [
            Entry(
                "[Content_Types].xml",
                f'{HEAD}<Types xmlns="{types}"><Default Extension="bin" '
                f'ContentType="{BINARY}.sheet.binary.macroEnabled.main"/></Types>'.encode(),
            ),
            Entry(
                "_rels/.rels",
                f'{HEAD}<Relationships xmlns="{PACKAGE}"><Relationship Id="rId1" '
                f'Type="{DOCUMENT}/officeDocument" Target="xl/workbook.bin"/></Relationships>'.encode(),
            ),
            Entry("xl/workbook.bin", main),
            Entry(
                "xl/_rels/workbook.bin.rels",
                f'{HEAD}<Relationships xmlns="{PACKAGE}">{relations}</Relationships>'.encode(),
            ),
            *(Entry(f"xl/worksheets/sheet{n}.bin", part) for n, (_, _, part) in enumerate(sheets, start=1)),
        ]
    )
