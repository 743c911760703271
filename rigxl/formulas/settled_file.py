"""Writing a settled workbook: values, notes, the list of formulas, the proof that no more changed."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

from rigxl.errors import CellError, WorkbookError
from rigxl.formulas.place import Where
from rigxl.formulas.working import Working
from rigxl.workbook import calcchain, policy, rewrite, splice, verify
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book
from rigxl.workbook.formulas import CellFormula
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.heights import height
from rigxl.workbook.marks import Content, Link, Look, NewCell, NewSheet
from rigxl.workbook.notes import COMMENTS_TYPE, DRAWING_TYPE, MOST, can_have_notes, notes_of
from rigxl.workbook.package import Package, Workbook, truth
from rigxl.workbook.parts import Parts
from rigxl.workbook.replacing import Cell, Settled, replacing
from rigxl.workbook.sameness import fingerprint
from rigxl.workbook.sheet import ORDER
from rigxl.workbook.splice import Edit
from rigxl.workbook.values import Formula, Plain, Value, cell_name

LIST = "rigxl settled formulas"
_WIDTHS = (24.0, 60.0, 18.0, 60.0)
_HEADING = Look(bold=True, border=True, wrap=True)
_TEXT = Look(border=True, wrap=True)
_RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_BEFORE_CALCULATION = (
    "fileVersion", "fileSharing", "workbookPr", "workbookProtection", "bookViews", "sheets", "functionGroups",
    "externalReferences", "definedNames", "calcPr",
)  # fmt: skip
"""The order of a workbook's elements up to its calculation (ECMA-376-1, 18.2.27)."""


class Keeping:
    """What a settled workbook is to hold, sheet by sheet, and where each formula is kept."""

    def __init__(self, workbook: Workbook, book: Book) -> None:
        self.workbook = workbook
        self.book = book
        self.parts = Parts(workbook)
        self.formulas: dict[str, list[CellFormula]] = {}
        self.values: dict[str, dict[Cell, Settled]] = defaultdict(dict)
        self.results: dict[str, dict[Cell, Settled | None]] = defaultdict(dict)
        self.recalculate = False
        """Whether a result is missing, so that the workbook must be calculated when it is opened."""
        self.said: list[str] = []
        self._notes: dict[str, dict[str, str]] = defaultdict(dict)
        self._lines: dict[str, list[tuple[Where, str, Settled, str]]] = defaultdict(list)
        protection = workbook.tree.find("workbookProtection")
        self._locked = protection is not None and truth(protection.attributes.get("lockStructure"))

    def can_keep(self, sheet: str) -> bool:
        """Whether there is a place to keep the formulas of a sheet."""
        return not self._locked or self._noted(sheet)

    def keep(self, where: Where, note: str, line: tuple[str, Settled, str]) -> None:
        """Keep one formula, in a note and as a line of the list; which of them is written comes later."""
        self._notes[where.sheet][cell_name(where.row, where.column)] = note
        self._lines[where.sheet].append((where, *line))

    def part(self, sheet: str) -> str:
        """The part of a sheet."""
        return next(one.part for one in self.workbook.sheets if one.name == sheet)

    def _noted(self, sheet: str) -> bool:
        part = self.part(sheet)
        frame = frame_of(self.workbook.package.text(part).text, part)
        return can_have_notes(self.workbook, part, frame, self.parts.strict)

    def finish(self) -> frozenset[str]:
        """Work out all parts; gives the sheets that get notes."""
        noted = frozenset(
            sheet
            for sheet, notes in self._notes.items()
            if self._noted(sheet) and (len(notes) <= MOST or self._locked)
        )
        for one in self.workbook.sheets:
            if self.values.get(one.name) or self.results.get(one.name):
                self._change(one.name, one.name in noted)
        self._finish_chain()
        if self.recalculate:
            self.parts.workbook_edits.append(self._asking())
        listed = [line for sheet in self._lines for line in self._lines[sheet] if sheet not in noted]
        if listed:
            name = policy.sheet_name(LIST, () if self.parts.our_sheet(LIST) else self.parts.sheet_names)
            self.parts.put_sheet(_list_sheet(name, listed), name)
            for sheet in sorted(set(self._lines) - noted):
                self.said.append(
                    f"sheet {sheet} can be given no notes: its formulas are kept on sheet {name}"
                )
        return noted

    def _change(self, name: str, noted: bool) -> None:
        part = self.part(name)
        encoded = self.workbook.package.text(part)
        frame = frame_of(encoded.text, part)
        edits = replacing(frame, part, self.formulas[name], self.values[name], self.results[name])
        if noted:
            notes = notes_of(self._notes[name])
            comments = self.parts.add("comments", notes.comments, COMMENTS_TYPE)
            drawing = self.parts.add("drawings/vmlDrawing", notes.drawing, DRAWING_TYPE, "vml")
            self.parts.relate(part, "comments", comments)
            relation = self.parts.relate(part, "vmlDrawing", drawing)
            xml = f'<legacyDrawing xmlns:r="{_RELATIONS}" r:id="{relation}"/>'
            written = splice.prefixed(xml.encode(), splice.prefix_of(frame.text, frame.tree))
            edits.append(splice.insert_in_order(frame.tree, "legacyDrawing", ORDER, written))
        self.parts.change(part, encoded, splice.in_order(edits))

    def _finish_chain(self) -> None:
        """Take the settled cells out of the calculation chain."""
        part = self.workbook.own("calcChain")
        if not part:
            return
        listed = self.workbook.tree.find("sheets")
        numbers = {
            one.attributes.get("name", ""): one.attributes.get("sheetId", "")
            for one in (listed.children if listed else ())
        }
        gone = {
            (numbers[name], cell_name(*cell))
            for name, values in self.values.items()
            for cell, value in values.items()
            if value != ""
        }
        encoded = self.workbook.package.text(part)
        edits = calcchain.without(encoded.text, part, gone)
        if edits is None:
            self.parts.drop(part)
        elif edits:
            self.parts.change(part, encoded, splice.in_order(edits))

    def _asking(self) -> Edit:
        """The edit that asks for a calculation when the workbook is opened."""
        tree, text = self.workbook.tree, self.workbook.package.text(self.workbook.part).text
        element = tree.find("calcPr")
        if element is not None:
            return splice.set_attribute(text, element, b"fullCalcOnLoad", b"1")
        xml = splice.prefixed(b'<calcPr fullCalcOnLoad="1"/>', splice.prefix_of(text, tree))
        return splice.insert_in_order(tree, "calcPr", _BEFORE_CALCULATION, xml)


def _list_sheet(name: str, lines: list[tuple[Where, str, Settled, str]]) -> NewSheet:
    """The list of formulas that could be kept in no note."""
    title = (NewCell("Formulas with rigxl's functions, replaced by their values", Look(bold=True, size=14)),)
    headings = tuple(NewCell(text, _HEADING) for text in ("Cell", "Formula", "Value", "Why, or relying on"))
    rows = [title, headings]
    for where, formula, value, why in lines:
        link = Link(where.address, where.sheet, cell_name(where.row, where.column))
        shown: Content = str(value) if isinstance(value, CellError) else value
        rows.append(tuple(NewCell(content, _TEXT) for content in (link, formula, shown, why or None)))
    heights = [24.0, None]
    for formula_cell, _, why_cell in (row[1:] for row in rows[2:]):
        texts = (formula_cell.content, why_cell.content)
        heights.append(
            height((str(one or ""), width) for one, width in zip(texts, _WIDTHS[1::2], strict=True))
        )
    return NewSheet(
        name, _WIDTHS, tuple(rows), freeze_rows=2, wide_rows=frozenset({1}), heights=tuple(heights)
    )


def write_settled(source: Path, target: Path, keeping: Keeping) -> None:
    """Write a settled workbook, and prove that nothing changed but what was to change.

    Raises:
        WorkbookError: It cannot be written, or does not pass its proof; then there is no such file.
    """
    noted, workbook, parts = keeping.finish(), keeping.workbook, keeping.parts

    def prove(written: Path) -> None:
        verify.prove(
            written, workbook, {}, parts.changed, list(parts.added), parts.dropped, around={"calcPr"}
        )
        package = Package(written.read_bytes(), verify.ROOMY)
        for sheet in workbook.sheets:
            if workbook.package.entry_name(sheet.part) in parts.changed:
                without = {"legacyDrawing"} if sheet.name in noted else set()
                _prove_sheet(keeping, sheet.name, package, without)
        _prove_values(keeping, read_book(written, Limits(2**40, 2**40, 2**20, ratio=2**20)))

    rewrite.write(source, target, parts, prove)


def _prove_sheet(keeping: Keeping, sheet: str, written: Package, without: set[str]) -> None:
    """A sheet says what it said but in the cells that were to change."""
    part = keeping.part(sheet)
    free = _touched(keeping, sheet)
    before = fingerprint(keeping.workbook.package.text(part).text, part, free=free, without=without)
    if before != fingerprint(written.text(part).text, part, free=free, without=without):
        raise WorkbookError(
            "proof-failed", f"sheet {sheet} would differ in other cells, so nothing was written"
        )


def _touched(keeping: Keeping, sheet: str) -> set[Cell]:
    """The cells of a sheet that may differ."""
    values, results = keeping.values.get(sheet, {}), keeping.results.get(sheet, {})
    orphans = {
        (one.row, one.column)
        for one in keeping.formulas.get(sheet, ())
        if (one.row - one.told.moved[0], one.column - one.told.moved[1]) in values
    }
    return {*values, *results, *orphans}


def _prove_values(keeping: Keeping, written: Book) -> None:
    """Every cell reads as it did, or as it was to."""
    plain = Working(keeping.book).plain
    for old, new in zip(keeping.book.sheets, written.sheets, strict=False):
        values, results = keeping.values.get(old.name, {}), keeping.results.get(old.name, {})
        for row in old.rows:
            for column, was in row.cells.items():
                where = row.number, column
                now = new.cell(*where)
                if where in values:
                    same = plain(_settled(now)) == values[where]
                elif isinstance(was, Formula) and isinstance(now, Formula):
                    same = now.text == was.text and (where in results or now.result == was.result)
                    if where in results:
                        same = same and plain(now.result) == results[where]
                else:
                    same = now == was
                if not same:
                    raise WorkbookError(
                        "proof-failed",
                        f"{old.name}!{cell_name(*where)} would read wrongly, so nothing was written",
                    )


def _settled(value: Value) -> Plain:
    """A settled value as it is read; the formula ="" stands for an empty text."""
    if isinstance(value, Formula):
        return value.result if value.text == '=""' else CellError("#NAME?")
    return value
