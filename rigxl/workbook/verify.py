"""The proof after every save: the written file, read back from the disk, against the source.

It trusts nothing that marking noted down but the columns that are ours. Whatever else differs, is out of
order, is counted wrongly or stands twice makes the proof fail.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import rowlook, sheet, splice, styles
from rigxl.workbook.frame import Frame, frame_of
from rigxl.workbook.guard import LAST_COLUMN, Limits
from rigxl.workbook.package import CONTENT_TYPES, Package, Workbook
from rigxl.workbook.rows import RowIndex, RowSpan
from rigxl.workbook.splice import Element

_ROOMY = Limits(2**40, 2**40, 2**20, 2**40, ratio=2**20)
_FREE = frozenset({"dimension", "cols", "sheetData", "conditionalFormatting", "hyperlinks"})


class Ours(NamedTuple):
    """What marking may change in a sheet: these columns."""

    columns: frozenset[int]


def _fail(what: str) -> WorkbookError:
    return WorkbookError(
        "proof-failed",
        f"the marked file did not pass its proof ({what}), so it was deleted; the source is as it was",
    )


def prove(
    written: Path,
    source: Workbook,
    marked: Mapping[str, Ours],
    may_change: Iterable[str],
    added: Iterable[str],
) -> None:
    """Prove a written file against its source.

    Args:
        written: The file on the disk.
        source: The workbook it was made from.
        marked: The marked sheets' entries.
        may_change: The other entries that may have changed.
        added: The entries that are new.

    Raises WorkbookError with the code ``proof-failed``.
    """
    try:
        package = Package(written.read_bytes(), _ROOMY)
        _same_entries(source.package, package, {*marked, *may_change}, list(added))
        result = Workbook(package)
        _same_lists(source, result)
        for part, ours in marked.items():
            _same_sheet(_frame(source.package, part), _frame(package, part), ours, part)
        for part in {*added, *may_change}:
            if "/worksheets/" in part:
                _in_order(_frame(package, part).tree, sheet.ORDER, part)
    except WorkbookError as error:
        if error.code == "proof-failed":
            raise
        raise _fail(error.sentence) from error


def _frame(package: Package, part: str) -> Frame:
    return frame_of(package.text(part).text, part)


def _same_entries(before: Package, after: Package, may_change: set[str], added: list[str]) -> None:
    """Every entry that may not change has the same bytes, checksum, date and place."""
    names = [entry.name for entry in before.entries] + added
    if [entry.name for entry in after.entries] != names:
        raise _fail("its parts are not the source's and ours")
    for old, new in zip(before.entries, after.entries, strict=False):
        if old.name in may_change:
            continue
        if (old.crc, old.size, old.method, old.moment) != (new.crc, new.size, new.method, new.moment):
            raise _fail(f"{old.name} changed")
        if before.data[old.data : old.data + old.packed] != after.data[new.data : new.data + new.packed]:
            raise _fail(f"{old.name} changed")


def _same_lists(before: Workbook, after: Workbook) -> None:
    """The lists of parts, relations, sheets and styles begin with all that was there, and name nothing twice."""
    old, new = before.package, after.package
    _grown(old, new, CONTENT_TYPES)
    _unique(new.tree(CONTENT_TYPES).all("Override"), "PartName", CONTENT_TYPES)
    folder, _, name = before.part.rpartition("/")
    relations = f"{folder}/_rels/{name}.rels".lstrip("/")
    _grown(old, new, relations)
    _unique(new.tree(relations).children, "Id", relations)
    _grown(old, new, before.part, "sheets")
    listed = after.tree.find("sheets")
    for attribute in ("name", "sheetId"):
        _unique(listed.children if listed else [], attribute, before.part)
    if after.sheets[: len(before.sheets)] != before.sheets:
        raise _fail("the sheets are not those of the source")
    part = after.own("styles")
    if part:
        tree = new.tree(part)
        _in_order(tree, styles.ORDER, part)
        for section in tree.children:
            if section.attributes.get("count", str(len(section.children))) != str(len(section.children)):
                if section.name in styles.ORDER and not _was_miscounted(before, section.name):
                    raise _fail(f"{section.name} are counted wrongly")
        if before.own("styles"):
            for name in styles.ORDER:
                _grown(old, new, part, name)


def _was_miscounted(before: Workbook, name: str) -> bool:
    """Did the source itself count these wrongly, where nothing was added?"""
    part = before.own("styles")
    section = before.package.tree(part).find(name) if part else None
    return section is not None and section.attributes.get("count") != str(len(section.children))


def _unique(elements: Iterable[Element], attribute: str, part: str) -> None:
    counted = Counter(element.attributes.get(attribute, "").lower() for element in elements)
    twice = [value for value, count in counted.items() if count > 1]
    if twice:
        raise _fail(f"{part} names {twice[0]!r} twice")


def _children(package: Package, part: str, inside: str) -> tuple[list[bytes], list[bytes]]:
    """The children of a part's element as bytes, and those of its root around that element."""
    text = package.text(part).text
    tree = splice.index(text, part)
    element = (tree.find(inside) if inside else tree) or Element("", "", {}, 0)
    around = [text[child.start : child.end] for child in tree.children if inside and child.name != inside]
    return [text[child.start : child.end] for child in element.children], around


def _grown(before: Package, after: Package, part: str, inside: str = "") -> None:
    """A list begins with all the members it had, to the byte."""
    if not before.has(part):
        return
    if before.raw(part) == after.raw(part):
        return
    (old, old_around), (new, new_around) = _children(before, part, inside), _children(after, part, inside)
    if new[: len(old)] != old or (inside == "sheets" and old_around != new_around):
        raise _fail(f"{part} lost something")


def _in_order(tree: Element, order: tuple[str, ...], part: str) -> None:
    """The elements stand in the order that the format fixes, and those that can be there once are."""
    ranks = [rank for child in tree.children if (rank := splice.rank_of(child, order)) >= 0]
    if ranks != sorted(ranks):
        raise _fail(f"{part} has elements out of order")


def _same_sheet(before: Frame, after: Frame, ours: Ours, part: str) -> None:
    """A marked sheet is the source's but for our columns."""
    old, new = before.tree.children, after.tree.children
    try:
        _in_order(before.tree, sheet.ORDER, part)
    except WorkbookError:
        pass
    else:
        _in_order(after.tree, sheet.ORDER, part)
    if _kept(before, old) != _kept(after, new):
        raise _fail(f"something around the rows of {part} changed")
    for name in _FREE:
        if name != "conditionalFormatting" and sum(child.name == name for child in new) > max(
            1, sum(child.name == name for child in old)
        ):
            raise _fail(f"{part} has {name} twice")
    if _widths(before, ours) != _widths(after, ours):
        raise _fail(f"a column of {part} changed")
    _same_rows(RowIndex(before, part), RowIndex(after, part), ours, part)


def _kept(frame: Frame, children: list[Element]) -> list[bytes]:
    """What stands around the rows and is not ours, as bytes."""
    kept = []
    for child in children:
        if child.name == "hyperlinks":
            links = (link for link in child.children if not _may_be_ours(link))
            kept += [frame.text[link.start : link.end] for link in links]
        elif child.name not in _FREE or (
            child.name == "conditionalFormatting" and not rowlook.is_ours(child)
        ):
            kept.append(frame.text[child.start : child.end])
    return kept


def _may_be_ours(link: Element) -> bool:
    return "location" in link.attributes and not link.related()


def _widths(frame: Frame, ours: Ours) -> dict[int, tuple[tuple[str, str], ...]]:
    """How each column that is not ours is set; columns must ascend and not overlap."""
    found: dict[int, tuple[tuple[str, str], ...]] = {}
    before = 0
    for listed in frame.tree.all("cols"):
        for child in listed.children:
            low, high = int(child.attributes.get("min", "0")), int(child.attributes.get("max", "0"))
            if not before < low <= high <= LAST_COLUMN:
                raise _fail("columns overlap")
            before = high
            given = tuple(sorted(item for item in child.attributes.items() if item[0] not in ("min", "max")))
            found.update((column, given) for column in range(low, high + 1) if column not in ours.columns)
    return found


def _same_rows(before: RowIndex, after: RowIndex, ours: Ours, part: str) -> None:
    """Every row is the same to the byte, or the same but for cells in our columns."""
    old_numbers = [row.number for row in before.rows]
    if [row.number for row in after.rows if row.number in before.by_number] != old_numbers:
        raise _fail(f"rows of {part} are gone or moved")
    old_text, new_text = before.frame.text, after.frame.text
    for new in after.rows:
        old = before.by_number.get(new.number)
        if old is None:
            if any(cell.column not in ours.columns for cell in after.cells(new)):
                raise _fail(f"row {new.number} of {part} is new and holds more than marks")
        elif old_text[old.start : old.end] != new_text[new.start : new.end]:
            _same_row(before, old, after, new, ours, part)


def _same_row(before: RowIndex, old: RowSpan, after: RowIndex, new: RowSpan, ours: Ours, part: str) -> None:
    where = f"row {new.number} of {part}"
    old_text, new_text = before.frame.text, after.frame.text
    if _tag(old_text, old) != _tag(new_text, new):
        raise _fail(f"{where} changed")
    first, end = old_text[old.opened : old.closing], new.opened + old.closing - old.opened
    if first and new_text[new.opened : end] == first:
        # What was there comes first, untouched: only what follows is to be looked at.
        added = after.cells(new._replace(opened=end))
        columns = [before.last_column(old), *(cell.column for cell in added)]
        if not ours.columns.issuperset(columns[1:]):
            raise _fail(f"{where} got cells that are not marks")
    else:
        kept = _others(before, old, ours)
        if kept != _others(after, new, ours):
            raise _fail(f"{where} changed")
        columns = [cell.column for cell in after.cells(new)]
    if any(one >= other for one, other in zip(columns, columns[1:], strict=False)):
        raise _fail(f"{where} has cells out of order")


def _tag(text: bytes, row: RowSpan) -> bytes:
    """A row's first tag but for its spans, as an open tag."""
    tag = sheet.SPANS.sub(b"", text[row.start : row.opened])
    return tag.removesuffix(b">").removesuffix(b"/").rstrip()


def _others(rows: RowIndex, row: RowSpan, ours: Ours) -> list[bytes]:
    """The cells of a row that are not ours, and formulas in our columns too, as bytes."""
    return [
        rows.frame.text[cell.start : cell.end]
        for cell in rows.cells(row)
        if cell.column not in ours.columns or cell.formula
    ]
