"""XML by byte offsets: where each element stands, and edits that leave every other byte alone.

A part is looked at as UTF-8, whatever it is stored in, and goes back into its own encoding. A document
type is refused by the parser itself, never by looking for its text.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Iterator, Sequence
from pyexpat import ExpatError, ParserCreate, XMLParserType
from typing import NamedTuple

from rigxl.errors import WorkbookError

DEPTH = 64
UTF8 = "utf-8"
_DECLARED = re.compile(rb"""^(?:\xef\xbb\xbf)?<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']""")
_PLAIN = frozenset({"utf-8", "ascii"})
_KNOWN = frozenset(
    {"utf-16", "utf-16-le", "utf-16-be", "iso8859-1", "iso8859-15", "cp1252", "cp1251", "cp932"}
)
_TAG = re.compile(rb"""<[^\s/>"'=]+(?:\s+[^\s/>"'=]+\s*=\s*(?:"[^"]*+"|'[^']*+'))*+\s*+(/?)>""")
_ATTRIBUTE = rb"""\s+%s\s*=\s*(?:"([^"]*)"|'([^']*)')"""


class Encoded(NamedTuple):
    """A part as UTF-8, and the encoding it is stored in."""

    text: bytes
    encoding: str

    def back(self, text: bytes) -> bytes:
        """Changed text in the encoding of the part."""
        if self.encoding == UTF8:
            return text
        return text.decode().encode(self.encoding, "xmlcharrefreplace")


def as_utf8(raw: bytes, part: str) -> Encoded:
    """A part as UTF-8; the encoding comes from its mark, its first bytes or its declaration."""
    if raw.startswith((codecs.BOM_UTF16_LE, b"<\x00")):
        encoding = "utf-16-le"
    elif raw.startswith((codecs.BOM_UTF16_BE, b"\x00<")):
        encoding = "utf-16-be"
    else:
        declared = _DECLARED.match(raw)
        name = declared[1].decode() if declared else UTF8
        try:
            encoding = codecs.lookup(name).name
        except LookupError:
            encoding = name
        if encoding in _PLAIN:
            return Encoded(raw, UTF8)
        if encoding not in _KNOWN or encoding.startswith("utf-16"):
            raise WorkbookError("encoding", f"{part} is stored in {name!r}, an encoding workbooks do not use")
    try:
        text = raw.decode(encoding)
        if text.encode(encoding) == raw:
            return Encoded(text.encode(), encoding)
    except UnicodeError:
        pass
    raise WorkbookError("damaged", f"{part} is not the {encoding} text that it says it is")


class Element:
    """One element: its name without prefix, its attributes, and where it stands in the bytes.

    ``start`` is at its ``<``, ``opened`` behind its first tag, ``closing`` at its last tag (equal to
    ``end`` when it has none), ``end`` behind it all.
    """

    __slots__ = (
        "attributes",
        "children",
        "closing",
        "empty",
        "end",
        "name",
        "opened",
        "space",
        "start",
        "text",
    )

    def __init__(self, name: str, space: str, attributes: dict[str, str], start: int) -> None:
        self.name = name
        self.space = space
        self.attributes = attributes
        self.children: list[Element] = []
        self.text = ""
        self.start = start
        self.opened = self.closing = self.end = start
        self.empty = False

    def find(self, name: str) -> Element | None:
        """The first child of this name."""
        return next((child for child in self.children if child.name == name), None)

    def all(self, name: str) -> list[Element]:
        """The children of this name."""
        return [child for child in self.children if child.name == name]

    def walk(self) -> Iterator[Element]:
        """This element and everything in it, in document order."""
        yield self
        for child in self.children:
            yield from child.walk()

    def shift(self, beyond: int, by: int) -> None:
        """Move the offsets that lie beyond a place."""
        if self.end > beyond:
            self.start += by if self.start > beyond else 0
            self.opened += by if self.opened > beyond else 0
            self.closing += by if self.closing > beyond else 0
            self.end += by

    def related(self, name: str = "id") -> str:
        """An attribute of the relationships namespace, such as r:id."""
        for key, value in self.attributes.items():
            space, _, local = key.rpartition(" ")
            if local == name and space.endswith("/relationships"):
                return value
        return ""


def new_parser(part: str) -> XMLParserType:
    """A parser for one UTF-8 part that refuses a document type; names come as ``space name``."""
    parser = ParserCreate(UTF8, " ")
    parser.buffer_text = True

    def refuse(*_: object) -> None:
        raise WorkbookError("doctype", f"{part} declares a document type, which no workbook needs")

    parser.StartDoctypeDeclHandler = refuse
    return parser


def too_deep(part: str) -> WorkbookError:
    """The refusal of elements nested without end."""
    return WorkbookError("too-deep", f"{part} nests its elements deeper than {DEPTH}")


def parse(parser: XMLParserType, text: bytes, part: str) -> None:
    """Run a parser over a whole part; a fault becomes one plain sentence."""
    try:
        parser.Parse(text, True)
    except ExpatError as error:
        raise WorkbookError("damaged", f"{part} is not well-formed XML: {error}") from error
    except (ValueError, LookupError) as error:
        raise WorkbookError("damaged", f"{part} cannot be read as XML: {error}") from error
    finally:  # handlers that know their parser would keep all they saw until the collector comes
        parser.StartElementHandler = parser.EndElementHandler = parser.CharacterDataHandler = None


def tag_end(text: bytes, start: int, part: str) -> tuple[int, bool]:
    """Where the first tag of an element ends, and whether it is the whole element."""
    tag = _TAG.match(text, start)
    if tag is None:
        raise WorkbookError("damaged", f"{part} has a tag that cannot be placed")
    return tag.end(), bool(tag[1])


def extent(parser: XMLParserType, text: bytes, start: int, part: str) -> tuple[int, int, int]:
    """Of the element that a parser has just ended: behind its first tag, at its last tag, behind it all."""
    opened, empty = tag_end(text, start, part)
    if empty:
        return opened, opened, opened
    closing = parser.CurrentByteIndex
    return opened, closing, text.index(b">", closing) + 1


def index(text: bytes, part: str, without: str = "") -> Element:
    """The elements of a part with their offsets.

    Args:
        text: The part as UTF-8.
        part: Its name, for messages.
        without: Leave out what is within elements of this name.
    """
    parser = new_parser(part)
    top = Element("", "", {}, 0)
    open_elements = [top]
    skipped = 0

    def start(name: str, attributes: dict[str, str]) -> None:
        nonlocal skipped
        if len(open_elements) + skipped > DEPTH:
            raise too_deep(part)
        if skipped or (without and open_elements[-1].name == without):
            skipped += 1
            return
        space, _, local = name.rpartition(" ")
        element = Element(local, space, attributes, parser.CurrentByteIndex)
        open_elements[-1].children.append(element)
        open_elements.append(element)

    def characters(data: str) -> None:
        if not skipped:
            open_elements[-1].text += data

    def finish(_: str) -> None:
        nonlocal skipped
        if skipped:
            skipped -= 1
            return
        element = open_elements.pop()
        element.opened, element.closing, element.end = extent(parser, text, element.start, part)
        element.empty = element.opened == element.end

    parser.StartElementHandler = start
    parser.EndElementHandler = finish
    parser.CharacterDataHandler = characters
    parse(parser, text, part)
    return top.children[0]


def whole(text: str | None, otherwise: int = 0) -> int:
    """A whole number as an attribute writes it; anything else counts as not given.

    >>> whole("12"), whole("-1"), whole(None, 7)
    (12, 0, 7)
    """
    return int(text) if text and len(text) < 10 and text.isascii() and text.isdigit() else otherwise


def escaped(text: str) -> str:
    """Text as character data.

    >>> escaped("1 < 2 & 3 > 2")
    '1 &lt; 2 &amp; 3 &gt; 2'
    """
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def quoted(text: str) -> str:
    """Text as the value of an attribute, quotes around it.

    >>> quoted('3/4"')
    '"3/4&quot;"'
    """
    value = (
        escaped(text)
        .replace('"', "&quot;")
        .replace("\n", "&#10;")
        .replace("\r", "&#13;")
        .replace("\t", "&#9;")
    )
    return f'"{value}"'


class Edit(NamedTuple):
    """Replace the bytes from ``start`` to ``end`` (none, when they are equal) by ``new``."""

    start: int
    end: int
    new: bytes


def pieces(text: bytes, edits: Iterable[Edit]) -> Iterator[bytes | memoryview]:
    """The edited text, in pieces; the edits must come in the order of the text."""
    view, at = memoryview(text), 0
    for edit in edits:
        if edit.start < at:
            raise ValueError(f"edits overlap or are out of order at byte {edit.start}")
        yield view[at : edit.start]
        yield edit.new
        at = edit.end
    yield view[at:]


def in_order(edits: Iterable[Edit]) -> list[Edit]:
    """Edits in the order of the text; what is added at a place comes before what is replaced from it on."""
    return sorted(edits, key=lambda edit: edit[:2])


def apply(text: bytes, edits: Iterable[Edit]) -> bytes:
    """The edited text."""
    return b"".join(pieces(text, edits))


def prefix_of(text: bytes, element: Element) -> bytes:
    """The prefix an element is written with, colon included; empty for the default namespace."""
    name = re.compile(rb"<([^\s/>]+)").match(text, element.start)
    before, colon, _ = name[1].partition(b":") if name else (b"", b"", b"")
    return before + colon if colon else b""


def prefixed(xml: bytes, prefix: bytes) -> bytes:
    """XML of our own, written without prefixes, with this prefix on each of its names."""
    return re.sub(rb"<(/?)(?=[A-Za-z])", rb"<\1" + prefix, xml) if prefix else xml


def set_attribute(text: bytes, element: Element, name: bytes, value: bytes) -> Edit:
    """The edit that gives an element's first tag this attribute, in place where it has one."""
    found = re.compile(_ATTRIBUTE % re.escape(name)).search(text, element.start, element.opened)
    if found:
        group = 1 if found[1] is not None else 2
        return Edit(found.start(group), found.end(group), value)
    at = element.opened - (2 if element.empty else 1)
    return Edit(at, at, b' %s="%s"' % (name, value))


def append_child(text: bytes, element: Element, xml: bytes) -> Edit:
    """The edit that adds XML as an element's last child, opening the element where it is an empty tag."""
    if not element.empty:
        return Edit(element.closing, element.closing, xml)
    name = text[element.start + 1 : element.opened].split(None, 1)[0].rstrip(b"/>")
    slash = element.opened - 2
    return Edit(slash, element.opened, b">" + xml + b"</" + name + b">")


def insert_in_order(parent: Element, name: str, order: Sequence[str], xml: bytes) -> Edit:
    """The edit that adds a child where the format's fixed order of elements wants it.

    Args:
        parent: An element that is not an empty tag.
        name: The name of the new child.
        order: All names, in order; alternatives have the rank of what they hold, unknown names none.
        xml: The new child.
    """
    rank = order.index(name)
    at = parent.opened
    for child in parent.children:
        if 0 <= rank_of(child, order) <= rank:
            at = child.end
    return Edit(at, at, xml)


def rank_of(element: Element, order: Sequence[str]) -> int:
    """The place of an element in an order of names; -1 when it has none."""
    if element.name == "AlternateContent":
        inner = (inner for choice in element.children for inner in choice.children)
        return max((rank_of(found, order) for found in inner), default=-1)
    return order.index(element.name) if element.name in order else -1
