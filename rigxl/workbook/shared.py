"""Formulas that reach beyond their cell: shared ones, array formulas, what-if tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from rigxl.workbook.areas import read_area
from rigxl.workbook.values import Area


class Told(NamedTuple):
    """What the file says of one formula: its text without equals sign, as ``Formula`` holds it."""

    text: str
    moved: tuple[int, int] = (0, 0)
    fills: Area | None = None


NOTHING = Told("")


class Sharing:
    """What the formulas of one sheet say for other cells.

    ``areas`` are those that one formula fills beyond its own cell.
    """

    def __init__(self) -> None:
        self.areas: list[Area] = []
        self._first: dict[str, tuple[str, int, int]] = {}

    def told(self, text: str, given: Mapping[str, str], row: int, column: int) -> Told:
        """What a formula is, by its text and the attributes of its element.

        A member of a shared formula has the text of the first cell; one whose first cell has not come yet
        has none.
        """
        kind = given.get("t", "")
        if kind == "shared":
            name = given.get("si", "")
            if text:
                if "ref" in given or name not in self._first:
                    self._first[name] = text, row, column
                return Told(text)
            if name not in self._first:
                return NOTHING
            text, first_row, first_column = self._first[name]
            return Told(text, (row - first_row, column - first_column))
        if kind in ("array", "dataTable"):
            area = read_area(given.get("ref", ""))
            if area is not None and (area.first_row, area.first_column) != (area.last_row, area.last_column):
                self.areas.append(area)
            return Told(text, fills=area)
        return Told(text)
