"""The pictures of a workbook and the rows they stand over.

Only pictures that stand in a drawing over the cells: those inside a cell, in headers or linked from elsewhere
are left out. PNG, JPEG and GIF are handed out with their bytes; of any other only that it is there.
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.guard import LAST_ROW, MEGABYTE, Limits
from rigxl.workbook.package import Package, SheetPart, Workbook, open_package, read_file
from rigxl.workbook.splice import Element

LARGEST = 8 * MEGABYTE
MOST_PIXELS = 50_000_000
ANCHORS = frozenset({"twoCellAnchor", "oneCellAnchor"})
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""The markers after which a JPEG says how high and wide it is (ITU-T T.81, table B.1)."""


class Picture(NamedTuple):
    """A picture over some rows of a sheet; ``why_not`` says why its bytes are missing, where they are."""

    sheet: str
    first_row: int
    last_row: int
    name: str
    kind: str
    data: bytes
    why_not: str = ""


def pictures(path: Path, sha256: str, limits: Limits) -> list[Picture]:
    """Every picture that stands over the cells of a workbook's sheets, in their order.

    Args:
        path: The workbook; a format that can only be read has none.
        sha256: Of the file as it was checked.
        limits: How large it may be.

    Raises:
        WorkbookError: The file is not the one that was checked, or its parts cannot be read.
    """
    data = read_file(path, limits)
    if hashlib.sha256(data).hexdigest() != sha256:
        raise WorkbookError("changed", f"{path.name} was changed while it was read: run it again")
    package = open_package(data, path.name, limits)
    if package is None:
        return []
    sheets = (sheet for sheet in Workbook(package).sheets if sheet.kind == "worksheet")
    return [picture for sheet in sheets for picture in _of_sheet(package, sheet)]


def _of_sheet(package: Package, sheet: SheetPart) -> Iterator[Picture]:
    for part in package.related(sheet.part, "drawing"):
        targets = {one.id: one for one in package.relations(part)}
        for anchor in package.tree(part).walk():
            if anchor.name not in ANCHORS:
                continue
            for picture in (one for one in anchor.walk() if one.name == "pic"):
                blip = next((one for one in picture.walk() if one.name == "blip"), None)
                relation = targets.get(blip.related("embed")) if blip else None
                if relation is not None and not relation.external and package.has(relation.target):
                    yield _picture(package, sheet.name, anchor, picture, relation.target)


def _picture(package: Package, sheet: str, anchor: Element, picture: Element, part: str) -> Picture:
    first = _row(anchor.find("from"))
    last = max(first, _row(anchor.find("to")))
    about = next((one.attributes for one in picture.walk() if one.name == "cNvPr"), {})
    name = about.get("descr") or about.get("name") or "picture"
    size = package.entry(part).size
    if size > LARGEST:
        return Picture(sheet, first, last, name, "", b"", f"it has {size:,} bytes, over {LARGEST:,}")
    data = package.raw(part)
    kind, pixels = kind_of(data)
    if not kind:
        return Picture(sheet, first, last, name, "", b"", "it is neither PNG, JPEG nor GIF")
    if not 0 < pixels <= MOST_PIXELS:
        return Picture(sheet, first, last, name, "", b"", f"it claims {pixels:,} dots, over {MOST_PIXELS:,}")
    return Picture(sheet, first, last, name, kind, data)


def _row(corner: Element | None) -> int:
    """The row of an anchor's corner, counted from 1."""
    row = corner.find("row") if corner else None
    return min(splice.whole(row.text.strip(), 0), LAST_ROW - 1) + 1 if row else 1


def kind_of(data: bytes) -> tuple[str, int]:
    """What a picture is by its own first bytes, and how many dots it claims to have.

    >>> kind_of(b"GIF89a" + bytes([2, 0, 3, 0]))
    ('gif', 6)
    >>> kind_of(b"<svg/>")
    ('', 0)
    """
    if data.startswith(b"\x89PNG\r\n\x1a\n") and len(data) >= 24:
        wide, high = struct.unpack(">II", data[16:24])
        return "png", wide * high
    if data[:6] in (b"GIF87a", b"GIF89a") and len(data) >= 10:
        wide, high = struct.unpack("<HH", data[6:10])
        return "gif", wide * high
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg", _dots_of_jpeg(data)
    return "", 0


def _dots_of_jpeg(data: bytes) -> int:
    """Height times width, from the first frame; 0 where there is none."""
    at = 2
    while at + 9 <= len(data) and data[at] == 0xFF:
        marker, length = struct.unpack_from(">BH", data, at + 1)
        if marker in FRAMES:
            high, wide = struct.unpack_from(">HH", data, at + 5)
            return int(high * wide)
        at += 2 + length
    return 0
