"""Formulas filled down are known for one formula, quick look or long one; what looks elsewhere is told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.workbook.likeness import ANCHOR, Likeness, looks, looks_at_own_row
from rigxl.workbook.moved import moved
from rigxl.workbook.values import Formula

FILLED_DOWN = (
    '=K{r}*IF(L{r}="weighed",1.05,1.2)+M{r}',
    "=ROUND($B{r}*B$3,2)",
    "='My sheet'!C{r}&\"M24\"",
    "=Lifts!C{r}+LOG10(D{r})",
    "=SUM(A{r}:C{r})*2.5",
    "=SUM(A$5:A{r})",
    "=Table1[@Load]*2",
    '=IF(A{r}="say ""B7""",1,7)',
    "=rate_2*D{r}",
    "=1.7*4",
)


def formula(text: str) -> Formula:
    return Formula(text, 1.0, True)


@pytest.mark.parametrize("text", FILLED_DOWN)
def test_as_the_long_way_tells_it(text: str) -> None:
    """Row by row the same as moving every token, and the same in all rows."""
    likeness = Likeness()
    rows = (2, 3, 5, 7, 12, 17, 24, 25, 105, 205, 1005, 99_999)
    forms = {likeness.of(formula(text.format(r=row)), row) for row in rows}
    assert forms == {moved(text.format(r=7), ANCHOR - 7, 0)}


@given(st.integers(6, 300), st.integers(6, 300), st.sampled_from(FILLED_DOWN), st.sampled_from(FILLED_DOWN))
def test_two_formulas_are_alike_if_they_are_one(row: int, other: int, one: str, two: str) -> None:
    likeness = Likeness()
    first, second = (
        likeness.of(formula(one.format(r=row)), row),
        likeness.of(formula(two.format(r=other)), other),
    )
    assert (first == second) is (one == two)


def test_a_cell_of_the_row_above_is_another_formula() -> None:
    likeness = Likeness()
    assert likeness.of(formula("=K7*2"), 7) != likeness.of(formula("=K7*2"), 8)
    assert likeness.of(formula("=K7*1.7"), 7) == likeness.of(formula("=K8*1.7"), 8)
    assert likeness.of(formula("=K5*1.05"), 5) != likeness.of(formula("=K6*1.06"), 6)


def test_the_members_of_a_shared_formula() -> None:
    """They have the text of the first, and how far they stand from it (ECMA-376-1, 18.3.1.40)."""
    likeness = Likeness()
    first, member = Formula("=K7*2", 1.0, True), Formula("=K7*2", 1.0, True, (5, 0))
    assert likeness.of(first, 7) == likeness.of(member, 12) == f"=K{ANCHOR}*2"
    assert likeness.of(Formula("=K7*2", 1.0, True, (5, 1)), 12) == f"=L{ANCHOR}*2"


def test_where_a_formula_looks() -> None:
    assert looks(f"=A{ANCHOR}+B{ANCHOR - 2}+C$4+Other!D9").offsets == {0, -2}
    assert looks(f"=A{ANCHOR}+C$4").fixed == {4}
    assert looks("=4.2*1.1").nowhere
    assert not looks("=margin*1.1").nowhere
    assert not looks("=PI()").nowhere
    assert looks_at_own_row(f"=A{ANCHOR}")
    assert not looks_at_own_row(f'="A{ANCHOR}"&B{ANCHOR}1')
