"""What else relies on cells whose stored results must not be used: their results are as stale as those."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from rigxl.formulas.ours import Ours
from rigxl.formulas.place import Where
from rigxl.workbook.contents import Book
from rigxl.workbook.references import references
from rigxl.workbook.values import Area, Formula

_WORD = re.compile(r"[^\W\d][\w.\\]*")
Areas = Mapping[str, tuple[Area, ...]]


def dependents(book: Book, doubtful: Iterable[Where]) -> list[tuple[Where, Where]]:
    """The cells with formulas of others that rely on doubtful cells, each with the cell it relies on.

    Args:
        book: The workbook.
        doubtful: Cells whose stored results must not be used.
    """
    waiting = list(doubtful)
    if not waiting:
        return []
    speaks = list(_speaking(book))
    found: list[tuple[Where, Where]] = []
    seen = set(waiting)
    while waiting:
        by_sheet: dict[str, list[Where]] = defaultdict(list)
        for where in waiting:
            by_sheet[where.sheet.lower()].append(where)
        waiting = []
        for where, areas in speaks:
            if where in seen:
                continue
            on = next(_within(areas, by_sheet), None)
            if on is not None:
                seen.add(where)
                found.append((where, on))
                waiting.append(where)
    return found


def _within(areas: Iterable[tuple[str, Area]], cells: Mapping[str, list[Where]]) -> Iterator[Where]:
    """Those of some cells that lie in areas."""
    for sheet, area in areas:
        for cell in cells.get(sheet, ()):
            inside = area.first_row <= cell.row <= area.last_row
            if inside and area.first_column <= cell.column <= area.last_column:
                yield cell


def _speaking(book: Book) -> Iterator[tuple[Where, list[tuple[str, Area]]]]:
    """Every cell with a formula of others, and the areas it speaks of, by address, by name or by table."""
    names, ours = {name.lower(): text for name, text in book.names.items()}, Ours(book.names)
    tables = {table.name.lower(): (sheet.name, table.area) for sheet in book.sheets for table in sheet.tables}
    for sheet in book.sheets:
        for row in sheet.rows:
            for column, value in row.cells.items():
                if isinstance(value, Formula) and value.written and not ours.mention(value.written):
                    where = Where(sheet.name, row.number, column)
                    yield where, list(_areas(value.text, sheet.name, names, tables))


def _areas(
    formula: str, owner: str, names: Mapping[str, str], tables: Mapping[str, tuple[str, Area]]
) -> Iterator[tuple[str, Area]]:
    texts, seen = [formula], {formula}
    while texts:
        text = texts.pop()
        for sheet, area in references(text):
            yield (sheet or owner).lower(), area
        for word in {found.lower() for found in _WORD.findall(text)}:
            for name in (word, f"{owner.lower()}!{word}"):
                told = names.get(name)
                if told is not None and told not in seen:
                    seen.add(told)
                    texts.append(told)
            if word in tables:
                sheet, area = tables[word]
                yield sheet.lower(), area
