"""Text as workbooks store it: escapes, line ends, rich runs, the shared list."""

from __future__ import annotations

import re

from rigxl.workbook import splice

_ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")
_ITEM = re.compile(rb'\s*<si>\s*<t(?: xml:space="preserve")?>([^<]*+)</t>\s*</si>|([\s\S]+)')
_START = re.compile(rb'(?:\xef\xbb\xbf)?(?:<\?xml [^<>]*\?>)?\s*<sst(?: [\w:]+="[^"<&]*")*+>')
_REFERENCE = re.compile(rb"&(?:(lt|gt|amp|quot|apos)|#([0-9]{1,7})|#x([0-9A-Fa-f]{1,6}));|&")
_NAMED = {b"lt": "<", b"gt": ">", b"amp": "&", b"quot": '"', b"apos": "'"}
_NOT_XML = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")


def unescaped(text: str) -> str:
    """Text with its _xHHHH_ escapes undone.

    >>> unescaped("5_x000D_ _x005F_x000D_")
    '5\\r _x000D_'
    """
    if "_x" not in text:
        return text
    text = _ESCAPE.sub(lambda found: chr(int(found[1], 16)), text)
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def from_xml(raw: bytes) -> str:
    """Character data as the parser would give it, from bytes that hold no tag; then unescaped.

    Raises ValueError for what the parser would refuse, so that the caller can let it say so.
    """
    text = raw.decode()
    if not text.isprintable():
        if _NOT_XML.search(text):
            raise ValueError("not character data")
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    if "]]>" in text:
        raise ValueError("not character data")
    if "&" in text:
        text = _named(text) or _REFERENCE.sub(_dereferenced, text.encode()).decode()
    return unescaped(text)


def _named(text: str) -> str:
    """Text with its references undone, when it has only named ones; empty otherwise."""
    for name, character in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&apos;", "'")):
        text = text.replace(name, character)
    return text.replace("&amp;", "&") if text.count("&") == text.count("&amp;") else ""


def _dereferenced(found: re.Match[bytes]) -> bytes:
    name, decimal, hexadecimal = found.groups()
    if name:
        return _NAMED[name].encode()
    if not (decimal or hexadecimal):
        raise ValueError("not a reference")
    character = chr(int(decimal) if decimal else int(hexadecimal, 16))
    if _NOT_XML.search(character):
        raise ValueError("not a character")
    return character.encode()


_CHARACTER = re.compile(rb"&[^;]{1,9};|_x[0-9A-Fa-f]{4}_|\r\n|[\x00-\x7f]|[\xc0-\xff][\x80-\xbf]*")


def places(raw: bytes, text: str) -> list[int] | None:
    """Where each character of a text begins in its bytes, and where it ends; None where that cannot be told.

    Args:
        raw: Character data that holds no tag.
        text: What it says, escapes undone.

    >>> places(b"a&lt;b", "a<b")
    [0, 1, 5, 6]
    """
    stretches = [(found.start(), from_xml(found[0])) for found in _CHARACTER.finditer(raw)]
    if "".join(said for _, said in stretches) != text or any(len(said) != 1 for _, said in stretches):
        return None
    return [start for start, _ in stretches] + [len(raw)]


def read_shared(text: bytes, part: str) -> list[str]:
    """The shared strings in order; rich text comes as plain text, phonetic guides are left out."""
    quick = _read_plainly(text)
    return quick if quick is not None else _read_any(text, part)


def _read_plainly(text: bytes) -> list[str] | None:
    """The strings of a part that holds nothing but plain ones; None when there is anything else."""
    start, end = _START.match(text), text.rfind(b"</sst>")
    if start is None or end < 0 or b"<!" in text or text[end + 6 :].strip():
        return None
    found = _ITEM.findall(text, start.end(), end)
    if found and found[-1][1].strip():
        return None
    if found and found[-1][1]:
        found.pop()
    try:
        return [from_xml(item) for item, _ in found]
    except ValueError:
        return None


def _read_any(text: bytes, part: str) -> list[str]:
    parser = splice.new_parser(part)
    strings: list[str] = []
    path: list[str] = []
    runs: list[str] = []

    def start(name: str, _: dict[str, str]) -> None:
        if len(path) > splice.DEPTH:
            raise splice.too_deep(part)
        path.append(name.rpartition(" ")[2])
        if path[1:] == ["si"]:
            runs.clear()

    def characters(data: str) -> None:
        if path[1:] in (["si", "t"], ["si", "r", "t"]):
            runs.append(data)

    def finish(_: str) -> None:
        if path[1:] == ["si"]:
            strings.append(unescaped("".join(runs)))
        path.pop()

    parser.StartElementHandler = start
    parser.CharacterDataHandler = characters
    parser.EndElementHandler = finish
    splice.parse(parser, text, part)
    return strings
