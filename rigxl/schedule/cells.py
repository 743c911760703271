"""One cell read as one field: the value, or the sentence that says why it cannot be used.

A sentence leaves the cell's address out and begins with what follows it, so that equal cells of a column
are read once.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any, NamedTuple

from rigxl.errors import AmbiguousUnitError, RigxlError, UnknownUnitError
from rigxl.hardware import kinds
from rigxl.mechanics.angles import from_included, from_vertical
from rigxl.schedule.choices import YES_NO
from rigxl.schedule.days import read_day
from rigxl.schedule.fields import FREE, Field
from rigxl.schedule.words import against, normal, singular, the_kind_in
from rigxl.units import (
    Habits,
    Reading,
    is_not_known,
    is_unit,
    read_angle,
    read_count,
    read_force,
    read_length,
    read_ratio,
    read_size,
    read_temperature,
    read_torque,
    unit_name,
)
from rigxl.workbook.dressing import UNCLEAR
from rigxl.workbook.values import CellError, Dressed, Formula, Value

ALL_LEGS = -1
"""What 'all' or 'equalised' reads as, until the number of legs is known."""


def _read_dimension(cell: str | float, unit: str | None, habits: Habits) -> Reading:
    """A length; or what else an inspection counts or measures: a plain number, a share, an angle."""
    try:
        return read_length(cell, unit, habits)
    except UnknownUnitError:
        for read in (read_ratio, read_angle):
            try:
                return read(cell, unit, habits)
            except UnknownUnitError:
                continue
        raise


_ALL = re.compile("(all|every|equali[sz]ed)( legs?)?( equali[sz]ed)?")
_NUMBERS: dict[str, Callable[[Any, str | None, Habits], Reading]] = {
    "force": read_force,
    "length": read_length,
    "angle": read_angle,
    "ratio": read_ratio,
    "temperature": read_temperature,
    "torque": read_torque,
    "count": read_count,
    "carrying": read_count,
    "dimension": _read_dimension,
}
_OPEN = re.compile(
    r"\b(tbc|tba|tbd|to be (confirmed|advised|determined|decided|agreed)|not (yet )?known|unknown)\b|\?\W*$",
    re.IGNORECASE,
)
"""Words that leave a text open, wherever they stand in it."""
_ELSEWHERE = re.compile(
    r"\W+|ditto|do|same|(same )?as (above|before|supplied|req .*|reqd|required|per .*)|see .*|hold|pending|"
    r"awaiting.*"
)
"""Texts, in their normal spelling, that say nothing themselves."""
_IN_LINE = frozenset({"in line", "inline", "axial", "axially"})
_FIGURE = re.compile("[0-9]")  # no way of saying that a thing is not known has one
MOST_REMEMBERED = 4096
REMEMBERED = frozenset({float, str, dt.datetime})
_KEEPS_UNIT = frozenset({"force", "length", "temperature", "torque", "dimension"})
_FROM_HORIZONTAL = {
    "angle_from_vertical": (from_vertical, "from vertical"),
    "included_angle": (from_included, "between the legs"),
}


class Told(NamedTuple):
    """What to do besides setting the value: say a problem or an assumption, lend words to another field."""

    problem: str = ""
    note: str = ""
    aside: str = ""


class Outcome(NamedTuple):
    """A cell as read: its value, its unit where answers should come back in it, mass read as force or not."""

    value: Any
    unit: str = ""
    by_gravity: bool = False
    told: Told | None = None


NOTHING = Outcome(None, told=Told())


def trouble(sentence: str) -> Outcome:
    """A cell that cannot be used."""
    return Outcome(None, told=Told(problem=sentence))


class Reader(dict[Any, Outcome]):
    """Reads the cells of one column, and remembers: as a dictionary it answers for numbers, texts and dates.

    Args:
        field: What the column gives.
        unit: The unit of the column's heading.
        habits: What the criteria say a ton and a decimal mark are.
    """

    def __init__(self, field: Field, unit: str | None, habits: Habits) -> None:
        super().__init__()
        self.field = field
        self.unit = unit
        self._habits = habits

    def __missing__(self, cell: float | str | dt.datetime) -> Outcome:
        outcome = self._read(cell)
        if len(self) < MOST_REMEMBERED:  # a column in which no two cells are equal would fill the memory
            self[cell] = outcome
        return outcome

    def read(self, cell: Value) -> Outcome:
        """Any cell but a blank; what is no number, text or date is not remembered, for True equals 1.0."""
        if isinstance(cell, Formula):
            if not cell.calculated:
                return trouble(
                    cell.doubt
                    or f" holds a formula that was never calculated ({cell.text}): open the file in a "
                    "spreadsheet program, recalculate and save"
                )
            cell = cell.result
        if cell is None:
            return NOTHING
        return self[cell] if type(cell) in REMEMBERED else self._read(cell)

    def _read(self, cell: float | str | bool | dt.datetime | dt.time) -> Outcome:
        field = self.field
        if isinstance(cell, CellError):
            return trouble(f" holds the error {cell}: correct what it is worked out from")
        if isinstance(cell, str):
            cell = cell.strip()
            if not cell:
                return NOTHING
            if not _FIGURE.search(cell) and is_not_known(cell):
                return NOTHING if field.name in FREE else self._not_known(cell)
        try:
            return self._as_field(cell)
        except RigxlError as refusal:
            return trouble(f": {refusal}")

    def _not_known(self, cell: str) -> Outcome:
        return trouble(f": '{cell}' says that the {self.field.plain} is not known yet: fill it in")

    def _as_field(self, cell: float | str | bool | dt.datetime | dt.time) -> Outcome:
        field, read = self.field, self.field.read
        if read in ("text", "kind") and isinstance(cell, str) and field.name not in FREE | {"lift"}:
            if _OPEN.search(cell):
                return self._not_known(cell)
            if _ELSEWHERE.fullmatch(normal(cell) or cell):
                return trouble(f": '{cell}' does not say the {field.plain} itself: write it out")
        if read == "text":
            text = as_text(cell)
            return Outcome(field.words.get(normal(text), text))
        if read == "date":
            return self._day(cell)
        if isinstance(cell, bool) and read != "yes/no" and "yes" not in self.field.words:
            return trouble(f": {_shown(cell)} is a yes or no, where the {self.field.plain} is wanted")
        if read == "size":
            return Outcome(read_size(cell, self._unit_of(cell), self._habits))  # type: ignore[arg-type]
        if isinstance(cell, dt.datetime | dt.time):
            return trouble(
                f": {_shown(cell)} is a date or time, where the {self.field.plain} is wanted: "
                "the spreadsheet may have turned it into one, so type it again"
            )
        if read == "kind":
            return self._kind(as_text(cell))
        if read in ("yes/no", "choice"):
            return self._choice(as_text(cell))
        return self._number(cell)

    def _number(self, cell: float | str) -> Outcome:
        field = self.field
        if field.read == "carrying" and isinstance(cell, str) and _ALL.fullmatch(normal(cell)):
            return Outcome(ALL_LEGS, told=Told())
        if field.name == "loading_angle_deg" and isinstance(cell, str) and normal(cell) in _IN_LINE:
            return Outcome(0.0)
        reading = _NUMBERS[field.read](cell, self._unit_of(cell), self._habits)
        value: float = reading.value
        if field.name in _FROM_HORIZONTAL:
            convert, said = _FROM_HORIZONTAL[field.name]
            slope = convert(value)
            return Outcome(slope, told=Told(note=f"{value:.6g}° {said} is {slope:.6g}° from horizontal"))
        if field.is_share and reading.unit == "1" and value > 1:
            return trouble(
                f": {reading.said} could be {reading.said} % or {reading.said} times: write {reading.said} %"
            )
        if not field.limits.keep(value):
            return trouble(f": '{reading.said}' cannot be the {field.plain}, which is {field.limits.says}")
        if field.read in ("count", "carrying"):
            return Outcome(int(value))
        return Outcome(value, reading.unit if field.read in _KEEPS_UNIT else "", reading.by_gravity)

    def _unit_of(self, cell: object) -> str | None:
        """The heading's unit; where it has none, the one that the cell's number format shows.

        Raises:
            AmbiguousUnitError: The text is another unit than the heading's, or not always the same.
        """
        if type(cell) is not Dressed or not (is_unit(cell.text) or cell.text == UNCLEAR):
            return self.unit
        shown, heading, habits = cell.text, self.unit, self._habits
        if shown == UNCLEAR or (heading and unit_name(shown, habits) != unit_name(heading, habits)):
            seen = f"shows '{shown}' behind it" if shown != UNCLEAR else "shows it divided or in two ways"
            raise AmbiguousUnitError(
                f"the cell holds {float(cell):.12g}, but its number format {seen}"
                f"{f' where the heading says {heading}' if heading else ''}: leave the unit to the heading"
            )
        return shown

    def _kind(self, text: str) -> Outcome:
        named = the_kind_in(text)
        if len(named) > 1:
            return trouble(f": '{text}' names more than one kind ({', '.join(named)}): write the one it is")
        if not named:
            return trouble(
                f": '{text}' is not a kind of hardware that can be judged: write one of {', '.join(kinds())}"
            )
        if said := against(text):
            return trouble(f": '{text}' {said}: write the kind alone, and what was found under Condition")
        plain = singular(text) == singular(named[0])
        return Outcome(named[0], told=None if plain else Told(aside=text))

    def _choice(self, text: str) -> Outcome:
        word = normal(text)
        if self.field.read == "yes/no":
            if word in YES_NO:
                return Outcome(YES_NO[word] == "yes")
            return trouble(f": '{text}' is neither yes nor no")
        meaning = self.field.words.get(word)
        if meaning is None:
            choices = ", ".join(dict.fromkeys(self.field.words.values()))
            return trouble(f": '{text}' is not understood as the {self.field.plain}: write one of {choices}")
        return Outcome(meaning)

    def _day(self, cell: float | str | bool | dt.datetime | dt.time) -> Outcome:
        if isinstance(cell, dt.datetime):
            return Outcome(cell.date())
        if isinstance(cell, str):
            return Outcome(read_day(cell))
        return trouble(f": {_shown(cell)} is not a date: write one such as 2026-03-04")


def as_text(cell: float | str | bool | dt.datetime | dt.time) -> str:
    """A cell as people read it."""
    return cell.strip() if isinstance(cell, str) else _shown(cell)


def _shown(cell: float | bool | str | dt.datetime | dt.time) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float | int):
        return f"{cell:.15g}"
    if isinstance(cell, dt.datetime) and cell.time() == dt.time():
        return cell.date().isoformat()
    return str(cell)
