"""One column of figures or verdicts that the sheet works out itself, cell by cell held against ours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import log
from typing import NamedTuple

from rigxl.errors import RigxlError
from rigxl.items import FAIL, HOLD, PASS, Item
from rigxl.opinion.agreement import agree, decimals
from rigxl.opinion.causes import likely_causes
from rigxl.opinion.figures import CHECKS, FIGURES, Case
from rigxl.opinion.verdicts import verdict_in
from rigxl.schedule.cells import Reader
from rigxl.schedule.fields import Field
from rigxl.schedule.listing import Column
from rigxl.units import Habits, show_force, show_pair, to_unit
from rigxl.workbook.values import CellError, Formula, Plain, Value

HUNDREDTH = 0.01
"""What one of a figure in per cent is."""


class Held(NamedTuple):
    """A cell held against ours: whether the two agree, both as people read them, and their ratio."""

    agrees: bool
    says: str
    ours: str
    ratio: float = 1.0
    is_kinder: bool = False
    """Whether the sheet passes what this check does not."""


AGREES = Held(True, "", "")


def result_of(value: Value) -> Plain:
    """What a cell shows; None where nothing is known of it."""
    if isinstance(value, Formula):
        value = value.result if value.calculated else None
    return None if isinstance(value, CellError) else value


Candidate = tuple[float, float, str]
"""What a cell may say, in N, degrees or as a ratio; what one of its unit is; and the unit."""


class FigureColumn:
    """A column of figures.

    Args:
        column: The column.
        name: The figure it holds.
        habits: What the criteria say a ton and a decimal mark are.
        values: Its cells, from which its rounding is seen.
    """

    def __init__(self, column: Column, name: str, habits: Habits, values: Iterable[Value]) -> None:
        self.figure = FIGURES[name]
        self.name, self.plain = name, self.figure.plain
        self.is_force = self.figure.read == "force"
        self._unit = column.unit if self.figure.read != "ratio" else None
        self._percent = column.unit == "%"
        self._field = Field(name, self.plain, self.figure.read, self.plain)
        self._habits = habits
        self._readers: dict[str | None, tuple[Reader, float | None, str]] = {}
        self._decimals = _finest(values)
        self._whole = self._decimals == 0
        self._at_once = self._bare()

    def held(self, cell: Value, case: Case) -> Held | None:
        """A cell held against ours; None where it says no figure, or we have none."""
        shown = result_of(cell)
        if shown is None or isinstance(shown, bool):
            return None
        answers = self.figure.answers(case)
        if not answers:
            return None
        if self._at_once and type(shown) is float:
            factor, grain = self._at_once
            if agree(shown * factor, answers[0], grain, self._whole):
                return AGREES
        candidates = list(self._candidates(shown, case.item))
        for said, factor, _ in candidates:
            grain = self._grain(factor)
            whole = self._whole and factor != HUNDREDTH
            if any(agree(said, ours, grain, whole) for ours in answers):
                return AGREES
        if not candidates:
            return None
        ours = answers[0]
        said, _, unit = _nearest(candidates, ours)
        says, works_out = self._both(said, ours, unit)
        return Held(False, says, works_out, said / ours if ours else 0.0)

    def _bare(self) -> tuple[float, float] | None:
        """What one of a bare number is and the grain, where that can be said of the whole column."""
        if self.figure.read == "ratio":
            return None if self._percent else (1.0, self._grain(1.0))
        factor = self._reader(self._unit)[1]
        return None if factor is None else (factor, self._grain(factor))

    def shown(self, cell: Value, case: Case) -> str:
        """A cell as people read it, with its unit."""
        shown = result_of(cell)
        for said, _, unit in self._candidates(shown, case.item) if shown is not None else ():
            return show_force(said, unit) if self.is_force else self._number(said)
        return f"'{shown}'"

    def causes(self, cell: Value, case: Case, after: float = 1.0) -> tuple[str, ...]:
        """The slips that would make of ours what the cell says, once it is off by a ratio already."""
        shown, answers = result_of(cell), self.figure.answers(case)
        candidates = [] if shown is None else list(self._candidates(shown, case.item))
        if not candidates or not answers:
            return ()
        said, factor, unit = _nearest(candidates, answers[0])
        places = decimals(shown) if isinstance(shown, float | str) else None
        grain = 0.0 if places is None else factor * 10.0**-places
        return likely_causes(self.name, case, said, answers[0] * after, grain, unit)

    def _grain(self, factor: float) -> float:
        """One in the last digit that is shown, in N, degrees or as a ratio."""
        return 0.0 if self._decimals is None else float(factor * 10.0**-self._decimals)

    def _candidates(self, shown: Plain, item: Item) -> Iterator[Candidate]:
        """What a cell may say, with what one of its unit is, and the unit: of several where it says none."""
        if self.figure.read == "ratio":
            said = self._read(shown, None)
            if said is not None and not self._percent:
                yield said, 1.0, ""
            if said is not None:
                yield said * HUNDREDTH, HUNDREDTH, ""
            if said is not None and self._percent:
                yield said, 1.0, ""
            return
        units: Iterable[str | None] = (self._unit,)
        if self._unit is None and self.is_force and item.units:
            units = dict.fromkeys(item.units[name] for name in ("load", "rated_load") if name in item.units)
        for unit in units:
            said = self._read(shown, unit)
            _, factor, name = self._reader(unit)
            if said is not None:
                yield said, factor or 1.0, name

    def _read(self, shown: Plain, unit: str | None) -> float | None:
        reader, factor, _ = self._reader(unit)
        if isinstance(shown, float):
            return None if factor is None else shown * factor
        outcome = reader.read(shown)
        return outcome.value if isinstance(outcome.value, float) else None

    def _reader(self, unit: str | None) -> tuple[Reader, float | None, str]:
        """The reader for a unit, what one of that unit is, and how the unit is called."""
        known = self._readers.get(unit)
        if known is None:
            reader = Reader(self._field, unit, self._habits)
            one = reader.read(1.0)
            known = self._readers[unit] = (reader, one.value, one.unit or "kN")
        return known

    def _both(self, said: float, ours: float, unit: str) -> tuple[str, str]:
        if not self.is_force:
            return self._number(said), self._number(ours)
        try:
            return show_pair(said, ours, unit)
        except RigxlError:
            return f"{to_unit(said, unit):.4g} {unit}", show_force(ours, unit)

    def _number(self, value: float) -> str:
        if self.figure.read == "angle":
            return f"{value:.4g}°"
        return f"{value:.1%}" if self._percent else f"{value:.4g}"


def _nearest(candidates: Sequence[Candidate], ours: float) -> Candidate:
    """Which of the things that a cell may say is most likely meant: the nearest, as a ratio."""
    told = [one for one in candidates if one[0] * ours > 0]
    return min(told, key=lambda one: abs(log(one[0] / ours))) if told else candidates[0]


def _finest(values: Iterable[Value]) -> int | None:
    """The most decimals that a column shows; None where a figure is shown in full, or there is none."""
    finest = None
    for shown in map(result_of, values):
        if isinstance(shown, float) or (isinstance(shown, str) and any(map(str.isdigit, shown))):
            count = decimals(shown)
            if count is None:
                return None
            finest = max(count, finest or 0)
    return finest


class CheckColumn:
    """A column of verdicts, on the row or on a part of it."""

    def __init__(self, name: str) -> None:
        self.check = CHECKS[name]
        self.name, self.plain = name, self.check.plain

    def held(self, cell: Value, case: Case) -> Held | None:
        """A verdict held against ours; None where it is no verdict, or leaves it open, or we have none."""
        shown = result_of(cell)
        said = verdict_in(shown) if isinstance(shown, str | bool) else None
        ours = self.check.ours(case)
        if said in (None, HOLD) or ours is None:
            return None
        kinder = said == PASS and ours != PASS
        return Held(
            not kinder and not (said == FAIL and ours == PASS),
            self.shown(cell, case),
            ours,
            is_kinder=kinder,
        )

    def shown(self, cell: Value, case: Case) -> str:  # noqa: ARG002
        """A cell as people read it."""
        shown = result_of(cell)
        return str(shown).upper() if isinstance(shown, bool) else f"'{shown}'"

    def causes(self, cell: Value, case: Case, after: float = 1.0) -> tuple[str, ...]:  # noqa: ARG002
        """No slip shows in a word."""
        return ()
