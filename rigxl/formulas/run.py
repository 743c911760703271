"""One formula worked out in its cell: from its tree to what it gives."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeAlias

from rigxl.errors import CellError
from rigxl.formulas import arithmetic, native
from rigxl.formulas.arithmetic import NA, VALUE, Scalar, UnworkableError
from rigxl.formulas.lookup import LOOKUPS
from rigxl.formulas.native import Block
from rigxl.formulas.place import Cells, Where
from rigxl.formulas.tree import (
    NUMBERED,
    Call,
    Constant,
    Grid,
    Infix,
    Node,
    Percent,
    Prefix,
    Reference,
    parsed,
)
from rigxl.formulas.worked import CircularError, Refusal, Rows, Worked
from rigxl.functions.columns import Refused, answer
from rigxl.workbook.moved import is_fixed

if TYPE_CHECKING:
    from rigxl.formulas.working import Working

MOST_GRIDS = 256
MOST_NAMED = 8
"""Cells that a result is said to rely on."""

Result: TypeAlias = Scalar | Rows | Cells


class Run:
    """One formula being worked out in its cell."""

    def __init__(
        self,
        working: Working,
        where: Where,
        *,
        array: bool,
        cells: tuple[str, ...] = (),
        names: tuple[str, ...] = (),
    ) -> None:
        self.working = working
        self.cells = cells
        self.where = where
        self.array = array
        self.names = names
        self.stored: list[str] = []
        self.ours = False

    def note(self, worked: Worked) -> None:
        """Another formula had a part in this one."""
        self.ours = self.ours or worked.ours
        for cell in worked.stored:
            self.rely_on(cell)

    def rely_on(self, cell: str) -> None:
        """A stored result was taken as it is."""
        if cell not in self.stored and len(self.stored) < MOST_NAMED:
            self.stored.append(cell)

    def result(self, node: Node) -> Result:
        """What a node gives, cells as cells."""
        self.working.spend(1)
        if isinstance(node, Constant):
            return node.value
        if isinstance(node, Reference):
            return self._reference(node.text)
        if isinstance(node, Infix):
            return self._each(lambda one, two: arithmetic.infix(node.sign, one, two), [node.left, node.right])
        if isinstance(node, Prefix):
            return self._each(lambda value: arithmetic.infix("-", 0.0, value), [node.operand])
        if isinstance(node, Percent):
            return self._each(lambda value: arithmetic.infix("/", value, 100.0), [node.operand])
        if isinstance(node, Grid):
            return [[self.one(self.result(value)) for value in row] for row in node.rows]
        if node.ours:
            return self._our(node)
        return self._native(node.name, node.arguments)

    def _reference(self, text: str) -> Result:
        if text[0] == NUMBERED:
            text = self.cells[int(text[1:])]
        places = self.working.places
        cells = places.cells(text, self.where)
        if cells is not None:
            return cells
        told = places.name(text, self.where)
        if text.lower() in self.names or len(self.names) > 20:
            raise CircularError(f"the name {text} needs itself")
        if not is_fixed(told):
            raise UnworkableError(f"the name {text} means other cells in every cell ({told})")
        inner = Run(self.working, self.where, array=True, names=(*self.names, text.lower()))
        found = inner.result(parsed(told))
        self.note(Worked(0.0, inner.stored, inner.ours))
        return found

    def one(self, result: Result) -> Scalar:
        """One value: of several cells the one in line with the formula."""
        if isinstance(result, list):
            return result[0][0]
        if not isinstance(result, Cells):
            return result
        area, where = result.area, self.where
        flat, narrow = area.first_row == area.last_row, area.first_column == area.last_column
        row = area.first_row if flat else where.row
        column = area.first_column if narrow else where.column
        if (
            not (flat or narrow)
            or not area.first_row <= row <= area.last_row
            or not area.first_column <= column <= area.last_column
        ):
            return VALUE
        return self.working.cell(result.sheet, row, column, self)

    def rows(self, cells: Cells) -> Rows:
        """The values of cells; they are not to be changed."""
        known = self.working.grids.get(cells)
        if known is None:
            inner = Run(self.working, self.where, array=False)
            rows = inner.each_cell(cells)
            known = Worked(rows, inner.stored, inner.ours)
            if len(self.working.grids) < MOST_GRIDS:
                self.working.grids[cells] = known
        self.note(known)
        assert isinstance(known.value, list)
        return known.value

    def each_cell(self, cells: Cells) -> Rows:
        """The values of cells, those of whole rows or columns as far as the sheet is used."""
        area = cells.area
        used = self.working.used(cells.sheet)
        last_row = min(area.last_row, max(used.last_row, area.first_row))
        last_column = min(area.last_column, max(used.last_column, area.first_column))
        self.working.spend((last_row - area.first_row + 1) * (last_column - area.first_column + 1))
        return [
            [
                self.working.cell(cells.sheet, row, column, self)
                for column in range(area.first_column, last_column + 1)
            ]
            for row in range(area.first_row, last_row + 1)
        ]

    def spread(self, result: Result) -> Scalar | Rows:
        """A value, or rows of them where there are several and the formula wants them all."""
        if isinstance(result, Cells):
            return self.rows(result) if self.array and not result.single else self.one(result)
        return result

    def _each(self, function: Callable[..., Scalar], nodes: Sequence[Node | None]) -> Scalar | Rows:
        """A function of single values; of several values it gives as many."""
        return _stretched(function, [None if one is None else self.spread(self.result(one)) for one in nodes])

    def _our(self, node: Call) -> Scalar | Rows:
        self.ours = True
        given: list[object] = []
        for one in node.arguments:
            result = None if one is None else self.result(one)
            if one is None:
                given.append(None)
            elif isinstance(result, Cells) and not result.single:
                given.append(self.rows(result))
            elif isinstance(result, list):
                given.append(result)
            else:
                value = self.one(result)
                given.append("" if value is None else value)
        found = answer(node.name, given)
        if isinstance(found, list):
            return [[Refusal(cell) if isinstance(cell, Refused) else cell for cell in row] for row in found]
        return Refusal(found) if isinstance(found, Refused) else found

    def _native(self, name: str, nodes: tuple[Node | None, ...]) -> Result:
        if name in native.EACH:
            return self._each(lambda *values: native.of_each(name, values), nodes)
        if name in native.ALL:
            return native.of_all(name, [self._argument(one) for one in nodes])
        if name in LOOKUPS:
            return LOOKUPS[name]([None if one is None else self._table(one) for one in nodes])
        if name in ("IF", "IFERROR", "IFNA", "CHOOSE"):
            return self._choice(name, nodes)
        raise UnworkableError(f"it uses the function {name}, which is not worked out here")

    def _argument(self, node: Node | None) -> native.Argument:
        result = None if node is None else self.result(node)
        if isinstance(result, Cells):
            return Block(self.rows(result))
        return Block(result) if isinstance(result, list) else result

    def _table(self, node: Node) -> Scalar | Rows:
        result = self.result(node)
        return self.rows(result) if isinstance(result, Cells) and not result.single else self.spread(result)

    def _choice(self, name: str, nodes: tuple[Node | None, ...]) -> Result:
        """A function that works out only what it needs."""
        first = self.spread(self.result(nodes[0])) if nodes and nodes[0] is not None else [[None]]
        if isinstance(first, list):
            raise UnworkableError(f"it uses {name} on several cells at once, which is not worked out here")
        if name in ("IFERROR", "IFNA"):
            if first is None:
                raise UnworkableError(f"programs differ on what {name} leaves of a blank cell")
            caught = isinstance(first, CellError) and (name == "IFERROR" or first == NA)
            return self._branch(nodes, 1) if caught else first
        if name == "CHOOSE":
            at = arithmetic.number(first)
            if isinstance(at, CellError):
                return at
            return self._branch(nodes, int(at)) if 1 <= at < len(nodes) else VALUE
        held = arithmetic.truth(first)
        if isinstance(held, CellError):
            return held
        if not 2 <= len(nodes) <= 3:
            raise UnworkableError(f"{name} has {len(nodes)} arguments")
        if not held and len(nodes) < 3:
            return False
        return self._branch(nodes, 1 if held else 2)

    def _branch(self, nodes: tuple[Node | None, ...], at: int) -> Result:
        if at >= len(nodes):
            raise UnworkableError("an argument is missing")
        node = nodes[at]
        return 0.0 if node is None else self.result(node)


def _stretched(function: Callable[..., Scalar], values: Sequence[Scalar | Rows]) -> Scalar | Rows:
    """A function over values of which some are rows; one row, column or cell stretches over the others."""
    grids = [value for value in values if isinstance(value, list)]
    if not grids:
        return function(*values)
    height, width = max(map(len, grids)), max(len(grid[0]) for grid in grids)

    def at(value: Scalar | Rows, row: int, column: int) -> Scalar:
        return Worked(value).at(row, column)

    return [
        [function(*(at(value, row, column) for value in values)) for column in range(width)]
        for row in range(height)
    ]
