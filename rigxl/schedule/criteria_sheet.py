"""Criteria found in a workbook: a sheet with a setting's name in one column and its value in the next."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator

from rigxl.criteria import Criteria
from rigxl.criteria.settings import BY_NAME
from rigxl.errors import InputError
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import CellError, Formula, Row, Value, cell_name

HEADINGS = frozenset({"setting", "criterion", "criteria", "name"})
READY_SET = "ready set"


def _text(value: Value, address: str) -> str:
    if isinstance(value, Formula):
        if not value.calculated:
            why = value.doubt or " holds a formula that was never calculated: recalculate and save"
            raise InputError(address + why)
        value = value.result
    if isinstance(value, CellError):
        raise InputError(f"{address} holds the error {value}: a value is needed")
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, bool):
        raise InputError(f"{address} holds {'TRUE' if value else 'FALSE'}: a value is needed")
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def _pairs(sheet: Sheet) -> Iterator[tuple[Row, int, str]]:
    """The rows that name a setting: the row, the column of the name, the name; a number may come first."""
    for row in sheet.rows:
        for column, value in sorted(row.cells.items()):
            if not value or isinstance(value, float):
                continue
            beside = row.cells.get(column + 1)
            if isinstance(value, str | Formula) and beside is not None:
                yield row, column, _text(value, f"{sheet.name}!{cell_name(row.number, column)}")
            elif isinstance(value, str) and value.strip().lower() in BY_NAME:
                _refuse_apart(sheet, row, column, value)
            break


def _refuse_apart(sheet: Sheet, row: Row, column: int, name: str) -> None:
    """A value that stands apart from its setting is not what the setting means, and is not passed over."""
    for number, value in sorted(row.cells.items()):
        if number > column and (isinstance(value, float) or (isinstance(value, str) and value[:1].isdigit())):
            raise InputError(
                f"{sheet.name}!{cell_name(row.number, number)} stands apart from the setting '{name}': "
                f"write its value in {cell_name(row.number, column + 1)}, right beside the name"
            )


def _refuse_twice(sheet: Sheet, pairs: Iterable[tuple[str, str, int]]) -> None:
    """One setting with two values has none."""
    first: dict[str, tuple[str, int]] = {}
    for name, value, number in pairs:
        said, row = first.setdefault(name.strip().lower(), (value, number))
        if said != value:
            raise InputError(
                f"rows {row} and {number} of sheet '{sheet.name}' both set {name}, to '{said}' and "
                f"'{value}': keep one of them"
            )


def apply(criteria: Criteria, sheet: Sheet) -> Criteria:
    """The criteria with what a sheet overrides; a ready set it names replaces the ground they stand on.

    Raises:
        InputError: A setting or a value that is not understood, with its cell.
    """
    pairs = [
        (name, _text(row.cells[column + 1], f"{sheet.name}!{cell_name(row.number, column + 1)}"), row.number)
        for row, column, name in _pairs(sheet)
        if name.strip().lower() not in HEADINGS
    ]
    _refuse_twice(sheet, pairs)
    for name, value, _ in pairs:
        if name.strip().lower() == READY_SET:
            criteria = Criteria.ready(value)
    for name, value, number in pairs:
        if name.strip().lower() == READY_SET or (value == "" and not name):
            continue
        criteria = criteria.override({name: value}, f"sheet '{sheet.name}', row {number}")
    return criteria
