"""Formulas that are one formula, filled down: as each would read in one and the same row, they read alike."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from rigxl.workbook.moved import moved
from rigxl.workbook.tokens import UnreadableFormulaError, tokens
from rigxl.workbook.values import Formula

ANCHOR = 500_000
"""The row in which formulas are compared: far from both ends of a sheet."""

_OWN = "\0"
_QUOTED = re.compile("\"[^\"]*\"|'[^']*'")
_OWN_ROW = re.compile(rf"(?<![A-Za-z0-9_.$\\])\$?[A-Za-z]{{1,3}}{_OWN}(?![0-9A-Za-z_.(])")
_MAY_MOVE = re.compile(r"[A-Za-z][0-9]|[0-9]:\$?[0-9]")
_NOT_PLAIN = re.compile(r"['\[\]{}\\]|[0-9]:\$?[0-9]")
_CELL_HERE = re.compile(r"(?<![A-Za-z0-9_.$])(\$?[A-Za-z]{1,3})([1-9][0-9]{0,6})(?![0-9A-Za-z_.(!])")
_CELL = re.compile(r"\$?[A-Za-z]{1,3}(\$?)([1-9][0-9]{0,6})")
_OWN_CELL = re.compile(rf"[A-Za-z]{ANCHOR}(?![0-9])")


class Likeness:
    """Tells of the formulas of one column how each would read in ``ANCHOR``; remembers what it saw.

    A column of formulas filled down differs from row to row by the number of the row alone, so that putting a
    mark in its place is enough to know them again.
    """

    def __init__(self) -> None:
        self._known: dict[str, str] = {}

    def of(self, formula: Formula, row: int) -> str:
        """The formula as it would read in ``ANCHOR``; empty where its text is not known.

        >>> one, other = Formula("=K7*IF(L7>2,1.7,1)", 1.0, True), Formula("=K12*IF(L12>2,1.7,1)", 1.0, True)
        >>> Likeness().of(one, 7) == Likeness().of(other, 12)
        True
        """
        text = formula.written
        down, right = formula.moved
        if right:
            text = formula.text
        else:
            row -= down  # a member of a shared formula reads as the first one does, in that one's row
        key = text.replace(str(row), _OWN)
        known = self._known.get(key)
        if known is not None:
            return known
        if _is_plain(key):
            found = self._known[key] = key.replace(_OWN, str(ANCHOR))
            return found
        found = _moved(text, ANCHOR - row)
        if key == text == found:
            self._known[key] = found
        return found


def _moved(text: str, rows: int) -> str:
    """The formula so many rows below: of plain cells by their look, of anything else by its tokens."""
    if _NOT_PLAIN.search(text):
        return moved(text, rows, 0)
    parts = text.split('"')  # every other one is quoted
    parts[::2] = [_CELL_HERE.sub(lambda cell: f"{cell[1]}{int(cell[2]) + rows}", part) for part in parts[::2]]
    return '"'.join(parts)


def _is_plain(key: str) -> bool:
    """Whether the marks stand for rows of references, each and every one, and nothing else moves."""
    bare = _QUOTED.sub("", key)
    left, own = _OWN_ROW.subn("", bare)
    return own == key.count(_OWN) and _MAY_MOVE.search(left) is None


def looks_at_own_row(form: str) -> bool:
    """Whether a formula surely looks at its own row: a quick look before the long one.

    >>> looks_at_own_row("=B500000*2"), looks_at_own_row('="B500000"')
    (True, False)
    """
    bare = _QUOTED.sub("", form) if '"' in form or "'" in form else form
    return _OWN_CELL.search(bare) is not None


class Looks(NamedTuple):
    """Which cells of its own sheet a formula looks at: rows from its own (0 is its own), and fixed rows."""

    offsets: frozenset[int]
    fixed: frozenset[int]
    nowhere: bool
    """Whether it looks at no cell and no name at all, so that it is as good as typed."""


@lru_cache(maxsize=1024)
def looks(form: str) -> Looks:
    """Where a formula looks, from how it reads in ``ANCHOR``.

    >>> looks("=B500000*B$3+B499999"), looks("=2.5*4").nowhere
    (Looks(offsets=frozenset({0, -1}), fixed=frozenset({3}), nowhere=False), True)
    """
    try:
        found = tokens(form)
    except UnreadableFormulaError:
        return Looks(frozenset(), frozenset(), False)
    places = [token.text for token in found if token.kind == "OPERAND" and token.part == "RANGE"]
    corners = [corner for place in places if "!" not in place for corner in _CELL.finditer(place)]
    offsets = frozenset(int(one[2]) - ANCHOR for one in corners if not one[1])
    fixed = frozenset(int(one[2]) for one in corners if one[1])
    return Looks(offsets, fixed, not places and not any(token.kind == "FUNC" for token in found))
