"""What a cell is told of shackles: sizes only from memory are given on request alone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import NotRatedError, OutOfRangeError, UnknownSizeError, UnknownUnitError
from rigxl.functions import call
from rigxl.hardware.shackle_ratings import GRADE_A, derate, rating, smallest_size
from rigxl.units import convert_load


def test_an_inch_size_is_refused_unless_memory_is_accepted() -> None:
    """RR-C-271 was not read: 4.75 short tons for 3/4 in is from memory."""
    with pytest.raises(NotRatedError, match=r"4\.75 short ton.*from memory.*marked on the piece"):
        rating("3/4 in")
    assert rating("3/4 in", memory="yes") == 4.75
    assert rating("3/4 in", "lb", memory="yes") == pytest.approx(9500)
    with pytest.raises(NotRatedError, match="from memory"):
        smallest_size(1, "t")


def test_the_older_rule_is_lower() -> None:
    """29 CFR 1926.251 Table H-19, before 2011; from memory: 3.2 short tons for 3/4 in."""
    assert rating("3/4 in", page="older", memory="yes") == 3.2


def test_a_dee_goes_by_its_rating() -> None:
    """Classification society code for lifting appliances, Table 8.5.1: the dee for 25 t."""
    assert rating("25 t") == 25
    assert rating("25 t", "kN") == pytest.approx(245.16625)


@pytest.mark.parametrize(
    ("size", "says"),
    [("11/16 in", "between 5/8 in and 3/4 in"), ("19 in", "perhaps 19 mm is meant"), ("7 t", "7 t")],
)
def test_a_size_not_listed_is_refused(size: str, says: str) -> None:
    with pytest.raises(UnknownSizeError, match=says):
        rating(size, memory="yes")


@pytest.mark.parametrize(
    ("force", "angle", "margin", "size"),
    [(3, 0, 0.25, "3/4 in"), (3.8, 0, 0.25, "3/4 in"), (3.81, 0, 0.25, "7/8 in"), (3, 90, 0.0, "7/8 in")],
)
def test_the_smallest_that_does(force: float, angle: float, margin: float, size: str) -> None:
    """By the regular strength ratings: 5/8 in 3.25, 3/4 in 4.75, 7/8 in 6.5 short tons, from memory."""
    assert call("SHACKLESIZE", force, "short ton", angle, margin, memory="yes") == size


@given(st.floats(0.01, 30), st.floats(0, 90))
def test_one_size_down_would_not_do(force: float, angle: float) -> None:
    try:
        size = smallest_size(force, "short ton", angle, memory="yes")
    except OutOfRangeError:
        assert force / derate(angle) * 1.25 > 35
        return
    ratings = [row.wll_short_ton for row in GRADE_A.rows]
    place = GRADE_A.sizes.index(size)
    needed = force / derate(angle) * 1.25
    assert ratings[place] >= needed * (1 - 1e-9)
    assert place == 0 or ratings[place - 1] < needed


@pytest.mark.parametrize("force", [0, -1])
def test_no_force_is_refused(force: float) -> None:
    with pytest.raises(OutOfRangeError, match="force"):
        smallest_size(force, "t", memory="yes")


def test_too_much_and_no_unit_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="they go up to 35 short ton"):
        smallest_size(30, "short ton", memory="yes")
    with pytest.raises(UnknownUnitError, match="not a unit of load"):
        smallest_size(3, "mm", memory="yes")


def test_the_pin_may_be_left_out() -> None:
    """A screw pin and a bolt type lose the same; a round pin has to be named to be refused."""
    assert call("SHACKLEDERATE", 30) == call("SHACKLEDERATE", 30, "bolt") == 0.7
    with pytest.raises(NotRatedError, match="round pin"):
        call("SHACKLEDERATE", 30, "round")


def test_no_unit_is_the_printed_one() -> None:
    assert rating("1 in", memory="yes") == pytest.approx(
        convert_load(rating("1 in", "t", memory="yes"), "t", "short ton")
    )
