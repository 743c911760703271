"""What stands around the rows of a sheet: merges, tables, filters, hidden columns, protection."""

from __future__ import annotations

from rigxl.workbook import splice, strings
from rigxl.workbook.areas import read_area
from rigxl.workbook.frame import Frame
from rigxl.workbook.guard import LAST_COLUMN
from rigxl.workbook.package import Package, SheetPart, truth
from rigxl.workbook.splice import Element
from rigxl.workbook.values import Area, TableArea


def merges(frame: Frame) -> tuple[Area, ...]:
    """The merged areas of a sheet."""
    listed = frame.tree.find("mergeCells")
    found = (read_area(child.attributes.get("ref", "")) for child in (listed.children if listed else ()))
    return tuple(area for area in found if area is not None)


def tables(package: Package, sheet: SheetPart) -> list[tuple[TableArea, Element]]:
    """The table objects of a sheet, each with the elements of its part."""
    found = []
    for part in package.related(sheet.part, "table"):
        tree = package.tree(part)
        given = tree.attributes
        area = read_area(given.get("ref", ""))
        if area is not None:
            name = given.get("displayName", given.get("name", ""))
            listed = tree.find("tableColumns")
            columns = tuple(
                strings.unescaped(one.attributes.get("name", ""))
                for one in (listed.all("tableColumn") if listed else ())
            )
            totals, headers = (
                splice.whole(given.get("totalsRowCount")),
                splice.whole(given.get("headerRowCount"), 1),
            )
            found.append((TableArea(name, area, totals, headers, columns), tree))
    return found


def filtered(frame: Frame, table_trees: list[Element]) -> bool:
    """Is a filter at work, so that rows may be hidden by it?"""
    properties = frame.tree.find("sheetPr")
    if properties is not None and truth(properties.attributes.get("filterMode")):
        return True
    filters = (tree.find("autoFilter") for tree in (frame.tree, *table_trees))
    return any(found is not None and found.find("filterColumn") is not None for found in filters)


def protected(frame: Frame) -> bool:
    """Is the sheet protected against changes by hand?"""
    found = frame.tree.find("sheetProtection")
    return found is not None and truth(found.attributes.get("sheet"))


def hidden_columns(frame: Frame) -> frozenset[int]:
    """The columns that are hidden, or squeezed to nothing."""
    hidden: set[int] = set()
    for listed in frame.tree.all("cols"):
        for column in listed.all("col"):
            given = column.attributes
            if truth(given.get("hidden")):
                first, last = splice.whole(given.get("min"), 1), splice.whole(given.get("max"))
                hidden.update(range(first, min(last, LAST_COLUMN) + 1))
    return frozenset(hidden)
