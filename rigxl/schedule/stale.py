"""Inputs worked out by formulas whose stored results are out of date: each is as if it was never calculated.

A load of 5 t whose cell still stores the 1 t of before would pass. What is stored is held against a
formula only where rigxl works that out itself; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from rigxl.formulas.place import Where
from rigxl.schedule.map import Understood
from rigxl.schedule.stored import Stored
from rigxl.workbook.contents import Book
from rigxl.workbook.values import Formula, Row

Looked: TypeAlias = tuple[str, Row, Iterable[int]]
"""A sheet's name, one of its rows, and the columns that are inputs."""


def withdraw(book: Book, understood: Understood) -> None:
    """Take results that are out of date out of the inputs and the criteria of a workbook, in place."""
    formulas = Stored(book)
    for sheet, row, columns in (*_inputs(understood), *_criteria(book, understood)):
        for column in columns:
            value = row.cells.get(column)
            if not isinstance(value, Formula) or not value.calculated:
                continue
            if said := formulas.out_of_date(Where(sheet, row.number, column), value.result):
                row.cells[column] = value._replace(calculated=False, doubt=f" {said}: recalculate and save")


def _inputs(understood: Understood) -> Iterator[Looked]:
    for table in understood.tables:
        columns = [column.number for column in table.columns if column.field and not column.ours]
        for row in table.rows:
            if Formula in map(type, row.cells.values()):
                yield table.sheet, row, columns


def _criteria(book: Book, understood: Understood) -> Iterator[Looked]:
    for sheet in book.sheets:
        if understood.role_of(sheet.name) == "criteria":
            yield from ((sheet.name, row, tuple(row.cells)) for row in sheet.rows)
