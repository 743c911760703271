"""The parts of a workbook: how they point at each other, what they are, and where a sheet is found."""

from __future__ import annotations

import posixpath
from pathlib import Path
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook import container, guard, splice
from rigxl.workbook.container import Entry
from rigxl.workbook.guard import Limits
from rigxl.workbook.splice import Element, Encoded

CONTENT_TYPES = "[Content_Types].xml"
MAIN_KINDS = {
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml": "xlsx",
    "application/vnd.openxmlformats-officedocument.spreadsheetml.template.main+xml": "xltx",
    "application/vnd.ms-excel.sheet.macroenabled.main+xml": "xlsm",
    "application/vnd.ms-excel.template.macroenabled.main+xml": "xltm",
}

DELIMITED = (".csv", ".tsv", ".txt")

SHEET_KINDS = frozenset({"worksheet", "chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet"})


class Relation(NamedTuple):
    """One arrow from a part: the last word of its type, and the part (or address) it points at."""

    id: str
    kind: str
    target: str
    external: bool


class SheetPart(NamedTuple):
    """One sheet in workbook order; ``part`` is empty when it points nowhere."""

    name: str
    state: str
    kind: str
    part: str


class Package:
    """A workbook's parts by name. Names are looked up as programs do, without regard to case."""

    def __init__(self, data: bytes, limits: Limits) -> None:
        self.data = data
        self.limits = limits
        self.entries = container.read_directory(data, limits.entries)
        guard.check_entries(self.entries, limits)
        self._by_name = {_key(entry.name): entry for entry in self.entries}
        self._latest: tuple[str, Encoded] | None = None

    def has(self, part: str) -> bool:
        """Is there such a part?"""
        return _key(part) in self._by_name

    def entry(self, part: str) -> Entry:
        """Where a part stands in the file."""
        entry = self._by_name.get(_key(part))
        if entry is None:
            raise WorkbookError("damaged", f"the part {part} is missing from the file")
        return entry

    def entry_name(self, part: str) -> str:
        """The name of a part as it stands in the file."""
        return self.entry(part).name

    def raw(self, part: str) -> bytes:
        """The bytes of a part."""
        return container.unpack(self.data, self.entry(part))

    def text(self, part: str) -> Encoded:
        """A part as UTF-8; the latest one is kept, since the steps that follow mostly ask for it again."""
        if self._latest is None or self._latest[0] != part:
            self._latest = None
            self._latest = (part, splice.as_utf8(self.raw(part), part))
        return self._latest[1]

    def tree(self, part: str) -> Element:
        """The elements of a part."""
        return splice.index(splice.as_utf8(self.raw(part), part).text, part)

    def relations(self, part: str) -> list[Relation]:
        """Where a part points; the package itself is the part named ''."""
        folder, name = posixpath.split(part)
        listing = posixpath.join(folder, "_rels", name + ".rels")
        if not self.has(listing):
            return []
        found = []
        for element in self.tree(listing).all("Relationship"):
            given = element.attributes
            external = given.get("TargetMode") == "External"
            target = given.get("Target", "")
            if not external:
                target = posixpath.normpath(posixpath.join("/", folder, target.replace("\\", "/"))).lstrip(
                    "/"
                )
            found.append(
                Relation(given.get("Id", ""), given.get("Type", "").rpartition("/")[2], target, external)
            )
        return found

    def related(self, part: str, kind: str) -> list[str]:
        """The parts of one kind that a part points at and that exist."""
        return [
            relation.target
            for relation in self.relations(part)
            if relation.kind == kind and not relation.external and self.has(relation.target)
        ]

    def content_type(self, part: str) -> str:
        """What the file says a part is, in small letters."""
        types = self.tree(CONTENT_TYPES)
        for override in types.all("Override"):
            if _key(override.attributes.get("PartName", "")) == _key(part):
                return override.attributes.get("ContentType", "").lower()
        extension = part.rpartition(".")[2].lower()
        for default in types.all("Default"):
            if default.attributes.get("Extension", "").lower() == extension:
                return default.attributes.get("ContentType", "").lower()
        return ""


def _key(part: str) -> str:
    return part.replace("\\", "/").lstrip("/").lower()


class Workbook:
    """A package that is a workbook: its main part, sheets, strings and styles."""

    def __init__(self, package: Package) -> None:
        self.package = package
        if not package.has(CONTENT_TYPES):
            raise WorkbookError("not-a-workbook", "the file is a zip file but not a workbook")
        mains = package.related("", "officeDocument")
        if not mains:
            raise WorkbookError("not-a-workbook", "the file is a zip file but not a workbook")
        self.part = mains[0]
        self.kind = MAIN_KINDS.get(package.content_type(self.part), "")
        if not self.kind:
            raise WorkbookError("not-a-workbook", "the file is an office document but not a workbook")
        self.tree = package.tree(self.part)
        self.relations = package.relations(self.part)
        self.sheets = self._sheets()
        properties = self.tree.find("workbookPr")
        self.date_1904 = truth(properties.attributes.get("date1904")) if properties else False

    def _sheets(self) -> list[SheetPart]:
        listed = self.tree.find("sheets")
        by_id = {relation.id: relation for relation in self.relations}
        if len(by_id) != len(self.relations):
            raise WorkbookError("damaged", f"{self.part} points at two parts under one name")
        found: list[SheetPart] = []
        for element in listed.all("sheet") if listed else []:
            name, state = element.attributes.get("name", ""), element.attributes.get("state", "visible")
            relation = by_id.get(element.related())
            if relation is None or not self.package.has(relation.target):
                raise WorkbookError("damaged", f"the part of sheet {name} is missing from the file")
            if relation.kind not in SHEET_KINDS:
                raise WorkbookError("damaged", f"the part of sheet {name} is not a sheet")
            found.append(SheetPart(name, state, relation.kind, relation.target))
        if not found:
            raise WorkbookError("damaged", "the workbook lists no sheet")
        for what, values in (
            ("name", [sheet.name for sheet in found]),
            ("part", [_key(sheet.part) for sheet in found]),
        ):
            if len({value.lower() for value in values}) != len(values):
                raise WorkbookError(
                    "damaged", f"two sheets share one {what}: open the workbook and save it again"
                )
        return found

    def names(self) -> dict[str, str]:
        """The defined names; one that belongs to a single sheet is keyed ``Sheet!name``."""
        listed = self.tree.find("definedNames")
        found = {}
        for element in listed.all("definedName") if listed else []:
            name = element.attributes.get("name", "")
            owner = splice.whole(element.attributes.get("localSheetId"), len(self.sheets))
            if owner < len(self.sheets):
                name = f"{self.sheets[owner].name}!{name}"
            found[name] = element.text
        return found

    def own(self, kind: str) -> str:
        """The workbook's one part of a kind, such as styles; empty when it has none."""
        return next(iter(self.package.related(self.part, kind)), "")

    @property
    def signed(self) -> bool:
        """Does the file carry a digital signature?"""
        return any(relation.kind == "origin" for relation in self.package.relations("")) or any(
            entry.name.lower().startswith("_xmlsignatures/") for entry in self.package.entries
        )


def truth(value: str | None) -> bool:
    """A yes-or-no attribute as the format writes it."""
    return value in ("1", "true", "on")


def open_package(data: bytes, name: str, limits: Limits) -> Package | None:
    """The parts of a workbook file; None for a format that can only be read.

    Args:
        data: The whole file.
        name: Its name, for messages and for telling delimited text.
        limits: How large it may be.
    """
    guard.check_not_encrypted(data)
    if data.startswith(container.LOCAL):
        package = Package(data, limits)
        foreign = package.has("xl/workbook.bin") or (package.has("content.xml") and package.has("mimetype"))
        return None if foreign else package
    if data.startswith(guard.OLE2) or name.lower().endswith(DELIMITED):
        return None
    raise WorkbookError(
        "not-a-workbook", f"{name} is not a workbook: it is neither a zip file nor an old .xls"
    )


def read_file(path: Path, limits: Limits) -> bytes:
    """The bytes of a file, unless it is too large."""
    try:
        guard.check_size(path.stat().st_size, limits)
        return path.read_bytes()
    except OSError as error:
        raise WorkbookError(
            "cannot-open", f"{path.name} cannot be opened: {error.strerror or error}"
        ) from error
