"""A worksheet function as a spreadsheet calls it: on single cells or on ranges, with an answer for each.

Nothing is raised: what cannot be answered is a :class:`Refused`, so that no host can show it as text, a blank
or 0. A range is worked through inside one call; equal rows are worked out once.

>>> answer("LEGTENSION", [10, 2, 30])
10.0
>>> answer("LEGTENSION", [[[10], [20]], 2, [[30], [""]]])
[[10.0], [Refused(code='VALUE', sentence='LEGTENSION: missing: angle is blank')]]
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple, TypeGuard

from rigxl.errors import InputError, MissingInputError, RigxlError
from rigxl.functions import FunctionSpec, spec
from rigxl.functions.described import Argument, Value
from rigxl.functions.reading import answered, read
from rigxl.mechanics.limits import EXACT

MOST_CELLS = 1_048_576
"""Cells of one answer: a whole column of a sheet."""


class Refused(NamedTuple):
    """What a cell shows in place of an answer: ``code`` VALUE or NA, and the sentence that says why."""

    code: str
    sentence: str


Cell = Value | Refused
Range = Sequence[Sequence[object]]
Shape = tuple[int, int]
Take = Callable[[object], object]


class _Unread(NamedTuple):
    """An argument that could not be read; the cell that needs it is refused with its sentence."""

    refused: Refused


def answer(name: str, arguments: Sequence[object]) -> Cell | list[list[Cell]]:
    """The answer of a worksheet function for cells and ranges.

    Args:
        name: The function, whatever its case.
        arguments: In order; each a number, text, True or False, None where it is left out, empty text for
            a blank cell, a ``CellError`` for a cell in error, or a range: rows of such, in which None is a
            blank cell too. A range of one row, one column or one cell stretches over the others.

    Returns:
        A value or ``Refused``; rows of them where an argument is a range.
    """
    try:
        ready = _ready(name)
        if len(arguments) > len(ready.takes):
            raise InputError(f"{len(arguments)} arguments are too many; {ready.entry.signature}")
        for value in arguments:
            kind = type(value)
            if kind is list or kind is tuple:
                return ready.every(arguments)
        return ready.one(arguments)
    except RigxlError as refusal:
        return refused(name.strip().upper(), refusal)


def refused(name: str, refusal: RigxlError) -> Refused:
    """A refusal as a cell shows it."""
    return Refused(refusal.cell.strip("#/!").replace("/", ""), f"{name}: {refusal}")


def _is_range(value: object) -> TypeGuard[Range]:
    return isinstance(value, list | tuple)


@lru_cache(maxsize=1024)  # a name may be written in ever so many ways
def _ready(name: str) -> _Ready:
    return _Ready(spec(name))


class _Ready:
    """A function with its arguments ready to be read, each in its place."""

    def __init__(self, entry: FunctionSpec) -> None:
        self.entry = entry
        self.takes = tuple(_taking(each, entry) for each in entry.arguments)
        self.numbers = tuple(each.kind == "number" for each in entry.arguments)
        self.least = sum(each.required for each in entry.arguments)
        self.passes_on = any(each.kind == "any" for each in entry.arguments)

    def one(self, arguments: Sequence[object]) -> Cell:
        """The answer for single cells."""
        entry = self.entry
        try:
            if len(arguments) < self.least:
                raise MissingInputError(f"missing: {entry.arguments[len(arguments)].name}; {entry.signature}")
            values = [
                value
                if type(value) is float and self.numbers[at] and value - value == 0
                else self.takes[at](value)
                for at, value in enumerate(arguments)
            ]
            return answered(entry, entry.function(*values))
        except RigxlError as refusal:
            return refused(entry.name, refusal)

    def every(self, arguments: Sequence[object]) -> list[list[Cell]]:
        """The answers for ranges, row by row; equal rows are worked out once."""
        rows, width = _shape(self.entry, arguments)
        if len(arguments) < self.least:
            return [[self.one(arguments)] * width for _ in range(rows)]
        columns = [
            self._column(take, value, rows, width) for take, value in zip(self.takes, arguments, strict=False)
        ]
        lines = list(zip(*columns, strict=True))
        if self.passes_on:  # what it hands on may differ in kind alone, as 1 and TRUE do
            cells = list(map(self._worked, lines))
        else:
            once = {line: self._worked(line) for line in dict.fromkeys(lines)}
            cells = [once[line] for line in lines]
        return [cells[at : at + width] for at in range(0, rows * width, width)]

    def _column(self, take: Take, value: object, rows: int, width: int) -> list[Any]:
        """An argument for each cell of the answer, read or unread."""

        def read_cell(cell: object) -> object:
            try:
                return take(cell)
            except RigxlError as refusal:
                return _Unread(refused(self.entry.name, refusal))

        if not _is_range(value):
            return [read_cell(value)] * (rows * width)
        lines = [[read_cell("" if cell is None else cell) for cell in line] for line in value]
        wide = [line * width if len(line) == 1 else line for line in lines]
        tall = wide * rows if len(wide) == 1 else wide
        return [cell for line in tall for cell in line]

    def _worked(self, values: tuple[Any, ...]) -> Cell:
        for value in values:
            if type(value) is _Unread:
                return value.refused
        try:
            return answered(self.entry, self.entry.function(*values))
        except RigxlError as refusal:
            return refused(self.entry.name, refusal)


def _taking(argument: Argument, entry: FunctionSpec) -> Take:
    """What reads one argument; None is left out. What is plainly right goes straight through."""
    number, count = argument.kind == "number", argument.kind == "count"
    choices = frozenset(argument.choices)

    def take(value: object) -> object:
        if type(value) is float:
            if number and value - value == 0:
                return value
        elif type(value) is int:
            if count and 1 <= value <= EXACT:
                return value
        elif type(value) is str and value in choices:
            return value
        if value is not None:
            return read(argument, value)
        if argument.required:
            raise MissingInputError(f"missing: {argument.name}; {entry.signature}")
        return argument.default

    return take


def _shape(entry: FunctionSpec, arguments: Sequence[object]) -> Shape:
    """The rows and columns of the answer.

    Raises:
        InputError: Ranges that do not go together, lines of unequal length, or too many cells.
    """
    rows = width = 1
    for argument, value in zip(entry.arguments, arguments, strict=False):
        if not _is_range(value):
            continue
        if not all(map(_is_range, value)) or len(lengths := set(map(len, value))) != 1 or 0 in lengths:
            raise InputError(f"{argument.name} is no block of cells: its rows are empty or of unequal length")
        for there, here in ((rows, len(value)), (width, len(value[0]))):
            if 1 not in (there, here) and there != here:
                raise InputError(
                    f"{argument.name} is {len(value)} × {len(value[0])} cells and those before it "
                    f"{rows} × {width}: give ranges of one size"
                )
        rows, width = max(rows, len(value)), max(width, len(value[0]))
    if rows * width > MOST_CELLS:
        raise InputError(f"{rows} × {width} cells are more than the {MOST_CELLS:,} that one answer may have")
    return rows, width
