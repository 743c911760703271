"""The working of a row with the cells it came from, what was assumed and its reasons, as data."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

import rigxl
from rigxl.checks.assembly import WEAKEST
from rigxl.checks.force import ALLOWANCES
from rigxl.checks.judge import MARGIN, reasons
from rigxl.checks.steps import Step
from rigxl.checks.working import working
from rigxl.criteria import Chosen
from rigxl.hardware import kinds
from rigxl.items import NOTE
from rigxl.schedule import report
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.fields import FIELD
from rigxl.workbook.values import Formula, Value, column_number

VERSION = 1
WORKED = frozenset({ALLOWANCES.name, MARGIN.name, WEAKEST.name})
"""Notes that the working, or the table of the lift, says better."""


class Cell(NamedTuple):
    """A field that a step takes in, the cell it stands in, and what is written there."""

    field: str
    where: str
    says: str
    heading: str = ""
    """What stands over it, which gives a bare number its unit."""

    @property
    def told(self) -> str:
        """The cell in a few words."""
        under = f" under '{self.heading}'" if self.heading else ""
        return f"{self.field} {self.where} '{self.says}'{under}"


@dataclass(frozen=True)
class Line:
    """A step with the cells and the criteria behind it."""

    step: Step
    cells: tuple[Cell, ...]
    settings: tuple[Chosen, ...]


@dataclass(frozen=True)
class Explained:
    """The working of one row: its lines, and what was taken for granted."""

    row: CheckedRow
    lines: tuple[Line, ...]
    assumed: tuple[str, ...]


def explain(checked: Checked, row: CheckedRow) -> Explained:
    """The working of a row of a workbook that was checked and not spent."""
    lines = tuple(_line(checked, row, step) for step in working(row.judged, checked.criteria))
    return Explained(row, lines, tuple(dict.fromkeys(_assumed(row, lines))))


def _line(checked: Checked, row: CheckedRow, step: Step) -> Line:
    where = row.line.cells
    cells = (_cell(checked, name, where[name]) for name in step.reads if name in where)
    return Line(step, tuple(cells), tuple(checked.criteria.chosen[name] for name in step.settings))


def _cell(checked: Checked, name: str, where: str) -> Cell:
    sheet, row, column = _place(where)
    found = next((one for one in checked.book.sheets if one.name == sheet), None)
    value = found.cell(row, column) if found else None
    heading = ""
    if isinstance(value, float):
        over = (
            one.heading
            for table in checked.understood.tables
            if table.sheet == sheet and table.first_row <= row <= table.last_row
            for one in table.columns
            if one.number == column
        )
        heading = " ".join(next(over, "").split())
    return Cell(FIELD[name].plain, where, _written(value), heading)


def _assumed(row: CheckedRow, lines: Iterable[Line]) -> Iterator[str]:
    """What was taken for granted where the row does not say it, and how its cells were read."""
    item = row.judged.item
    if item.position and "position" not in row.line.cells and item.kind in kinds():
        yield f"its position is not stated: taken as {item.position}, where a {item.kind} hangs"
    for line in lines:
        yield from (said for said in line.step.remarks if ": taken as" in said)
    for one in row.judged.findings:
        if one.outcome == NOTE and one.rule.name not in WORKED:
            yield one.sentence
    yield from row.line.notes
    if row.line.hidden:
        yield "the row is hidden in the workbook: it is judged all the same"


def _place(where: str) -> tuple[str, int, int]:
    """The sheet, row and column of an address.

    >>> _place("Gear list!C17")
    ('Gear list', 17, 3)
    """
    sheet, _, cell = where.rpartition("!")
    letters = cell.rstrip("0123456789")
    return sheet, int(cell[len(letters) :]), column_number(letters)


def _written(value: Value) -> str:
    if isinstance(value, Formula):
        return f"{value.text}, worked out as {_written(value.result)}" if value.calculated else value.text
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, float):
        return f"{value:.15g}"
    if isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat()
    return "" if value is None else str(value)


def value_of(chosen: Chosen) -> str:
    """A setting's value as people read it.

    >>> from rigxl.criteria import Criteria
    >>> value_of(Criteria.ready().chosen["margin"]), value_of(Criteria.ready().chosen["accepted makers"])
    ('0.25', 'none')
    """
    value = chosen.value
    if isinstance(value, tuple):
        return ", ".join(map(str, value)) or "none"
    return f"{value:g}" if isinstance(value, float) else str(value)


def document(checked: Checked, explained: Explained) -> dict[str, Any]:
    """The whole of ``rigxl why --json``."""
    row, item = explained.row, explained.row.judged.item
    return {
        "report": "rigxl why",
        "version": VERSION,
        "rigxl": rigxl.__version__,
        "cautions": list(report.CAUTIONS),
        "file": str(checked.book.path),
        "sha256": checked.book.sha256,
        "judged by": checked.criteria.title,
        "judged on": checked.criteria.judged_on.isoformat(),
        "sheet": row.sheet,
        "row": row.row,
        "item": row.name,
        "lift": item.lift,
        "kind": item.kind,
        "position": item.position,
        "verdict": row.verdict,
        "steps": [_data(line) for line in explained.lines],
        "assumed": list(explained.assumed),
        "reasons": [report.reason(one) for one in reasons(row.judged) if one.outcome != NOTE],
    }


def _data(line: Line) -> dict[str, Any]:
    step = line.step
    return {
        "name": step.name,
        "formula": step.formula,
        "numbers": step.numbers,
        "result": None if step.result is None else {"value": step.result, "unit": step.unit},
        "shown": step.shown,
        "source": step.source.cited,
        "cells": [cell._asdict() for cell in line.cells],
        "settings": [
            {
                "setting": one.name,
                "value": value_of(one),
                "chosen by": one.chosen_by,
                "source": one.source.cited,
            }
            for one in line.settings
        ],
        "remarks": list(step.remarks),
    }
