"""A column as a whole: cells typed over among its formulas, formulas unlike their neighbours'.

Rows that are used alike, by position, kind and hitch, should have one formula; rows that are used otherwise
may well have another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Hashable, Sequence
from typing import NamedTuple

from rigxl.items import Rule
from rigxl.opinion.rules import ODD_FORMULA, OTHER_ROW, TYPED_OVER
from rigxl.schedule.listing import Listing
from rigxl.units import is_not_known
from rigxl.workbook.likeness import Likeness, looks, looks_at_own_row
from rigxl.workbook.values import Formula, Value


def works_out(listing: Listing) -> bool:
    """Whether a table has figures that its sheet works out itself, or any formula."""
    if any(column.worked and not column.field for column in listing.columns):
        return True
    return any(Formula in map(type, row.cells.values()) for row in listing.rows)


class Wanted(NamedTuple):
    """How sure it must be before a cell is called unlike its neighbours.

    ``formulas`` there must be at least, ``times`` as many as there are cells of the other sort.
    """

    formulas: int
    times: int


WORKED_OUT = Wanted(3, 3)
"""In a column of figures that the sheet works out."""
ANY_OTHER = Wanted(4, 4)
"""In any other, where people rightly type some and let others be looked up."""
OFF = Wanted(1, 1)
"""For a figure that is off: then a smaller sign will do."""


class Odd(NamedTuple):
    """What is odd about a cell: the rule, the words for it, and the formula that is usual in its place."""

    rule: Rule
    words: str
    usual: str = ""


Cell = tuple[int, Value, Hashable]
"""A cell of the column: its row, what it holds, and how its row is used."""


class _Alike:
    """The cells of rows that are used alike: how many have which formula, and how many are typed."""

    def __init__(self) -> None:
        self.forms: Counter[str] = Counter()
        self.typed = 0
        self.usual, self.most, self.formulas = "", 0, 0

    def settle(self) -> None:
        """Once all cells are counted."""
        self.formulas = self.forms.total()
        if self.forms:
            self.usual, self.most = self.forms.most_common(1)[0]


class Neighbours:
    """One column's cells beside each other.

    Args:
        cells: Those that hold something, from the top.
        wanted: How sure it must be.
    """

    def __init__(self, cells: Sequence[Cell], wanted: Wanted) -> None:
        self.wanted = wanted
        self.forms: dict[int, str] = {}
        """By row, how each formula reads in one and the same row; a cell without a formula has none."""
        self.all = _Alike()
        self._of: dict[int, _Alike] = {}
        by_use: dict[Hashable, _Alike] = {}
        likeness = Likeness()
        for row, value, use in cells:
            alike = by_use.get(use) or by_use.setdefault(use, _Alike())
            form = likeness.of(value, row) if isinstance(value, Formula) else None
            if form is not None and not _as_good_as_typed(form):
                self.forms[row] = form
                alike.forms[form] += 1
                self.all.forms[form] += 1
            elif is_not_known(value):
                continue
            else:
                alike.typed += 1
                self.all.typed += 1
            self._of[row] = alike
        for alike in (*by_use.values(), self.all):
            alike.settle()
        self.even = not self.all.typed and len(self.all.forms) == 1 and looks_at_own_row(self.all.usual)
        """Whether it is one formula from top to bottom, so that no cell of it is odd."""

    def usual(self, row: int) -> str:
        """The formula that most cells of rows used alike have, or else most of the column; empty for none."""
        alike = self._of.get(row)
        return (alike.usual if alike else "") or self.all.usual

    def odd(self, row: int, is_off: bool, others: Container[int], is_verdict: bool = False) -> Odd | None:
        """What is odd about a cell.

        Args:
            row: Its row.
            is_off: Whether its figure is known to be off.
            others: The rows of items, its own among them.
            is_verdict: Whether it is a verdict, which is never another row's.
        """
        if self.even:
            return None
        form = self.forms.get(row)
        if form is None:
            return self._typed_over(row, is_off)
        if not form:
            return None
        if (is_off or is_verdict) and (elsewhere := _elsewhere(form, row, others)):
            return Odd(OTHER_ROW, f"it looks at row {elsewhere} and not at its own", self.usual(row))
        return self._unlike(row, form, is_off)

    def _typed_over(self, row: int, is_off: bool) -> Odd | None:
        alike = self._of.get(row)
        if alike is None:
            return None
        if self.wanted is WORKED_OUT:
            enough = alike.formulas >= max(1, alike.typed) and self.all.formulas > 1
        else:
            enough = alike.formulas >= max(self.wanted.formulas, self.wanted.times * alike.typed)
        if not enough and not (is_off and self.all.formulas >= max(1, self.all.typed)):
            return None
        many = f"{self.all.formulas} other cells of the column have a formula"
        one = "the only other cell of the column has a formula"
        return Odd(TYPED_OVER, f"it is typed, and {many if self.all.formulas > 1 else one}", self.usual(row))

    def _unlike(self, row: int, form: str, is_off: bool) -> Odd | None:
        for wanted, alike in ((self.wanted, self._of[row]), (OFF, self.all)):
            if wanted is OFF and not is_off:
                continue
            enough = alike.most > max(wanted.formulas, wanted.times * alike.forms[form])
            if alike.usual and alike.usual != form and enough:
                count = self.all.forms[alike.usual]
                words = f"its formula is not that of {count} other cells of the column"
                return Odd(ODD_FORMULA, words, alike.usual)
        return None


def _as_good_as_typed(form: str) -> bool:
    """Whether a formula looks at nothing, such as =4.2*1.1."""
    return bool(form) and not looks_at_own_row(form) and looks(form).nowhere


def _elsewhere(form: str, row: int, others: Container[int]) -> int | None:
    """The row of another item that a formula looks at, while it does not look at its own."""
    if looks_at_own_row(form):
        return None
    seen = looks(form)
    found = (*sorted(seen.fixed), *(row + offset for offset in sorted(seen.offsets)))
    return next((one for one in found if one != row and one in others), None)
