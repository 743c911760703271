"""Offsets, encodings and edits."""

from __future__ import annotations

import codecs
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook import splice
from rigxl.workbook.splice import Edit

ORDER = ("one", "two", "three")


@st.composite
def documents(draw: st.DrawFn, depth: int = 3) -> str:
    """Well-formed elements with awkward attributes, comments and sections in them."""
    name = draw(st.sampled_from(["one", "two", "p:three"]))
    given = draw(st.sampled_from(["", ' a="1 > 0"', " b='\"'", ' xmlns:q="urn:q" q:c="&lt;" ']))
    if depth == 0 or draw(st.booleans()):
        return draw(st.sampled_from([f"<{name}{given}/>", f"<{name}{given}></{name}>", f"<{name}{given} />"]))
    filling = st.sampled_from(["text", "<!-- <one> -->", "<![CDATA[<two>]]>", "<?go <three>?>", "é"])
    inner = draw(st.lists(st.one_of(documents(depth=depth - 1), filling), max_size=4))
    return f"<{name}{given}>{''.join(inner)}</{name} >"


@settings(deadline=None)
@given(documents())
def test_every_element_stands_where_the_index_says(document: str) -> None:
    """Each element cut out by its offsets parses, alone, to what the standard library finds there."""
    text = f'<top xmlns:p="urn:p">{document}</top>'.encode()
    tree = splice.index(text, "part")
    expected = list(ET.fromstring(text).iter())
    found = list(tree.walk())
    assert [element.name for element in found] == [element.tag.rpartition("}")[2] for element in expected]
    for element, other in zip(found, expected, strict=True):
        assert text[element.start : element.start + 1] == b"<"
        assert text[element.end - 1 : element.end] == b">"
        raw = text[element.start : element.end].replace(b"<p:", b"<").replace(b"</p:", b"</")
        assert len(list(ET.fromstring(raw.replace(b"<top xmlns:p", b"<top xmlns:z")).iter())) == len(
            list(other.iter())
        )
        assert element.empty is (text[element.opened - 2 : element.opened] == b"/>")


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "iso-8859-1", "cp1252"]
)
def test_encodings_come_back_to_the_byte(encoding: str) -> None:
    """A part read as UTF-8 goes back into its own encoding; new text that it lacks becomes references."""
    declared = "utf-8" if encoding == "utf-8-sig" else encoding.removesuffix("-le").removesuffix("-be")
    document = f'<?xml version="1.0" encoding="{declared}"?><a b="é">ü</a>'
    raw = document.encode(encoding)
    if encoding == "utf-16":
        assert raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    encoded = splice.as_utf8(raw, "part")
    assert encoded.back(encoded.text) == raw
    tree = splice.index(encoded.text, "part")
    assert (tree.attributes["b"], tree.text) == ("é", "ü")
    edited = encoded.back(
        splice.apply(encoded.text, [splice.append_child(encoded.text, tree, "<c>☃</c>".encode())])
    )
    assert ET.fromstring(edited)[0].text == "☃"


@pytest.mark.parametrize(
    "raw", [b'<?xml version="1.0" encoding="utf-7"?><a/>', b'<?xml version="1.0" encoding="zip"?><a/>']
)
def test_strange_encodings_are_refused(raw: bytes) -> None:
    """Only encodings that workbooks use are read."""
    with pytest.raises(WorkbookError) as refusal:
        splice.as_utf8(raw, "part")
    assert refusal.value.code == "encoding"


@pytest.mark.parametrize("raw", [b"\xff\xfe<\x00a", b'<?xml version="1.0" encoding="cp1252"?><a>\x81</a>'])
def test_text_that_is_not_what_it_says(raw: bytes) -> None:
    """Bytes outside the encoding are refused."""
    with pytest.raises(WorkbookError) as refusal:
        splice.index(splice.as_utf8(raw, "part").text, "part")
    assert refusal.value.code == "damaged"


def test_edits() -> None:
    """Edits take their places; what is added at a place comes before what is replaced from it on."""
    edits = [Edit(2, 4, b"X"), Edit(0, 0, b"<"), Edit(2, 2, b"+"), Edit(6, 6, b">")]
    assert splice.apply(b"abcdef", splice.in_order(edits)) == b"<ab+Xef>"
    with pytest.raises(ValueError, match="overlap"):
        splice.apply(b"abcdef", [Edit(0, 3, b""), Edit(2, 4, b"")])


@pytest.mark.parametrize(
    ("parent", "expected"),
    [
        ("<top><three/></top>", "<top><two/><three/></top>"),
        ("<top><one/><unknown/></top>", "<top><one/><two/><unknown/></top>"),
        ("<top><m><c><one/></c></m><three/></top>".replace("m>", "AlternateContent>"),
         "<top><m><c><one/></c></m><two/><three/></top>".replace("m>", "AlternateContent>")),
        ("<top></top>", "<top><two/></top>"),
    ],
)  # fmt: skip
def test_children_go_where_the_order_wants_them(parent: str, expected: str) -> None:
    """Alternatives have the rank of what they hold; unknown elements none."""
    text = parent.encode()
    edit = splice.insert_in_order(splice.index(text, "part"), "two", ORDER, b"<two/>")
    assert splice.apply(text, [edit]).decode() == expected


def test_attributes_and_children_of_any_spelling() -> None:
    """Attributes are set in place or added; an empty tag is opened for its first child."""
    text = b"<x:a b = '1'/>"
    tree = splice.index(b"<x:a xmlns:x='urn:x' b = '1'/>", "part")
    whole = b"<x:a xmlns:x='urn:x' b = '1'/>"
    assert splice.apply(whole, [splice.set_attribute(whole, tree, b"b", b"2")]) == whole.replace(
        b"'1'", b"'2'"
    )
    assert splice.apply(whole, [splice.set_attribute(whole, tree, b"c", b"2")]).endswith(b"b = '1' c=\"2\"/>")
    assert splice.apply(whole, [splice.append_child(whole, tree, b"<y/>")]).endswith(b"b = '1'><y/></x:a>")
    assert splice.prefix_of(whole, tree) == b"x:"
    assert splice.prefixed(b"<a><b/></a>", b"x:") == b"<x:a><x:b/></x:a>"
    assert text in whole.replace(b" xmlns:x='urn:x'", b"")
