"""Proof loads, by the published bands and examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import AmbiguousUnitError, InputError, NotRatedError, OutOfRangeError, UnknownUnitError
from rigxl.functions import call
from rigxl.hardware.proof_loads import PROOF_RULES


@pytest.mark.parametrize(
    ("gear", "swl", "printed"),
    [
        ("loose gear", 100, 200),
        ("single-sheave block", 5, 20),
        ("single-sheave block with becket", 5, 30),
        ("multiple-sheave block", 20, 40),
        ("multiple-sheave block", 30, 50),
        ("multiple-sheave block", 40, 60),
        ("multiple-sheave block", 50, 75),
        ("device", 4, 8),
        ("device", 50, 61.6),
        ("device", 160, 176),
        ("connector", 3, 6),
    ],
)
def test_canada(gear: str, swl: float, printed: float) -> None:
    """SOR/2007-128, Schedule 5: 2, 4, 6 SWL; 2 SWL, SWL + 20, 1.5 SWL; 2 SWL, 1.04 SWL + 9.6, 1.1 SWL."""
    assert call("PROOFLOAD", swl, "t", "canada", gear) == pytest.approx(printed)


@pytest.mark.parametrize(
    ("gear", "cmu", "printed"),
    [
        ("single-sheave block", 12.5, 50),
        ("single-sheave block", 50, 1.866 * 50 + 27),
        ("single-sheave block", 100, 220),
        ("multiple-sheave block", 25, 50),
        ("multiple-sheave block", 100, 0.933 * 100 + 27),
        ("multiple-sheave block", 200, 220),
        ("chain hoist", 2, 3),
        ("device", 10, 20),
        ("device", 100, 113.6),
        ("device", 300, 330),
        ("loose gear", 10, 20),
        # the page of Canada asks for 200 t here
        ("loose gear", 100, 142),
    ],
)
def test_france(gear: str, cmu: float, printed: float) -> None:
    """Division 214, Annexe 214-3.A.1, CMU in tonnes."""
    assert call("PROOFLOAD", cmu, "t", "france", gear) == pytest.approx(printed)


@pytest.mark.parametrize("gear", ["device", "connector"])
def test_us(gear: str) -> None:
    """29 CFR 1926.251(a)(4): 125 % of the rated load."""
    assert call("PROOFLOAD", 8000, "lb", "us", gear) == pytest.approx(10000)


def test_w40_spreader_of_ten_tonnes() -> None:
    """SOR/2007-128, Schedule 5, item 5: SWL 10 t, test load 20 t."""
    assert call("PROOFLOAD", 10, "t", "canada") == pytest.approx(20, rel=1e-4)


def test_w42_spreader_of_two_hundred_tonnes() -> None:
    """SOR/2007-128, Schedule 5, item 5: SWL 200 t, test load 220 t."""
    assert call("PROOFLOAD", 200, "t", "canada") == pytest.approx(220, rel=1e-4)


def test_w43_loose_gear_of_twenty_five_tonnes() -> None:
    """Division 214, Annexe 214-3.A.1, e: CMU 25 t, proof load 50 t."""
    assert call("PROOFLOAD", 25, "t", "france", "loose gear") == pytest.approx(50, rel=1e-4)


def test_bands_go_by_tonnes_in_any_unit() -> None:
    """100 t is 980.665 kN under standard gravity (NIST SP 811)."""
    assert call("PROOFLOAD", 980.665, "kN", "canada") == pytest.approx(113.6 * 9.80665)


def test_bands_meet() -> None:
    """Where one band ends the next begins, so that a rating is in just one."""
    for rule in PROOF_RULES.values():
        for bands in rule.bands.values():
            assert bands[0].over_t == 0
            assert bands[-1].up_to_t == float("inf")
            assert [band.up_to_t for band in bands[:-1]] == [band.over_t for band in bands[1:]]


@given(st.sampled_from(["us", "canada", "france"]), st.floats(0.01, 500), st.floats(0.01, 500))
def test_a_device_is_tested_beyond_its_rating_and_more_for_more(rule: str, one: float, other: float) -> None:
    less, more = (call("PROOFLOAD", tonnes, "t", rule) for tonnes in sorted((one, other)))
    assert isinstance(less, float)
    assert isinstance(more, float)
    assert 1.1 * min(one, other) <= less * (1 + 1e-9)
    assert less <= more * (1 + 1e-9)


def test_refused() -> None:
    with pytest.raises(NotRatedError, match="us gives no proof load for a loose gear; it does for device"):
        call("PROOFLOAD", 5, "t", "us", "loose gear")
    with pytest.raises(NotRatedError, match="france"):
        call("PROOFLOAD", 5, "t", "france", "connector")
    with pytest.raises(OutOfRangeError, match="rating is 0"):
        call("PROOFLOAD", 0, "t", "us")
    with pytest.raises(AmbiguousUnitError):
        call("PROOFLOAD", 5, "ton", "us")
    with pytest.raises(UnknownUnitError):
        call("PROOFLOAD", 5, "mm", "us")
    with pytest.raises(InputError, match="us, canada, france"):
        call("PROOFLOAD", 5, "t", "texas")
