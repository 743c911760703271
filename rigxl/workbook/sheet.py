"""Marks as edits of one worksheet: cells and rows put where they belong, everything else left alone."""

from __future__ import annotations

import math
import re
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

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
HEIGHT = re.compile(rb"""\s(?:ht\s*=\s*["']([^"']*)["']|customHeight\s*=\s*["'][^"']*["'])""")


@dataclass
class Marked:
    """A sheet to be marked: where it stands in its bytes and where its marks go.

    ``warnings`` is complete when all edits have been taken.
    """

    frame: Frame
    rows: RowIndex
    marks: SheetMarks
    first: int
    earlier: Earlier
    styles: Styles
    warnings: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.columns = range(self.first, self.first + len(self.marks.columns))
        self.prefix = splice.prefix_of(self.frame.text, self.frame.tree)
        self.contents = {row: contents for block in self.marks.blocks for row, contents in block.rows.items()}
        self.headings = {
            block.header_row: self._heading_style(block.header_row) for block in self.marks.blocks
        }
        self.writers = [
            written.Writer(column, self.styles.cell(given.look))
            for column, given in zip(self.columns, self.marks.columns, strict=True)
        ]
        self.covered = self._covered()
        self.heights = {row: high for block in self.marks.blocks for row, high in block.heights.items()}
        self.written_rows = sorted({*self.headings, *self.contents})
        self.always_all = not (self.covered or self.prefix) and all(one.style for one in self.writers)
        self.tags: dict[tuple[bytes, float | None, int], bytes] = {}

    def _heading_style(self, header_row: int) -> int:
        """The style of the nearest heading to the left, wrapped; bold where there is none."""
        row = self.rows.get(header_row)
        left = [
            cell
            for cell in (self.rows.cells(row) if row else ())
            if cell.column < self.first and not self.earlier.holds(header_row, cell.column)
        ]
        if left and left[-1].style:
            return self.styles.wrapped(left[-1].style)
        return self.styles.cell(Look(bold=True, wrap=True))

    def _covered(self) -> frozenset[tuple[int, int]]:
        """Our cells that lie under a merge but are not its first; they hold nothing."""
        return frozenset(
            (row, column)
            for area in layout.merges(self.frame)
            for column in self.columns
            if area.first_column <= column <= area.last_column
            for row in range(area.first_row, area.last_row + 1)
            if (row, column) != area[:2] and (row in self.contents or row in self.headings)
        )

    def cells(self, row: int) -> dict[int, bytes]:
        """Our cells of a row as XML, by column."""
        found: dict[int, bytes] = {}
        heading = self.headings.get(row)
        if heading is not None:
            for column, given in zip(self.columns, self.marks.columns, strict=True):
                found[column] = written.Writer(column, heading).cell(row, given.heading)
        elif row in self.contents:
            for writer, content in zip(self.writers, self.contents[row], strict=True):
                if content is not None or writer.style:
                    found[writer.column] = writer.cell(row, content)
        if self.covered:
            found = {column: xml for column, xml in found.items() if (row, column) not in self.covered}
        if self.prefix:
            found = {column: splice.prefixed(xml, self.prefix) for column, xml in found.items()}
        return found

    def joined(self, row: int) -> bytes:
        """All our cells of a row that is no heading, one after the other: ``cells`` where ``always_all``."""
        cells = zip(self.writers, self.contents[row], strict=True)
        return "".join([writer.xml(row, content) for writer, content in cells]).encode()

    def links(self) -> dict[tuple[int, int], Link]:
        """Our cells that jump, by row and column."""
        return {
            (row, column): content
            for row, contents in self.contents.items()
            for column, content in zip(self.columns, contents, strict=True)
            if isinstance(content, Link) and (row, column) not in self.covered
        }


def mark_sheet(marked: Marked) -> Iterator[Edit]:
    """The edits that put marks into a sheet and take earlier ones out, in the order of the part."""
    frame, name = marked.frame, marked.marks.sheet
    for row, column in sorted(marked.covered):
        marked.warnings.append(f"{name}!{cell_name(row, column)} lies under merged cells and got no mark")
    if layout.protected(frame):
        marked.warnings.append(
            f"sheet {name} is protected; it was marked all the same and is still protected"
        )
    around = [*_dimension(marked), *_widths(marked), *_formats(marked), *_hyperlinks(marked)]
    around = splice.in_order(around)
    yield from (edit for edit in around if edit.end < frame.first)
    yield from _row_edits(marked)
    yield from (edit for edit in around if edit.end >= frame.first)


def _row_edits(marked: Marked) -> Iterator[Edit]:
    """The edits of rows: our cells in, earlier ones out, missing rows added in order."""
    rows = marked.rows
    data = marked.frame.tree.find("sheetData")
    assert data is not None
    lowest = min(marked.earlier.stretches, default=0)
    known = set(rows.numbers)
    missing = deque(number for number in marked.written_rows if number not in known)
    written_rows = set(marked.written_rows)
    plain = marked.always_all and not lowest
    for row in rows:
        while missing and missing[0] < row.number:
            yield Edit(row.start, row.start, _new_row(marked, missing.popleft()))
        number = row.number
        usual = plain and number in marked.contents and number not in marked.headings
        if usual and row.opened < row.end and rows.last_column(row) < marked.first:
            yield from _tag_edits(marked, row, marked.columns[-1])
            yield Edit(row.closing, row.closing, marked.joined(number))
        elif number in written_rows or (lowest and rows.last_column(row) >= lowest):
            yield from _one_row(marked, row, marked.cells(number))
    if missing:
        new_rows = b"".join(_new_row(marked, number) for number in missing)
        yield splice.append_child(marked.frame.text, data, new_rows)


def _new_row(marked: Marked, number: int) -> bytes:
    """A row that the sheet did not have."""
    cells = marked.cells(number)
    if not cells:
        return b""
    row = splice.prefixed(b'<row r="%d"%s>' % (number, _high(marked.heights.get(number))), marked.prefix)
    return row + b"".join(cells.values()) + splice.prefixed(b"</row>", marked.prefix)


def _one_row(marked: Marked, row: RowSpan, new: dict[int, bytes]) -> Iterator[Edit]:
    """The edits of one row that is there."""
    text, rows = marked.frame.text, marked.rows
    if new:
        yield from _tag_edits(marked, row, max(new))
    if row.opened == row.end:
        if new:
            slash = text.rindex(b"/", row.start, row.end)
            name = text[row.start + 1 : row.end].split(None, 1)[0].rstrip(b"/>")
            yield Edit(slash, row.end, b">" + b"".join(new.values()) + b"</" + name + b">")
        return
    if rows.last_column(row) < min([*new, *marked.earlier.stretches]):
        yield Edit(row.closing, row.closing, b"".join(new.values()))
        return
    waiting = dict(new)
    end = row.opened
    for cell in rows.cells(row):
        before = b"".join([waiting.pop(column) for column in list(waiting) if column < cell.column])
        if before:
            yield Edit(cell.start, cell.start, before)
        ours = marked.earlier.holds(row.number, cell.column)
        if cell.formula and (ours or cell.column in waiting):
            where = f"{marked.marks.sheet}!{cell_name(row.number, cell.column)}"
            marked.warnings.append(f"{where} holds a formula of others and was left as it is")
            waiting.pop(cell.column, None)
        elif cell.column in waiting or ours:
            yield Edit(cell.start, cell.end, waiting.pop(cell.column, b""))
        end = cell.end
    if waiting:
        yield Edit(end, end, b"".join(waiting.values()))


def _tag_edits(marked: Marked, row: RowSpan, last: int) -> Iterator[Edit]:
    """The edit of a row's first tag: its spans reach our last column, and it is high enough to be read."""
    tag = marked.frame.text[row.start : row.opened].rstrip(b">").rstrip(b"/").rstrip()
    end, needed = row.start + len(tag), marked.heights.get(row.number)
    given = tag[tag.index(b'"', 8) + 1 :] if tag.startswith(b'<row r="') else tag
    new = marked.tags.get((given, needed, last))
    if new is None:  # most rows are given the same as others
        new = marked.tags[given, needed, last] = _new_tag(given, needed, last)
    if new != given:
        yield Edit(end - len(given), end, new)


def _new_tag(given: bytes, needed: float | None, last: int) -> bytes:
    """What a row's first tag is to hold, by what it holds."""
    spans = SPANS.search(given)
    if spans and last > int(spans[2]):
        given = given[: spans.start(2)] + b"%d" % last + given[spans.end(2) :]
    if needed and height_of(HEIGHT.finditer(given)) < needed:
        given = HEIGHT.sub(b"", given) + _high(needed)
    return given


def height_of(given: Iterable[re.Match[bytes]]) -> float:
    """The height that a row's first tag gives, in points; 0 for none, no bound for one that is no number."""
    written = [one[1] for one in given if one[1] is not None]
    try:
        return max(map(float, written), default=0.0)
    except ValueError:
        return math.inf


def _high(points: float | None) -> bytes:
    """The attributes of a row that is so high; nothing where that is left to the program."""
    return b' ht="%g" customHeight="1"' % points if points else b""


def _dimension(marked: Marked) -> Iterator[Edit]:
    """The used range, grown by our cells; one that is missing stays so."""
    element = marked.frame.tree.find("dimension")
    area = read_area(element.attributes.get("ref", "")) if element is not None else None
    rows = marked.written_rows
    if element is None or area is None or not rows:
        return
    grown = Area(
        min(area.first_row, rows[0]),
        min(area.first_column, marked.first),
        max(area.last_row, rows[-1]),
        max(area.last_column, marked.columns[-1]),
    )
    if grown != area:
        yield splice.set_attribute(marked.frame.text, element, b"ref", area_name(grown).encode())


def _widths(marked: Marked) -> Iterator[Edit]:
    """Our column widths; a stretch of columns that reaches over ours is split, never overlapped."""
    frame, columns, prefix = marked.frame, marked.columns, marked.prefix
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
        low, high = splice.whole(child.attributes.get("min")), splice.whole(child.attributes.get("max"))
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


def _formats(marked: Marked) -> Iterator[Edit]:
    """The conditional format for the rows, in place of an earlier one of ours."""
    prefix = marked.prefix
    tree = marked.frame.tree
    for element in tree.all("conditionalFormatting"):
        if rowlook.is_ours(element):
            yield Edit(element.start, element.end, b"")
    xml = rowlook.row_look(marked.marks, marked.first, marked.styles, tree)
    if xml:
        yield splice.insert_in_order(
            tree, "conditionalFormatting", ORDER, splice.prefixed(xml.encode(), prefix)
        )


def _hyperlinks(marked: Marked) -> Iterator[Edit]:
    """Our jumps within the workbook; an earlier one of ours goes with its cell."""
    prefix, links = marked.prefix, marked.links()
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
