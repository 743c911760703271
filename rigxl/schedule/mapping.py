"""What a person says of columns whose headings do not speak for themselves.

A mapping is a small table: in a CSV file, or on a sheet named "Columns" of the workbook itself.

    Sheet,Column,Heading,Field,Unit
    Rigging,,Trak,rated load,t
    Rigging,F,,leave alone,
    Rigging,,S in leg,leg tension,kN

``Sheet`` may be blank for every sheet; of ``Column`` (its letter) and ``Heading`` one is enough. A figure
that the sheet works out itself, such as the leg tension, is held against ours and never taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from rigxl.errors import InputError
from rigxl.schedule.fields import FIELD, FIELDS
from rigxl.schedule.headings import field_named, hear, plain, propose
from rigxl.units import is_unit
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import Formula, Value, column_number

SHEET_NAME = "columns"
LEFT_ALONE = frozenset({"leave alone", "left alone", "ignore", "ignored", "none", "not used", "-", "skip"})
_HEADINGS = ("sheet", "column", "heading", "field", "unit")


class Choice(NamedTuple):
    """One line of a mapping; ``field`` is None for a column to leave alone, ``where`` says who chose it.

    ``worked`` is the figure that the sheet works out in the column itself, which gives no field.
    """

    sheet: str
    column: int | None
    heading: str
    field: str | None
    unit: str | None
    where: str
    worked: str = ""

    def concerns(self, sheet: str) -> bool:
        """Whether it is about this sheet."""
        return not self.sheet or plain(self.sheet) == plain(sheet)


class Mapping(NamedTuple):
    """Every choice, the first of two for one column counting."""

    choices: tuple[Choice, ...] = ()


def read_mapping(path: Path) -> Mapping:
    """A mapping from a CSV file whose columns are named sheet, column, heading, field and unit.

    Raises:
        InputError: The file cannot be read as such, or names a field or unit that is not known.
    """
    import csv

    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{path} cannot be read as a mapping: {error}") from None
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    table = list(csv.reader(text.splitlines(), delimiter=delimiter))
    lines = [(f"{Path(path).name}, line {number}", cells) for number, cells in enumerate(table, 1)]
    return _mapping(lines, str(path))


def is_mapping(sheet: Sheet) -> bool:
    """Whether a sheet is a mapping: named for it, and with its headings."""
    return plain(sheet.name) == SHEET_NAME and bool(sheet.rows) and _places(_texts(sheet, 0)) is not None


def mapping_on(sheet: Sheet) -> Mapping:
    """The mapping on a sheet."""
    lines = [
        (f"sheet '{sheet.name}', row {row.number}", _texts(sheet, place))
        for place, row in enumerate(sheet.rows)
    ]
    return _mapping(lines, f"sheet '{sheet.name}'")


def _texts(sheet: Sheet, place: int) -> list[str]:
    cells = sheet.rows[place].cells
    return [_text(cells.get(column)) for column in range(1, max(cells, default=0) + 1)]


def _text(value: Value) -> str:
    if isinstance(value, Formula):
        value = value.result
    return "" if value is None else str(value).strip()


def _places(cells: Sequence[str]) -> dict[str, int] | None:
    """Where each heading of the mapping stands; None when this is no mapping."""
    names = [cell.strip().lower() for cell in cells]
    places = {name: place for place, name in enumerate(names) if name in _HEADINGS}
    return places if "field" in places and ("heading" in places or "column" in places) else None


def _mapping(lines: Iterable[tuple[str, Sequence[str]]], name: str) -> Mapping:
    filled = [(where, cells) for where, cells in lines if any(cell.strip() for cell in cells)]
    places = _places(filled[0][1]) if filled else None
    if places is None:
        raise InputError(
            f"{name} is no mapping: its first row must name its columns: sheet, column, heading, field, unit"
        )
    choices = []
    for where, cells in filled[1:]:
        said = {key: cells[place].strip() if place < len(cells) else "" for key, place in places.items()}
        choices.append(_choice(where, said))
    return Mapping(tuple(choices))


def _choice(where: str, said: dict[str, str]) -> Choice:
    letters, heading, unit = said.get("column", ""), said.get("heading", ""), said.get("unit", "")
    if not letters and not heading:
        raise InputError(f"{where}: name the column by its letter or its heading")
    if letters and not (letters.isascii() and letters.isalpha() and len(letters) <= 3):
        raise InputError(f"{where}: '{letters}' is not a column: write its letter, such as F")
    if unit and not is_unit(unit):
        raise InputError(f"{where}: '{unit}' is not a unit: write one such as t, kN, lb, mm, in or deg")
    worked = hear(said["field"]).worked
    return Choice(
        said.get("sheet", ""),
        column_number(letters) if letters else None,
        heading,
        None if worked else _field(where, said["field"]),
        unit or None,
        where,
        worked,
    )


def _field(where: str, text: str) -> str | None:
    if text.lower() in LEFT_ALONE:
        return None
    name = field_named(text) if text else None
    if name is None:
        close = " or ".join(f"'{FIELD[one].plain}'" for one in propose(text)) if text else ""
        rest = (
            f": {close} may be meant"
            if close
            else f": the fields are {', '.join(one.name for one in FIELDS)}"
        )
        raise InputError(f"{where}: '{text}' is not a field of a schedule{rest}")
    return name
