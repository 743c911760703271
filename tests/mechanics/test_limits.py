"""What a number must be before it is worked with."""

import math

import pytest

from rigxl.errors import MissingInputError, OutOfRangeError, UnreadableError
from rigxl.mechanics import limits


@pytest.mark.parametrize("blank", [None, "", "  "])
def test_blank_is_missing(blank: object) -> None:
    with pytest.raises(MissingInputError, match="missing: load"):
        limits.number("load", blank)


@pytest.mark.parametrize("wrong", ["5", True, False, math.nan, math.inf, -math.inf, 10**400, 1j, [5], b"5"])
def test_not_one_plain_number(wrong: object) -> None:
    with pytest.raises(UnreadableError, match="load must be a"):
        limits.number("load", wrong)


@pytest.mark.parametrize("value", [0, -0.0, -1])
def test_positive_refuses_zero_and_less(value: float) -> None:
    with pytest.raises(OutOfRangeError, match="above 0"):
        limits.positive("load", value)


def test_not_negative_takes_zero_but_no_less() -> None:
    assert limits.not_negative("rigging", 0) == 0
    with pytest.raises(OutOfRangeError, match="0 or more"):
        limits.not_negative("rigging", -1)


def test_an_allowance_never_takes_away() -> None:
    assert limits.at_least_one("allowance", 1) == 1
    with pytest.raises(OutOfRangeError, match="1 or more"):
        limits.at_least_one("allowance", 0.99)


@pytest.mark.parametrize("value", [0, -0.5, 1.01, 70])
def test_a_derate_stays_between_nothing_and_one(value: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"0\.7 for 70 %"):
        limits.derating("derate", value)


@pytest.mark.parametrize("value", [0, -2, 2.5, 0.999])
def test_legs_are_counted_whole(value: float) -> None:
    with pytest.raises(OutOfRangeError, match="whole number"):
        limits.count("legs", value)


def test_a_cell_counts_in_floats() -> None:
    assert limits.count("legs", 2.0) == 2


def test_infinity_is_no_answer() -> None:
    with pytest.raises(OutOfRangeError, match="beyond"):
        limits.result("tension", math.inf)


@pytest.mark.parametrize("limit", [5, 30, 45, 60, 90, 120])
def test_rounding_does_not_cross_a_limit(limit: float) -> None:
    """One part in ten thousand million either way is rounding; one in a million is not."""
    assert limits.at_least(limit * (1 - 1e-10), limit)
    assert limits.at_most(limit * (1 + 1e-10), limit)
    assert not limits.at_least(limit * (1 - 1e-6), limit)
    assert not limits.at_most(limit * (1 + 1e-6), limit)
