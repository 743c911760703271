"""What formulas give on what stands in the cells now, beside the results that are stored with them."""

from __future__ import annotations

import datetime as dt
from functools import cached_property

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.place import Where
from rigxl.formulas.working import Working
from rigxl.workbook.areas import read_area
from rigxl.workbook.contents import Book
from rigxl.workbook.likeness import ANCHOR
from rigxl.workbook.moved import moved
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Formula, Plain

NEAR = 1e-6
"""A stored result this near to what the formula gives is no other, relative."""


class Stored:
    """The stored results of a workbook, against what its formulas give on what stands in the cells now."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._said: dict[Where, str] = {}

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

    def out_of_date(self, where: Where, stored: Plain) -> str:
        """What is amiss with a stored result: it, or one it relies on, is not what its formula gives now."""
        if where not in self._said:
            self._said[where] = ""  # where cells go in a circle
            self._said[where] = self._out_of_date(where, stored)
        return self._said[where]

    def _out_of_date(self, where: Where, stored: Plain) -> str:
        try:
            worked = self._working.work(where)
        except (UnworkableError, UnreadableFormulaError):
            return ""
        given = worked.first
        plain = self._working.plain(stored)
        if not isinstance(given, CellError) and not _same(plain, given):
            shown = "another value" if plain is not stored else f"{_shown(given)}"
            return f"stores {_shown(stored)}, but its formula gives {shown} on what stands there now"
        for address in worked.stored:
            sheet, _, cell = address.rpartition("!")
            area = read_area(cell)
            assert area is not None
            other = Where(sheet, *area[:2])
            held = self._working.places.sheets[sheet.lower()].cell(*area[:2])
            if (
                isinstance(held, Formula)
                and held.calculated
                and (said := self.out_of_date(other, held.result))
            ):
                return f"relies on {address}, which {said}"
        return ""

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


def _shown(value: Plain) -> str:
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, bool):
        return str(value).upper()
    return f"{value:.6g}" if isinstance(value, float) else f"'{'' if value is None else value}'"
