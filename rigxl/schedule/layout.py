"""Where the tables of a sheet stand: headings over one or two rows, a row of units, the rows of items below.

Title rows, blank rows, totals, notes and several tables on a sheet are the normal case. Nothing is left
out without being said.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple, TypeAlias

from rigxl.errors import RigxlError
from rigxl.schedule.headings import Heard, is_neutral
from rigxl.schedule.listing import Column, Listing, text_of
from rigxl.schedule.sorting import Sorter
from rigxl.schedule.words import kinds_in, normal
from rigxl.units import is_not_known, is_unit, unit_name
from rigxl.workbook.contents import Sheet
from rigxl.workbook.policy import is_ours
from rigxl.workbook.values import Area, Row

Hear: TypeAlias = Callable[[str], Heard]

FEWEST = 3
"""Known headings that make a row of headings; one less will do where half of all mean something."""


_OTHER_RATING = re.compile(
    r"\b(legs?|legged|bridles?|pairs?|sets?|assembly|system|total|combined|together|basket|chokers?|choked|"
    r"breaking|ultimate|proof|test|derated|reduced|included|degrees?|deg|at [0-9]+)\b|^[0-9]+$"
)
"""Over a rated load: it may be that of several legs, of a hitch, at an angle, or no rated load at all."""


class _Head(NamedTuple):
    """Rows of headings that were found: how many, and their columns."""

    rows: tuple[Row, ...]
    columns: tuple[Column, ...]

    @property
    def known(self) -> int:
        return len({column.field for column in self.columns if column.field})


def find_listings(sheet: Sheet, hear: Hear, decide: Callable[[Listing], None]) -> list[Listing]:
    """Every table on a sheet whose headings say what a schedule says.

    Args:
        sheet: The sheet.
        hear: What a heading names.
        decide: Settles a table's columns and its role, before its rows are looked at.
    """
    found: list[Listing] = []
    sorters: list[Sorter] = []
    place, rows = 0, sheet.rows
    while place < len(rows):
        row = rows[place]
        if len(sorters) == 1 and sorters[0].claims(row):
            place += 1
            continue
        head = _head_at(sheet, place, hear) if _may_be_head(row) else None
        listings = _listings(sheet, place, head) if head else []
        for listing in listings:
            decide(listing)
        if sorters and not any(listing.role for listing in listings):
            for sorter in sorters:
                sorter.sort(row)
            place += 1
            continue
        for sorter in sorters:
            sorter.give_up_title(rows[place - 1].number)
            sorter.close()
        found += listings
        place += _height(listings)
        beside = frozenset(column.number for listing in listings for column in listing.columns)
        sorters = [Sorter(sheet, listing, beside) for listing in listings if listing.role]
    for sorter in sorters:
        sorter.close()
    return found


def _may_be_head(row: Row) -> bool:
    """Whether a row could hold headings: no numbers, dates or yes-and-no among its cells."""
    return not any(isinstance(value, float | bool | dt.datetime | dt.time) for value in row.cells.values())


def _head_at(sheet: Sheet, place: int, hear: Hear) -> _Head | None:
    """The headings that begin at a row, over one row or two."""
    row = sheet.rows[place]
    below = _next_row(sheet, place)
    if not (_says_a_field(row, hear) or (below and _says_a_field(below, hear))):
        return None
    alone = _Head((row,), tuple(_alone(row, hear)))
    if below:
        under = _Head((below,), tuple(_alone(below, hear)))
        groups = _groups(sheet, row, under)
        both = _Head((row, below), tuple(_joined(row, below, groups, hear)))
        more = both.known > max(alone.known, under.known)
        if both.known >= FEWEST and (groups or more):
            return both
        if under.known >= FEWEST and alone.known < FEWEST and _changes(row, under, hear):
            return both
    heard = sum(1 for column in alone.columns if column.field or column.why)
    will_do = alone.known == FEWEST - 1 and heard * 2 >= len(alone.columns)
    return alone if alone.known >= FEWEST or will_do else None


def _changes(row: Row, under: _Head, hear: Hear) -> bool:
    """Whether a text right above a known heading gives it another meaning, as 'Included' over 'Angle'."""
    over = [(top, one) for one in under.columns if one.field and (top := text_of(row.cells.get(one.number)))]
    if any(one.field == "kind" and kinds_in(top) for top, one in over):
        return False  # a row of items, and the headings of the next table right below it
    if any(one.field == "rated_load" and _OTHER_RATING.search(normal(top)) for top, one in over):
        return True
    heard = ((_both_ways(top, one.heading, hear), one.field) for top, one in over)
    return any((both.field or both.why) and both.field != field for both, field in heard)


def _both_ways(top: str, sub: str, hear: Hear) -> Heard:
    """What two texts of one heading name: 'Included' over 'Angle', or 'From vertical' over 'Angle'."""
    heard = hear(f"{top} {sub}")
    return heard if heard.field or heard.why else hear(f"{sub} {top}")


def _next_row(sheet: Sheet, place: int) -> Row | None:
    """The row right below, if it could hold headings."""
    below = sheet.rows[place + 1] if place + 1 < len(sheet.rows) else None
    return below if below and below.number == sheet.rows[place].number + 1 and _may_be_head(below) else None


def _says_a_field(row: Row, hear: Hear) -> bool:
    return any(hear(text).field for value in row.cells.values() if (text := text_of(value)))


def _alone(row: Row, hear: Hear) -> Iterator[Column]:
    for number in sorted(row.cells):
        if heading := text_of(row.cells[number]):
            yield _column(number, heading, hear(heading))


def _column(number: int, heading: str, heard: Heard) -> Column:
    if is_ours(heading):
        return Column(number, heading, None, None, why="written by rigxl", ours=True)
    return Column(number, heading, *heard)


def _groups(sheet: Sheet, row: Row, under: _Head) -> dict[int, str]:
    """The headings of a row that are merged over several of the row below, by column."""
    groups = {}
    beside = {number for number, value in row.cells.items() if text_of(value)}
    across = len(beside.union(column.number for column in under.columns))
    for area in _merges_at(sheet, row.number):
        text = text_of(row.cells.get(area.first_column))
        over = [one.number for one in under.columns if area.first_column <= one.number <= area.last_column]
        if text and area.last_row == row.number and 1 < len(over) < 0.8 * across:
            groups.update(dict.fromkeys(over, text))
    return groups


def _merges_at(sheet: Sheet, number: int) -> list[Area]:
    return [
        area
        for area in sheet.merges
        if area.first_row <= number <= area.last_row and area.last_column > area.first_column
    ]


def _joined(row: Row, below: Row, groups: dict[int, str], hear: Hear) -> Iterator[Column]:
    for number in sorted(row.cells.keys() | below.cells.keys()):
        top = groups.get(number) or text_of(row.cells.get(number))
        sub = text_of(below.cells.get(number))
        if not (top and sub):
            if top or sub:
                yield _column(number, top or sub, hear(top or sub))
            continue
        heading = f"{top} {sub}"
        heard = _both_ways(top, sub, hear)
        if not (heard.field or heard.why):
            heard = hear(sub)
            if heard.field and not is_neutral(top):
                why = f"'{sub}' stands under '{top}', which may change what it means"
                heard = Heard(None, heard.unit, (heard.field,), why)
        yield _column(number, heading, heard)


def _units_in(head: _Head, row: Row) -> dict[int, str] | None:
    """The units under the headings, by column; None when the row is no row of units."""
    if row.number != head.rows[-1].number + 1:
        return None
    units = {}
    for column in head.columns:
        value = row.cells.get(column.number)
        text = text_of(value)
        if value is None or (text and is_not_known(text)):
            continue
        if not is_unit(text):
            return None
        units[column.number] = text.strip("()[] ")
    return units or None


def _height(listings: list[Listing]) -> int:
    """How many rows the headings take, the row of units included; one where there are none."""
    return len(listings[0].header_rows) + (listings[0].units_row is not None) if listings else 1


def _listings(sheet: Sheet, place: int, head: _Head) -> list[Listing]:
    """One table, or several side by side when each repeats headings of the other."""
    after = place + len(head.rows)
    below = sheet.rows[after] if after < len(sheet.rows) else None
    units = (_units_in(head, below) if below else None) or {}
    units_row = below.number if below and units else None
    columns = [_with_unit(column, units.get(column.number)) for column in head.columns]
    parts: list[list[Column]] = []
    for column in columns:
        if not parts or column.number > parts[-1][-1].number + 1:
            parts.append([])
        parts[-1].append(column)
    known = [{column.field for column in part if column.field} for part in parts]
    apart = len(parts) > 1 and all(len(one) > 1 and one & known[0] for one in known)
    numbers = tuple(row.number for row in head.rows)
    return [Listing(sheet.name, numbers, units_row, tuple(part)) for part in (parts if apart else [columns])]


def _with_unit(column: Column, below: str | None) -> Column:
    """The column with the unit from the row of units; two that differ leave it without one."""
    if below is None or column.unit is None or column.unit == below:
        return column._replace(unit=column.unit or below)
    try:
        same = unit_name(column.unit) == unit_name(below)
    except RigxlError:
        same = False
    if same:
        return column
    return column._replace(unit=None, why=f"its heading says {column.unit} and the row of units {below}")
