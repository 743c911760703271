"""Criteria found in a workbook: a sheet with a setting's name in one column and its value in the next."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from rigxl.criteria import Criteria
from rigxl.errors import InputError
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import CellError, Formula, Row, Value, cell_name

HEADINGS = frozenset({"setting", "criterion", "criteria", "name"})
READY_SET = "ready set"


def _text(value: Value, address: str) -> str:
    if isinstance(value, Formula):
        if not value.calculated:
            raise InputError(f"{address} holds a formula that was never calculated: recalculate and save")
        value = value.result
    if isinstance(value, CellError):
        raise InputError(f"{address} holds the error {value}: a value is needed")
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, bool):
        raise InputError(f"{address} holds {'TRUE' if value else 'FALSE'}: a value is needed")
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def _pairs(rows: Iterable[Row]) -> Iterable[tuple[Row, int, str]]:
    """The rows that name a setting: the row, the column of the name, the name."""
    for row in rows:
        named = next(((column, value) for column, value in sorted(row.cells.items()) if value), None)
        if named and isinstance(named[1], str) and row.cells.get(named[0] + 1) is not None:
            yield row, named[0], named[1]


def apply(criteria: Criteria, sheet: Sheet) -> Criteria:
    """The criteria with what a sheet overrides; a ready set it names replaces the ground they stand on.

    Raises:
        InputError: A setting or a value that is not understood, with its cell.
    """
    pairs = [
        (name, _text(row.cells[column + 1], f"{sheet.name}!{cell_name(row.number, column + 1)}"), row.number)
        for row, column, name in _pairs(sheet.rows)
        if name.strip().lower() not in HEADINGS
    ]
    for name, value, _ in pairs:
        if name.strip().lower() == READY_SET:
            criteria = Criteria.ready(value)
    for name, value, number in pairs:
        if name.strip().lower() == READY_SET or (value == "" and not name):
            continue
        criteria = criteria.override({name: value}, f"sheet '{sheet.name}', row {number}")
    return criteria
