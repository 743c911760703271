"""Cell styles: what we need is appended, what is there keeps its number."""

from __future__ import annotations

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.frame import MAIN_SPACES
from rigxl.workbook.marks import Look, NoPlaceError
from rigxl.workbook.splice import Edit, Element

STYLES_AT_MOST = 64_000
ORDER = (
    "numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles",
    "colors", "extLst",
)  # fmt: skip
_FIRST_CUSTOM_FORMAT = 164
_FONT_ORDER = (
    "b", "i", "strike", "condense", "extend", "outline", "shadow", "u", "vertAlign", "sz", "color", "name",
    "family", "charset", "scheme",
)  # fmt: skip
_THIN = "".join(
    f'<{side} style="thin"><color rgb="FFBFBFBF"/></{side}>' for side in ("left", "right", "top", "bottom")
)

EMPTY = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="{space}">'
    '<fonts count="1"><font><sz val="11"/><name val="Calibri"/><family val="2"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill>'
    '<fill><patternFill patternType="gray125"/></fill></fills>'
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)


class Styles:
    """A styles part that grows at its ends.

    Args:
        text: The part as UTF-8.
        part: Its name, for messages.
    """

    def __init__(self, text: bytes, part: str) -> None:
        self.text = text
        self.tree = splice.index(text, part)
        if self.tree.name != "styleSheet" or self.tree.space not in MAIN_SPACES:
            raise WorkbookError("damaged", f"{part} should hold the cell styles and does not")
        self._prefix = splice.prefix_of(text, self.tree)
        self._known: dict[str, dict[bytes, int]] = {}
        self._added: dict[str, list[bytes]] = {}
        self._xfs: dict[Look, int] = {}
        self._formats = {
            member.attributes.get("formatCode", ""): splice.whole(member.attributes.get("numFmtId"))
            for member in self._members("numFmts")
        }

    def _members(self, section: str) -> list[Element]:
        found = self.tree.find(section)
        return found.children if found is not None else []

    def _raw(self, element: Element) -> bytes:
        return self.text[element.start : element.end]

    def _place(self, section: str, xml: str) -> int:
        """The number of a member of a section: of one that is written like this, or of a new one."""
        written = splice.prefixed(xml.encode(), self._prefix)
        if section not in self._known:
            known = self._known[section] = {}
            for at, member in enumerate(self._members(section)):
                known.setdefault(self._raw(member), at)
        known, added = self._known[section], self._added.setdefault(section, [])
        if written not in known:
            known[written] = len(self._members(section)) + len(added)
            added.append(written)
        return known[written]

    def cell(self, look: Look) -> int:
        """The style number of a cell with this look on the workbook's own default."""
        if look not in self._xfs:
            self._xfs[look] = self._cell(look)
        return self._xfs[look]

    def _cell(self, look: Look) -> int:
        if look == Look():
            return 0
        font = self._font(look)
        fill = self._place("fills", _pattern(look.fill)) if look.fill else 0
        border = 0
        if look.border:
            border = self._place("borders", f"<border>{_THIN}<diagonal/></border>")
        number = self._number_format(look.number_format) if look.number_format else 0
        given = {"numFmtId": number, "fontId": font, "fillId": fill, "borderId": border, "xfId": 0}
        used = {"NumberFormat": number, "Font": font, "Fill": fill, "Border": border}
        alignment = _alignment(look)
        applied = [name for name, number in used.items() if number] + (["Alignment"] if alignment else [])
        written = _written({key: str(number) for key, number in given.items()})
        written += "".join(f' apply{name}="1"' for name in applied)
        return self._xf(f"<xf{written}>{alignment}</xf>" if alignment else f"<xf{written}/>")

    def _xf(self, xml: str) -> int:
        number = self._place("cellXfs", xml)
        if number >= STYLES_AT_MOST:
            raise NoPlaceError("the workbook has no room for another cell style")
        return number

    def _font(self, look: Look) -> int:
        """The workbook's default font with what the look changes."""
        if not (look.bold or look.italic or look.ink or look.size):
            return 0
        parts: dict[str, str] = {}
        default = self._members("fonts")
        for child in default[0].children if default else []:
            given = "".join(f" {name}={splice.quoted(value)}" for name, value in child.attributes.items())
            parts[child.name] = f"<{child.name}{given}/>"
        if look.bold:
            parts["b"] = "<b/>"
        if look.italic:
            parts["i"] = "<i/>"
        if look.size:
            parts["sz"] = f'<sz val="{look.size:g}"/>'
        if look.ink:
            parts["color"] = f'<color rgb="FF{look.ink}"/>'
        return self._place(
            "fonts", "<font>" + "".join(parts.get(name, "") for name in _FONT_ORDER) + "</font>"
        )

    def _number_format(self, code: str) -> int:
        """The number of a custom number format."""
        taken = self._formats
        if code not in taken:
            taken[code] = max([_FIRST_CUSTOM_FORMAT - 1, *taken.values()]) + 1
            self._place("numFmts", f'<numFmt numFmtId="{taken[code]}" formatCode={splice.quoted(code)}/>')
        return taken[code]

    def wrapped(self, style: str) -> int:
        """The style number of a style like this one whose text wraps."""
        members = self._members("cellXfs")
        number = splice.whole(style, len(members))
        if number >= len(members):
            return self.cell(Look(bold=True, wrap=True))
        element = members[number]
        alignment = element.find("alignment")
        if alignment is not None and alignment.attributes.get("wrapText") in ("1", "true"):
            return number
        given = {**element.attributes, "applyAlignment": "1"}
        aligned = {**(alignment.attributes if alignment else {}), "wrapText": "1"}
        aligned.pop("shrinkToFit", None)
        protection = element.find("protection")
        kept = f"<protection{_written(protection.attributes)}/>" if protection else ""
        return self._xf(f"<xf{_written(given)}><alignment{_written(aligned)}/>{kept}</xf>")

    def row_look(self, look: Look) -> int:
        """The number of a conditional style. Its fill is in the background colour, as the format wants it."""
        font = ("<b/>" if look.bold else "") + ("<i/>" if look.italic else "")
        font += f'<color rgb="FF{look.ink}"/>' if look.ink else ""
        fill = f'<fill><patternFill><bgColor rgb="FF{look.fill}"/></patternFill></fill>' if look.fill else ""
        return self._place("dxfs", f"<dxf>{f'<font>{font}</font>' if font else ''}{fill}</dxf>")

    def edits(self) -> list[Edit]:
        """What must be done to the part to hold everything that was asked for."""
        edits = []
        for section in ORDER:
            added = b"".join(self._added.get(section, []))
            if not added:
                continue
            count = len(self._members(section)) + len(self._added[section])
            element = self.tree.find(section)
            if element is not None and not element.empty:
                edits.append(splice.append_child(self.text, element, added))
                edits.append(splice.set_attribute(self.text, element, b"count", b"%d" % count))
                continue
            opening, closing = f'<{section} count="{count}">'.encode(), f"</{section}>".encode()
            whole = splice.prefixed(opening, self._prefix) + added + splice.prefixed(closing, self._prefix)
            if element is not None:
                edits.append(Edit(element.start, element.end, whole))
            else:
                edits.append(splice.insert_in_order(self.tree, section, ORDER, whole))
        return edits


def _written(attributes: dict[str, str]) -> str:
    """Attributes without a namespace, as they are written."""
    return "".join(f" {name}={splice.quoted(value)}" for name, value in attributes.items() if " " not in name)


def _pattern(colour: str) -> str:
    return (
        f'<fill><patternFill patternType="solid"><fgColor rgb="FF{colour}"/><bgColor indexed="64"/>'
        "</patternFill></fill>"
    )


def _alignment(look: Look) -> str:
    given = {"horizontal": "center"} if look.centred else {}
    if look.wrap or look.border:
        given["vertical"] = "center"
    if look.wrap:
        given["wrapText"] = "1"
    return f"<alignment{_written(given)}/>" if given else ""
