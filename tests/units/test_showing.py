"""Values back as text: what is shown can be read again and tells two values apart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import AmbiguousUnitError, OutOfRangeError, RigxlError, UnknownUnitError
from rigxl.units import (
    FORCE_UNITS,
    LENGTH_UNITS,
    convert_load,
    read_force,
    read_length,
    show_force,
    show_length,
    show_pair,
    to_unit,
)

FORCES = st.floats(1e-3, 1e9)


@pytest.mark.parametrize(
    ("load", "unit", "shown"),
    [
        ("10.5 t", "t", "10.5 t"),
        ("5 t", "t", "5 t"),
        ("5.0004 t", "t", "5 t"),
        ("9400 lb", "lb", "9400 lb"),
        ("12500 lb", "lb", "12 500 lb"),
        ("12345.6 kg", "kg", "12 346 kg"),
        ("12.345 kN", "kN", "12.34 kN"),
        ("0.001254 t", "t", "0.001254 t"),
        ("0 t", "kN", "0 kN"),
        ("1 t", "kN", "9.807 kN"),
    ],
)
def test_forces_shown(load: str, unit: str, shown: str) -> None:
    assert show_force(read_force(load).value, unit) == shown


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (1676.4, "ft-in", "5'-6\""),
        (1689.1, "ft-in", "5'-6.5\""),
        (304.79999, "ft-in", "1'-0\""),
        (31.75, "in", "1.25 in"),
        (12345.6, "mm", "12 346 mm"),
        (2500, "m", "2.5 m"),
        (-5, "mm", "-5 mm"),
    ],
)
def test_lengths_shown(mm: float, unit: str, shown: str) -> None:
    assert show_length(mm, unit) == shown


def test_a_limit_passed_by_little_is_seen() -> None:
    limit = read_force("5 t").value
    assert show_pair(read_force("5.0004 t").value, limit, "t") == ("5.0004 t", "5 t")
    assert show_pair(limit, limit, "t") == ("5 t", "5 t")


@given(FORCES, FORCES | st.just(0.0), st.sampled_from(sorted(FORCE_UNITS)))
def test_a_pair_differs_when_it_differs(a: float, b: float, unit: str) -> None:
    first, second = show_pair(a, b, unit)
    assert (first == second) == (a == b)
    if a != b:
        assert (read_force(first).value < read_force(second).value) == (a < b)


@given(FORCES, st.integers(-3, 3), st.sampled_from(sorted(FORCE_UNITS)))
def test_a_pair_differs_in_the_last_bit_of_a_float(force: float, bits: int, unit: str) -> None:
    other = force * (1 + bits * 2.0**-52)
    first, second = show_pair(force, other, unit)
    assert (first == second) == (force == other)


@given(st.floats(1, 1e9), st.sampled_from(sorted(FORCE_UNITS)))
def test_what_is_shown_can_be_read_again(force: float, unit: str) -> None:
    """Half of the fourth figure at the most."""
    again = read_force(show_force(force, unit))
    assert again.unit == unit
    assert again.value == pytest.approx(force, rel=5.1e-4)


@given(st.floats(1, 1e6), st.sampled_from([*sorted(LENGTH_UNITS), "ft-in"]))
def test_lengths_shown_can_be_read_again(mm: float, unit: str) -> None:
    """Half of the fourth figure, and half of a hundredth of an inch in feet and inches."""
    assert read_length(show_length(mm, unit)).value == pytest.approx(mm, rel=5.1e-4, abs=0.128)


def test_convert_load() -> None:
    """Exact by definition: NIST SP 811 (2008), Appendix B."""
    assert convert_load(1, "short ton", "lb") == 2000
    assert convert_load(1, "long ton", "lb") == 2240
    assert convert_load(1, "lb", "kg") == 0.45359237
    assert convert_load(1, "kip", "lbf") == 1000
    assert convert_load(1, "t", "kN") == 9.80665
    assert convert_load(0, "t", "kN") == 0
    assert to_unit(9806.65, "t") == 1


def test_refusals() -> None:
    for start, end in (("ton", "t"), ("t", "ton"), ("T", "kg"), ("MT", "t")):
        with pytest.raises(AmbiguousUnitError):
            convert_load(1, start, end)
    for start, end in (("mm", "t"), ("t", "mm"), ("foo", "t"), ("", "t")):
        with pytest.raises(UnknownUnitError):
            convert_load(1, start, end)
    with pytest.raises(OutOfRangeError, match="negative"):
        convert_load(-1, "t", "kg")
    for value in (float("nan"), float("inf"), 1e300):
        with pytest.raises(RigxlError):
            show_force(value, "t")
    with pytest.raises(UnknownUnitError):
        show_length(5, "kg")
