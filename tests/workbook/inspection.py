"""Compare a workbook before and after marking, by means of others: zipfile, ElementTree, openpyxl, calamine.

Every function answers with plain words, one for each fault.
"""

from __future__ import annotations

import posixpath
import re
import warnings
import zipfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from tests.workbook.soundness import cells, columns, local, structure

MAY_CHANGE = {"cols", "sheetData", "dimension"}
EDITED = re.compile(r"\[content_types\]\.xml|.*\.rels|xl/styles\.xml|docprops/app\.xml", re.IGNORECASE)


def canonical(element: Element) -> str:
    """An element as text that is the same for the same content."""
    return ElementTree.canonicalize(ElementTree.tostring(element, encoding="unicode"), strip_text=False)


class Opened:
    """A workbook as a plain zip file, its parts parsed on demand."""

    def __init__(self, path: Path) -> None:
        self.data = path.read_bytes()
        self.zip = zipfile.ZipFile(path)
        self.infos = {info.filename: info for info in self.zip.infolist()}
        self.names = {name.lower(): name for name in self.infos}

    def close(self) -> None:
        self.zip.close()

    def has(self, part: str) -> bool:
        return part.lower() in self.names

    def tree(self, part: str) -> Element:
        return ElementTree.fromstring(self.zip.read(self.names[part.lower()]))

    def raw(self, name: str) -> tuple[Any, ...]:
        """The compressed bytes of an entry, its checksum and date."""
        info = self.infos[name]
        at = info.header_offset
        skip = int.from_bytes(self.data[at + 26 : at + 28], "little") + int.from_bytes(
            self.data[at + 28 : at + 30], "little"
        )
        start = at + 30 + skip
        return self.data[start : start + info.compress_size], info.CRC, info.date_time, info.compress_type

    def relations(self, part: str) -> dict[str, tuple[str, str]]:
        """The last word of the type and the target of each relation of a part, by id."""
        folder, name = posixpath.split(part)
        listing = posixpath.join(folder, "_rels", f"{name}.rels")
        if not self.has(listing):
            return {}
        found = {}
        for relation in self.tree(listing):
            target = relation.get("Target", "").replace("\\", "/")
            if relation.get("TargetMode") != "External":
                target = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
            found[relation.get("Id", "")] = relation.get("Type", "").rpartition("/")[2], target
        return found

    def main(self) -> str:
        return next(target for kind, target in self.relations("").values() if kind == "officeDocument")

    def sheets(self) -> dict[str, str]:
        """The part of each sheet by its name."""
        main = self.main()
        relations = self.relations(main)
        found = {}
        for sheet in self.tree(main).iter():
            if local(sheet) == "sheet":
                ids = [value for key, value in sheet.attrib.items() if key.endswith("}id")]
                found[sheet.get("name", "")] = relations[ids[0]][1] if ids and ids[0] in relations else ""
        return found


class Faults(NamedTuple):
    """What marking did wrong, by kind; empty lists are a clean bill."""

    entries: list[str]
    lost: list[str]
    structure: list[str]
    read: list[str]

    def all(self) -> list[str]:
        return [*self.entries, *self.lost, *self.structure, *self.read]


def faults(before: Path, after: Path, *, readers: bool = True) -> Faults:
    """Everything that marking did wrong; what was amiss already is not counted again."""
    old, new = Opened(before), Opened(after)
    try:
        amiss = set(structure(old))
        found = Faults(
            list(entries(old, new)),
            list(lost(old, new)),
            [what for what in structure(new) if what not in amiss],
            [],
        )
    finally:
        old.close()
        new.close()
    return found._replace(read=list(read_differently(before, after)) if readers else [])


def proof(before: Path, after: Path) -> str:
    """The first fault of a marked file; empty when there is none or the source cannot be inspected."""
    try:
        faults(before, before, readers=False)
    except Exception:
        return ""
    found = faults(before, after, readers=False).all()
    return f"unsound: {found[0]}" if found else ""


def entries(old: Opened, new: Opened) -> Iterator[str]:
    """Entries that are gone, or changed although no edit had to touch them."""
    bad = new.zip.testzip()
    if bad and bad != old.zip.testzip():
        yield f"zip: {bad} does not unpack"
    sheet_parts = {part.lower() for part in old.sheets().values()} | {old.main().lower()}
    for name in old.infos:
        if name not in new.infos:
            yield f"entry gone: {name}"
        elif old.raw(name) != new.raw(name) and not (name.lower() in sheet_parts or EDITED.fullmatch(name)):
            yield f"entry changed: {name}"
    doubles = [
        name for name, count in Counter(name.lower() for name in new.zip.namelist()).items() if count > 1
    ]
    if doubles:
        yield f"entry doubled: {doubles[0]}"


def lost(old: Opened, new: Opened) -> Iterator[str]:
    """What stood in an edited part before and does not stand there as it did."""
    before, after = old.sheets(), new.sheets()
    for name, part in before.items():
        if name not in after:
            yield f"sheet gone: {name}"
        elif old.has(part) and old.raw(old.names[part.lower()]) != new.raw(new.names[part.lower()]):
            yield from (f"{name}: {what}" for what in _lost_in_sheet(old.tree(part), new.tree(after[name])))
    styles = [target for kind, target in old.relations(old.main()).values() if kind == "styles"]
    if styles and old.has(styles[0]):
        yield from (f"styles: {what}" for what in _lost_in_styles(old.tree(styles[0]), new.tree(styles[0])))
    yield from _lost_in_workbook(old.tree(old.main()), new.tree(new.main()))
    for part in (old.main(), *before.values()):
        missing = old.relations(part).items() - new.relations(part).items()
        if missing:
            yield f"relation gone: {part} {sorted(missing)[0]}"
    kinds = {canonical(kind) for kind in old.tree("[Content_Types].xml")}
    if kinds - {canonical(kind) for kind in new.tree("[Content_Types].xml")}:
        yield "content type gone"


def _lost_in_sheet(old: Element, new: Element) -> Iterator[str]:
    if old.attrib.items() - new.attrib.items():
        yield "attributes of the sheet changed"
    kept = Counter(canonical(child) for child in new)
    links = {canonical(link) for child in new if local(child) == "hyperlinks" for link in child}
    for child in old:
        if local(child) == "hyperlinks":
            if not links.issuperset(map(canonical, child)):
                yield "lost a link"
        elif local(child) not in MAY_CHANGE and not kept[canonical(child)]:
            yield f"lost {local(child)}"
    old_cells, new_cells = dict(cells(old)), dict(cells(new))
    for where, cell in old_cells.items():
        if where not in new_cells:
            yield f"cell {where} gone"
        elif len(cell) and canonical(cell) != canonical(new_cells[where]):
            yield f"cell {where} changed"
    if _rows(old).items() - _rows(new).items():
        yield "a row lost an attribute"
    yield from _lost_columns(old, new)


def _rows(sheet: Element) -> dict[int, str]:
    """The attributes of each row that marking must keep, by its number."""
    found = {}
    number = 0
    for row in sheet.iter():
        if local(row) == "row":
            number = int(row.get("r", number + 1))
            kept = {key: value for key, value in row.attrib.items() if key not in ("spans", "r")}
            if kept:
                found[number] = str(sorted(kept.items()))
    return found


def _lost_columns(old: Element, new: Element) -> Iterator[str]:
    """Columns of the old sheet that are not as wide, styled or hidden as they were, but for ours."""
    used = {column for (_, column), cell in cells(old) if len(cell)}
    before, after = columns(old), columns(new)
    for column in sorted(used & before.keys()):
        if before[column] != after.get(column):
            yield f"column {column} changed"


def _lost_in_styles(old: Element, new: Element) -> Iterator[str]:
    after = {local(child): child for child in new}
    for child in old:
        name = local(child)
        if name not in after:
            yield f"lost {name}"
            continue
        were, are = [canonical(one) for one in child], [canonical(one) for one in after[name]]
        if were != are[: len(were)]:
            yield f"{name} renumbered or changed"


def _lost_in_workbook(old: Element, new: Element) -> Iterator[str]:
    kept = Counter(canonical(child) for child in new)
    after = {local(child): child for child in new}
    for child in old:
        name = local(child)
        if name in ("sheets", "definedNames"):
            were = [canonical(one) for one in child]
            are = [canonical(one) for one in after[name]]
            if set(were) - set(are):
                yield f"workbook: {name} changed"
        elif not kept[canonical(child)]:
            yield f"workbook: lost {name}"


def read_differently(before: Path, after: Path) -> Iterator[str]:
    """Cells that openpyxl or calamine read in another way than before."""
    for reader in (_with_openpyxl, _with_calamine):
        try:
            were = reader(before)
        except BaseException:  # a panic of a compiled reader is no Exception
            continue
        try:
            are = reader(after)
        except BaseException as failure:
            yield f"{reader.__name__[6:]} no longer reads it: {failure!r}"
            continue
        for sheet, filled in were.items():
            for where, value in filled.items():
                now = are.get(sheet, {}).get(where)
                if repr(now) != repr(value):
                    yield f"{reader.__name__[6:]} reads {sheet} {where} as {now!r}, not {value!r}"
                    break


def _with_openpyxl(path: Path) -> dict[str, dict[object, object]]:
    from openpyxl import load_workbook
    from openpyxl.worksheet.worksheet import Worksheet

    found: dict[str, dict[object, object]] = {}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for results in (False, True):
            workbook = load_workbook(path, data_only=results)
            for sheet in workbook.worksheets:
                if not isinstance(sheet, Worksheet):
                    continue
                filled = found.setdefault(sheet.title, {})
                for row in sheet.iter_rows():
                    for cell in row:
                        if cell.value is not None:
                            value = (
                                sorted(vars(cell.value).items(), key=str)
                                if hasattr(cell.value, "ref")
                                else cell.value
                            )
                            filled[cell.coordinate, results] = value, cell.number_format, cell.font.b
                        if cell.comment:
                            filled[cell.coordinate, "comment"] = cell.comment.text
                filled["merged"] = sorted(map(str, sheet.merged_cells.ranges))
                filled["tables"] = sorted(sheet.tables)
                filled["validations"] = len(sheet.data_validations.dataValidation)
            workbook.close()
    return found


def _with_calamine(path: Path) -> dict[str, dict[object, object]]:
    from python_calamine import CalamineWorkbook

    found: dict[str, dict[object, object]] = {}
    workbook = CalamineWorkbook.from_path(str(path))
    for name in workbook.sheet_names:
        try:
            sheet = workbook.get_sheet_by_name(name)
        except Exception:  # a chart sheet
            continue
        row, column = sheet.start or (0, 0)
        found[name] = {
            (row + down, column + across): value
            for down, line in enumerate(sheet.to_python(skip_empty_area=True))
            for across, value in enumerate(line)
            if value != ""
        }
    return found
