"""Formulas outside cells: defined names, conditional formats, validations, columns of tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.workbook.formulas import Span
from rigxl.workbook.frame import frame_of
from rigxl.workbook.package import Workbook
from rigxl.workbook.splice import Element

FORMULA_TAGS = frozenset(
    {"f", "formula", "formula1", "formula2", "definedName", "calculatedColumnFormula", "totalsRowFormula"}
)
_KINDS = {
    "cfRule": "a conditional format",
    "dataValidation": "a validation",
    "sparkline": "a sparkline",
    "tableColumn": "a column",
    "definedName": "a name",
}


class FormulaPlace(NamedTuple):
    """A formula that stands in no cell.

    ``what`` names the place for people; ``text`` has no equals sign; ``content`` is where it stands in the
    part as UTF-8.
    """

    part: str
    what: str
    text: str
    content: Span


def formula_places(workbook: Workbook) -> Iterator[FormulaPlace]:
    """Every formula of a workbook that stands in no cell, part by part, in the order of each."""
    text = workbook.package.text(workbook.part).text
    yield from _within(workbook.tree, text, workbook.part, "the workbook", "")
    for sheet in workbook.sheets:
        if sheet.kind != "worksheet":
            continue
        text = workbook.package.text(sheet.part).text
        yield from _within(frame_of(text, sheet.part).tree, text, sheet.part, f"sheet {sheet.name}", "")
        for part in workbook.package.related(sheet.part, "table"):
            tree = workbook.package.tree(part)
            name = tree.attributes.get("displayName", tree.attributes.get("name", ""))
            yield from _within(tree, workbook.package.text(part).text, part, f"table {name}", "")


def _within(element: Element, text: bytes, part: str, owner: str, kind: str) -> Iterator[FormulaPlace]:
    for child in element.children:
        if child.name == "sheetData":
            continue
        named = _KINDS.get(child.name, kind)
        if child.name in ("definedName", "tableColumn"):
            named = f"{named} {child.attributes.get('name', '')}"
        if child.name in FORMULA_TAGS and not child.children and child.text:
            content = Span(child.opened, child.closing)
            yield FormulaPlace(part, f"{named or 'a formula'} of {owner}", child.text, content)
        else:
            yield from _within(child, text, part, owner, named)
