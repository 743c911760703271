"""The cells of a sheet, typed, with their true rows: the quick reader.

It knows only the spelling that almost all programs use, and only where tags follow each other without
a gap. A row spelt in any other way goes to the parser, and so does a sheet whose rows carry no numbers
or stand out of order. A test holds the two readers against each other.

Rows of a table mostly have one shape: the same columns with the same styles and types. A shape that
comes again is compiled into one expression that takes in a whole row.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import compress, pairwise
from typing import TypeAlias

from rigxl.workbook import strings
from rigxl.workbook.cells import Reading, Typing
from rigxl.workbook.frame import Frame
from rigxl.workbook.gathering import Gathering, note_range
from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW, Budget
from rigxl.workbook.values import Area, Formula, Row, Value, column_number

_ATTRIBUTES = rb'(?: [A-Za-z0-9:]+="[^"<&]*")*+'
_FORMULA = rb"<f" + _ATTRIBUTES + rb" ?(?:/>|>[^<]*+</f>)(?:<v></v>|<v ?/>)?"
_INLINE = (rb'<is><t(?: xml:space="preserve")?>', rb"</t></is>")
ROW = re.compile(rb'\s*<row r="([1-9][0-9]{0,6})"(' + _ATTRIBUTES + rb") ?(/?)>")
CELL = re.compile(
    rb'\s*<c r="([A-Z]{1,3})([1-9][0-9]{0,6})"((?: (?:s|t|cm|vm|ph)="[A-Za-z0-9]*")*+ ?/?)>'
    rb"(?:(?<=/>)|(?<!/>)(" + _FORMULA + rb")?"
    rb"(?:<v>([^<]*+)</v>|" + _INLINE[0] + rb"([^<]*+)" + _INLINE[1] + rb")?+</c>)"
    rb"|([\s\S]+)"
)
_GIVEN = re.compile(rb'([A-Za-z]+)="([^"]*)"')
_FORMULA_TEXT = re.compile(rb"<f([^>]*?)(?:/>|>([^<]*)</f>)")
_HIDDEN = re.compile(rb' hidden="(?:1|true)"')
_DIGITS = b"0123456789.-+eE"
_STORED = {b"": rb"(-?[0-9.]{1,40}+(?:[eE][-+]?[0-9]{1,2})?+)", b"s": rb"([0-9]{1,9})"}
_STORED[b"n"] = _STORED[b""]
COMPILE_AFTER, COMPILED_AT_MOST, SHAPES_AT_MOST, TRIED_AT_MOST = 8, 64, 10_000, 3

Shape: TypeAlias = tuple[tuple[bytes, ...], tuple[bytes, ...], tuple[bool, ...]]


@dataclass
class Plan:
    """How to read the rows of one shape; empty cells are left out."""

    columns: tuple[int, ...]
    kinds: tuple[bytes, ...]
    formulas: tuple[bool, ...]
    """Which cells hold a formula."""
    quick: tuple[Reading, ...]
    """Readings for stored values that are known to be spelt well."""
    careful: tuple[Reading, ...]
    filled: tuple[bool, ...]
    """For each cell, empty ones too: does it hold more than a style?"""
    digits_only: bool
    """Is every stored value a number or an index, so that one look at all of them will do?"""
    met: int = 0
    whole: re.Pattern[bytes] | None = None


class Reader:
    """Reads the sheets of one workbook.

    Args:
        typing: Gives cells their types.
        budget: Counts cells against the limit.
    """

    def __init__(self, typing: Typing, budget: Budget) -> None:
        self.typing = typing
        self.budget = budget
        self._plans: dict[Shape, Plan | None] = {}
        self._compiled = 0

    def rows(self, frame: Frame, sheet: str) -> list[Row]:
        """The rows of a sheet that hold something, ascending."""
        left = self.budget.left
        rows = self.quick(frame, sheet) if frame.plain else None
        if rows is not None:
            return rows
        self.budget.left = left
        ranges: list[Area] = []
        return self._spread(self.parsed(frame.text, sheet, ranges), ranges)

    def parsed(self, text: bytes, sheet: str, ranges: list[Area]) -> list[Row]:
        """The rows by the parser."""
        return Gathering(sheet, self.typing, self.budget, ranges).run(text)

    def quick(self, frame: Frame, sheet: str) -> list[Row] | None:
        """The rows by the quick reader; None when only the parser can tell what they are."""
        rows: list[Row] = []
        ranges: list[Area] = []
        recent: list[Plan] = []
        text, at, before, end = frame.text, frame.first, 0, frame.last
        while True:
            for plan in recent:
                if plan.whole is not None and (found := plan.whole.match(text, at, end)):
                    close = found.end()
                    cells = self._by_plan(plan, found.groups(b"")[2:], ranges)
                    break
            else:
                found = ROW.match(text, at, end)
                if found is None:
                    break
                close = found.end()
                cells = {}
                if not found[3]:
                    close = text.find(b"</row>", close, end) + 6
                    if close < 6:
                        return None
                    cells = self._by_cells(text, found.end(), close - 6, found[1], recent, ranges)
            number = int(found[1])
            if not before < number <= LAST_ROW:
                return None
            before = number
            if cells is None:
                row = text[found.start() : close]
                if b"<!" in row or b"<?" in row:
                    return None
                rows += self.parsed(frame.alone(row), sheet, ranges)
            else:
                self.budget.spend(len(cells), sheet)
                if cells:
                    rows.append(Row(number, cells, _HIDDEN.search(found[2]) is not None))
            at = close
        return None if text[at:end].strip() else self._spread(rows, ranges)

    def _by_cells(
        self, text: bytes, start: int, end: int, number: bytes, recent: list[Plan], ranges: list[Area]
    ) -> dict[int, Value] | None:
        """One row cell by cell; None when it must go to the parser."""
        if end - start > 100 * LAST_COLUMN:
            return None
        tokens = CELL.findall(text, start, end)
        if tokens and tokens[-1][6] and tokens.pop()[6].strip():
            return None
        if not tokens:
            return {}
        letters, numbers, attributes, formulas, values, inlines, _ = zip(*tokens, strict=True)
        if numbers.count(number) != len(numbers):
            return None
        if any(formulas):
            shape = (letters, attributes, tuple(map(bool, formulas)))
        else:
            shape = (letters, attributes, ())
        try:
            plan = self._plans[shape]
        except KeyError:
            plan = self._plan(*shape)
            if len(self._plans) < SHAPES_AT_MOST:
                self._plans[shape] = plan
        if plan is None:
            return None
        if not all(plan.filled):
            formulas = tuple(compress(formulas, plan.filled))
            values = tuple(compress(values, plan.filled))
            inlines = tuple(compress(inlines, plan.filled))
        if any(inlines) or b"inlineStr" in plan.kinds:
            pairs = zip(plan.kinds, inlines, strict=True)
            if any((kind == b"inlineStr") is not bool(inline) for kind, inline in pairs):
                return None
            values = tuple(inline or value for inline, value in zip(inlines, values, strict=True))
        self._learn(plan, shape, recent)
        joined = b"".join(values)
        digits = plan.digits_only and not joined.translate(None, _DIGITS) and b"E" not in joined.upper()
        return self._typed(plan, plan.quick if digits else plan.careful, formulas, values, ranges)

    def _typed(
        self,
        plan: Plan,
        readings: tuple[Reading, ...],
        formulas: tuple[bytes, ...],
        values: tuple[bytes, ...],
        ranges: list[Area],
    ) -> dict[int, Value] | None:
        """The cells of a row from what is stored in them; None when it must go to the parser."""
        cells: dict[int, Value]
        try:
            if plan.formulas:
                cells = self._with_formulas(plan, readings, formulas, values, ranges)
            else:
                stored = zip(plan.columns, readings, values, strict=True)
                cells = {column: reading(value) for column, reading, value in stored}
        except (ValueError, KeyError):
            return None
        if None in cells.values() or "" in cells.values():
            return {column: value for column, value in cells.items() if value is not None and value != ""}
        return cells

    def _with_formulas(
        self,
        plan: Plan,
        readings: tuple[Reading, ...],
        formulas: tuple[bytes, ...],
        values: tuple[bytes, ...],
        ranges: list[Area],
    ) -> dict[int, Value]:
        """The cells of a row in which some are formulas."""
        cells: dict[int, Value] = {}
        for column, reading, kind, raw, value in zip(
            plan.columns, readings, plan.kinds, formulas, values, strict=True
        ):
            if not raw:
                cells[column] = reading(value)
                continue
            found = _FORMULA_TEXT.match(raw)
            if found is None:
                raise ValueError("an unusual formula")
            if found[1]:
                given = dict(_GIVEN.findall(found[1]))
                note_range(given.get(b"t", b"").decode(), given.get(b"ref", b"").decode(), ranges)
            stored = bool(value) or found.end() < len(raw)
            text = strings.from_xml(found[2] or b"")
            cells[column] = self.typing.formula(
                text, kind.decode(), reading(value) if value else None, stored
            )
        return cells

    def _by_plan(self, plan: Plan, stored: tuple[bytes, ...], ranges: list[Area]) -> dict[int, Value] | None:
        """A row that was taken in whole."""
        if not plan.formulas:
            return self._typed(plan, plan.quick, (), stored, ranges)
        parts = iter(stored)
        formulas, values = [], []
        for formula in plan.formulas:
            formulas.append(next(parts) if formula else b"")
            values.append(next(parts))
        return self._typed(plan, plan.quick, tuple(formulas), tuple(values), ranges)

    def _plan(
        self, letters: tuple[bytes, ...], attributes: tuple[bytes, ...], formulas: tuple[bool, ...]
    ) -> Plan | None:
        """The plan for rows of this shape; None when their cells are out of order or not understood."""
        columns = tuple(column_number(name.decode()) for name in letters)
        if columns[-1] > LAST_COLUMN or any(first >= second for first, second in pairwise(columns)):
            return None
        filled = tuple(not found.endswith(b"/") for found in attributes)
        given = [dict(_GIVEN.findall(found)) for found in compress(attributes, filled)]
        kinds = tuple(found.get(b"t", b"") for found in given)
        styles = [found.get(b"s", b"") for found in given]
        return Plan(
            tuple(compress(columns, filled)),
            kinds,
            tuple(compress(formulas, filled)),
            tuple(self.typing.quick(*found, careful=False) for found in zip(kinds, styles, strict=True)),
            tuple(self.typing.quick(*found, careful=True) for found in zip(kinds, styles, strict=True)),
            filled,
            set(kinds) <= {b"", b"n", b"s"},
        )

    def _learn(self, plan: Plan, shape: Shape, recent: list[Plan]) -> None:
        """Compile a shape that comes again, and try it first on the rows that follow."""
        plan.met += 1
        if plan.whole is None and plan.met == COMPILE_AFTER and self._compiled < COMPILED_AT_MOST:
            plan.whole = _whole_row(plan, *shape)
            self._compiled += 1
        if plan.whole is not None and plan not in recent:
            recent.insert(0, plan)
            del recent[TRIED_AT_MOST:]

    def _spread(self, rows: list[Row], ranges: list[Area]) -> list[Row]:
        """Make formulas of the values that another cell's array formula fills in."""
        for area in ranges:
            first = bisect_left(rows, area.first_row, key=lambda row: row.number)
            for row in rows[first : bisect_right(rows, area.last_row, key=lambda row: row.number)]:
                for column, value in row.cells.items():
                    if area.first_column <= column <= area.last_column and not isinstance(value, Formula):
                        kind = "str" if isinstance(value, str) else ""
                        row.cells[column] = self.typing.formula("", kind, value, stored=True)
        return rows


def _whole_row(
    plan: Plan, letters: tuple[bytes, ...], attributes: tuple[bytes, ...], formulas: tuple[bool, ...]
) -> re.Pattern[bytes]:
    """One expression for a whole row of a shape: its number, its attributes, then what each cell stores."""
    cells = []
    kinds = iter(plan.kinds)
    for at, (name, given) in enumerate(zip(letters, attributes, strict=True)):
        cells.append(rb'\s*<c r="%s\1"%s>' % (name, re.escape(given)))
        if given.endswith(b"/"):
            continue
        kind = next(kinds)
        stored = rb"<v>" + _STORED.get(kind, rb"([^<]*+)") + rb"</v>"
        if kind == b"inlineStr":
            stored = _INLINE[0] + rb"([^<]*+)" + _INLINE[1]
        if formulas and formulas[at]:
            stored = rb"(" + _FORMULA + rb")(?:" + stored + rb")?+"
        cells.append(stored + rb"</c>")
    head = rb'\s*<row r="([1-9][0-9]{0,6})"(' + _ATTRIBUTES + rb")>"
    return re.compile(head + b"".join(cells) + rb"\s*</row>")
