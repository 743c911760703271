"""What formulas give on what stands in the cells now, beside the results that are stored with them."""

from __future__ import annotations

from functools import cached_property

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.place import Where
from rigxl.formulas.working import Working
from rigxl.workbook.contents import Book
from rigxl.workbook.likeness import ANCHOR
from rigxl.workbook.moved import moved
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Plain

NEAR = 1e-6
"""A stored result this near to what the formula gives is no other, relative."""


class Stored:
    """The stored results of a workbook, against what its formulas give on what stands in the cells now."""

    def __init__(self, book: Book) -> None:
        self._book = book

    @cached_property
    def _working(self) -> Working:
        return Working(self._book)

    def renewed(self, where: Where, stored: Plain) -> Scalar:
        """What the formula of a cell gives, where that is not what is stored; else None."""
        try:
            given = self._working.work(where).first
        except (UnworkableError, UnreadableFormulaError):
            return None
        return None if isinstance(given, CellError) or _same(stored, given) else given

    def instead(self, where: Where, form: str) -> Scalar:
        """What a formula, as it reads in ``ANCHOR``, would give in a cell; None where it is not known."""
        try:
            given = self._working.instead(where, moved(form, where.row - ANCHOR, 0)) if form else None
        except (UnworkableError, UnreadableFormulaError):
            return None
        return None if isinstance(given, CellError) else given


def _same(stored: Plain, given: Scalar) -> bool:
    """Whether a stored result is what its formula gives; of different sorts they are not compared."""
    if isinstance(stored, float) and isinstance(given, float):
        return abs(stored - given) <= NEAR * max(abs(stored), abs(given), NEAR)
    return type(stored) is not type(given) or stored == given
