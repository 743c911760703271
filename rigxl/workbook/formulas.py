"""The formulas of a worksheet part, each with its place in the bytes.

Whoever only wants to know what a formula says asks the cells of a ``Book``: ``Formula.text`` is the same.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal, NamedTuple, TypeAlias

from rigxl.errors import WorkbookError
from rigxl.workbook import splice, strings
from rigxl.workbook.areas import column_in, row_number
from rigxl.workbook.frame import Frame, frame_of
from rigxl.workbook.moved import moved
from rigxl.workbook.package import Workbook
from rigxl.workbook.rows import column_of
from rigxl.workbook.shared import Sharing, Told
from rigxl.workbook.values import Area

Kind: TypeAlias = Literal["plain", "shared", "array", "data table"]

_KINDS: dict[str, Kind] = {"shared": "shared", "array": "array", "dataTable": "data table"}
_ATTRIBUTES = rb'((?: [A-Za-z0-9:]+="[^"<>&]*")*+) ?'
_CELL = re.compile(
    rb'<c r="([A-Z]{1,3})([1-9][0-9]{0,6})"' + _ATTRIBUTES + rb">\s*"
    rb"(<f" + _ATTRIBUTES + rb"(?:/>|>([^<]*+)</f>))\s*"
    rb"(<v" + _ATTRIBUTES + rb"(?:/>|>[^<]*+</v>))?\s*(?:<is>[\s\S]*?</is>)?\s*</c>"
)
_FORMULA, _VALUE = ["sheetData", "row", "c", "f"], ["sheetData", "row", "c", "v"]
_GIVEN = re.compile(rb'([A-Za-z]+)="([^"]*)"')


class Span(NamedTuple):
    """A stretch of bytes."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class CellFormula:
    """The formula of one cell, and where it stands in its part as UTF-8.

    ``cell`` is the whole cell, ``opened`` behind its first tag; ``element`` is the whole formula element,
    ``content`` what is in it (None for an empty tag); ``value`` is the whole element of the stored
    result, None when there is none. ``attributes`` are those of the cell.
    """

    row: int
    column: int
    kind: Kind
    told: Told
    attributes: Mapping[str, str]
    cell: Span
    opened: int
    element: Span
    content: Span | None
    value: Span | None

    @property
    def text(self) -> str:
        """The formula with its equals sign, a shared one as it reads here; empty for a what-if table."""
        return moved("=" + self.told.text, *self.told.moved) if self.told.text else ""

    @property
    def fills(self) -> Area | None:
        """The area that an array formula or a what-if table fills."""
        return self.told.fills

    @property
    def written(self) -> bool:
        """Does the text of the formula stand in this very cell?"""
        return self.content is not None and self.content.end > self.content.start


def formulas_of(workbook: Workbook, sheet: str) -> list[CellFormula]:
    """The formulas of a worksheet, in the order of its part."""
    part = next(found.part for found in workbook.sheets if found.name == sheet and found.kind == "worksheet")
    return cell_formulas(frame_of(workbook.package.text(part).text, part), part)


def cell_formulas(frame: Frame, part: str) -> list[CellFormula]:
    """The formulas of a worksheet part, in its order.

    Args:
        frame: The part.
        part: Its name, for messages.
    """
    found = _by_text(frame) if frame.plain else None
    if found is None:
        found = _Finding(frame.text, part).all()
    return found


def _by_text(frame: Frame) -> list[CellFormula] | None:
    """The formulas by their tags; None when they cannot be told by text."""
    text, at, end = frame.text, frame.first, frame.last
    if text.find(b"<!", at, end) >= 0 or text.find(b"<?", at, end) >= 0:
        return None
    found = _Found()
    while (start := text.find(b"<f", at, end)) >= 0:
        cell = _CELL.match(text, max(text.rfind(b"<c ", at, start), at), end)
        if cell is None or cell.start(4) != start:
            return None
        try:
            written = strings.from_xml(cell[6] or b"")
        except ValueError:
            return None
        found.add(
            int(cell[2]),
            column_of(cell[1]),
            written,
            _named(cell[5]),
            _named(cell[3]),
            Span(*cell.span()),
            text.index(b">", cell.end(3)) + 1,
            Span(*cell.span(4)),
            Span(*cell.span(6)) if cell[6] is not None else None,
            Span(*cell.span(7)) if cell[7] is not None else None,
        )
        at = cell.end()
    return found.all()


class _Found:
    """The formulas found so far; members of a shared formula wait for its first cell."""

    def __init__(self) -> None:
        self._found: list[CellFormula] = []
        self._waiting: list[tuple[int, Mapping[str, str]]] = []
        self._sharing = Sharing()

    def add(
        self, row: int, column: int, text: str, given: Mapping[str, str], cell: Mapping[str, str], *spans: Any
    ) -> None:
        """Take in a formula: its text, the attributes of its element and of its cell, where all of it is."""
        told = self._sharing.told(text, given, row, column) if given else Told(text)
        kind = _KINDS.get(given.get("t", ""), "plain")
        if kind == "shared" and not told.text:
            self._waiting.append((len(self._found), given))
        self._found.append(CellFormula(row, column, kind, told, cell, *spans))

    def all(self) -> list[CellFormula]:
        """All of them, in order."""
        for at, given in self._waiting:
            one = self._found[at]
            self._found[at] = replace(one, told=self._sharing.told("", given, one.row, one.column))
        return self._found


def _named(attributes: bytes) -> dict[str, str]:
    return {name.decode(): value.decode() for name, value in _GIVEN.findall(attributes)} if attributes else {}


class _Finding:
    """One run of the parser that notes formulas, where text alone does not tell what a tag is."""

    def __init__(self, text: bytes, part: str) -> None:
        self._text, self._part = text, part
        self._found = _Found()
        self._parser = splice.new_parser(part)
        self._path: list[str] = []
        self._space = ""
        self._row = self._column = self._at = 0
        self._cell: dict[str, str] = {}
        self._given: dict[str, str] | None = None
        self._starts: dict[str, int] = {}
        self._spans: dict[str, Span] = {}
        self._content: Span | None = None
        self._pieces: list[str] = []
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._finish
        self._parser.CharacterDataHandler = self._characters
        splice.parse(self._parser, text, part)

    def all(self) -> list[CellFormula]:
        """The formulas, in order."""
        return self._found.all()

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        self._space = self._space or space
        self._path.append(local if space == self._space else name)
        if len(self._path) > splice.DEPTH:
            raise splice.too_deep(self._part)
        path, at = self._path[1:], self._parser.CurrentByteIndex
        if path == ["sheetData", "row"]:
            self._row, self._column = row_number(attributes.get("r"), self._row), 0
        elif path == ["sheetData", "row", "c"]:
            self._column = column_in(self._row, attributes.get("r"), self._column)
            if not (self._row and self._column):
                raise WorkbookError("damaged", f"{self._part} stores a cell outside its row")
            self._cell, self._given, self._at = attributes, None, at
            self._spans.clear()
        elif path in (_FORMULA, _VALUE):
            self._starts[local] = at
            if local == "f":
                self._given = attributes
                self._pieces.clear()

    def _characters(self, data: str) -> None:
        if self._path[1:] == _FORMULA:
            self._pieces.append(data)

    def _finish(self, name: str) -> None:  # noqa: ARG002
        path = self._path[1:]
        if path in (_FORMULA, _VALUE):
            start = self._starts[path[-1]]
            opened, closing, end = splice.extent(self._parser, self._text, start, self._part)
            self._spans[path[-1]] = Span(start, end)
            if path == _FORMULA:
                self._content = Span(opened, closing) if closing > opened else None
        elif path == _FORMULA[:3] and self._given is not None:
            opened, _, end = splice.extent(self._parser, self._text, self._at, self._part)
            self._found.add(
                self._row,
                self._column,
                strings.unescaped("".join(self._pieces)),
                self._given,
                {key: value for key, value in self._cell.items() if key != "r"},
                Span(self._at, end),
                opened,
                self._spans["f"],
                self._content,
                self._spans.get("v"),
            )
        self._path.pop()
