"""What is in a workbook, whether it can be marked, and why not: a plain record for a person to read.

Nothing is changed. The record names every thing that other programs are known to lose, so that someone
can look for it in the marked copy.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from rigxl.errors import WorkbookError
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.frame import Frame, frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Package, SheetPart, Workbook, open_package, read_file, truth
from rigxl.workbook.splice import Element
from rigxl.workbook.values import CellError, Formula, cell_name, column_letters

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


def examine(path: Path, limits: Limits = STANDARD) -> Record:
    """What is in a workbook and whether it can be marked.

    Args:
        path: The file; it is only read.
        limits: How large it may be.
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
        sheets=tuple(_sheets(book, workbook)),
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


def _sheets(book: Book, workbook: Workbook) -> Iterator[SheetRecord]:
    """Every sheet in its order; those that are no worksheets with their name and kind alone."""
    read = iter(book.sheets)
    for part in workbook.sheets:
        if part.kind != "worksheet":
            yield SheetRecord(part.name, part.state, part.kind)
            continue
        frame = frame_of(workbook.package.text(part.part).text, part.part)
        yield replace(_from_cells(next(read)), things=_things(workbook.package, part, frame))


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
