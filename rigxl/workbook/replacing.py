"""Formulas replaced by values, and stored results replaced by others, as edits of one worksheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from rigxl.errors import CellError
from rigxl.workbook import splice, written
from rigxl.workbook.formulas import CellFormula
from rigxl.workbook.frame import Frame
from rigxl.workbook.rows import RowIndex
from rigxl.workbook.splice import Edit
from rigxl.workbook.values import cell_name

Cell: TypeAlias = tuple[int, int]
Settled: TypeAlias = float | str | bool | CellError


def replacing(
    frame: Frame,
    part: str,
    formulas: Sequence[CellFormula],
    values: Mapping[Cell, Settled],
    results: Mapping[Cell, Settled | None],
) -> list[Edit]:
    """The edits that put values in place of formulas, and results in place of those that are stored.

    A member of a shared formula whose first cell goes gets its formula in full.

    Args:
        frame: The sheet.
        part: Its name, for messages.
        formulas: All formulas of the sheet.
        values: What stands in place of whole formulas, and of the cells that array formulas fill.
        results: What stands in place of the stored results of formulas that stay; None for nothing.
    """
    prefix = splice.prefix_of(frame.text, frame.tree)
    edits, done = [], set()
    for one in formulas:
        cell = one.row, one.column
        done.add(cell)
        if cell in values:
            xml = _value(cell, one.attributes.get("s", ""), values[cell])
            edits.append(Edit(*one.cell, splice.prefixed(xml, prefix)))
            continue
        first = one.row - one.told.moved[0], one.column - one.told.moved[1]
        orphan = first != cell and first in values
        element = frame.text[slice(*one.element)]
        if orphan:
            element = splice.prefixed(f"<f>{splice.escaped(one.text[1:])}</f>".encode(), prefix)
        if cell in results:
            edits.append(Edit(*one.cell, _result(one, element, results[cell], prefix)))
        elif orphan:
            edits.append(Edit(*one.element, element))
    edits += _filled(frame, part, {cell: value for cell, value in values.items() if cell not in done}, prefix)
    return splice.in_order(edits)


def _filled(frame: Frame, part: str, values: Mapping[Cell, Settled], prefix: bytes) -> Iterator[Edit]:
    """The edits of cells that hold no formula themselves."""
    if not values:
        return
    rows = RowIndex(frame, part)
    for number in sorted({row for row, _ in values}):
        row = rows.get(number)
        for cell in rows.cells(row) if row else ():
            if (number, cell.column) in values:
                xml = _value((number, cell.column), cell.style, values[number, cell.column])
                yield Edit(cell.start, cell.end, splice.prefixed(xml, prefix))


def _value(cell: Cell, style: str, value: Settled) -> bytes:
    """A cell with a value; an empty text, which no cell can hold as a value, is the formula ="" ."""
    if isinstance(value, CellError) or value == "":
        given = f' s="{style}"' if style else ""
        kind, inner = ("e", f"<v>{splice.escaped(value)}</v>") if value else ("str", '<f>""</f><v></v>')
        return f'<c r="{cell_name(*cell)}"{given} t="{kind}">{inner}</c>'.encode()
    return written.Writer(cell[1], splice.whole(style)).cell(cell[0], value)


def _result(one: CellFormula, element: bytes, value: Settled | None, prefix: bytes) -> bytes:
    """A cell with its formula and another result; None for none."""
    kind, stored = "", ""
    if isinstance(value, bool):
        kind, stored = "b", f"{value:d}"
    elif isinstance(value, str):
        kind = "e" if isinstance(value, CellError) else "str"
        stored = written.text(value)
    elif value is not None:
        stored = written.number(value)
    given = {"r": cell_name(one.row, one.column), **one.attributes, "t": kind}
    shown = "".join(f" {name}={splice.quoted(text)}" for name, text in given.items() if text)
    result = "" if value is None else f"<v>{stored}</v>"
    opening, closing = f"<c{shown}>".encode(), f"{result}</c>".encode()
    return splice.prefixed(opening, prefix) + element + splice.prefixed(closing, prefix)
