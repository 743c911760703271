"""One table of a schedule, as found on a sheet: its columns, its rows of items, what was left out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from rigxl.workbook.values import CellError, Formula, Row, Value, column_letters


class Column(NamedTuple):
    """One column of a table: its heading as typed and what that was understood as."""

    number: int
    heading: str
    field: str | None
    unit: str | None
    proposals: tuple[str, ...] = ()
    why: str = ""
    chosen: bool = False
    worked: str = ""
    """The figure or verdict that the sheet works out in it, where it is a known one."""
    ours: bool = False

    @property
    def letters(self) -> str:
        """The column as the spreadsheet shows it."""
        return column_letters(self.number)

    @property
    def is_open(self) -> bool:
        """Whether it is not used and nothing is known of it for sure: somebody should look."""
        return not (self.field or self.ours or self.chosen) and (bool(self.proposals) or not self.why)


@dataclass(slots=True)
class Listing:
    """One table of a schedule: its headings, its rows of items, and what was left out of it and why."""

    sheet: str
    header_rows: tuple[int, ...]
    units_row: int | None
    columns: tuple[Column, ...]
    role: str = ""
    rows: list[Row] = field(default_factory=list)
    left_out: dict[int, str] = field(default_factory=dict)
    says: list[str] = field(default_factory=list)

    @property
    def fields(self) -> frozenset[str]:
        """The fields its columns give."""
        return frozenset(column.field for column in self.columns if column.field)

    @property
    def header_row(self) -> int:
        """The row right above the items: the last row of headings."""
        return self.header_rows[-1]

    @property
    def first_column(self) -> int:
        """The first column that has a heading."""
        return self.columns[0].number

    @property
    def last_column(self) -> int:
        """The last column that has a heading and is not one of ours."""
        return max((column.number for column in self.columns if not column.ours), default=0)

    @property
    def first_row(self) -> int:
        """The first row of items; 0 where there are none."""
        return self.rows[0].number if self.rows else 0

    @property
    def last_row(self) -> int:
        """The last row of items; 0 where there are none."""
        return self.rows[-1].number if self.rows else 0

    def column_of(self, name: str) -> int | None:
        """The first column that gives a field."""
        return next((column.number for column in self.columns if column.field == name), None)


def text_of(value: Value) -> str:
    """A cell as a heading or note reads; empty for what is no text."""
    if isinstance(value, Formula):
        value = value.result if value.calculated else None
    return value.strip() if isinstance(value, str) and not isinstance(value, CellError) else ""
