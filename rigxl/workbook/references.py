"""The cells that a formula speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigxl.workbook import splice
from rigxl.workbook.areas import read_area
from rigxl.workbook.values import Area

_STRING = re.compile(r'"(?:[^"]|"")*"')
_SHEET = r"(?:(?P<sheet>'(?:[^']|'')+'|[^\W\d][\w.]*)(?P<mark>!))?"
_CELLS = r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}(?::\$?[A-Za-z]{1,3}\$?[0-9]{1,7})?"
_REFERENCE = re.compile(
    r"(?<![\w.$\]!])"
    + _SHEET
    + rf"(?P<area>{_CELLS}|\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}}|\$?[0-9]+:\$?[0-9]+)"
    r"(?![\w.(!:])"
)
_TEXT = re.compile(rb"<(?:\w+:)?(f|formula|formula1|formula2)(\s[^<>]*)?>([^<]+)</")
_SHARED = re.compile(rb"""\sref=["']([A-Z0-9:]+)["']""")


def references(formula: str) -> Iterator[tuple[str, Area]]:
    """Each area that a formula names, with its sheet; the sheet is empty when it is the formula's own.

    Areas in other workbooks are left out.

    >>> list(references("SUM(A1:B2)*'Sheet 2'!C3+LOG10(2)"))[1]
    ('Sheet 2', Area(first_row=3, first_column=3, last_row=3, last_column=3))
    """
    for found in _REFERENCE.finditer(_STRING.sub('""', formula)):
        sheet = found["sheet"] or ""
        if sheet.startswith("'"):
            sheet = sheet[1:-1].replace("''", "'")
        if sheet.startswith("["):
            continue
        area = read_area(found["area"])
        if area is not None:
            yield sheet.rpartition(":")[2], area


def formulas(text: bytes, part: str) -> set[tuple[str, int]]:
    """Every formula of a worksheet part, with how many columns further a shared one is used.

    Args:
        text: The part as UTF-8.
        part: Its name, for messages.
    """
    if b"<f" not in text and b":f" not in text:
        return set()
    if b"<!" in text:
        return _by_parser(text, part)
    found = set()
    for _, given, raw in _TEXT.findall(text):
        found.add((raw, given if b"shared" in given else b""))
    return {(_unescape(raw), _reach(given)) for raw, given in found}


def _unescape(raw: bytes) -> str:
    text = raw.decode("utf-8", "replace")
    for name, character in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&apos;", "'"), ("&amp;", "&")):
        text = text.replace(name, character)
    return text


def _reach(given: bytes) -> int:
    """How many columns to the right a shared formula is used."""
    found = _SHARED.search(given)
    area = read_area(found[1].decode()) if found else None
    return area.last_column - area.first_column if area else 0


def _by_parser(text: bytes, part: str) -> set[tuple[str, int]]:
    """The formulas of a part in which text alone does not tell what a tag is."""
    parser = splice.new_parser(part)
    found: set[tuple[str, int]] = set()
    inside: list[str] = []
    reach = 0

    def start(_: str, attributes: dict[str, str]) -> None:
        nonlocal reach
        inside.clear()
        reach = 0
        area = read_area(attributes.get("ref", ""))
        if attributes.get("t") == "shared" and area is not None:
            reach = area.last_column - area.first_column

    def finish(name: str) -> None:
        if name.rpartition(" ")[2] in ("f", "formula", "formula1", "formula2") and inside:
            found.add(("".join(inside), reach))
        inside.clear()

    parser.StartElementHandler = start
    parser.EndElementHandler = finish
    parser.CharacterDataHandler = inside.append
    splice.parse(parser, text, part)
    return found
