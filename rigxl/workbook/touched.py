"""Which columns of a sheet something else relies on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import layout, rowlook, splice
from rigxl.workbook.areas import read_area, read_areas
from rigxl.workbook.frame import Frame
from rigxl.workbook.guard import LAST_COLUMN
from rigxl.workbook.package import SheetPart, Workbook
from rigxl.workbook.references import formulas, references
from rigxl.workbook.splice import Element
from rigxl.workbook.values import Area

_ROW_OF_A_CELL = re.compile(r"(?:(?<=[A-Za-z])|(?<=[A-Za-z]\$))[0-9]+(?![\w!.(]|:(?!\$?[A-Za-z]))")


class Touch(NamedTuple):
    """An area that something relies on. A firm one must stay clear of marks; the others had better."""

    area: Area
    why: str
    firm: bool
    by_row: bool = False
    """Does it matter only where marks go into its rows? So it always does for whole rows."""

    def meets(self, column: int, rows: set[int]) -> bool:
        """Does it lie in the way of marks in this column and these rows?"""
        area = self.area
        if not area.first_column <= column <= area.last_column:
            return False
        if self.by_row or (area.first_column == 1 and area.last_column == LAST_COLUMN):
            return any(area.first_row <= row <= area.last_row for row in rows)
        return True


class Formulas:
    """What all the formulas of a workbook speak of, found once for all the sheets that are marked."""

    def __init__(self, workbook: Workbook) -> None:
        self._areas: dict[str, set[Area]] = {}
        for sheet in workbook.sheets:
            if sheet.kind == "worksheet":
                text = workbook.package.text(sheet.part).text
                shapes = {(_shape(formula), reach) for formula, reach in formulas(text, sheet.part)}
                for formula, reach in shapes:
                    self._add(sheet.name, formula, reach)

    def _add(self, owner: str, formula: str, reach: int) -> None:
        if rowlook.OURS in formula:
            return
        for sheet, area in references(formula):
            last = min(area.last_column + reach, LAST_COLUMN)
            self._areas.setdefault((sheet or owner).lower(), set()).add(area._replace(last_column=last))

    def of(self, name: str) -> set[Area]:
        """The areas of a sheet that formulas anywhere name; the rows of single cells may be others."""
        return self._areas.get(name.lower(), set())


def _shape(formula: str) -> str:
    """A formula with every cell moved to row 1, so that those filled down a column are one.

    Quoted names may hold what looks like a cell, so formulas with such stay as they are.
    """
    return formula if "'" in formula else _ROW_OF_A_CELL.sub("1", formula)


def touches(workbook: Workbook, sheet: SheetPart, frame: Frame, all_formulas: Formulas) -> list[Touch]:
    """Everything but cells that relies on areas of a sheet."""
    found = [Touch(area, "a formula", True) for area in all_formulas.of(sheet.name)]
    found += [Touch(area, "merged cells", True) for area in layout.merges(frame)]
    found += [
        Touch(table.area, f"the table {table.name}", True)
        for table, _ in layout.tables(workbook.package, sheet)
    ]
    found += _pivots(workbook, sheet)
    found += _names(workbook, sheet.name)
    found += _charts(workbook, sheet.name)
    found += _comments(workbook, sheet)
    found += _drawings(workbook, sheet)
    found += list(_around(frame.tree))
    return found


def _pivots(workbook: Workbook, sheet: SheetPart) -> Iterator[Touch]:
    package = workbook.package
    for part in package.related(sheet.part, "pivotTable"):
        location = package.tree(part).find("location")
        area = read_area(location.attributes.get("ref", "")) if location else None
        if area:
            yield Touch(area, "a pivot table", True)
    for part in package.related(workbook.part, "pivotCacheDefinition"):
        for element in package.tree(part).walk():
            if element.name == "worksheetSource" and element.attributes.get("sheet") == sheet.name:
                area = read_area(element.attributes.get("ref", ""))
                if area:
                    yield Touch(area, "the source of a pivot table", True)


def _names(workbook: Workbook, sheet: str) -> Iterator[Touch]:
    """What defined names say; titles to print are whole rows or columns and stand in nobody's way."""
    for name, text in workbook.names().items():
        plain = name.rpartition("!")[2]
        if plain == "_xlnm.Print_Titles":
            continue
        for owner, area in references(text):
            if owner.lower() == sheet.lower():
                if plain == "_xlnm.Print_Area":
                    yield Touch(area, "the print area", False)
                else:
                    yield Touch(area, f"the name {plain}", not plain.startswith("_xlnm."))


def _charts(workbook: Workbook, sheet: str) -> Iterator[Touch]:
    for entry in workbook.package.entries:
        if (
            not (entry.name.startswith("xl/charts/") and entry.name.endswith(".xml"))
            or "/_rels/" in entry.name
        ):
            continue
        try:
            tree = workbook.package.tree(entry.name)
        except WorkbookError as error:
            if error.code != "damaged":
                raise
            continue
        for element in tree.walk():
            if element.name == "f":
                for owner, area in references(element.text):
                    if owner.lower() == sheet.lower():
                        yield Touch(area, "a chart", True)


def _comments(workbook: Workbook, sheet: SheetPart) -> Iterator[Touch]:
    for part in workbook.package.related(sheet.part, "comments"):
        for element in workbook.package.tree(part).walk():
            area = read_area(element.attributes.get("ref", "")) if element.name == "comment" else None
            if area:
                yield Touch(area, "a note", True)


def _drawings(workbook: Workbook, sheet: SheetPart) -> Iterator[Touch]:
    """Pictures, charts and shapes lie over cells and would hide marks."""
    for part in workbook.package.related(sheet.part, "drawing"):
        for anchor in workbook.package.tree(part).children:
            corners = [corner for name in ("from", "to") if (corner := anchor.find(name)) is not None]
            places = [
                splice.whole(place.text.strip()) + 1 if place is not None else 1
                for corner in corners
                for place in (corner.find("row"), corner.find("col"))
            ]
            if places:
                yield Touch(Area(*places[:2], *places[-2:]), "a picture, chart or shape", False, by_row=True)


def _around(tree: Element) -> Iterator[Touch]:
    """What stands around the rows: filters, validations, formats, links, protected ranges, sparklines."""
    filtered = tree.find("autoFilter")
    area = read_area(filtered.attributes.get("ref", "")) if filtered else None
    if area:
        yield Touch(area, "the filter", True)
    for child in tree.children:
        if child.name == "conditionalFormatting":
            if not rowlook.is_ours(child):
                yield from _soft(child.attributes.get("sqref", ""), "a conditional format")
        elif child.name in ("dataValidations", "protectedRanges"):
            for inner in child.children:
                yield from _soft(inner.attributes.get("sqref", ""), f"one of its {child.name}")
        elif child.name == "extLst":
            for inner in child.walk():
                if inner.name == "sqref":
                    yield from _soft(inner.text, "a format or sparkline")


def _soft(references: str, why: str) -> Iterator[Touch]:
    for area in read_areas(references):
        yield Touch(area, why, False)
