"""Whether a marked workbook is built as the format asks, where forgiving programs would not mind."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Protocol
from xml.etree.ElementTree import Element

# ECMA-376-1, 18.3.1.99 (CT_Worksheet): the order in which the parts of a sheet must stand
SHEET_ORDER = """
    sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges
    scenarios autoFilter sortState dataConsolidate customSheetViews mergeCells phoneticPr
    conditionalFormatting dataValidations hyperlinks printOptions pageMargins pageSetup headerFooter
    rowBreaks colBreaks customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing
    legacyDrawingHF drawingHF picture oleObjects controls webPublishItems tableParts extLst
"""
# ECMA-376-1, 18.8.39 (CT_Stylesheet) and 18.2.27 (CT_Workbook)
STYLES_ORDER = "numFmts fonts fills borders cellStyleXfs cellXfs cellStyles dxfs tableStyles colors extLst"
WORKBOOK_ORDER = """
    fileVersion fileSharing workbookPr workbookProtection bookViews sheets functionGroups externalReferences
    definedNames calcPr oleSize customWorkbookViews pivotCaches smartTagPr smartTagTypes webPublishing
    fileRecoveryPr webPublishObjects extLst
"""
SEVERAL = {"conditionalFormatting", "webPublishObjects", "fileRecoveryPr"}


class Package(Protocol):
    """What is asked of an opened workbook."""

    infos: dict[str, Any]

    def has(self, part: str) -> bool:
        """Is there such a part?"""

    def tree(self, part: str) -> Element:
        """The elements of a part."""

    def relations(self, part: str) -> dict[str, tuple[str, str]]:
        """Kind and target of each relation of a part."""

    def main(self) -> str:
        """The workbook part."""

    def sheets(self) -> dict[str, str]:
        """The part of each sheet by its name."""


def local(element: Element) -> str:
    """The name of an element without its namespace."""
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else "#"


def cells(sheet: Element) -> Iterator[tuple[tuple[int, int], Element]]:
    """Every cell by row and column, where the attributes may be missing."""
    for data in sheet:
        if local(data) != "sheetData":
            continue
        row_number = 0
        for row in data:
            row_number = int(row.get("r", row_number + 1))
            column = 0
            for cell in row:
                if local(cell) != "c":
                    continue
                letters = re.match(r"[A-Za-z]+", cell.get("r", ""))
                column = _number(letters[0]) if letters else column + 1
                yield (row_number, column), cell


def _number(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def spans(sheet: Element) -> Iterator[tuple[int, int, str]]:
    """First and last column and the attributes of each column element."""
    for column in sheet.iter():
        if local(column) == "col":
            words = {key: value for key, value in column.attrib.items() if key not in ("min", "max")}
            yield int(column.get("min", "0")), int(column.get("max", "0")), str(sorted(words.items()))


def columns(sheet: Element) -> dict[int, str]:
    """The attributes of each column by its number."""
    return {
        column: words for low, high, words in spans(sheet) for column in range(low, min(high, 16_384) + 1)
    }


def structure(new: Package) -> Iterator[str]:
    """What a strict program would not open: order, counts, numbers that must be unique or in range."""
    main = new.main()
    workbook = new.tree(main)
    yield from _order(workbook, WORKBOOK_ORDER, "workbook")
    listed = [sheet for sheet in workbook.iter() if local(sheet) == "sheet"]
    for what, values in (
        ("sheet name", [sheet.get("name", "").lower() for sheet in listed]),
        ("sheet id", [sheet.get("sheetId", "") for sheet in listed]),
    ):
        if len(set(values)) != len(values):
            yield f"{what} twice"
    formats = differential = None
    for kind, target in new.relations(main).values():
        if kind == "styles" and new.has(target):
            styles = new.tree(target)
            yield from _order(styles, STYLES_ORDER, "styles")
            yield from _counts(styles, "styles")
            formats = next((len(child) for child in styles if local(child) == "cellXfs"), 0)
            differential = next((len(child) for child in styles if local(child) == "dxfs"), 0)
            break
    for name, part in new.sheets().items():
        if new.has(part) and local(new.tree(part)) == "worksheet":
            yield from (f"{name}: {what}" for what in _sheet_faults(new.tree(part), formats, differential))
    yield from _content_types(new)


def _order(parent: Element, names: str, what: str) -> Iterator[str]:
    order = names.split()
    last = -1
    seen = set()
    for child in parent:
        name = local(child)
        if name == "AlternateContent":
            name = next((local(one) for choice in child for one in choice), name)
        if name not in order:
            continue
        if order.index(name) < last:
            yield f"{what}: {name} stands too late"
        if name in seen and name not in SEVERAL:
            yield f"{what}: {name} twice"
        seen.add(name)
        last = max(last, order.index(name))


def _counts(parent: Element, what: str) -> Iterator[str]:
    for child in parent:
        stated = child.get("count")
        if stated is not None and local(child) != "sst" and int(stated) != len(child):
            yield f"{what}: {local(child)} says {stated} and holds {len(child)}"


def _sheet_faults(sheet: Element, formats: int | None, differential: int | None) -> Iterator[str]:
    yield from _order(sheet, SHEET_ORDER, "sheet")
    yield from _counts(sheet, "sheet")
    yield from _overlaps(sheet)
    before = (0, 0)
    for where, cell in cells(sheet):
        if where <= before:
            yield f"cell {where} stands after {before}"
            return
        before = where
        style = int(cell.get("s", "0"))
        if formats is not None and style and style >= formats:
            yield f"cell {where} has style {style}, which does not exist"
    for rule in sheet.iter():
        number = int(rule.get("dxfId", "-1")) if local(rule) == "cfRule" else -1
        if differential is not None and number >= differential:
            yield f"a conditional format points at format {number} of {differential}"


def _content_types(new: Package) -> Iterator[str]:
    types = new.tree("[Content_Types].xml")
    known = {one.get("PartName", "").lower() for one in types}
    endings = {one.get("Extension", "").lower() for one in types}
    for name in new.infos:
        ending = name.rpartition(".")[2].lower()
        listed = f"/{name.lower()}" in known or ending in endings or name.lower() == "[content_types].xml"
        if not (listed or name.endswith("/")):
            yield f"no content type: {name}"


def _overlaps(sheet: Element) -> Iterator[str]:
    before = 0
    for low, high, _ in sorted(spans(sheet)):
        if not before < low <= high <= 16_384:
            yield "columns overlap or lie outside the sheet"
        before = high
