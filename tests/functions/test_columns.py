"""Cells and ranges: what a spreadsheet hands over, and what it gets back for each cell."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import CellError, RigxlError
from rigxl.functions import FUNCTIONS, FunctionSpec, call
from rigxl.functions.columns import Refused, answer

EVERY = pytest.mark.parametrize("entry", FUNCTIONS.values(), ids=list(FUNCTIONS))
WRONG = ("", " ", CellError("#DIV/0!"), math.nan, math.inf, [])


def called(name: str, *arguments: object) -> object:
    """The call of one row, its refusal as a cell shows it."""
    try:
        return call(name, *arguments)
    except RigxlError as refusal:
        return Refused({"#VALUE!": "VALUE", "#N/A": "NA"}[refusal.cell], str(refusal))


def refused(name: str, *arguments: object) -> Refused:
    """The refusal of a call that must not be answered."""
    found = answer(name, arguments)
    assert isinstance(found, Refused), found
    return found


@EVERY
def test_one_cell_is_the_call_itself(entry: FunctionSpec) -> None:
    assert answer(entry.name, entry.example) == call(entry.name, *entry.example)


@EVERY
def test_a_range_of_the_example_repeats_its_answer(entry: FunctionSpec) -> None:
    """Down, across, and stretched from a single cell."""
    alone = answer(entry.name, entry.example)
    for place in range(len(entry.example)):
        down: list[object] = list(entry.example)
        down[place] = [[entry.example[place]]] * 3
        assert answer(entry.name, down) == [[alone]] * 3
        across: list[object] = [[[value]] for value in entry.example]
        across[place] = [[entry.example[place]] * 2]
        assert answer(entry.name, across) == [[alone, alone]]


@EVERY
@pytest.mark.parametrize("wrong", WRONG[:-1], ids=repr)
def test_what_is_wrong_in_one_row_stays_in_that_row(entry: FunctionSpec, wrong: object) -> None:
    """A blank, an error or no number is refused in its own cell with a sentence that names the argument."""
    for place, argument in enumerate(entry.arguments[: len(entry.example)]):
        if argument.kind == "any":
            continue
        column: list[object] = list(entry.example)
        column[place] = [[entry.example[place]], [wrong], [entry.example[place]]]
        found = answer(entry.name, column)
        assert isinstance(found, list)
        bad = found[1][0]
        assert isinstance(bad, Refused)
        assert argument.name in bad.sentence
        assert found[0] == found[2] == [call(entry.name, *entry.example)]
        alone: list[object] = list(entry.example)
        alone[place] = wrong
        assert answer(entry.name, alone) == bad


def test_rows_and_columns_make_a_table() -> None:
    """Tension of one leg of two, loads down, angles across: load / (2 sin)."""
    found = answer("LEGTENSION", [[[10], [20]], 2, [[30, 90]]])
    assert found == [[10.0, 5.0], [20.0, 10.0]]


def test_what_is_left_out_takes_its_default() -> None:
    assert answer("REQUIREDCAPACITY", [8, None, 0.5]) == call("REQUIREDCAPACITY", 8, derate=0.5)
    assert answer("REQUIREDCAPACITY", [[[8], [16]], None]) == [[10.0], [20.0]]
    assert "missing: angle" in refused("LEGTENSION", 10, 2).sentence
    assert "missing: load" in refused("LEGTENSION", None, 2, 60).sentence


def test_a_blank_is_not_left_out() -> None:
    assert refused("REQUIREDCAPACITY", 8, "").sentence == "REQUIREDCAPACITY: missing: margin is blank"
    found = answer("REQUIREDCAPACITY", [8, [[None], [0.25]]])
    assert found == [[Refused("VALUE", "REQUIREDCAPACITY: missing: margin is blank")], [10.0]]


def test_an_error_in_a_cell_is_told() -> None:
    assert refused("LEGTENSION", CellError("#REF!"), 2, 60).sentence == (
        "LEGTENSION: load is #REF!: the cell it comes from is in error"
    )


@pytest.mark.parametrize("wrong", [[[[1], [2, 3]]], [[[]]], [[]], [[1, 2]]], ids=repr)
def test_no_range(wrong: list[object]) -> None:
    told = "load is no block of cells: its rows are empty or of unequal length"
    assert told in refused("LEGTENSION", *wrong, 2, 60).sentence


def test_ranges_of_two_sizes() -> None:
    assert "give ranges of one size" in refused("LEGTENSION", [[1], [2]], 2, [[60], [60], [60]]).sentence


def test_too_many_cells() -> None:
    wide, tall = [[1.0] * 2000], [[2]] * 2000
    assert "more than the" in refused("LEGTENSION", wide, tall, 60).sentence


def test_codes_are_those_of_the_refusals() -> None:
    assert refused("LEGTENSION", "5", 2, 60).code == "VALUE"
    assert refused("LEGTENSION", 10, 2, 0).code == "NA"
    assert refused("NOSUCHNAME", 1).code == "VALUE"
    assert "too many" in refused("LOADANGLEFACTOR", 30, 1).sentence


CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 10),
    st.floats(),
    st.text(max_size=3),
    st.sampled_from(["lb", "kN", "basket", "3/4 in", CellError("#N/A"), {}, b"x"]),
)


@given(
    st.sampled_from([*FUNCTIONS, "NOPE"]),
    st.lists(CELLS | st.lists(st.lists(CELLS, max_size=3), max_size=3), max_size=9),
)
def test_whatever_comes_in_an_answer_or_a_refusal_goes_out(name: str, arguments: list[object]) -> None:
    """And each cell of a range is what the call of its row alone gives."""
    found = answer(name, arguments)
    for line in found if isinstance(found, list) else [[found]]:
        for cell in line:
            assert isinstance(cell, Refused | float | int | str | bool)
            if isinstance(cell, Refused):
                assert cell.code in ("VALUE", "NA")
                assert cell.sentence
            elif FUNCTIONS[name].kind == "text":
                assert cell
            else:
                assert math.isfinite(float(cell))


@given(
    st.lists(st.floats(-1, 200), min_size=1, max_size=30),
    st.lists(st.floats(-10, 100), min_size=1, max_size=30),
)
def test_a_column_is_its_rows(loads: list[float], angles: list[float]) -> None:
    """Nothing is lost or mixed up on the way through a range; 0 and -0 are one number, told as first met."""
    loads, angles = [load + 0.0 for load in loads], [angle + 0.0 for angle in angles]
    rows = list(zip(loads, angles, strict=False))
    found = answer("LEGTENSION", [[[load] for load, _ in rows], 2, [[angle] for _, angle in rows]])
    assert found == [[called("LEGTENSION", load, 2, angle)] for load, angle in rows]
