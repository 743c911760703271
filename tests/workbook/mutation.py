"""Small changes to a workbook's bytes and XML: those that must mean nothing, and those that may break it.

A change is three numbers: which operation, where (a share of the whole) and a free choice. So hypothesis
can shrink it and a seed can repeat it.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeAlias

Operation: TypeAlias = Callable[[bytes, float, int], bytes]

TAG = re.compile(rb"<[A-Za-z/][^<>]*>")
ATTRIBUTE = re.compile(rb'(\s)([A-Za-z:]+)="([^"]*)"')
STRANGE = (
    *(b"", b"0", b"-1", b"1", b"4294967296", b"18446744073709551616"),
    *(b"x", b"A1:XFD1048576", b"&#0;", b"1e999", b" 7 "),
)
LIVELY = re.compile(
    r"xl/(worksheets/[^/]+\.xml|workbook\.xml|styles\.xml|sharedStrings\.xml|tables/.*\.xml)|.*\.rels|\[Content.*",
    re.IGNORECASE,
)


class Change(NamedTuple):
    """One change: which operation, the part and the place as shares from 0 to 1, and a free number."""

    operation: int
    part: float
    place: float
    free: int


def at(found: Sequence[re.Match[bytes]], place: float) -> re.Match[bytes]:
    return found[min(int(place * len(found)), len(found) - 1)]


def pick(pattern: re.Pattern[bytes], text: bytes, place: float) -> re.Match[bytes] | None:
    """The match that lies at a share of all matches."""
    found = list(pattern.finditer(text))
    return at(found, place) if found else None


def spliced(text: bytes, start: int, end: int, new: bytes) -> bytes:
    return text[:start] + new + text[end:]


# Changes of spelling: every XML parser reads the same as before


def add_comment(text: bytes, place: float, free: int) -> bytes:
    found = pick(re.compile(rb"(?<=>)(?=<[A-Za-z/])"), text, place)
    word = (b"<!-- <row> -->", b"<!---->", b"<?odd <c r='A1'?>")[free % 3]
    after_root = found and found.start() > text.find(b"<", 60)
    return spliced(text, found.start(), found.start(), word) if found and after_root else text


def add_space_in_tag(text: bytes, place: float, free: int) -> bytes:
    found = pick(re.compile(rb"(?<=[^?/\s])(?=/?>)"), text, place)
    if not found:
        return text
    tag = text.rfind(b"<", 0, found.start())
    if tag < text.rfind(b">", 0, found.start()) or text[tag + 1 : tag + 2] in (b"!", b"?"):
        return text
    return spliced(text, found.start(), found.start(), (b" ", b"\n", b"\t ")[free % 3])


def change_quotes(text: bytes, place: float, free: int) -> bytes:
    found = pick(ATTRIBUTE, text, place)
    if not found or b"'" in found[3]:
        return text
    equals = (b"=", b" = ", b"\n=\n")[free % 3]
    return spliced(text, found.start(), found.end(), b"%s%s%s'%s'" % (found[1], found[2], equals, found[3]))


def escape_a_letter(text: bytes, place: float, free: int) -> bytes:
    found = pick(re.compile(rb'(?<=[a-zA-Z]=")[A-Za-z0-9](?=[^"<>]*"[^<>]*>)'), text, place)
    if not found or text.rfind(b"<?", 0, found.start()) > text.rfind(b">", 0, found.start()):
        return text
    form = b"&#%d;" if free % 2 else b"&#x%X;"
    return spliced(text, found.start(), found.end(), form % found[0][0])


def wrap_text(text: bytes, place: float, _: int) -> bytes:
    found = pick(re.compile(rb"(?<=<v>)[^<>&\]]+(?=</v>)"), text, place)
    return spliced(text, found.start(), found.end(), b"<![CDATA[%s]]>" % found[0]) if found else text


def open_empty_tag(text: bytes, place: float, _: int) -> bytes:
    found = pick(re.compile(rb"<([A-Za-z:0-9]+)([^<>]*[^<>/?])?/>"), text, place)
    if not found:
        return text
    return spliced(text, found.start(), found.end(), b"<%s%s></%s>" % (found[1], found[2] or b"", found[1]))


def reverse_attributes(text: bytes, place: float, _: int) -> bytes:
    found = pick(re.compile(rb"<([A-Za-z:]+)((?:\s+[A-Za-z:]+=\"[^\"]*\")+)(\s*/?>)"), text, place)
    if not found:
        return text
    words = re.findall(rb"\s+[A-Za-z:]+=\"[^\"]*\"", found[2])
    return spliced(
        text, found.start(), found.end(), b"<%s%s%s" % (found[1], b"".join(reversed(words)), found[3])
    )


def reencode(text: bytes, _: float, free: int) -> bytes:
    if text.startswith(b"\xef\xbb\xbf"):
        return text[3:]
    if free % 2 or not re.match(rb"<\?xml[^>]*encoding=\"(utf|UTF)-8\"", text):
        return text if text.startswith((b"\xff\xfe", b"\xfe\xff")) else b"\xef\xbb\xbf" + text
    words = text.decode("utf-8", "replace").replace("UTF-8", "UTF-16", 1).replace("utf-8", "UTF-16", 1)
    return words.encode("utf-16")


# Changes of meaning: the file may be refused, or read and marked as what it now says


def drop_tag(text: bytes, place: float, _: int) -> bytes:
    found = pick(TAG, text, place)
    return spliced(text, found.start(), found.end(), b"") if found else text


def double_tag(text: bytes, place: float, _: int) -> bytes:
    found = pick(TAG, text, place)
    return spliced(text, found.end(), found.end(), found[0]) if found else text


def double_element(text: bytes, place: float, _: int) -> bytes:
    found = pick(re.compile(rb"<([A-Za-z:]+)\b[^<>]*(/>|>[^<>]*</\1>)"), text, place)
    return spliced(text, found.end(), found.end(), found[0]) if found else text


def drop_element(text: bytes, place: float, _: int) -> bytes:
    found = pick(re.compile(rb"<([A-Za-z:]+)\b[^<>]*(/>|>[^<>]*</\1>)"), text, place)
    return spliced(text, found.start(), found.end(), b"") if found else text


def strange_value(text: bytes, place: float, free: int) -> bytes:
    found = pick(ATTRIBUTE, text, place)
    return spliced(text, found.start(3), found.end(3), STRANGE[free % len(STRANGE)]) if found else text


def strange_content(text: bytes, place: float, free: int) -> bytes:
    found = pick(re.compile(rb">([^<>]+)<"), text, place)
    return spliced(text, found.start(1), found.end(1), STRANGE[free % len(STRANGE)]) if found else text


def borrow_value(text: bytes, place: float, free: int) -> bytes:
    found, other = pick(ATTRIBUTE, text, place), pick(ATTRIBUTE, text, free % 97 / 97)
    return spliced(text, found.start(3), found.end(3), other[3]) if found and other else text


def drop_attribute(text: bytes, place: float, _: int) -> bytes:
    found = pick(ATTRIBUTE, text, place)
    return spliced(text, found.start(), found.end(), b"") if found else text


def flip_byte(text: bytes, place: float, free: int) -> bytes:
    if not text:
        return text
    where = min(int(place * len(text)), len(text) - 1)
    return spliced(text, where, where + 1, bytes([text[where] ^ (1 << free % 8)]))


def cut_short(text: bytes, place: float, _: int) -> bytes:
    return text[: int(place * len(text))]


SPELLING: tuple[Operation, ...] = (
    add_comment,
    add_space_in_tag,
    change_quotes,
    escape_a_letter,
    wrap_text,
    open_empty_tag,
    reverse_attributes,
    reencode,
)
MEANING: tuple[Operation, ...] = (
    drop_tag,
    double_tag,
    double_element,
    drop_element,
    strange_value,
    strange_value,
    strange_content,
    borrow_value,
    drop_attribute,
    flip_byte,
    cut_short,
)


def change_parts(data: bytes, changes: Sequence[Change], operations: Sequence[Operation]) -> bytes:
    """A workbook with changes inside its parts, zipped anew and soundly."""
    with zipfile.ZipFile(io.BytesIO(data)) as source:
        parts = {name: source.read(name) for name in source.namelist()}
    lively = [name for name in parts if LIVELY.fullmatch(name)]
    for change in changes:
        name = lively[min(int(change.part * len(lively)), len(lively) - 1)]
        operation = operations[change.operation % len(operations)]
        if not parts[name].startswith((b"\xff\xfe", b"\xfe\xff")):
            parts[name] = operation(parts[name], change.place, change.free)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name, part in parts.items():
            target.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def change_bytes(data: bytes, changes: Sequence[Change]) -> bytes:
    """A file with changed bytes, whatever it is."""
    for change in changes:
        operation = (flip_byte, flip_byte, flip_byte, cut_short, _double_stretch)[change.operation % 5]
        data = operation(data, change.place, change.free)
    return data


def _double_stretch(data: bytes, place: float, free: int) -> bytes:
    where = int(place * len(data))
    return data[:where] + data[where : where + free % 200] + data[where:]
