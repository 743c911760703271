"""Formulas moved to another cell, held against openpyxl's own translation and by hand where that errs."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.formula.translate import Translator

from rigxl.workbook.moved import moved

CORNER = st.builds("{}{}{}{}".format, *(st.sampled_from(x) for x in (["", "$"], ["A", "C", "AB"], ["", "$"])),
                   st.integers(1, 99))  # fmt: skip
AREA = st.one_of(CORNER, st.builds("{}:{}".format, CORNER, CORNER), st.sampled_from(["B:$D", "$3:7", "A:A"]))
SHEET = st.sampled_from(["", "", "Data!", "'it''s A1'!", "[1]Other!", "'C:\\x\\[b.xlsx]S'!"])
OPERAND = st.one_of(
    st.builds("{}{}".format, SHEET, AREA),
    st.sampled_from(
        ['"A1 ""B2"" C3"', "12.5", "TRUE", "#REF!", "rate", "LOG10(2)", "T[load]", "T[[#This Row],[A1]]"]
    ),
)
FORMULA = st.recursive(
    OPERAND,
    lambda inner: st.one_of(
        st.builds("{} + {}".format, inner, inner),
        st.builds("({})^-{}%".format, inner, inner),
        st.builds("IF({},{}, {})".format, inner, inner, inner),
    ),
    max_leaves=8,
)


@settings(deadline=None, max_examples=300)
@given(FORMULA, st.integers(0, 50), st.integers(0, 20))
def test_openpyxl_moves_the_same(formula: str, rows: int, columns: int) -> None:
    """Within the sheet, both agree to the letter, but for runs of spaces, which openpyxl drops."""
    expected = Translator(f"={formula}", "A1").translate_formula(row_delta=rows, col_delta=columns)
    assert moved(f"={formula}", rows, columns) == expected


@pytest.mark.parametrize(
    ("formula", "rows", "columns", "expected"),
    [
        ("=A1+$A1+A$1+$A$1", 1, 1, "=B2+$A2+B$1+$A$1"),
        ("=A3", -3, 0, "=#REF!"),
        ("=B1", 0, -2, "=#REF!"),
        ("=XFD1048576", 1, 0, "=#REF!"),
        ("=Data!A1*2", 0, 99_999, "=#REF!*2"),
        ("=Data!rate+A1", 1, 0, "=Data!rate+A2"),
        ("=Data!#REF!+A1", 1, 0, "=Data!#REF!+A2"),
        ("=A1  +  A2", 1, 0, "=A2  +  A3"),
    ],
)
def test_by_hand(formula: str, rows: int, columns: int, expected: str) -> None:
    """Edges of the sheet; names and errors of other sheets, which openpyxl 3.1.5 loses; white space kept."""
    assert moved(formula, rows, columns) == expected


@pytest.mark.parametrize("formula", ["=A1:rate", "=Data!A1:Data!B2", '="open', "=SUM(A1", "=A1)", "=A1#"])
def test_what_cannot_be_moved(formula: str) -> None:
    """It gives no text at all, which nobody can take for a formula; unmoved it stays as it is."""
    assert moved(formula, 1, 0) == ""
    assert moved(formula, 0, 0) == formula
