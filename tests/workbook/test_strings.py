"""Text: escapes, entities, line ends, rich runs, phonetic guides."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook import splice, strings
from tests.workbook.crafted import MAIN


def _parsed(raw: bytes) -> str:
    """What the parser makes of character data."""
    return splice.index(b"<t>" + raw + b"</t>", "part").text


@given(st.text(st.sampled_from('a<&">é\r\n\t\x01_x0;#amplt 41DFD8]'), max_size=12))
def test_character_data_as_the_parser_reads_it(text: str) -> None:
    """Whatever the parser accepts we read alike, and what it refuses we leave to it."""
    raw = text.replace("<", "").encode()
    try:
        expected = strings.unescaped(_parsed(raw))
    except WorkbookError:
        with pytest.raises(ValueError, match="not"):
            strings.from_xml(raw)
    else:
        assert strings.from_xml(raw) == expected


@pytest.mark.parametrize(
    ("stored", "text"),
    [
        ("a_x000D_b", "a\rb"),
        ("_x005F_x000D_", "_x000D_"),
        ("_x00e9_", "é"),
        ("_xD83D__xDE00_", "😀"),
        ("_xD83D_", "\ufffd"),
        ("_x12_", "_x12_"),
        ("max_load", "max_load"),
    ],
)
def test_escapes(stored: str, text: str) -> None:
    """_xHHHH_ stands for a character, half pairs are never let through."""
    assert strings.unescaped(stored) == text


ITEMS = (
    '<si><t>plain</t></si><si><t xml:space="preserve"> kept </t></si>'
    '<si><r><t>3/4 </t></r><r><rPr><b/></rPr><t>inch</t></r><rPh sb="0" eb="1"><t>guide</t></rPh></si>'
    '<si/><si><t>a &amp; b</t><phoneticPr fontId="1"/></si>'
)
PREFIXED = re.sub("<(/?)", r"<\1x:", ITEMS)
EXPECTED = ["plain", " kept ", "3/4 inch", "", "a & b"]


@pytest.mark.parametrize(
    "text",
    [
        f'<sst xmlns="{MAIN}" count="5" uniqueCount="5">{ITEMS}</sst>',
        f'<x:sst xmlns:x="{MAIN}">{PREFIXED}</x:sst>',
        f'<?xml version="1.0"?><!-- c --><sst xmlns="{MAIN}">{ITEMS}</sst>',
    ],
)
def test_shared_strings(text: str) -> None:
    """Rich text is plain text, guides to pronunciation are left out, an empty item keeps its place."""
    assert strings.read_shared(text.encode(), "part") == EXPECTED


def test_plain_lists_are_read_alike() -> None:
    """The quick way and the parser agree on a list that both can read."""
    text = f'<sst xmlns="{MAIN}">\n <si> <t>a&lt;b</t>\n</si><si><t>_x0041_</t></si>\n</sst>'.encode()
    assert strings._read_plainly(text) == strings._read_any(text, "part") == ["a<b", "A"]


@pytest.mark.parametrize(
    "broken", ["<si><t>a</si>", "<si><t>a\x01</t></si>", "<si><t>a &nope; b</t></si>", "<si>"]
)
def test_broken_lists_are_refused(broken: str) -> None:
    """What is not well-formed is never read half."""
    with pytest.raises(WorkbookError) as refusal:
        strings.read_shared(f'<sst xmlns="{MAIN}">{broken}</sst>'.encode(), "part")
    assert refusal.value.code == "damaged"
