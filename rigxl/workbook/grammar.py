"""One expression for the rows of a table, learned from its first rows."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from rigxl.workbook.cells import Reading
from rigxl.workbook.rows import column_of

ATTRIBUTES = rb'(?: [A-Za-z0-9:]+="[^"<&]*")*+'
FORMULA = rb"<f" + ATTRIBUTES + rb" ?(?:/>|>[^<]*+</f>)(?:<v></v>|<v ?/>)?"
INLINE = (rb'<is><t(?: xml:space="preserve")?>', rb"</t></is>")
_NUMBER = rb"-?[0-9.]{1,40}+(?:[eE][-+]?[0-9]{1,2})?+"
_STORED = {b"": _NUMBER, b"n": _NUMBER, b"s": rb"[0-9]{1,9}"}
FIRST_AFTER, AGAIN_AFTER = 8, 4
COLUMNS_AT_MOST, SPELLINGS_AT_MOST = 256, 8


class Known(NamedTuple):
    """What the attributes of a cell say of it."""

    attributes: bytes
    kind: bytes
    empty: bool
    quick: Reading
    """For stored values that are known to be spelt well."""
    careful: Reading


class Cell(NamedTuple):
    """One way in which a column stores something, and the group that it is caught in."""

    column: int
    reading: Reading
    kind: bytes
    group: int


class Grammar:
    """What was seen of each column, as one expression for a whole row.

    The expression takes a row's number, its attributes, and for each column, which may be missing, what it
    stores in any of the ways seen. A formula takes two groups, its element and its result.
    """

    def __init__(self) -> None:
        self.whole: re.Pattern[bytes] | None = None
        self.cells: list[Cell] = []
        self.columns: tuple[int, ...] = ()
        self.readings: tuple[Reading, ...] = ()
        self.formulas: frozenset[int] = frozenset()
        """The groups that catch formulas."""
        self._seen: dict[bytes, dict[tuple[bytes, bool, bool], Known]] = {}
        self._grown = False
        self._missed, self._patience = 0, FIRST_AFTER

    def learn(self, row: Iterable[tuple[bytes, Known, bool]]) -> None:
        """Take in a row that the expression did not: for each cell its column, attributes, is it a formula.

        After some of them the expression is made anew, each time after more.
        """
        for letters, known, formula in row:
            spellings = self._seen.setdefault(letters, {})
            spelling = (known.attributes, known.empty, formula)
            if spelling not in spellings and len(spellings) < SPELLINGS_AT_MOST:
                spellings[spelling] = known
                self._grown = True
        self._missed += 1
        if self._grown and self._missed >= self._patience and len(self._seen) <= COLUMNS_AT_MOST:
            self._patience *= AGAIN_AFTER
            self._missed, self._grown = 0, False
            self._make()

    def _make(self) -> None:
        self.cells, formulas, parts = [], [], []
        group = 2
        for letters in sorted(self._seen, key=column_of):
            ways = []
            for (attributes, empty, formula), known in self._seen[letters].items():
                stored = rb"<v>(" + _STORED.get(known.kind, rb"[^<]*+") + rb")</v>"
                if known.kind == b"inlineStr":
                    stored = INLINE[0] + rb"([^<]*+)" + INLINE[1]
                if empty:
                    ways.append(re.escape(attributes) + rb"/>")
                    continue
                self.cells.append(Cell(column_of(letters), known.quick, known.kind, group))
                group += 1
                if formula:
                    formulas.append(group - 1)
                    group += 1
                    stored = rb"(" + FORMULA + rb")(?:" + stored + rb")?+"
                ways.append(re.escape(attributes) + rb">" + stored + rb"</c>")
            parts.append(rb'(?:\s*<c r="%s\1"(?:%s))?+' % (letters, rb"|".join(ways)))
        head = rb'\s*<row r="([1-9][0-9]{0,6})"(' + ATTRIBUTES + rb")>"
        self.whole = re.compile(head + b"".join(parts) + rb"\s*</row>")
        self.columns = tuple(cell.column for cell in self.cells)
        self.readings = tuple(cell.reading for cell in self.cells)
        self.formulas = frozenset(formulas)
