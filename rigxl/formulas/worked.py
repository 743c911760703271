"""What working out a formula comes to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import NA, Scalar, UnworkableError
from rigxl.formulas.place import Where
from rigxl.functions.columns import Refused

Rows: TypeAlias = list[list[Scalar]]
AGREE = 1e-9


class Refusal(CellError):  # noqa: N818
    """The error that a function of ours gives, with the sentence that says why."""

    sentence: str

    def __new__(cls, refused: Refused) -> Refusal:
        made = super().__new__(cls, "#N/A" if refused.code == "NA" else f"#{refused.code}!")
        made.sentence = refused.sentence
        return made


class CircularError(UnworkableError):
    """A formula that needs its own result."""


@dataclass(slots=True)
class Worked:
    """What a formula gives: one value, or rows of them for an array formula.

    ``stored`` are the cells whose stored results it relies on, as they could not be worked out; ``ours`` says
    that a function of ours had a part in it.
    """

    value: Scalar | Rows
    stored: list[str] = field(default_factory=list)
    ours: bool = False

    @property
    def first(self) -> Scalar:
        """The value of the cell itself."""
        return self.value[0][0] if isinstance(self.value, list) else self.value

    def at(self, row: int, column: int) -> Scalar:
        """The value so many rows below and columns right of the first, as an array formula fills its area."""
        if not isinstance(self.value, list):
            return self.value
        rows = self.value
        row = 0 if len(rows) == 1 else row
        column = 0 if len(rows[0]) == 1 else column
        return rows[row][column] if row < len(rows) and column < len(rows[0]) else NA


def circular(chain: Sequence[Where]) -> CircularError:
    """The refusal of cells of which each needs the next, and the last the first."""
    cells = [where.address for where in (*chain, chain[0])]
    shown = cells if len(cells) <= 6 else [*cells[:3], "…", *cells[-2:]]
    return CircularError(f"it runs in a circle: {' → '.join(shown)}")


def agree(one: Scalar, other: Scalar) -> bool:
    """Whether two results are the same: numbers to 1e-9, a yes as good as a 1, errors whatever their name."""
    if isinstance(one, CellError) or isinstance(other, CellError):
        return isinstance(one, CellError) and isinstance(other, CellError)
    if isinstance(one, str) or isinstance(other, str):
        return ("" if one is None else one) == ("" if other is None else other)
    return math.isclose(one or 0.0, other or 0.0, rel_tol=AGREE, abs_tol=1e-12)
