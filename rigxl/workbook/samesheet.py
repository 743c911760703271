"""The proof for one marked sheet: the source's bytes but for our columns.

Both sheets are walked side by side. Where tags can be told by their text, the written sheet is unpacked
while it is walked and never held whole; otherwise the parser says where its rows are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from rigxl.workbook import container, rowlook, rows, sheet, splice
from rigxl.workbook.frame import Frame, frame_of
from rigxl.workbook.guard import LAST_COLUMN
from rigxl.workbook.package import Package
from rigxl.workbook.rows import RowIndex, RowSpan
from rigxl.workbook.splice import Element

FREE = frozenset({"dimension", "cols", "sheetData", "conditionalFormatting", "hyperlinks"})
_ROW = re.compile(rb'(<row r="([1-9][0-9]{0,6})"((?: [A-Za-z0-9:]+="[^"<&]*")*+ ?)(/?)>)')
_GIVEN = (
    rb'"(?: s="[0-9]+")?(?: t="(?:b|inlineStr)")?'
    rb'(?:/>|>(?:<v>[^<]*</v>|<is><t xml:space="preserve">[^<]*</t></is>)</c>)'
)
_OURS = re.compile(rb'<c r="([A-Z]{1,3})([1-9][0-9]{0,6})' + _GIVEN + rb"|([\s\S]+)")
_NEW = re.compile(rb'<(?:[\w.-]+:)?row r="[0-9]+"(?: ht="[0-9.]+" customHeight="1")?>')
_GROWN = re.compile(rb' ht="([0-9]+(?:\.[0-9]+)?)" customHeight="1"$')
_SPACE = re.compile(rb"\s*")
_BLOCK = 2**16
_CALM_AFTER = 4


class UnlikeError(Exception):
    """A difference that marking must not make."""


class _NotByTextError(Exception):
    """The source's rows cannot be told by text."""


def same_sheet(before: Package, after: Package, part: str, ours: frozenset[int]) -> None:
    """Compare a marked sheet with the source's.

    Args:
        before: The source.
        after: The written file.
        part: The sheet's part.
        ours: The columns in which cells may differ.

    Raises UnlikeError for any difference that is not ours.
    """
    encoded = before.text(part)
    old = frame_of(encoded.text, part)
    new = None
    if old.plain and encoded.encoding == splice.UTF8:
        try:
            new = _walk(old, _Stream(container.unpack_slowly(after.data, after.entry(part))), ours, part)
        except _NotByTextError:
            new = None
    if new is None:
        new = frame_of(after.text(part).text, part)
        _same_rows(RowIndex(old, part), RowIndex(new, part), ours)
    _same_around(old, new, ours)


class _Stream:
    """Text that comes in pieces; what was passed is let go of."""

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._pieces = pieces
        self.text = b""
        self.at = 0

    def more(self) -> bool:
        """Take in another piece; False at the end."""
        piece = next(self._pieces, None)
        if piece is None:
            return False
        self.text, self.at = self.text[self.at :] + piece, 0
        return True

    def reach(self, length: int) -> bool:
        """Is there this much text still to come?"""
        while len(self.text) - self.at < length:
            if not self.more():
                return False
        return True

    def starts(self, text: bytes) -> bool:
        """Does this text come next?"""
        return self.reach(len(text)) and self.text.startswith(text, self.at)

    def row(self) -> tuple[bytes, re.Match[bytes]] | None:
        """The next row, not passed, with its tag; None where none follows."""
        while True:
            if found := _ROW.match(self.text, self.at):
                end = found.end() if found[4] else self.text.find(b"</row>", found.end()) + 6
                if end >= found.end():
                    return self.text[self.at : end], found
            elif self.text.startswith(b"</", self.at):
                return None
            if not self.more():
                return None

    def rest(self) -> bytes:
        """Everything that is still to come."""
        return b"".join([self.text[self.at :], *self._pieces])


def _walk(old: Frame, stream: _Stream, ours: frozenset[int], part: str) -> Frame:
    """Walk both sheets' rows side by side; the written sheet without its rows comes back."""
    text, at, end = old.text, old.first, old.last
    if text.find(b"<!", at, end) >= 0 or text.find(b"<?", at, end) >= 0:
        raise _NotByTextError
    if text.count(b"</row", at, end) != text.count(b"</row>", at, end):
        raise _NotByTextError
    while (found := stream.text.find(b"<sheetData", stream.at)) < 0 or b">" not in stream.text[found:]:
        if not stream.more():
            raise UnlikeError("it has no rows")
    stream.at = stream.text.index(b">", found) + 1
    head = stream.text[: stream.at]
    before = calm = 0
    pair = _Pair(old, ours)
    while True:
        if calm >= _CALM_AFTER and (step := _skip(text, at, end, stream)):
            before = int(_last_tag(text, at, at + step)[2])
            at, stream.at = at + step, stream.at + step
            continue
        tag = _ROW.match(text, at, end)
        if tag is None and (space := _SPACE.match(text, at, end)) and space[0]:
            if not stream.starts(space[0]):
                raise UnlikeError("its rows are spaced otherwise")
            at, stream.at = space.end(), stream.at + len(space[0])
            tag = _ROW.match(text, at, end)
        if tag is None and at < end:
            raise _NotByTextError
        written = stream.row()
        if written is None:
            if tag is not None:
                raise UnlikeError(f"row {int(tag[2])} is gone")
            break
        new, new_tag = written
        number = int(new_tag[2])
        if number <= before or (tag is not None and number > int(tag[2])):
            raise UnlikeError(f"row {number} is out of order")
        if tag is None or number < int(tag[2]):
            pair.added(new, new_tag)
            calm = 0
        else:
            close = tag.end() if tag[4] else text.find(b"</row>", tag.end(), end) + 6
            if close < tag.end():
                raise _NotByTextError
            row = text[at:close]
            calm = calm + 1 if row == new else 0
            if not calm:
                pair.compare(row, tag, new, new_tag)
            at = close
        before = number
        stream.at += len(new)
    if not stream.starts(b"</sheetData>") and not stream.text.startswith(b"</", stream.at):
        raise UnlikeError("its rows end otherwise")
    return frame_of(head + stream.rest(), part)


def _skip(text: bytes, at: int, end: int, stream: _Stream) -> int:
    """How far both sheets are the same, in whole rows; 0 when that is not far."""
    if end - at < _BLOCK or not stream.reach(_BLOCK):
        return 0
    if text[at : at + _BLOCK] != stream.text[stream.at : stream.at + _BLOCK]:
        return 0
    return max(text.rfind(b"</row>", at, at + _BLOCK) + 6 - at, 0)


def _last_tag(text: bytes, at: int, end: int) -> re.Match[bytes]:
    found = _ROW.match(text, text.rfind(b"<row ", at, end))
    if found is None:
        raise _NotByTextError
    return found


class _Pair:
    """Compares a row of the source with the same row as it was written."""

    def __init__(self, old: Frame, ours: frozenset[int]) -> None:
        self._old = old
        self._ours = ours
        self._firsts: dict[tuple[bytes, ...], int] = {}
        self._usual: re.Pattern[bytes] | None = None
        self._usual_first = 0

    def added(self, new: bytes, tag: re.Match[bytes]) -> None:
        """A row that the source does not have holds our cells only."""
        if not _NEW.fullmatch(tag[1]) or not new[len(tag[1]) : -6]:
            raise UnlikeError(f"row {int(tag[2])} is new and holds no marks")
        self._only_ours(new[len(tag[1]) : -6], 0, 0, tag[2])

    def compare(self, old: bytes, old_tag: re.Match[bytes], new: bytes, new_tag: re.Match[bytes]) -> None:
        """The rows are the same but for the spans, the height and our cells."""
        number = new_tag[2]
        if not _same_tag(old_tag[3], new_tag[3]):
            raise UnlikeError(f"the tag of row {int(number)} changed")
        first = b"" if old_tag[4] else old[len(old_tag[1]) : -6]
        second = b"" if new_tag[4] else new[len(new_tag[1]) : -6]
        last = rows.last_column_by_text(first, 0, len(first))
        if last >= 0 and second.startswith(first):
            self._only_ours(second, len(first), last, number)
            return
        kept, _ = self._others(first, number)
        still, columns = self._others(second, number)
        if kept != still:
            raise UnlikeError(f"row {int(number)} changed")
        if any(one >= other for one, other in pairwise(columns)):
            raise UnlikeError(f"row {int(number)} has cells out of order")

    def _only_ours(self, content: bytes, at: int, last: int, number: bytes) -> None:
        """What follows the source's cells is ours, in our spelling and in order."""
        usual = self._usual.fullmatch(content, at) if self._usual else None
        first = self._usual_first
        if usual is None or usual[1] != number:
            tokens = _OURS.findall(content, at)
            if not tokens:
                return
            letters, numbers, rest = zip(*tokens, strict=True)
            if rest[-1] or numbers.count(number) != len(numbers):
                raise UnlikeError(f"row {int(number)} got more than marks")
            first = self._first_of(letters)
        if first <= last:
            raise UnlikeError(f"row {int(number)} got cells out of place")

    def _first_of(self, letters: tuple[bytes, ...]) -> int:
        """The first of our columns in a row that has these; 0 when they are not ours, or out of order."""
        first = self._firsts.get(letters)
        if first is None:
            columns = [rows.column_of(name) for name in letters]
            good = self._ours.issuperset(columns) and all(one < other for one, other in pairwise(columns))
            first = self._firsts[letters] = columns[0] if good else 0
            if good and len(letters) == len(self._ours):  # most rows have them all: taken in at once
                cells = [b'<c r="%s' % name + rb"\1" + _GIVEN for name in letters]
                cells[0] = b'<c r="%s([1-9][0-9]{0,6})' % letters[0] + _GIVEN
                self._usual, self._usual_first = re.compile(b"".join(cells)), first
        return first

    def _others(self, content: bytes, number: bytes) -> tuple[list[bytes], list[int]]:
        """The cells of a row that are not ours, as bytes, and the columns of them all."""
        cells = rows.cells_by_text(content, 0, len(content))
        if cells is None:
            content = self._old.alone(b'<row r="%s">' % number + content + b"</row>")
            cells = rows.cells_by_parser(content, int(number))
        kept = [
            content[cell.start : cell.end] for cell in cells if cell.column not in self._ours or cell.formula
        ]
        return kept, [cell.column for cell in cells]


@lru_cache(1024)
def _same_tag(old: bytes, new: bytes) -> bool:
    """Is a row's first tag the same but for its spans and for a height that has grown in our spelling?"""
    before, after = _bare(old), _bare(new)
    if before == after:
        return True
    grown = _GROWN.search(after)
    if grown is None:
        return False
    was = sheet.height_of(sheet.HEIGHT.finditer(before))
    return float(grown[1]) > was and sheet.HEIGHT.sub(b"", before) == after[: grown.start()]


def _bare(tag: bytes) -> bytes:
    """A row's first tag but for its spans, as an open tag."""
    return sheet.SPANS.sub(b"", tag).removesuffix(b">").removesuffix(b"/").rstrip()


def _same_rows(before: RowIndex, after: RowIndex, ours: frozenset[int]) -> None:
    """Every row is the same to the byte, or the same but for cells in our columns."""
    known = set(before.numbers)
    if [number for number in after.numbers if number in known] != list(before.numbers):
        raise UnlikeError("rows are gone or moved")
    for new in after:
        old = before.get(new.number)
        columns = [cell.column for cell in after.cells(new)]
        if old is None:
            if not columns or not ours.issuperset(columns) or not _NEW.fullmatch(_tag(after, new)):
                raise UnlikeError(f"row {new.number} is new and holds more than marks")
        elif not _same_tag(_tag(before, old), _tag(after, new)) or _kept(before, old, ours) != _kept(
            after, new, ours
        ):
            raise UnlikeError(f"row {new.number} changed")
        if any(one >= other for one, other in pairwise(columns)) and old is not None:
            had = [cell.column for cell in before.cells(old)]
            if all(one < other for one, other in pairwise(had)):
                raise UnlikeError(f"row {new.number} has cells out of order")


def _tag(index: RowIndex, row: RowSpan) -> bytes:
    return index.frame.text[row.start : row.opened]


def _kept(index: RowIndex, row: RowSpan, ours: frozenset[int]) -> list[bytes]:
    """The cells of a row that are not ours, and formulas in our columns too, as bytes."""
    return [
        index.frame.text[cell.start : cell.end]
        for cell in index.cells(row)
        if cell.column not in ours or cell.formula
    ]


def _same_around(before: Frame, after: Frame, ours: frozenset[int]) -> None:
    """What stands around the rows is the source's, in the format's order, and ours is there once."""
    old, new = before.tree.children, after.tree.children
    if in_order(before.tree, sheet.ORDER) and not in_order(after.tree, sheet.ORDER):
        raise UnlikeError("its elements are out of order")
    if list(_around(before, old)) != list(_around(after, new)):
        raise UnlikeError("something around its rows changed")
    for name in FREE - {"conditionalFormatting"}:
        had, has = (sum(child.name == name for child in children) for children in (old, new))
        if has > max(1, had):
            raise UnlikeError(f"it has {name} twice")
    if _columns(before, ours) != _columns(after, ours):
        raise UnlikeError("a column changed")


def in_order(tree: Element, order: tuple[str, ...]) -> bool:
    """Do the elements stand in the order that the format fixes?"""
    ranks = [rank for child in tree.children if (rank := splice.rank_of(child, order)) >= 0]
    return ranks == sorted(ranks)


def _around(frame: Frame, children: list[Element]) -> Iterator[bytes]:
    """What stands around the rows and is not ours, as bytes."""
    for child in children:
        if child.name == "hyperlinks":
            for link in child.children:
                if "location" not in link.attributes or link.related():
                    yield frame.text[link.start : link.end]
        elif child.name not in FREE or (child.name == "conditionalFormatting" and not rowlook.is_ours(child)):
            yield frame.text[child.start : child.end]


def _columns(frame: Frame, ours: frozenset[int]) -> dict[int, tuple[tuple[str, str], ...]]:
    """How each column that is not ours is set; stretches of columns must ascend and not overlap."""
    found: dict[int, tuple[tuple[str, str], ...]] = {}
    before = 0
    for listed in frame.tree.all("cols"):
        for child in listed.children:
            low, high = splice.whole(child.attributes.get("min")), splice.whole(child.attributes.get("max"))
            if not before < low <= high <= LAST_COLUMN:
                raise UnlikeError("its columns overlap")
            before = high
            given = tuple(sorted(item for item in child.attributes.items() if item[0] not in ("min", "max")))
            found.update((column, given) for column in range(low, high + 1) if column not in ours)
    return found
