"""The rows of one version: what each says by itself, and its verdict."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from rigxl.changes.values import Unread, compared, plain, raw
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.fields import FIELD, FIELDS
from rigxl.schedule.line import Line
from rigxl.schedule.listing import Listing
from rigxl.schedule.read import apart
from rigxl.units import Habits
from rigxl.workbook.contents import Sheet

ORDER = {name: place for place, name in enumerate(dict.fromkeys(one.target for one in FIELDS))}
TABLES = ("items", "lifts", "inspections", "ratings")
LINE_NUMBER = re.compile(r"\d{1,3}")
Place: TypeAlias = tuple[str, int, int]


@dataclass(slots=True, eq=False)
class Entry:
    """One row of one version: of a schedule, or of its tables of lifts, inspections or makers' ratings."""

    table: str
    line: Line
    values: dict[str, Any]
    """What its cells give, by the field of the item; blanks are left out."""
    columns: Mapping[str, Sequence[int]]
    """The columns that give each field in its table."""
    sheet: Sheet
    checked: CheckedRow | None = None
    content: dict[str, Hashable] = field(default_factory=dict)
    """Its values as they are compared."""

    @property
    def name(self) -> str:
        """What people call the row."""
        item = self.line.item
        said: tuple[str | None, ...]
        if self.table == "lifts":
            said = (item.lift,)
        elif self.table == "inspections":
            said = item.tag or item.serial, item.inspected.isoformat() if item.inspected else None
        elif self.table == "ratings":
            said = item.maker, item.kind, item.size.name if item.size else None
        else:
            said = (item.tag or item.serial or item.description or item.kind,)
        return " ".join(filter(None, said)) or f"row {self.line.row}"

    @property
    def where(self) -> str:
        """The sheet and row it stands in."""
        return f"{self.line.sheet}!{self.line.row}"

    @property
    def verdict(self) -> str | None:
        """PASS, FAIL or HOLD; None of a row that is no item."""
        return self.checked.verdict if self.checked else None

    def raw(self, name: str) -> tuple[str, ...]:
        """The filled cells under the columns of a field, as they stand."""
        cells = (self.sheet.cell(self.line.row, number) for number in self.columns.get(name, ()))
        return tuple(text for cell in cells if (text := raw(cell)))

    def unit(self, name: str) -> str:
        """The unit a quantity was given in."""
        return self.line.item.units.get(name, "")

    def cell(self, name: str) -> str:
        """The address behind a field, or the row where it is blank."""
        return self.line.cell_of(name)


def place_of(line: Line) -> Place:
    """Where a row stands; of two tables side by side each has its own."""
    return line.sheet, line.row, line.listing.first_column


def entries(
    checked: Checked, habits: Habits, sheets: Sequence[str] = (), *, joined: bool
) -> dict[str, list[Entry]]:
    """The rows of a version, table by table.

    Args:
        checked: The version.
        habits: What a ton and a decimal mark are taken to be, the same for both versions.
        sheets: Only items on these sheets.
        joined: Whether a row has what its lift gives it, as where only one version has a table of lifts.
    """
    verdicts = {place_of(row.line): row for row in checked.rows}
    if joined:
        lines: Mapping[str, Iterable[Line]] = {"items": [row.line for row in checked.rows]}
    else:
        lines = apart(checked.book, checked.understood, habits)
    by_name = {sheet.name: sheet for sheet in checked.book.sheets}
    columns = {id(listing): _numbers(listing) for listing in checked.understood.tables}
    found: dict[str, list[Entry]] = {table: [] for table in TABLES}
    for table in TABLES:
        for line in lines.get(table, ()):
            if sheets and table == "items" and line.sheet not in sheets:
                continue
            entry = Entry(
                table, line, {}, columns[id(line.listing)], by_name[line.sheet], verdicts.get(place_of(line))
            )
            _fill(entry)
            found[table].append(entry)
    return found


def _fill(entry: Entry) -> None:
    item = entry.line.item
    for name in entry.line.cells:
        value = getattr(item, name)
        if name in item.problems:
            value = Unread(entry.raw(name) or ("what other rows say of it",))
        if value is not None:
            entry.values[name] = value
            entry.content[name] = compared(name, value)


def _numbers(listing: Listing) -> dict[str, list[int]]:
    """The columns that give each field of an item."""
    found: dict[str, list[int]] = {}
    for column in listing.columns:
        if column.field:
            found.setdefault(FIELD[column.field].target, []).append(column.number)
    return found


def numbered(rows: Iterable[Entry]) -> bool:
    """Whether what stands under tags are line numbers, 1, 2, 3 and on, which tell where a row stands."""
    tags = [row.line.item.tag for row in rows if row.line.item.tag]
    return bool(tags) and all(LINE_NUMBER.fullmatch(plain(tag)) for tag in tags)
