"""The proof after every save: the written file, read back from the disk, against the source.

It trusts nothing that marking noted down but the columns that are ours. Whatever else differs, is out of
order, is counted wrongly or stands twice makes the proof fail.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from rigxl.errors import WorkbookError
from rigxl.workbook import samesheet, sheet, splice, styles
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import CONTENT_TYPES, Package, Workbook
from rigxl.workbook.splice import Element

ROOMY = Limits(2**40, 2**40, 2**20, 2**40, ratio=2**20)


def _fail(what: str) -> WorkbookError:
    return WorkbookError(
        "proof-failed",
        f"the written file did not pass its proof ({what}), so it was deleted; the source is as it was",
    )


def prove(
    written: Path,
    source: Workbook,
    marked: Mapping[str, frozenset[int]],
    may_change: Iterable[str],
    added: Iterable[str],
    dropped: Collection[str] = (),
    around: Collection[str] = (),
) -> None:
    """Prove a written file against its source.

    Args:
        written: The file on the disk.
        source: The workbook it was made from.
        marked: The marked sheets' entries, each with the columns in which it may differ.
        may_change: The other entries that may have changed.
        added: The entries that are new.
        dropped: The entries that are left out, with what points at them.
        around: The elements of the workbook's own part that may have changed.

    Raises WorkbookError with the code ``proof-failed``.
    """
    try:
        package = Package(written.read_bytes(), ROOMY)
        _same_entries(source.package, package, {*marked, *may_change}, list(added), dropped)
        result = Workbook(package)
        _same_lists(source, result, dropped, around)
        for part, ours in marked.items():
            samesheet.same_sheet(source.package, package, part, ours)
        for part in {*added, *may_change}:
            if part.endswith(".rels"):
                _grown(source.package, package, part, dropped=dropped)
                _unique(package.tree(part).children, "Id", part)
            elif "/worksheets/" in part:
                _in_order(frame_of(package.text(part).text, part).tree, sheet.ORDER, part)
    except samesheet.UnlikeError as error:
        raise _fail(str(error)) from error
    except WorkbookError as error:
        if error.code == "proof-failed":
            raise
        raise _fail(error.sentence) from error


def prove_entries(
    written: Path,
    source: Workbook,
    may_change: Iterable[str],
    added: Iterable[str] = (),
    dropped: Collection[str] = (),
) -> Package:
    """Prove that a written file differs from its source in no other entries; gives its parts.

    Raises WorkbookError with the code ``proof-failed``.
    """
    package = Package(written.read_bytes(), ROOMY)
    _same_entries(source.package, package, set(may_change), list(added), dropped)
    return package


def _in_order(tree: Element, order: tuple[str, ...], part: str) -> None:
    if not samesheet.in_order(tree, order):
        raise _fail(f"{part} has elements out of order")


def _same_entries(
    before: Package, after: Package, may_change: set[str], added: list[str], dropped: Collection[str]
) -> None:
    """Every entry that may not change has the same bytes, checksum, date and place."""
    kept = [entry for entry in before.entries if entry.name not in dropped]
    if [entry.name for entry in after.entries] != [entry.name for entry in kept] + added:
        raise _fail("its parts are not the source's and ours")
    for old, new in zip(kept, after.entries, strict=False):
        if old.name in may_change:
            continue
        if (old.crc, old.size, old.method, old.moment) != (new.crc, new.size, new.method, new.moment):
            raise _fail(f"{old.name} changed")
        if before.data[old.data : old.data + old.packed] != after.data[new.data : new.data + new.packed]:
            raise _fail(f"{old.name} changed")


def _same_lists(before: Workbook, after: Workbook, dropped: Collection[str], around: Collection[str]) -> None:
    """The lists of parts, relations, sheets and styles keep all that was there and name nothing twice."""
    old, new = before.package, after.package
    _grown(old, new, CONTENT_TYPES, dropped=dropped)
    _unique(new.tree(CONTENT_TYPES).all("Override"), "PartName", CONTENT_TYPES)
    folder, _, name = before.part.rpartition("/")
    relations = f"{folder}/_rels/{name}.rels".lstrip("/")
    _grown(old, new, relations, dropped=dropped)
    _unique(new.tree(relations).children, "Id", relations)
    _grown(old, new, before.part, "sheets", around=around)
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
            count = str(len(section.children))
            wrong = section.name in styles.ORDER and section.attributes.get("count", count) != count
            if wrong and not _was_miscounted(before, section.name):
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


def _children(
    package: Package, part: str, inside: str, dropped: Collection[str], free: Collection[str]
) -> tuple[list[bytes], list[bytes]]:
    """The children of a part's element as bytes, and those of its root around that element.

    Those that name a dropped entry are left out.
    """
    text = package.text(part).text
    tree = splice.index(text, part)
    element = (tree.find(inside) if inside else tree) or Element("", "", {}, 0)
    around = [
        text[child.start : child.end]
        for child in tree.children
        if inside and child.name != inside and child.name not in free
    ]
    ends = tuple(name.rpartition("/")[2] for name in dropped)
    kept = [
        text[child.start : child.end]
        for child in element.children
        if not (ends and child.attributes.get("PartName", child.attributes.get("Target", "")).endswith(ends))
    ]
    return kept, around


def _grown(
    before: Package,
    after: Package,
    part: str,
    inside: str = "",
    dropped: Collection[str] = (),
    around: Collection[str] = (),
) -> None:
    """A list begins with all the members it had, to the byte."""
    if not before.has(part):
        return
    if before.raw(part) == after.raw(part):
        return
    (old, old_around), (new, new_around) = (
        _children(before, part, inside, dropped, around),
        _children(after, part, inside, dropped, around),
    )
    if new[: len(old)] != old or (inside == "sheets" and old_around != new_around):
        raise _fail(f"{part} lost something")
