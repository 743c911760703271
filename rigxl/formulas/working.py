"""Working out the formulas of a workbook that call our functions, from the workbook alone.

A cell that another formula fills keeps its stored result where that formula cannot be worked out here, and
what depends on it says so. Nothing is guessed: what cannot be worked out is an :class:`UnworkableError`.
"""

from __future__ import annotations

import datetime as dt

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.ours import Ours
from rigxl.formulas.place import Cells, Places, Where
from rigxl.formulas.run import Run
from rigxl.formulas.tree import shaped
from rigxl.formulas.worked import CircularError, Worked, agree, circular
from rigxl.workbook.contents import Book
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Area, Formula, Plain

MOST_STEPS = 10_000_000
"""Cells and operations for one workbook, so that a hostile one comes to an end."""
DEEPEST = 12
"""Cells that wait for each other before the deepest is worked out apart."""


class _FirstError(Exception):
    """Another cell has to be worked out first, for the chain of cells has become long."""

    def __init__(self, where: Where) -> None:
        super().__init__(where)
        self.where = where


class Working:
    """Works out the formulas of one workbook; each once."""

    def __init__(self, book: Book) -> None:
        self.places = Places(book)
        self.ours = Ours(book.names)
        self._epoch_1904 = book.date_1904
        self._done: dict[Where, Worked | UnworkableError | UnreadableFormulaError] = {}
        self._busy: dict[Where, None] = {}
        self._steps = MOST_STEPS
        self._used: dict[str, Area] = {}
        self.grids: dict[Cells, Worked] = {}
        """The values of areas, for the formulas that use them again."""
        self._filled: list[tuple[str, Area]] = []
        """The areas that array formulas of ours fill."""
        for sheet in book.sheets:
            for row in sheet.rows:
                for value in row.cells.values():
                    if isinstance(value, Formula) and value.fills and self.ours.mention(value.written):
                        self._filled.append((sheet.name, value.fills))

    def work(self, where: Where) -> Worked:
        """What the formula of a cell gives.

        Raises:
            UnworkableError: It cannot be worked out; says why.
            UnreadableFormulaError: It cannot be taken apart.
        """
        waiting = [where]
        while True:
            try:
                found = self._worked(waiting[-1])
            except _FirstError as first:
                self._busy.clear()
                if first.where in waiting:
                    circle = waiting[waiting.index(first.where) :]
                    self._done[first.where] = circular(circle)
                else:
                    waiting.append(first.where)
                continue
            except (UnworkableError, UnreadableFormulaError):
                if len(waiting) == 1:
                    raise
                waiting.pop()
                continue
            waiting.pop()
            if not waiting:
                return found

    def instead(self, where: Where, text: str) -> Scalar:
        """What a formula would give in a cell that holds another one, or none.

        Raises:
            UnworkableError: It cannot be worked out; says why.
            UnreadableFormulaError: It cannot be taken apart.
        """
        shape = shaped(text)
        run = Run(self, where, array=False, cells=shape.cells)
        value = run.result(shape.tree)
        if isinstance(value, Cells):
            value = run.one(value)
        return value[0][0] if isinstance(value, list) else value

    def _worked(self, where: Where) -> Worked:
        known = self._done.get(where)
        if known is None:
            if where in self._busy:
                chain = list(self._busy)
                raise circular(chain[chain.index(where) :])
            if len(self._busy) >= DEEPEST:
                raise _FirstError(where)
            self._busy[where] = None
            try:
                known = self._once(where)
            except _FirstError:
                raise
            except (UnworkableError, UnreadableFormulaError) as error:
                known = error
            except RecursionError:
                known = UnworkableError("it is nested too deep to be worked out here")
            finally:
                self._busy.pop(where, None)
            self._done[where] = known
        if isinstance(known, Worked):
            return known
        raise known

    def _once(self, where: Where) -> Worked:
        cell = self.places.sheets[where.sheet.lower()].cell(where.row, where.column)
        assert isinstance(cell, Formula)
        if not cell.text:
            raise UnreadableFormulaError("the file does not tell its formula")
        shape = shaped(cell.text)
        run = Run(self, where, array=cell.fills is not None, cells=shape.cells)
        value = run.result(shape.tree)
        if isinstance(value, Cells):
            value = run.rows(value) if cell.fills else run.one(value)
        if isinstance(value, list) and cell.fills is None:
            value = value[0][0]
        if value is None:
            value = 0.0
        return Worked(value, run.stored, run.ours)

    def used(self, sheet: str) -> Area:
        """From A1 to the last row and column that hold something."""
        if sheet not in self._used:
            rows = self.places.sheets[sheet.lower()].rows
            last = max((max(row.cells, default=1) for row in rows), default=1)
            self._used[sheet] = Area(1, 1, rows[-1].number if rows else 1, last)
        return self._used[sheet]

    def spend(self, steps: int) -> None:
        """Count steps against the limit."""
        self._steps -= steps
        if self._steps < 0:
            raise UnworkableError("the workbook asks for more work than is done for one workbook")

    def cell(self, sheet: str, row: int, column: int, run: Run) -> Scalar:
        """The value of a cell; what had a part in it is noted in the run."""
        value = self.places.sheets[sheet.lower()].cell(row, column)
        if isinstance(value, Formula):
            return self._of_formula(Where(sheet, row, column), value, run)
        area = self._filling(sheet, row, column)
        return self._from_area(Where(sheet, *area[:2]), area, row, column, run) if area else self.plain(value)

    def _filling(self, sheet: str, row: int, column: int) -> Area | None:
        """The area of an array formula of ours that a cell lies in, not being its first."""
        for owner, area in self._filled:
            inside = (
                area.first_row <= row <= area.last_row and area.first_column <= column <= area.last_column
            )
            if owner == sheet and inside and (row, column) != area[:2]:
                return area
        return None

    def _from_area(self, first: Where, area: Area, row: int, column: int, run: Run) -> Scalar:
        worked = self._worked(first)
        run.note(worked)
        return worked.at(row - area.first_row, column - area.first_column)

    def _of_formula(self, where: Where, formula: Formula, run: Run) -> Scalar:
        """A formula's own result where ours has a part in it, else the stored one as far as there is one."""
        if not formula.text and (area := self._filling(*where)):
            return self._from_area(Where(where.sheet, *area[:2]), area, where.row, where.column, run)
        stored = self.plain(formula.result)
        try:
            worked = self._worked(where)
        except CircularError:
            raise
        except (UnworkableError, UnreadableFormulaError) as error:
            name = where.address
            if self.ours.mention(formula.text):
                raise UnworkableError(f"{name} cannot be worked out: {error}") from error
            if not formula.calculated:
                raise UnworkableError(
                    f"{name} holds a formula that was never calculated ({formula.text})"
                ) from error
            run.rely_on(name)
            return stored
        if worked.ours or not formula.calculated or isinstance(stored, CellError):
            run.note(worked)
            return worked.first
        if agree(stored, worked.first):
            run.note(worked)
        else:
            run.rely_on(where.address)
        return stored

    def plain(self, value: Plain) -> Scalar:
        """A stored value as formulas see it: dates are serial numbers."""
        if isinstance(value, dt.datetime | dt.time):
            from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH, to_excel

            return float(to_excel(value, MAC_EPOCH if self._epoch_1904 else WINDOWS_EPOCH))  # type: ignore[no-untyped-call]
        return value
