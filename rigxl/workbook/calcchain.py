"""The calculation chain: the list of cells with formulas, which must not name a cell that has none."""

from __future__ import annotations

from collections.abc import Container

from rigxl.workbook import splice
from rigxl.workbook.splice import Edit


def without(text: bytes, part: str, gone: Container[tuple[str, str]]) -> list[Edit] | None:
    """The edits that take cells out of the chain; None where none would be left.

    Args:
        text: The part as UTF-8.
        part: Its name, for messages.
        gone: The cells, each by the number of its sheet and its name.
    """
    tree = splice.index(text, part)
    edits = []
    sheet = written = "0"
    left = 0
    for entry in tree.children:
        sheet = entry.attributes.get("i", sheet)
        if (sheet, entry.attributes.get("r", "")) in gone:
            edits.append(Edit(entry.start, entry.end, b""))
            continue
        left += 1
        if sheet != written and "i" not in entry.attributes:  # an entry without number goes by the one before
            edits.append(splice.set_attribute(text, entry, b"i", sheet.encode()))
        written = sheet
    return edits if left else None
