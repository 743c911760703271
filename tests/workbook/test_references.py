"""The cells that a formula speaks of, with openpyxl's tokenizer as the oracle."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token

from rigxl.workbook.areas import area_name, read_area, read_areas
from rigxl.workbook.references import formulas, references
from rigxl.workbook.values import Area
from tests.workbook import crafted


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        ("A1", [("", "A1")]),
        ("$B$2:C3*2", [("", "B2:C3")]),
        ("SUM(Sheet1!C:D,'It''s 2'!5:6)", [("Sheet1", "C1:D1048576"), ("It's 2", "A5:XFD6")]),
        ("Sheet1:Sheet3!A1", [("Sheet3", "A1")]),
        ("LOG10(5)+ATAN2(1,2)+rate+A1B+_A1+A1.5", []),
        ('"A1"&B2&"say ""C3"""', [("", "B2")]),
        ("[1]Other!A1+'[2]My sheet'!B2", []),
        ("Lifts[[#This Row],[Load]]*2", []),
        ("IF(A1>B1,C1,-D1)%", [("", "A1"), ("", "B1"), ("", "C1"), ("", "D1")]),
        ("XFE1+A1048577", []),
    ],
)
def test_references(formula: str, expected: list[tuple[str, str]]) -> None:
    """Cells, ranges, whole columns and rows, other sheets; no names, functions, texts or other workbooks."""
    assert [(sheet, area_name(area)) for sheet, area in references(formula)] == expected


OPERANDS = st.sampled_from(
    [
        "A1",
        "$B$2",
        "C3:D4",
        "Sheet2!E5",
        "'My sheet'!F6:G7",
        "H:I",
        "7:8",
        '"J10"',
        "2.5",
        "LOG10(K11)",
        "TRUE",
    ]
)


@given(st.lists(OPERANDS, min_size=1, max_size=6), st.sampled_from("+-*/&,<"))
def test_operands_as_openpyxl_finds_them(operands: list[str], operator: str) -> None:
    """Every range that openpyxl's tokenizer sees in a formula, and no other."""
    formula = f"SUM({operator.join(operands)})"
    theirs = [
        token.value.rpartition("!")[2]
        for token in Tokenizer("=" + formula).items
        if token.type == Token.OPERAND and token.subtype == Token.RANGE
    ]
    assert [area for _, area in references(formula)] == [read_area(value) for value in theirs]


def test_formulas_of_a_sheet() -> None:
    """Formulas in cells, formats and validations, of any prefix; sections by the parser."""
    xml = crafted.worksheet(
        '<row r="1"><c r="A1"><f>B1&lt;2</f></c><c r="C1"><f t="shared" ref="C1:E1" si="0">F1</f></c></row>',
        after="<conditionalFormatting><cfRule><formula>G1</formula></cfRule></conditionalFormatting>"
        '<extLst><ext xmlns:m="urn:m"><m:f>H1</m:f></ext></extLst>',
    ).encode()
    expected = {("B1<2", 0), ("F1", 2), ("G1", 0), ("H1", 0)}
    assert formulas(xml, "part") == expected
    assert formulas(xml.replace(b"F1<", b"<![CDATA[F1]]><"), "part") == expected
    assert formulas(crafted.worksheet(crafted.TABLE_ROWS).encode(), "part") == set()


def test_lists_of_areas() -> None:
    """Areas with spaces between; what is no area is left out."""
    assert read_areas("A1:B2  C3 x") == [Area(1, 1, 2, 2), Area(3, 3, 3, 3)]
