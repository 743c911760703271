"""A copy of a workbook for people without an add-in: our functions replaced by what they give.

The formula is kept: in a note on its cell, or on a list where the sheet cannot be given notes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

import rigxl
from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.dependents import dependents
from rigxl.formulas.place import Where
from rigxl.formulas.settled_file import Keeping, write_settled
from rigxl.formulas.spelling import mentions
from rigxl.formulas.worked import Refusal, Worked, agree
from rigxl.formulas.working import Working
from rigxl.workbook import rewrite
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.formulas import CellFormula, cell_formulas
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.places import formula_places
from rigxl.workbook.replacing import Settled
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Formula


class SettledCell(NamedTuple):
    """A formula that was replaced: where, what it was, what it gives, and why where that is an error."""

    where: Where
    formula: str
    value: Settled
    why: str
    fills: str = ""


@dataclass
class Outcome:
    """What settling did."""

    settled: list[SettledCell] = field(default_factory=list)
    differ: int = 0
    """How many formulas stored something else than what they give."""
    refreshed: int = 0
    """How many results of other formulas were brought up to date with them."""
    left: list[str] = field(default_factory=list)
    """What had to stay as it was, in sentences."""
    said: list[str] = field(default_factory=list)


def settle(source: Path, target: Path, *, limits: Limits | None = None) -> Outcome:
    """Write a copy of a workbook in which each formula that calls us is replaced by what it gives.

    A refusal becomes the error that the cell would show. Nothing is written where there is no such formula.

    Args:
        source: The workbook.
        target: The file to write.
        limits: How large the source may be.

    Raises:
        WorkbookError: The workbook cannot be read or altered, or the written file fails its proof.
    """
    workbook = rewrite.open_to_rewrite(source, limits or Limits())
    rewrite.is_itself(source, target, in_place=False)
    book = read_book(source, limits or Limits())
    working, outcome = Working(book), Outcome()
    keeping = Keeping(workbook, book)
    for part in workbook.sheets:
        if part.kind != "worksheet":
            continue
        frame = frame_of(workbook.package.text(part.part).text, part.part)
        sheet = working.places.sheets[part.name.lower()]
        formulas = cell_formulas(frame, part.part)
        keeping.formulas[part.name] = formulas
        for one in formulas:
            if working.ours.mention(one.told.text):
                _settle_one(working, sheet, one, keeping, outcome)
    if not outcome.settled:
        return outcome
    _refresh(working, book, keeping, outcome)
    for place in formula_places(workbook):
        if mentions(place.text):
            outcome.left.append(f"{place.what} calls a function of rigxl and was left as it is")
    write_settled(source, target, keeping)
    outcome.said += keeping.said
    return outcome


def _settle_one(working: Working, sheet: Sheet, one: CellFormula, keeping: Keeping, outcome: Outcome) -> None:
    """Settle one formula, or note why it stays."""
    where = Where(sheet.name, one.row, one.column)
    try:
        if not one.text or not working.ours.called_by(one.text):
            return
        worked = working.work(where)
        values = _values(sheet, one, worked)
    except (UnworkableError, UnreadableFormulaError) as error:
        outcome.left.append(f"{where.address} was left as it is: {error}")
        return
    if not keeping.can_keep(sheet.name):
        outcome.left.append(
            f"{where.address} was left as it is: sheet {sheet.name} can be given no notes, and the structure "
            "of the workbook is locked, so there is no place to keep the formula"
        )
        return
    held = sheet.cell(one.row, one.column)
    if isinstance(held, Formula) and held.calculated and not agree(working.plain(held.result), worked.first):
        outcome.differ += 1
    why = worked.first.sentence if isinstance(worked.first, Refusal) else ""
    relies = f"relying on the stored results of {', '.join(worked.stored)}" if worked.stored else ""
    cell = SettledCell(where, one.text, values[one.row, one.column], why)
    outcome.settled.append(cell)
    keeping.values[sheet.name].update(values)
    keeping.keep(where, _note(cell, one, relies), (one.text, cell.value, why or relies))


def _values(sheet: Sheet, one: CellFormula, worked: Worked) -> dict[tuple[int, int], Settled]:
    """What stands in the cells of a formula; those of an array formula must all be there already."""
    area = one.fills
    cells = [(one.row, one.column)]
    if area is not None:
        cells = [
            (row.number, column)
            for row in sheet.rows
            if area.first_row <= row.number <= area.last_row
            for column in row.cells
            if area.first_column <= column <= area.last_column
        ]
        size = (area.last_row - area.first_row + 1) * (area.last_column - area.first_column + 1)
        if len(cells) != size:
            raise UnworkableError(
                f"only {len(cells)} of the {size} cells that it fills are stored: recalculate it"
            )
    return {(row, column): _settled(worked.at(row - one.row, column - one.column)) for row, column in cells}


def _settled(value: Scalar) -> Settled:
    return 0.0 if value is None else value


def _note(cell: SettledCell, one: CellFormula, relies: str) -> str:
    """What the note on a cell says: the formula, and how its value came about."""
    lines = [f"{{{cell.formula}}}" if one.fills else cell.formula]
    if isinstance(cell.value, CellError):
        lines.append(f"is refused: {cell.why}" if cell.why else f"gives {cell.value}")
    if relies:
        lines.append(relies)
    lines.append(f"replaced by its value by rigxl {rigxl.__version__}")
    return "\n".join(lines)


def _refresh(working: Working, book: Book, keeping: Keeping, outcome: Outcome) -> None:
    """Bring the stored results of formulas that rely on settled cells up to date; drop what is not known."""
    settled = [Where(name, *cell) for name, values in keeping.values.items() for cell in values]
    by_cell = {
        Where(name, one.row, one.column): one for name, found in keeping.formulas.items() for one in found
    }
    for where, _ in dependents(book, settled):
        one = by_cell.get(where)
        held = working.places.sheets[where.sheet.lower()].cell(where.row, where.column)
        if one is None or not isinstance(held, Formula):
            continue
        try:
            worked: Worked | None = working.work(where)
        except (UnworkableError, UnreadableFormulaError):
            worked = None
        known = worked is not None and one.fills is None
        if worked is not None and held.calculated and agree(working.plain(held.result), worked.first):
            continue
        keeping.results[where.sheet][where.row, where.column] = (
            _settled(worked.first) if worked is not None and known else None
        )
        outcome.refreshed += known
        keeping.recalculate = keeping.recalculate or not known
