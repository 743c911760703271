"""A sheet around its rows: every element but the rows indexed, and where the rows stand."""

from __future__ import annotations

import re
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.splice import Element

MAIN_SPACES = (
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://purl.oclc.org/ooxml/spreadsheetml/main",
)
_DATA = re.compile(rb"<sheetData\s*>")


class Frame(NamedTuple):
    """A worksheet part; ``first`` and ``last`` are where its rows begin and end.

    ``plain`` says that around the rows there are no comments, sections, instructions or prefixes.
    """

    text: bytes
    tree: Element
    first: int
    last: int
    plain: bool

    def alone(self, row: bytes) -> bytes:
        """A worksheet that holds only this row."""
        opening = self.text[self.tree.start : self.tree.opened]
        name = opening[1:].split(None, 1)[0].rstrip(b">")
        prefix = splice.prefix_of(self.text, self.tree)
        return b"".join(
            (
                opening,
                b"<",
                prefix,
                b"sheetData>",
                row,
                b"</",
                prefix,
                b"sheetData></",
                name,
                b">",
            )
        )


def frame_of(text: bytes, part: str) -> Frame:
    """Index a worksheet part."""
    frame = _cut(text, part) or _whole(text, part)
    if frame.tree.name != "worksheet" or frame.tree.space not in MAIN_SPACES:
        raise WorkbookError("damaged", f"{part} should be a worksheet and is not")
    return frame


def _cut(text: bytes, part: str) -> Frame | None:
    """Index the part without its rows, when those can be cut out.

    Without comments, sections and instructions every ``<`` begins a tag, so the sheetData outside the rows
    is real. Whoever reads the rows makes sure that they are rows from first to last.
    """
    start = _DATA.search(text)
    last = text.rfind(b"</sheetData>")
    if start is None or last < start.end():
        return None
    first = start.end()
    around = text[:first] + text[last:]
    if b"<!" in around or around.find(b"<?", 5) >= 0 or around.count(b"sheetData") != 2:
        return None
    try:
        tree = splice.index(around, part)
    except WorkbookError:
        return None
    for element in tree.walk():
        element.shift(first, last - first)
    data = tree.find("sheetData")
    if data is None or data.opened != first:
        return None
    data.closing = last
    return Frame(text, tree, first, last, not splice.prefix_of(text, tree))


def _whole(text: bytes, part: str) -> Frame:
    """Index the part with the parser, leaving out what is within the rows."""
    tree = splice.index(text, part, without="sheetData")
    data = tree.find("sheetData")
    if data is None:
        raise WorkbookError("damaged", f"{part} has no place for rows")
    return Frame(text, tree, data.opened, data.closing, False)
