"""What is in a workbook, whether it can be marked, and why not: a plain record for a person to read.

Nothing is changed. The record names every thing that other programs are known to lose, so that someone
can look for it in the marked copy.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from rigxl.errors import WorkbookError
from rigxl.workbook import policy
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.frame import Frame, frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.marks import Block, Content, MarkColumn, NoPlaceError, SheetMarks
from rigxl.workbook.package import Package, SheetPart, Workbook, open_package, read_file, truth
from rigxl.workbook.rows import RowIndex
from rigxl.workbook.splice import Element
from rigxl.workbook.touched import Formulas, Touch, touches
from rigxl.workbook.values import CellError, Formula, Value, cell_name, column_letters

MOST_CELLS_NAMED = 20
STANDARD = Limits()

SHEET_RELATIONS = {
    "comments": "notes",
    "threadedComment": "threaded comments",
    "pivotTable": "pivot tables",
    "table": "tables",
    "queryTable": "query tables",
    "ctrlProp": "form controls",
    "control": "controls",
    "oleObject": "embedded objects",
    "package": "embedded objects",
    "slicer": "slicers",
    "timeline": "timelines",
    "printerSettings": "printer settings",
    "image": "pictures",
}
DRAWING_RELATIONS = {
    "chart": "charts",
    "chartEx": "charts",
    "image": "pictures",
    "diagramData": "diagrams",
    "slicer": "slicers",
}
ELEMENTS = {
    "conditionalFormatting": "conditional formats",
    "dataValidation": "validations",
    "hyperlink": "links",
    "sparklineGroup": "sparklines",
    "protectedRange": "protected ranges",
    "scenario": "scenarios",
    "customSheetView": "custom views",
    "legacyDrawingHF": "header pictures",
}
BOOK_RELATIONS = {
    "externalLink": "links to other workbooks",
    "vbaProject": "macros",
    "connections": "data connections",
    "pivotCacheDefinition": "pivot caches",
    "customXml": "custom XML",
    "sheetMetadata": "cell metadata",
    "person": "authors of threaded comments",
    "ctrlProp": "form controls",
    "xlMacrosheet": "macro sheets",
    "featurePropertyBag": "checkbox formats",
}


@dataclass(frozen=True)
class SheetRecord:
    """One sheet. ``used`` is its used range, such as A1:F40; lists of cells are cut after 20."""

    name: str
    state: str
    kind: str
    used: str = ""
    rows: int = 0
    cells: int = 0
    formulas: int = 0
    never_calculated: int = 0
    never_calculated_cells: tuple[str, ...] = ()
    errors: int = 0
    error_cells: tuple[str, ...] = ()
    hidden_rows: int = 0
    hidden_columns: tuple[str, ...] = ()
    merged: int = 0
    tables: tuple[str, ...] = ()
    filtered: bool = False
    protected: bool = False
    things: dict[str, int] = field(default_factory=dict)
    """What else is there, by its plain name: charts, notes, validations, conditional formats ..."""
    place: str = ""
    """The columns that marks would take, such as H:J."""
    no_place: str = ""
    """Why no columns can be found for marks; they would go into a separate report workbook."""


@dataclass(frozen=True)
class Record:
    """What examining a workbook found.

    ``refused`` is the code of the refusal when it cannot be read, ``why_not`` says in a sentence why
    it cannot be marked in a copy; both are empty when all is well.
    """

    path: Path
    kind: str = ""
    sheets: tuple[SheetRecord, ...] = ()
    names: tuple[str, ...] = ()
    things: dict[str, int] = field(default_factory=dict)
    signed: bool = False
    structure_locked: bool = False
    date_1904: bool = False
    warnings: tuple[str, ...] = ()
    refused: str = ""
    why_not: str = ""

    @property
    def markable(self) -> bool:
        """Can marks be put into a copy of this very workbook?"""
        return not self.why_not


def examine(path: Path, limits: Limits = STANDARD, columns: int = 3) -> Record:
    """What is in a workbook and whether it can be marked.

    Args:
        path: The file; it is only read.
        limits: How large it may be.
        columns: How many columns the marks would take.
    """
    try:
        book = read_book(path, limits)
        package = open_package(read_file(path, limits), path.name, limits)
    except WorkbookError as refusal:
        return Record(path, refused=refusal.code, why_not=refusal.sentence)
    plain = Record(path, book.kind, names=tuple(book.names), date_1904=book.date_1904, warnings=book.warnings)
    if package is None:
        return replace(
            plain,
            sheets=tuple(_from_cells(sheet) for sheet in book.sheets),
            why_not=f"a workbook of the kind .{book.kind} can only be read; "
            "its marks go into a separate report workbook",
        )
    workbook = Workbook(package)
    return replace(
        plain,
        sheets=tuple(_sheets(book, workbook, columns)),
        things=_count(package, workbook.part, BOOK_RELATIONS),
        signed=workbook.signed,
        structure_locked=_structure_locked(workbook.tree),
        why_not=_why_not(workbook),
    )


def _why_not(workbook: Workbook) -> str:
    """The reason why a readable workbook cannot be marked; empty when it can."""
    if workbook.signed:
        return "the workbook carries a digital signature, which any change would break"
    return ""


def _structure_locked(tree: Element) -> bool:
    protection = tree.find("workbookProtection")
    return protection is not None and truth(protection.attributes.get("lockStructure"))


def _sheets(book: Book, workbook: Workbook, columns: int) -> Iterator[SheetRecord]:
    """Every sheet in its order; those that are no worksheets with their name and kind alone."""
    formulas = Formulas(workbook)
    read = iter(book.sheets)
    for part in workbook.sheets:
        if part.kind != "worksheet":
            yield SheetRecord(part.name, part.state, part.kind)
            continue
        sheet = next(read)
        frame = frame_of(workbook.package.text(part.part).text, part.part)
        record = replace(_from_cells(sheet), things=_things(workbook.package, part, frame))
        if sheet.rows:
            index = RowIndex(frame, part.part)
            reached = touches(workbook, part, frame, formulas)
            record = _placed(record, sheet, index, reached, columns)
        yield record


def _placed(
    record: SheetRecord, sheet: Sheet, index: RowIndex, reached: Sequence[Touch], columns: int
) -> SheetRecord:
    """The record with the place of marks beside every filled row, or the reason why there is none."""
    headings = {row.number: row.cells for row in sheet.rows if any(map(_is_ours, row.cells.values()))}
    ours = {column for cells in headings.values() for column in cells if _is_ours(cells[column])}
    used = {column for row in sheet.rows for column in row.cells} - ours or {1}
    rows: dict[int, tuple[Content, ...]] = {row.number: () for row in sheet.rows}
    starts = headings or {sheet.rows[0].number: {}}
    blocks = tuple(Block(row, min(used), max(used), rows) for row in starts)
    marks = SheetMarks(sheet.name, (MarkColumn("", 10),) * columns, blocks, 0, {})
    earlier = policy.earlier_marks(marks, headings, index.last_row)
    try:
        first = policy.choose(marks, index, reached, earlier).first
    except NoPlaceError as reason:
        return replace(record, no_place=str(reason))
    last = first + columns - 1
    return replace(record, place=f"{column_letters(first)}:{column_letters(last)}")


def _is_ours(value: Value) -> bool:
    return isinstance(value, str) and policy.is_ours(value)


def _from_cells(sheet: Sheet) -> SheetRecord:
    """What the cells of a sheet tell."""
    cells = formulas = errors = never = 0
    errors_at: list[str] = []
    never_at: list[str] = []
    columns: set[int] = set()
    for row in sheet.rows:
        cells += len(row.cells)
        columns.update(row.cells)
        for column, value in row.cells.items():
            shown = value
            if isinstance(value, Formula):
                formulas += 1
                shown = value.result
                if not value.calculated:
                    never += 1
                    if never <= MOST_CELLS_NAMED:
                        never_at.append(cell_name(row.number, column))
            if isinstance(shown, CellError):
                errors += 1
                if errors <= MOST_CELLS_NAMED:
                    errors_at.append(cell_name(row.number, column))
    used = ""
    if columns:
        first, last = sheet.rows[0].number, sheet.rows[-1].number
        used = f"{cell_name(first, min(columns))}:{cell_name(last, max(columns))}"
    return SheetRecord(
        sheet.name,
        sheet.state,
        "worksheet",
        used,
        len(sheet.rows),
        cells,
        formulas,
        never,
        tuple(never_at),
        errors,
        tuple(errors_at),
        sum(row.hidden for row in sheet.rows),
        tuple(column_letters(column) for column in sorted(sheet.hidden_columns)),
        len(sheet.merges),
        tuple(table.name for table in sheet.tables),
        sheet.filtered,
        sheet.protected,
    )


def _things(package: Package, sheet: SheetPart, frame: Frame) -> dict[str, int]:
    """What a sheet holds beside its cells, counted by its plain name."""
    found = _count(package, sheet.part, SHEET_RELATIONS)
    for drawing in package.related(sheet.part, "drawing"):
        for name, count in _count(package, drawing, DRAWING_RELATIONS).items():
            found[name] = found.get(name, 0) + count
    for element in frame.tree.walk():
        if kind := ELEMENTS.get(element.name):
            found[kind] = found.get(kind, 0) + 1
    return found


def _count(package: Package, part: str, kinds: dict[str, str]) -> dict[str, int]:
    """How many arrows of each kind leave a part."""
    found: dict[str, int] = {}
    for relation in package.relations(part):
        if name := kinds.get(relation.kind[:1].lower() + relation.kind[1:]):
            found[name] = found.get(name, 0) + 1
    return found
