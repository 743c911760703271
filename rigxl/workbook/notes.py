"""Notes on cells, for a sheet that has none: the list of notes, and the shapes that show them.

Notes share their drawing with form controls, and a drawing that is there is never touched; so a sheet that
has one gets no notes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from rigxl.workbook.frame import Frame
from rigxl.workbook.package import Workbook
from rigxl.workbook.written import plain

MOST = 1000
"""Notes on one sheet: each is a shape, which programs are slow to draw."""
AUTHOR = "rigxl"
COMMENTS_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml"
DRAWING_TYPE = "application/vnd.openxmlformats-officedocument.vmlDrawing"
_PREFIXES = {b"vml": b"v", b"office:office": b"o", b"office:excel": b"x"}
_WIDTH, _LINE, _CHARACTERS = 360, 20, 52
"""Pixels of a note and of a line in it, and about how many characters a line holds."""


class Notes(NamedTuple):
    """The two parts of a sheet's notes."""

    comments: bytes
    drawing: bytes


def can_have_notes(workbook: Workbook, part: str, frame: Frame, strict: bool) -> bool:
    """Whether a sheet can be given notes: it has no notes yet, and no drawing of the kind that shows them."""
    taken = {"comments", "threadedComment", "vmlDrawing"}
    if strict or frame.tree.find("legacyDrawing") is not None:
        return False
    return not any(relation.kind in taken for relation in workbook.package.relations(part))


def notes_of(texts: Mapping[str, str]) -> Notes:
    """The parts for notes on cells, by the cells' names."""
    from openpyxl.cell.text import Text
    from openpyxl.comments.comment_sheet import CommentRecord, CommentSheet
    from openpyxl.xml.functions import tostring

    records = []
    for cell, text in texts.items():
        content = plain(text)
        lines = sum(1 + len(line) // _CHARACTERS for line in content.split("\n"))
        records.append(
            CommentRecord(
                ref=cell, text=Text(t=content), author=AUTHOR, height=_LINE * (lines + 1), width=_WIDTH
            )
        )
    listed = CommentSheet.from_comments(records)  # type: ignore[no-untyped-call]
    return Notes(tostring(listed.to_tree()), _usual(listed.write_shapes()))


def _usual(drawing: bytes) -> bytes:
    """A drawing with the prefixes that programs expect in it; it holds no text that could be mistaken."""
    for prefix, space in re.findall(rb'xmlns:(\w+)="urn:schemas-microsoft-com:([\w:]+)"', drawing):
        drawing = re.sub(rb"\b%s(?=:|=)" % prefix, _PREFIXES[space], drawing)
    return drawing
