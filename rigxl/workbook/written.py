"""Cells of ours as XML: text escaped the way the format wants it, numbers plain, nothing evaluated."""

from __future__ import annotations

import math
import re
from functools import lru_cache

from rigxl.workbook import splice
from rigxl.workbook.marks import Content, Link
from rigxl.workbook.values import cell_name, column_letters

TEXT_AT_MOST = 32_767
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_LOOKS_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")


class Writer:
    """Writes cells of one column and style. Text is stored as text, also where it begins like a formula."""

    def __init__(self, column: int, style: int) -> None:
        self.column = column
        self.style = style
        self._letters = column_letters(column)
        self._given = f' s="{style}"' if style else ""
        self._opens = f'{self._given} t="inlineStr"><is><t xml:space="preserve">'

    def cell(self, row: int, content: Content) -> bytes:
        """One cell as XML."""
        return self.xml(row, content).encode()

    def xml(self, row: int, content: Content) -> str:
        """One cell as XML that is not yet encoded."""
        if isinstance(content, Link):
            content = content.text
        if content is None or content == "":
            return f'<c r="{self._letters}{row}"{self._given}/>'
        if isinstance(content, str):
            return f'<c r="{self._letters}{row}"{self._opens}{text(content)}</t></is></c>'
        if isinstance(content, bool):
            return f'<c r="{self._letters}{row}"{self._given} t="b"><v>{content:d}</v></c>'
        if not math.isfinite(content):
            raise ValueError(f"{content} cannot be written into a cell")
        return f'<c r="{self._letters}{row}"{self._given}><v>{number(content)}</v></c>'


@lru_cache(4096)
def text(content: str) -> str:
    """Text for an inline string: no control characters, literal escapes escaped, cut to what a cell holds."""
    return splice.escaped(_LOOKS_ESCAPED.sub("_x005F_", plain(content)))


def plain(content: str) -> str:
    """Text without control characters, cut to what a cell holds."""
    return _NOT_XML.sub("", content.replace("\r\n", "\n").replace("\r", "\n"))[:TEXT_AT_MOST]


def number(value: float) -> str:
    """A number, whole ones without a point.

    >>> number(5.0), number(0.1)
    ('5', '0.1')
    """
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(value)


def link(row: int, column: int, target: Link) -> str:
    """The hyperlink of a cell that jumps within the workbook."""
    sheet = target.sheet.replace("'", "''")
    location = splice.quoted(_NOT_XML.sub("", f"'{sheet}'!{target.cell}"))
    shown = splice.quoted(text_line(target.text))
    return f'<hyperlink ref="{cell_name(row, column)}" location={location} display={shown}/>'


def text_line(content: str) -> str:
    """Text for an attribute: one line, no control characters."""
    return " ".join(_NOT_XML.sub("", content).split())[:255]
