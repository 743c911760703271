"""The parts a marked workbook gets: changed ones, added ones, and the lists that name them."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable
from itertools import count

from rigxl.errors import WorkbookError
from rigxl.workbook import container, newsheet, splice, styles
from rigxl.workbook.container import Packed
from rigxl.workbook.frame import MAIN_SPACES
from rigxl.workbook.marks import NewSheet
from rigxl.workbook.package import CONTENT_TYPES, Workbook
from rigxl.workbook.splice import Edit, Element, Encoded
from rigxl.workbook.styles import Styles

_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_STYLES_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"
_START = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_PACKAGE_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_RELATIONS = (
    "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    "http://purl.oclc.org/ooxml/officeDocument/relationships",
)


class Parts:
    """Everything that marking changes in a workbook's parts, kept until it is written at once."""

    def __init__(self, workbook: Workbook) -> None:
        self.workbook = workbook
        self.changed: dict[str, Packed] = {}
        self.added: dict[str, Packed] = {}
        self.dropped: list[str] = []
        """The entries that are left out."""
        self.workbook_edits: list[Edit] = []
        """What changes in the workbook's own part besides its list of sheets."""
        self.sheet_names: list[str] = [sheet.name for sheet in workbook.sheets]
        self.strict = workbook.tree.space == MAIN_SPACES[1]
        self.space = MAIN_SPACES[1 if self.strict else 0]
        self._overrides: list[tuple[str, str]] = []
        self._defaults: dict[str, str] = {}
        self._relations: dict[str, list[tuple[str, str, str]]] = {}
        self._sheets: list[tuple[str, str]] = []
        self._styles_part = workbook.own("styles")
        if self._styles_part:
            self._styles_text = workbook.package.text(self._styles_part)
        else:
            self._styles_text = Encoded(styles.EMPTY.format(space=self.space).encode(), splice.UTF8)
        self.styles = Styles(self._styles_text.text, self._styles_part or "the styles")

    def change(self, part: str, encoded: Encoded, edits: Iterable[Edit]) -> None:
        """Keep a part with edits applied, which must come in the order of the part."""
        if encoded.encoding == splice.UTF8:
            packed = container.pack(splice.pieces(encoded.text, edits), len(encoded.text))
        else:
            packed = container.pack([encoded.back(splice.apply(encoded.text, edits))])
        self.changed[self.workbook.package.entry_name(part)] = packed

    def put_sheet(self, sheet: NewSheet, name: str) -> None:
        """Add a sheet of ours at the end, or in place of an earlier one of the same name and making."""
        xml = newsheet.sheet_xml(sheet, self.styles, self.space)
        earlier = self.our_sheet(name)
        if earlier:
            self.changed[self.workbook.package.entry_name(earlier)] = container.pack([xml])
            return
        part = self.add("worksheets/sheet", xml, _SHEET_TYPE)
        self._sheets.append((name, self.relate(self.workbook.part, "worksheet", part)))
        self.sheet_names.append(name)

    def our_sheet(self, name: str) -> str:
        """The part of a sheet of this name that rigxl made; empty when there is none."""
        for sheet in self.workbook.sheets:
            if sheet.name.lower() == name.lower() and sheet.kind == "worksheet":
                text = self.workbook.package.text(sheet.part).text
                if newsheet.is_ours(splice.index(text, sheet.part, without="sheetData")):
                    return sheet.part
        return ""

    def add(self, stem: str, content: bytes, kind: str, extension: str = "xml") -> str:
        """Add a part, numbered behind its stem; gives its name. Only xml parts are listed one by one."""
        part = self._free_part(stem, extension)
        self.added[part] = container.pack([content])
        if extension == "xml":
            self._overrides.append((part, kind))
        elif not self.workbook.package.content_type(part):
            self._defaults[extension] = kind
        return part

    def _free_part(self, stem: str, extension: str) -> str:
        folder = posixpath.dirname(self.workbook.part)
        number = 1
        while True:
            part = posixpath.join(folder, f"{stem}{number}.{extension}")
            if not self.workbook.package.has(part) and part not in self.added:
                return part
            number += 1

    def relate(self, owner: str, kind: str, part: str) -> str:
        """Let a part point at another; gives the name of the relation."""
        new = self._relations.setdefault(owner, [])
        taken = {relation.id.lower() for relation in self.workbook.package.relations(owner)}
        taken |= {found.lower() for found, _, _ in new}
        number = len(taken) + 1
        while f"rid{number}" in taken:
            number += 1
        target = posixpath.relpath(part, posixpath.dirname(owner) or ".")
        new.append((f"rId{number}", f"{_RELATIONS[1 if self.strict else 0]}/{kind}", target))
        return f"rId{number}"

    def drop(self, part: str) -> None:
        """Leave out a part that only the workbook points at."""
        self.dropped.append(self.workbook.package.entry_name(part))

    def finish(self) -> None:
        """Write the styles and the lists: what the parts are, what the workbook points at, its sheets."""
        self._finish_styles()
        package, part = self.workbook.package, self.workbook.part
        owners = {*self._relations, part} if self.dropped else set(self._relations)
        for owner in sorted(owners):
            self._finish_relations(owner)
        kinds = [
            f'<Default Extension="{extension}" ContentType="{kind}"/>'
            for extension, kind in self._defaults.items()
        ]
        kinds += [
            f'<Override PartName="/{name}" ContentType="{kind}"/>'
            for name, kind in self._overrides
            if package.content_type(name) != kind.lower()
        ]
        if kinds or self.dropped:
            self._extend(CONTENT_TYPES, "", kinds)
        if self._sheets:
            encoded = package.text(part)
            listed = self.workbook.tree.find("sheets")
            if listed is None or not listed.children:
                raise WorkbookError("damaged", "the workbook lists no sheet")
            taken = {child.attributes.get("sheetId", "").lstrip("0") for child in listed.children}
            free = (number for number in count(1) if str(number) not in taken)
            self._extend(
                part,
                "sheets",
                [
                    f'<sheet name={splice.quoted(name)} sheetId="{next(free)}" '
                    f"{_relation_id(encoded.text, self.workbook.tree, listed, relation)}/>"
                    for name, relation in self._sheets
                ],
                self.workbook_edits,
            )
        elif self.workbook_edits:
            self.change(part, package.text(part), splice.in_order(self.workbook_edits))

    def _finish_relations(self, owner: str) -> None:
        folder, name = posixpath.split(owner)
        listing = posixpath.join(folder, "_rels", name + ".rels")
        xml = [
            f'<Relationship Id="{id_}" Type="{kind}" Target="{target}"/>'
            for id_, kind, target in self._relations.get(owner, [])
        ]
        if self.workbook.package.has(listing):
            self._extend(listing, "", xml)
        else:
            content = f'{_START}<Relationships xmlns="{_PACKAGE_RELATIONS}">{"".join(xml)}</Relationships>'
            self.added[listing] = container.pack([content.encode()])

    def _finish_styles(self) -> None:
        edits = self.styles.edits()
        if self._styles_part:
            if edits:
                self.change(self._styles_part, self._styles_text, splice.in_order(edits))
        elif edits:
            part = posixpath.join(posixpath.dirname(self.workbook.part), "styles.xml")
            self.added[part] = container.pack(splice.pieces(self._styles_text.text, splice.in_order(edits)))
            self._overrides.append((part, _STYLES_TYPE))
            self.relate(self.workbook.part, "styles", part)

    def _extend(self, part: str, inside: str, xml: list[str], edits: Iterable[Edit] = ()) -> None:
        """Add elements at the end of a part's root, or of a child of it; those of dropped parts go."""
        encoded = self.workbook.package.text(part)
        tree = splice.index(encoded.text, part)
        element = (tree.find(inside) if inside else tree) or tree
        found = [Edit(child.start, child.end, b"") for child in element.children if self._is_dropped(child)]
        if xml:
            written = splice.prefixed("".join(xml).encode(), splice.prefix_of(encoded.text, element))
            found.append(splice.append_child(encoded.text, element, written))
        self.change(part, encoded, splice.in_order([*found, *edits]))

    def _is_dropped(self, listed: Element) -> bool:
        """Whether a list names a part that is left out."""
        name = listed.attributes.get("PartName", listed.attributes.get("Target", ""))
        folder = posixpath.dirname(self.workbook.part)
        full = posixpath.normpath(posixpath.join("/", folder, name)).lstrip("/").lower()
        return any(full == dropped.lower() for dropped in self.dropped)


def _relation_id(text: bytes, workbook: Element, listed: Element, id_: str) -> str:
    """The attribute that points at a relation, spelt as the workbook spells it for its sheets."""
    spaces = [
        key.rpartition(" ")[0] for sheet in listed.children for key in sheet.attributes if key.endswith(" id")
    ]
    tags = text[workbook.start : workbook.opened] + text[listed.start : listed.opened]
    found = re.search(rb"""xmlns:([\w.-]+)\s*=\s*["']%s["']""" % re.escape(spaces[0].encode()), tags)
    if found:
        return f'{found[1].decode()}:id="{id_}"'
    return f'xmlns:r="{spaces[0]}" r:id="{id_}"'
