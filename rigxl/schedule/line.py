"""One row of a schedule as read: its item, and where each of its values stands."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass

from rigxl.items import Item
from rigxl.schedule.listing import Listing
from rigxl.workbook.values import cell_name

NOT_MOVED: dict[str, str] = {}


class Where(Mapping[str, str]):
    """The address of the cell behind each field of one row, worked out when asked for."""

    __slots__ = ("_columns", "_filled", "_moved", "_row", "_sheet")

    def __init__(self, sheet: str, row: int, columns: Mapping[str, int], filled: Container[int]) -> None:
        self._sheet = sheet
        self._row = row
        self._columns = columns
        self._filled = filled
        self._moved: dict[str, str] = NOT_MOVED

    def __getitem__(self, name: str) -> str:
        if name in self._moved:
            return self._moved[name]
        number = self._columns[name]
        if number not in self._filled:
            raise KeyError(name)
        return address(self._sheet, self._row, number)

    def __iter__(self) -> Iterator[str]:
        yield from self._moved
        for name, number in self._columns.items():
            if name not in self._moved and number in self._filled:
                yield name

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __repr__(self) -> str:
        return repr(dict(self))

    def move(self, name: str, cell: str) -> None:
        """A field's value stands in another cell than its own column's."""
        self._moved = {**self._moved, name: cell}


@dataclass(slots=True)
class Line:
    """One row of a schedule.

    ``cells`` gives the address behind each field, ``notes`` what was assumed in reading, as sentences.
    """

    sheet: str
    row: int
    item: Item
    hidden: bool
    cells: Where
    listing: Listing
    notes: tuple[str, ...] = ()

    def cell_of(self, name: str) -> str:
        """The address of a field's cell, or of the row where it has none."""
        return self.cells.get(name) or f"{self.sheet}!{self.row}"


def address(sheet: str, row: int, column: int) -> str:
    """A cell as a sentence names it.

    >>> address("Sheet1", 17, 3)
    'Sheet1!C17'
    """
    return f"{sheet}!{cell_name(row, column)}"
