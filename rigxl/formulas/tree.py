"""A formula as a tree: what is worked out first stands deepest.

Signs bind before powers, as spreadsheets have it: -2^2 is 4 (OpenDocument 1.3, part 4, section 5.5).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from rigxl.errors import CellError
from rigxl.formulas.spelling import called, mentions
from rigxl.workbook.tokens import LONGEST, Token, UnreadableFormulaError, tokens

DEEPEST = 100
NUMBERED = "\ue000"
"""Stands before the number of a cell in a shape; no keyboard has it."""
_CELL = re.compile(
    r""""(?:[^"]|"")*"|'(?:[^']|'')*'|\[[^\]]*\]|"""
    r"""(?<![\w.$!'\]:\[\\?])((?:[^\W\d][\w.]*!)?\$?[A-Za-z]{1,3}\$?[1-9][0-9]{0,6})(?![\w.(!:\[#\\?])"""
)
_RANK = {"=": 1, "<>": 1, "<": 1, ">": 1, "<=": 1, ">=": 1, "&": 2, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5}
_NUMBER = re.compile(r"(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?", re.ASCII)


class Constant(NamedTuple):
    """A value that is written out."""

    value: float | str | bool | CellError


class Reference(NamedTuple):
    """Cells, a name or a table, as written."""

    text: str


class Call(NamedTuple):
    """A function; an argument that is left out is None."""

    name: str
    ours: bool
    arguments: tuple[Node | None, ...]


class Infix(NamedTuple):
    """Two operands and what stands between them."""

    sign: str
    left: Node
    right: Node


class Prefix(NamedTuple):
    """An operand with a minus before it."""

    operand: Node


class Percent(NamedTuple):
    """An operand with a % behind it."""

    operand: Node


class Grid(NamedTuple):
    """An array that is written out, row by row."""

    rows: tuple[tuple[Node, ...], ...]


Node: TypeAlias = Constant | Reference | Call | Infix | Prefix | Percent | Grid


class Shape(NamedTuple):
    """The tree of a formula in which single cells are numbered, and what cells those are.

    Formulas that are filled down a column have one tree.
    """

    tree: Node
    cells: tuple[str, ...]


@lru_cache(maxsize=512)
def shaped(formula: str) -> Shape:
    """The shape of a formula.

    Raises:
        UnreadableFormulaError: As ``parsed``.

    >>> shaped('=A1*Data!$B$2&"C3"').cells
    ('A1', 'Data!$B$2')
    """
    if NUMBERED in formula or len(formula) > LONGEST:
        return Shape(parsed(formula), ())
    cells: list[str] = []

    def numbered(found: re.Match[str]) -> str:
        if found[1] is None:
            return found[0]
        cells.append(found[1])
        return f"{NUMBERED}{len(cells) - 1}"

    shape = _CELL.sub(numbered, formula)
    return Shape(parsed(shape), tuple(cells))


@lru_cache(maxsize=4096)
def parsed(formula: str) -> Node:
    """The tree of a formula.

    Args:
        formula: The formula with its equals sign.

    Raises:
        UnreadableFormulaError: A formula that cannot be taken apart, or is longer or deeper than any program
            lets one be.
    """
    return _Parser(tokens(formula)).whole()


def calls_us(node: Node) -> bool:
    """Whether a function of ours is called anywhere in a tree."""
    waiting: list[Node | None] = [node]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Call):
            if one.ours:
                return True
            waiting += one.arguments
        elif isinstance(one, Infix):
            waiting += (one.left, one.right)
        elif isinstance(one, Prefix | Percent):
            waiting.append(one.operand)
    return False


class _Parser:
    def __init__(self, found: list[Token]) -> None:
        self._left = found[::-1]
        self._depth = 0

    def whole(self) -> Node:
        node = self._expression(1)
        if self._left:
            raise self._wrong()
        return node

    def _wrong(self) -> UnreadableFormulaError:
        if not self._left:
            return UnreadableFormulaError("it ends too soon")
        return UnreadableFormulaError(
            f"'{self._left[-1].text[:40]}' stands where nothing of its kind can stand"
        )

    def _next_is(self, kind: str, part: str = "") -> bool:
        return bool(self._left) and self._left[-1].kind == kind and part in ("", self._left[-1].part)

    def _expression(self, lowest: int) -> Node:
        """Operands with signs between them, of this rank or a higher one."""
        self._depth += 1
        if self._depth > DEEPEST:
            raise UnreadableFormulaError(f"it is nested deeper than {DEEPEST}")
        left = self._operand()
        while self._next_is("OPERATOR-INFIX"):
            rank = _RANK.get(self._left[-1].text, 0)
            if not rank:
                raise self._wrong()
            if rank < lowest:
                break
            sign = self._left.pop().text
            left = Infix(sign, left, self._expression(rank + 1))
        self._depth -= 1
        return left

    def _operand(self) -> Node:
        """One operand with its signs."""
        minus = 0
        while self._next_is("OPERATOR-PREFIX"):
            minus += self._left.pop().text == "-"
        node = self._bare()
        while self._next_is("OPERATOR-POSTFIX"):
            self._left.pop()
            node = Percent(node)
        for _ in range(2 - minus % 2 if minus > 1 else minus):
            node = Prefix(node)
        return node

    def _bare(self) -> Node:
        if not self._left:
            raise self._wrong()
        if self._next_is("OPERAND"):
            return _operand_of(self._left.pop())
        if self._next_is("PAREN", "OPEN"):
            self._left.pop()
            node = self._expression(1)
            self._close("PAREN")
            return node
        if self._next_is("FUNC", "OPEN"):
            return self._call(self._left.pop().text[:-1].strip())
        if self._next_is("ARRAY", "OPEN"):
            self._left.pop()
            return self._grid()
        raise self._wrong()

    def _close(self, kind: str) -> None:
        if not self._next_is(kind, "CLOSE"):
            raise self._wrong()
        self._left.pop()

    def _call(self, spelt: str) -> Call:
        arguments: list[Node | None] = []
        while not self._next_is("FUNC", "CLOSE"):
            if self._next_is("SEP", "ARG"):
                arguments.append(None)
            else:
                arguments.append(self._expression(1))
            if self._next_is("SEP", "ARG"):
                self._left.pop()
                if self._next_is("FUNC", "CLOSE"):
                    arguments.append(None)
            elif not self._next_is("FUNC", "CLOSE"):
                raise self._wrong()
        self._close("FUNC")
        if mentions(spelt):
            name = called(spelt)
            if not name:
                raise UnreadableFormulaError(f"'{spelt}' is no spelling of a function of rigxl")
            return Call(name, True, tuple(arguments))
        return Call(re.sub(r"^_XLFN\.(_XLWS\.)?", "", spelt.upper()), False, tuple(arguments))

    def _grid(self) -> Grid:
        rows: list[list[Node]] = [[]]
        while True:
            node = self._operand()
            if not isinstance(node, Constant | Prefix):
                raise UnreadableFormulaError("an array holds what is no value")
            rows[-1].append(node)
            if self._next_is("SEP", "ARG"):
                self._left.pop()
            elif self._next_is("SEP", "ROW"):
                self._left.pop()
                rows.append([])
            else:
                break
        self._close("ARRAY")
        if len({len(row) for row in rows}) > 1:
            raise UnreadableFormulaError("the rows of an array are not of one length")
        return Grid(tuple(map(tuple, rows)))


def _operand_of(token: Token) -> Node:
    if token.part == "TEXT":
        return Constant(token.text[1:-1].replace('""', '"'))
    if token.part == "ERROR":
        return Constant(CellError(token.text))
    text = token.text.strip()
    if text.upper() in ("TRUE", "FALSE"):
        return Constant(text.upper() == "TRUE")
    if _NUMBER.fullmatch(text):
        return Constant(float(text))
    return Reference(text)
