"""Workbooks edited as people edit them: rows and columns moved, headings and units changed, a cell changed.

Units are converted by pint and its standard gravity, not by our own factors.
"""

from __future__ import annotations

import datetime as dt
import random
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import openpyxl
import pint
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rigxl.schedule.fields import FIELD
from rigxl.schedule.headings import hear
from rigxl.schedule.listing import Column, Listing
from rigxl.schedule.map import Understood, understand
from rigxl.schedule.spellings import SPELLINGS
from rigxl.workbook.book import read_book

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
SAMPLES = ("footbridge", "bakery_as_received", "lock_gates_metric", "turbine_hall_every_kind")
TODAY = dt.date(2026, 11, 25)

_pint: pint.UnitRegistry[float] = pint.UnitRegistry()
PINT = {
    "t": "metric_ton * standard_gravity", "kg": "kilogram * standard_gravity",
    "lb": "pound * standard_gravity", "short ton": "US_ton * standard_gravity",
    "kN": "kilonewton", "lbf": "pound_force", "m": "meter", "mm": "millimeter",
    "in": "inch", "ft": "foot", "cm": "centimeter",
}  # fmt: skip
LOADS = ("t", "kg", "lb", "short ton", "kN", "lbf")
LENGTHS = ("m", "mm", "in", "ft", "cm")


def factor(unit: str, other: str) -> float:
    """One of ``unit`` in ``other``, by pint."""
    return float(_pint.Quantity(1.0, PINT[unit]).to(PINT[other]).magnitude)


def sample(name: str) -> Path:
    """A sample as it is handed out."""
    return FOLDER / f"{name}.xlsx"


class Cell(NamedTuple):
    """A cell of a row of a table, and the field that its column gives."""

    listing: Listing
    row: int
    column: Column

    @property
    def address(self) -> str:
        return f"{self.listing.sheet}!{get_column_letter(self.column.number)}{self.row}"


class Edited:
    """A workbook that is open for editing, with its tables as rigxl understands them."""

    def __init__(self, path: Path, chance: random.Random) -> None:
        self.book = openpyxl.load_workbook(path)
        self.understood = _understood(path)
        self.chance = chance

    @property
    def listings(self) -> list[Listing]:
        return list(self.understood.tables)

    def sheet(self, listing: Listing) -> Worksheet:
        sheet = self.book[listing.sheet]
        assert isinstance(sheet, Worksheet)
        return sheet

    def save(self, path: Path) -> Path:
        self.book.save(path)
        return path

    def shuffle_rows(self) -> None:
        """The items of every table in another order."""
        for listing in self.listings:
            sheet = self.sheet(listing)
            numbers = [row.number for row in listing.rows]
            columns = [column.number for column in listing.columns]
            lines = [[_held(sheet, row, column) for column in columns] for row in numbers]
            self.chance.shuffle(lines)
            for row, line in zip(numbers, lines, strict=True):
                for column, value in zip(columns, line, strict=True):
                    _put(sheet, row, column, value)

    def move_columns(self) -> None:
        """The columns of every table in another order, those under one merged heading among themselves.

        A column in which titles and notes stand between the rows stays, or they would stand under another.
        """
        for listing in self.listings:
            sheet = self.sheet(listing)
            rows = [listing.header_row, *(row.number for row in listing.rows)]
            for group in _groups(sheet, listing):
                group = [
                    one for one in group if not any(_held(sheet, row, one)[0] for row in listing.left_out)
                ]
                moved = self.chance.sample(group, len(group))
                before = {column: [_held(sheet, row, column) for row in rows] for column in group}
                for column, other in zip(group, moved, strict=True):
                    for row, value in zip(rows, before[other], strict=True):
                        _put(sheet, row, column, value)

    def rename_headings(self) -> None:
        """Every heading by another spelling of the same field, with its unit."""
        for listing in self.listings:
            if len(listing.header_rows) > 1:
                continue  # what stands over a heading is part of its meaning
            taken: set[str] = set()
            for column in listing.columns:
                if not column.field:
                    continue
                unit = f" ({column.unit})" if column.unit else ""
                known = [one for one in spellings(column.field) if f"{one}{unit}" not in taken]
                known = [one for one in known if hear(f"{one}{unit}")[:2] == (column.field, column.unit)]
                if known:
                    heading = f"{self.chance.choice(known)}{unit}"
                    taken.add(heading)
                    self.sheet(listing).cell(listing.header_row, column.number).value = heading

    def convert_units(self, digits: int = 15) -> int:
        """Every load and length whose unit stands in the heading in another unit; how many columns."""
        converted = 0
        for listing in self.listings:
            sheet = self.sheet(listing)
            for column in listing.columns:
                units = LOADS if column.unit in LOADS else LENGTHS if column.unit in LENGTHS else ()
                field = FIELD[column.field] if column.field else None
                if not units or column.unit is None or field is None or field.read not in ("force", "length"):
                    continue
                cells = [sheet.cell(row.number, column.number) for row in listing.rows]
                if any(isinstance(cell.value, str) for cell in cells):
                    continue
                other = self.chance.choice([unit for unit in units if unit != column.unit])
                for cell in cells:
                    if isinstance(cell.value, int | float):
                        exact = cell.value * factor(column.unit, other)
                        cell.value = float(f"{exact:.{digits}g}")
                heading = sheet.cell(listing.header_row, column.number)
                heading.value = str(heading.value).replace(f"({column.unit})", f"({other})")
                converted += 1
        return converted

    def cells(self) -> Iterator[Cell]:
        """Every cell that a field is read from, filled or not."""
        for listing in self.listings:
            for row in listing.rows:
                for column in listing.columns:
                    if column.field:
                        yield Cell(listing, row.number, column)

    def change(self, cell: Cell) -> tuple[Any, Any]:
        """Another value for one cell: what it was and what it is."""
        place = self.sheet(cell.listing).cell(cell.row, cell.column.number)
        before = place.value
        assert cell.column.field
        place.value = another(before, cell.column.field, self.chance)
        return before, place.value


def another(value: Any, field: str, chance: random.Random) -> Any:
    """A value that means something else."""
    one = FIELD[field]
    words = sorted(set(one.words.values()))
    if one.read == "choice" or (words and one.read == "text"):
        meant = one.words.get(str(value).lower(), str(value).lower())
        return chance.choice([word for word in words if word != meant])
    if one.read == "yes/no":
        return "no" if value in ("yes", True) else "yes"
    if one.read == "kind":
        return "hook" if "shackle" in str(value).lower() else "shackle"
    if one.read == "date":
        return (value if isinstance(value, dt.datetime) else dt.datetime(2026, 3, 5)) - dt.timedelta(days=3)
    if one.read == "size":
        return "M36" if value != "M36" else "M42"
    if one.read in ("text",):
        return f"{value or ''} {chance.choice(('north', 'spare', '77'))}".strip()
    if one.read in ("count", "carrying"):
        return (value if isinstance(value, int) else 1) + 1
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value * chance.choice((0.5, 0.9, 0.999)) or 3
    figure = re.match(r"[\d.,]+", str(value or ""))
    return (
        f"{value}1"
        if figure and value is not None and str(value) == figure[0]
        else _with_unit(one.read, chance)
    )


def _with_unit(read: str, chance: random.Random) -> str:
    figure = chance.randint(11, 59)
    units = {
        "force": "kg",
        "length": "mm",
        "dimension": "mm",
        "angle": "°",
        "ratio": "%",
        "temperature": "°C",
    }
    return f"{figure} {units.get(read, 'N m')}"


@cache
def spellings(field: str) -> tuple[str, ...]:
    """What the trade calls a field."""
    return tuple(one.strip() for one in SPELLINGS[field].split(","))


@cache
def _understood(path: Path) -> Understood:
    return understand(read_book(path))


def _held(sheet: Worksheet, row: int, column: int) -> tuple[Any, str]:
    cell = sheet.cell(row, column)
    return cell.value, cell.number_format


def _put(sheet: Worksheet, row: int, column: int, held: tuple[Any, str]) -> None:
    cell = sheet.cell(row, column)
    cell.value, cell.number_format = held


def _groups(sheet: Worksheet, listing: Listing) -> Iterator[list[int]]:
    """Columns that may change places: those under one merged heading, or all where no heading is merged."""
    numbers = [column.number for column in listing.columns]
    if len(listing.header_rows) == 1:
        yield numbers
        return
    for area in sheet.merged_cells.ranges:
        if area.min_row == listing.header_rows[0]:
            yield [number for number in numbers if area.min_col <= number <= area.max_col]
