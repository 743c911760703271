"""Marks as edits of one worksheet: cells and rows put where they belong, everything else left alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from rigxl.workbook import layout, rowlook, splice, written
from rigxl.workbook.areas import area_name, read_area
from rigxl.workbook.frame import Frame
from rigxl.workbook.marks import Link, Look, SheetMarks
from rigxl.workbook.policy import Earlier
from rigxl.workbook.rows import RowIndex, RowSpan
from rigxl.workbook.splice import Edit, Element
from rigxl.workbook.styles import Styles
from rigxl.workbook.values import Area, cell_name

ORDER = (
    "sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "sheetCalcPr",
    "sheetProtection", "protectedRanges", "scenarios", "autoFilter", "sortState", "dataConsolidate",
    "customSheetViews", "mergeCells", "phoneticPr", "conditionalFormatting", "dataValidations", "hyperlinks",
    "printOptions", "pageMargins", "pageSetup", "headerFooter", "rowBreaks", "colBreaks", "customProperties",
    "cellWatches", "ignoredErrors", "smartTags", "drawing", "legacyDrawing", "legacyDrawingHF", "drawingHF",
    "picture", "oleObjects", "controls", "webPublishItems", "tableParts", "extLst",
)  # fmt: skip
"""The order of a worksheet's elements (ECMA-376-1, 18.3.1.99)."""
SPANS = re.compile(rb"""\sspans\s*=\s*["']([0-9]+):([0-9]+)["']""")


class Marked(NamedTuple):
    """A sheet to be marked: where it stands in its bytes and where its marks go."""

    frame: Frame
    rows: RowIndex
    marks: SheetMarks
    first: int
    earlier: Earlier
    styles: Styles

    @property
    def columns(self) -> range:
        """The columns of the marks."""
        return range(self.first, self.first + len(self.marks.columns))


class SheetEdits(NamedTuple):
    """What must be done to the bytes of a sheet, and what a person should know of it."""

    edits: list[Edit]
    warnings: list[str]


def mark_sheet(marked: Marked) -> SheetEdits:
    """The edits that put marks into a sheet and take earlier ones out."""
    frame = marked.frame
    prefix = splice.prefix_of(frame.text, frame.tree)
    warnings: list[str] = []
    cells = dict(_new_cells(marked))
    links = _links(marked)
    for row, column in _covered(marked, cells):
        del cells[row][column]
        links.pop((row, column), None)
        warnings.append(
            f"{marked.marks.sheet}!{cell_name(row, column)} lies under merged cells and got no mark"
        )
    edits = list(_row_edits(marked, cells, prefix, warnings))
    edits += _dimension(marked, cells)
    edits += _widths(marked, prefix)
    edits += _formats(marked, prefix)
    edits += _hyperlinks(marked, links, prefix)
    if layout.protected(frame):
        warnings.append(
            f"sheet {marked.marks.sheet} is protected; it was marked all the same and is still protected"
        )
    return SheetEdits(edits, warnings)


def _new_cells(marked: Marked) -> Iterator[tuple[int, dict[int, str]]]:
    """Our cells as XML, by row and column."""
    marks, styles = marked.marks, marked.styles
    looks = [styles.cell(column.look) for column in marks.columns]
    for block in marks.blocks:
        heading = _heading_style(marked, block.header_row)
        row = block.header_row
        yield (
            row,
            {
                column: written.cell(row, column, given.heading, heading)
                for column, given in zip(marked.columns, marks.columns, strict=True)
            },
        )
        for row, contents in block.rows.items():
            yield (
                row,
                {
                    column: written.cell(row, column, content, look)
                    for column, content, look in zip(marked.columns, contents, looks, strict=True)
                    if content is not None or look
                },
            )


def _heading_style(marked: Marked, header_row: int) -> int:
    """The style of the nearest heading to the left, wrapped; bold where there is none."""
    row = marked.rows.by_number.get(header_row)
    left = [
        cell
        for cell in (marked.rows.cells(row) if row else ())
        if cell.column < marked.first and not marked.earlier.holds(header_row, cell.column)
    ]
    if left and left[-1].style:
        return marked.styles.wrapped(left[-1].style)
    return marked.styles.cell(Look(bold=True, wrap=True))


def _links(marked: Marked) -> dict[tuple[int, int], Link]:
    """Our cells that jump, by row and column."""
    return {
        (row, column): content
        for block in marked.marks.blocks
        for row, contents in block.rows.items()
        for column, content in zip(marked.columns, contents, strict=True)
        if isinstance(content, Link)
    }


def _covered(marked: Marked, cells: dict[int, dict[int, str]]) -> list[tuple[int, int]]:
    """Our cells that lie under a merge but are not its first."""
    return [
        (row, column)
        for area in layout.merges(marked.frame)
        if area.last_column >= marked.first and area.first_column <= marked.columns[-1]
        for row in range(area.first_row, area.last_row + 1)
        for column in cells.get(row, {})
        if area.first_column <= column <= area.last_column and (row, column) != area[:2]
    ]


def _row_edits(
    marked: Marked, cells: dict[int, dict[int, str]], prefix: bytes, warnings: list[str]
) -> Iterator[Edit]:
    """The edits of rows: our cells in, earlier ones out, missing rows added in order."""
    rows, text = marked.rows, marked.frame.text
    lowest = min(marked.earlier.stretches, default=0)
    missing = sorted(number for number in cells if number not in rows.by_number and cells[number])
    for row in rows.rows:
        new = cells.get(row.number, {})
        if new or (lowest and rows.last_column(row) >= lowest):
            yield from _one_row(marked, row, new, prefix, warnings)
    if not missing:
        return
    data = marked.frame.tree.find("sheetData")
    assert data is not None
    places: dict[int, list[bytes]] = {}
    ahead = iter(rows.rows)
    following = next(ahead, None)
    for number in missing:
        while following is not None and following.number < number:
            following = next(ahead, None)
        at = following.start if following is not None else data.closing
        xml = f'<row r="{number}">{"".join(cells[number].values())}</row>'
        places.setdefault(at, []).append(splice.prefixed(xml.encode(), prefix))
    for at, new_rows in places.items():
        if data.empty:
            yield splice.append_child(text, data, b"".join(new_rows))
        else:
            yield Edit(at, at, b"".join(new_rows))


def _one_row(
    marked: Marked, row: RowSpan, new: dict[int, str], prefix: bytes, warnings: list[str]
) -> Iterator[Edit]:
    """The edits of one row that is there."""
    text, rows = marked.frame.text, marked.rows
    xml = {column: splice.prefixed(cell.encode(), prefix) for column, cell in new.items()}
    if xml and (spans := SPANS.search(text, row.start, row.opened)):
        last = max(int(spans[2]), *xml)
        if last > int(spans[2]):
            yield Edit(spans.start(2), spans.end(2), b"%d" % last)
    if row.opened == row.end:
        if xml:
            slash = text.rindex(b"/", row.start, row.end)
            name = text[row.start + 1 : row.end].split(None, 1)[0].rstrip(b"/>")
            yield Edit(slash, row.end, b">" + b"".join(xml.values()) + b"</" + name + b">")
        return
    touched = min(xml, default=0) or min(marked.earlier.stretches)
    if marked.earlier.stretches:
        touched = min(touched, *marked.earlier.stretches)
    if rows.last_column(row) < touched:
        yield Edit(row.closing, row.closing, b"".join(xml.values()))
        return
    waiting = dict(xml)
    end = row.opened
    for cell in rows.cells(row):
        before = b"".join(waiting.pop(column) for column in list(waiting) if column < cell.column)
        if before:
            yield Edit(cell.start, cell.start, before)
        ours = marked.earlier.holds(row.number, cell.column)
        if cell.formula and (ours or cell.column in waiting):
            where = f"{marked.marks.sheet}!{cell_name(row.number, cell.column)}"
            warnings.append(f"{where} holds a formula of others and was left as it is")
            waiting.pop(cell.column, None)
        elif cell.column in waiting or ours:
            yield Edit(cell.start, cell.end, waiting.pop(cell.column, b""))
        end = cell.end
    if waiting:
        yield Edit(end, end, b"".join(waiting.values()))


def _dimension(marked: Marked, cells: dict[int, dict[int, str]]) -> Iterator[Edit]:
    """The used range, grown by our cells; one that is missing stays so."""
    element = marked.frame.tree.find("dimension")
    area = read_area(element.attributes.get("ref", "")) if element is not None else None
    if element is None or area is None or not cells:
        return
    grown = Area(
        min(area.first_row, *cells),
        min(area.first_column, marked.first),
        max(area.last_row, *cells),
        max(area.last_column, marked.columns[-1]),
    )
    if grown != area:
        yield splice.set_attribute(marked.frame.text, element, b"ref", area_name(grown).encode())


def _widths(marked: Marked, prefix: bytes) -> Iterator[Edit]:
    """Our column widths; a stretch of columns that reaches over ours is split, never overlapped."""
    frame, columns = marked.frame, marked.columns
    listed = frame.tree.find("cols")
    ours = {
        column: f'<col min="{column}" max="{column}" width="{given.width:g}" customWidth="1"/>'.encode()
        for column, given in zip(columns, marked.marks.columns, strict=True)
    }
    if listed is None:
        xml = splice.prefixed(b"<cols>" + b"".join(ours.values()) + b"</cols>", prefix)
        yield splice.insert_in_order(frame.tree, "cols", ORDER, xml)
        return
    parts: list[tuple[int, bytes]] = [(column, splice.prefixed(xml, prefix)) for column, xml in ours.items()]
    for child in listed.children:
        low, high = int(child.attributes.get("min", 0)), int(child.attributes.get("max", 0))
        raw = frame.text[child.start : child.end]
        if high < columns[0] or low > columns[-1]:
            parts.append((low, raw))
            continue
        if low < columns[0]:
            parts.append((low, _stretch(raw, low, columns[0] - 1)))
        if high > columns[-1]:
            parts.append((columns[-1] + 1, _stretch(raw, columns[-1] + 1, high)))
    inner = b"".join(raw for _, raw in sorted(parts, key=lambda part: part[0]))
    if listed.empty:
        yield splice.append_child(frame.text, listed, inner)
    else:
        yield Edit(listed.opened, listed.closing, inner)


def _stretch(raw: bytes, low: int, high: int) -> bytes:
    """A column element for other columns."""
    raw = re.sub(rb"""(\smin\s*=\s*)(["'])[^"']*["']""", rb"\g<1>\g<2>%d\g<2>" % low, raw)
    return re.sub(rb"""(\smax\s*=\s*)(["'])[^"']*["']""", rb"\g<1>\g<2>%d\g<2>" % high, raw)


def _formats(marked: Marked, prefix: bytes) -> Iterator[Edit]:
    """The conditional format for the rows, in place of an earlier one of ours."""
    tree = marked.frame.tree
    for element in tree.all("conditionalFormatting"):
        if rowlook.is_ours(element):
            yield Edit(element.start, element.end, b"")
    xml = rowlook.row_look(marked.marks, marked.first, marked.styles, tree)
    if xml:
        yield splice.insert_in_order(
            tree, "conditionalFormatting", ORDER, splice.prefixed(xml.encode(), prefix)
        )


def _hyperlinks(marked: Marked, links: dict[tuple[int, int], Link], prefix: bytes) -> Iterator[Edit]:
    """Our jumps within the workbook; an earlier one of ours goes with its cell."""
    tree = marked.frame.tree
    element = tree.find("hyperlinks")
    new = "".join(written.link(row, column, target) for (row, column), target in links.items()).encode()
    new = splice.prefixed(new, prefix)
    if element is None:
        if new:
            whole = splice.prefixed(b"<hyperlinks>", prefix) + new + splice.prefixed(b"</hyperlinks>", prefix)
            yield splice.insert_in_order(tree, "hyperlinks", ORDER, whole)
        return
    old = [child for child in element.children if _is_earlier(child, marked.earlier)]
    if old and not new and len(old) == len(element.children):
        yield Edit(element.start, element.end, b"")
        return
    yield from (Edit(child.start, child.end, b"") for child in old)
    if new:
        yield splice.append_child(marked.frame.text, element, new)


def _is_earlier(link: Element, earlier: Earlier) -> bool:
    area = read_area(link.attributes.get("ref", ""))
    return (
        area is not None
        and "location" in link.attributes
        and earlier.holds(area.first_row, area.first_column)
    )
