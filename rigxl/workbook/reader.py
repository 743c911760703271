"""The cells of a sheet, typed, with their true rows: the quick reader.

It knows only the spelling that almost all programs use, and only where tags follow each other without
a gap. A row spelt in any other way goes to the parser, and so does a sheet whose rows carry no numbers
or stand out of order. A test holds the two readers against each other.

The first rows are read cell by cell. What is seen of each column in them makes a grammar that takes in
a whole row at once.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from typing import NamedTuple

from rigxl.workbook import strings
from rigxl.workbook.cells import Reading, Typing
from rigxl.workbook.frame import Frame
from rigxl.workbook.gathering import Gathering
from rigxl.workbook.grammar import ATTRIBUTES, FORMULA, INLINE, Grammar, Known
from rigxl.workbook.guard import LAST_COLUMN, LAST_ROW, Budget
from rigxl.workbook.rows import column_of
from rigxl.workbook.shared import NOTHING, Sharing, Told
from rigxl.workbook.values import Area, Formula, Row, Value

ROW = re.compile(rb'\s*<row r="([1-9][0-9]{0,6})"(' + ATTRIBUTES + rb") ?(/?)>")
CELL = re.compile(
    rb'\s*<c r="([A-Z]{1,3})([1-9][0-9]{0,6})"((?: (?:s|t|cm|vm|ph)="[A-Za-z0-9]*")*+ ?/?)>'
    rb"(?:(?<=/>)|(?<!/>)(" + FORMULA + rb")?"
    rb"(?:<v>([^<]*+)</v>|" + INLINE[0] + rb"([^<]*+)" + INLINE[1] + rb")?+</c>)"
    rb"|([\s\S]+)"
)
_GIVEN = re.compile(rb'([A-Za-z]+)="([^"]*)"')
_FORMULA_TEXT = re.compile(rb"<f([^>]*?)(?:/>|>([^<]*)</f>)")
_HIDDEN = re.compile(rb' hidden="(?:1|true)"')


class _Stored(NamedTuple):
    """A stored result, and how it is read."""

    reading: Reading
    kind: bytes
    value: bytes


class Reader:
    """Reads the sheets of one workbook.

    Args:
        typing: Gives cells their types.
        budget: Counts cells against the limit.
    """

    def __init__(self, typing: Typing, budget: Budget) -> None:
        self.typing = typing
        self.budget = budget
        self._known: dict[bytes, Known] = {}

    def rows(self, frame: Frame, sheet: str) -> list[Row]:
        """The rows of a sheet that hold something, ascending."""
        left = self.budget.left
        rows = self.quick(frame, sheet) if frame.plain else None
        if rows is not None:
            return rows
        self.budget.left = left
        sharing = Sharing()
        return self._spread(self.parsed(frame.text, sheet, sharing), sharing.areas)

    def parsed(self, text: bytes, sheet: str, sharing: Sharing) -> list[Row]:
        """The rows by the parser."""
        return Gathering(sheet, self.typing, self.budget, sharing).run(text)

    def quick(self, frame: Frame, sheet: str) -> list[Row] | None:
        """The rows by the quick reader; None when only the parser can tell what they are."""
        rows: list[Row] = []
        sharing = Sharing()
        grammar = Grammar()
        text, at, before, end = frame.text, frame.first, 0, frame.last
        while True:
            cells: dict[int, Value] | None
            if grammar.whole is not None and (found := grammar.whole.match(text, at, end)):
                close = found.end()
                cells = self._by_grammar(grammar, found, sharing)
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
                    cells = self._by_cells(text, found.end(), close - 6, found[1], grammar, sharing)
            number = int(found[1])
            if not before < number <= LAST_ROW:
                return None
            before = number
            if cells is None:
                row = text[found.start() : close]
                if b"<!" in row or b"<?" in row:
                    return None
                rows += self.parsed(frame.alone(row), sheet, sharing)
            elif cells:
                self.budget.spend(len(cells), sheet)
                rows.append(Row(number, cells, _HIDDEN.search(found[2]) is not None))
            at = close
        return None if text[at:end].strip() else self._spread(rows, sharing.areas)

    def _by_grammar(
        self, grammar: Grammar, found: re.Match[bytes], sharing: Sharing
    ) -> dict[int, Value] | None:
        """The cells of a row that was taken in whole; None when it must go to the parser."""
        stored, number = found.groups(), int(found[1])
        cells: dict[int, Value]
        try:
            if grammar.formulas:
                cells = {}
                for column, reading, kind, at in grammar.cells:
                    value = stored[at]
                    if value is None:
                        continue
                    if at in grammar.formulas:
                        typed = _Stored(reading, kind, stored[at + 1] or b"")
                        cells[column] = self._formula(value, typed, (number, column), sharing)
                    else:
                        cells[column] = reading(value)
            else:
                values = zip(grammar.columns, grammar.readings, stored[2:], strict=True)
                cells = {column: reading(value) for column, reading, value in values if value is not None}
        except (ValueError, KeyError):
            return None
        return _filled(cells)

    def _by_cells(
        self, text: bytes, start: int, end: int, number: bytes, grammar: Grammar, sharing: Sharing
    ) -> dict[int, Value] | None:
        """One row cell by cell; None when it must go to the parser."""
        if end - start > 100 * LAST_COLUMN:
            return None
        tokens = CELL.findall(text, start, end)
        if tokens and tokens[-1][6] and tokens.pop()[6].strip():
            return None
        cells: dict[int, Value] = {}
        seen: list[tuple[bytes, Known, bool]] = []
        before = 0
        try:
            for letters, row, attributes, formula, value, inline, _ in tokens:
                column = column_of(letters)
                if row != number or not before < column <= LAST_COLUMN:
                    return None
                before = column
                known = self._known.get(attributes) or self._know(attributes)
                seen.append((letters, known, bool(formula)))
                if known.empty:
                    continue
                if bool(inline) is not (known.kind == b"inlineStr"):
                    return None
                if formula:
                    typed = _Stored(known.careful, known.kind, inline or value)
                    cells[column] = self._formula(formula, typed, (int(number), column), sharing)
                else:
                    cells[column] = known.careful(inline or value)
        except (ValueError, KeyError):
            return None
        grammar.learn(seen)
        return _filled(cells)

    def _formula(self, raw: bytes, typed: _Stored, cell: tuple[int, int], sharing: Sharing) -> Formula:
        """A formula from its element (with an empty result element behind it) and its stored result."""
        found = _FORMULA_TEXT.match(raw)
        if found is None:
            raise ValueError("an unusual formula")
        text = strings.from_xml(found[2] or b"")
        told = Told(text)
        if found[1]:
            given = {name.decode(): value.decode() for name, value in _GIVEN.findall(found[1])}
            told = sharing.told(text, given, *cell)
        reading, kind, value = typed
        stored = bool(value) or found.end() < len(raw)
        return self.typing.formula(told, kind.decode(), reading(value) if value else None, stored)

    def _know(self, attributes: bytes) -> Known:
        """What the attributes of a cell say of it, remembered."""
        given = dict(_GIVEN.findall(attributes))
        kind, style = given.get(b"t", b""), given.get(b"s", b"")
        known = Known(
            attributes.removesuffix(b"/"),
            kind,
            attributes.endswith(b"/"),
            self.typing.quick(kind, style, careful=False),
            self.typing.quick(kind, style, careful=True),
        )
        if len(self._known) < 10_000:
            self._known[attributes] = known
        return known

    def _spread(self, rows: list[Row], ranges: list[Area]) -> list[Row]:
        """Make formulas of the values that another cell's array formula fills in."""
        for area in ranges:
            first = bisect_left(rows, area.first_row, key=lambda row: row.number)
            for row in rows[first : bisect_right(rows, area.last_row, key=lambda row: row.number)]:
                for column, value in row.cells.items():
                    if area.first_column <= column <= area.last_column and not isinstance(value, Formula):
                        kind = "str" if isinstance(value, str) else ""
                        row.cells[column] = self.typing.formula(NOTHING, kind, value, stored=True)
        return rows


def _filled(cells: dict[int, Value]) -> dict[int, Value]:
    """The cells that hold something."""
    if None in cells.values() or "" in cells.values():
        return {column: value for column, value in cells.items() if value is not None and value != ""}
    return cells
