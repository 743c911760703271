"""The defined names of an OpenDocument spreadsheet (OpenDocument 1.3, part 3, section 9.4.11)."""

from __future__ import annotations

from rigxl.workbook import splice
from rigxl.workbook.openformula import as_elsewhere

TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "


def read_names(content: bytes) -> dict[str, str]:
    """The names of a content.xml part with what they mean, as an .xlsx file would have it.

    One that belongs to a single sheet is keyed ``Sheet!name``; one that cannot be told so is left out.
    """
    found: dict[str, str] = {}
    if b"named-" not in content:
        return found
    sheets: list[str] = []

    def start(name: str, words: dict[str, str]) -> None:
        if name == TABLE + "table":
            sheets.append(words.get(TABLE + "name", ""))
        elif name in (TABLE + "named-range", TABLE + "named-expression"):
            written = words.get(TABLE + "expression") or f"[{words.get(TABLE + 'cell-range-address', '')}]"
            told = as_elsewhere(written if ":=" in written[:12] else f"of:={written}").removeprefix("=")
            owner = f"{sheets[-1]}!" if sheets else ""
            if told:
                found[owner + words.get(TABLE + "name", "")] = told

    def finish(name: str) -> None:
        if name == TABLE + "table":
            sheets.pop()

    parser = splice.new_parser("content.xml")
    parser.StartElementHandler = start
    parser.EndElementHandler = finish
    splice.parse(parser, splice.as_utf8(content, "content.xml").text, "content.xml")
    return found
