"""Hook load, required capacity, utilisation."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import OutOfRangeError
from rigxl.mechanics import loads

sizes = st.floats(1e-3, 1e9)
factors = st.floats(1, 3)
derates = st.floats(0.01, 1)


def test_hook_load_by_hand() -> None:
    """(8000 × 1.20 estimated + 400) × 1.25, worked by hand; the allowances are common practice, no source."""
    assert loads.hook_load(8000, 1.20, 400, 1.25) == pytest.approx(12500)


@given(sizes, factors, sizes, factors)
def test_the_hook_never_carries_less_than_what_hangs(
    load: float, allowance: float, rigging: float, dynamic: float
) -> None:
    assert loads.hook_load(load, allowance, rigging, dynamic) >= load + rigging


@pytest.mark.parametrize(
    ("inputs", "said"),
    [
        ((0, 1.1, 0, 1), "load is 0"),
        ((10, 0.9, 0, 1), "weight_allowance is 0.9"),
        ((10, 1.1, -1, 1), "rigging is -1"),
        ((10, 1.1, 0, 0.5), "dynamic_allowance is 0.5"),
        ((1e308, 1.1, 1e308, 9), "hook load is beyond"),
    ],
)
def test_hook_load_refuses(inputs: tuple[float, float, float, float], said: str) -> None:
    with pytest.raises(OutOfRangeError, match=said):
        loads.hook_load(*inputs)


def test_in_a_cell_rigging_that_weighs_nothing_is_refused() -> None:
    """A blank cell arrives as 0 in some programs."""
    with pytest.raises(OutOfRangeError, match="rigging"):
        loads.hook_load_in_cell(10, 0, 1.1)


def test_default_margin_works_to_four_fifths() -> None:
    """A margin of 25 % works to 80 % of what the item may carry: common practice, no source."""
    assert 8 / loads.required_capacity(8) == pytest.approx(0.80)


@given(sizes, st.floats(0, 2), derates)
def test_an_item_of_the_required_capacity_has_its_margin_left(
    force: float, margin: float, derate: float
) -> None:
    rating = loads.required_capacity(force, margin, derate)
    assert loads.utilisation(force, rating, derate) == pytest.approx(1 / (1 + margin))


@given(sizes, sizes, derates, st.floats(1e-3, 1e3))
def test_utilisation_does_not_care_for_the_unit(
    force: float, rating: float, derate: float, unit: float
) -> None:
    assert loads.utilisation(force * unit, rating * unit, derate) == pytest.approx(
        loads.utilisation(force, rating, derate)
    )


@given(sizes, derates)
def test_a_derate_never_helps(force: float, derate: float) -> None:
    assert loads.required_capacity(force, 0.25, derate) >= loads.required_capacity(force)
    assert loads.utilisation(force, force, derate) >= 1


@pytest.mark.parametrize("derate", [0, -0.7, 1.2, 70])
def test_no_rating_grows(derate: float) -> None:
    with pytest.raises(OutOfRangeError, match="derate"):
        loads.required_capacity(10, 0.25, derate)
    with pytest.raises(OutOfRangeError, match="derate"):
        loads.utilisation(10, 20, derate)


def test_refused() -> None:
    with pytest.raises(OutOfRangeError, match="margin"):
        loads.required_capacity(10, -0.1)
    with pytest.raises(OutOfRangeError, match="force"):
        loads.required_capacity(0)
    with pytest.raises(OutOfRangeError, match="rating"):
        loads.utilisation(10, 0)
    with pytest.raises(OutOfRangeError, match="too small"):
        loads.utilisation(10, 5e-324, 0.1)


def test_convert_load() -> None:
    """NIST SP 811, 2008, appendix B: 1 short ton is 2000 lb; standard gravity makes 1 t weigh 9.80665 kN."""
    assert loads.convert_load_in_cell(1, "short ton", "lb") == pytest.approx(2000, rel=1e-12)
    assert loads.convert_load_in_cell(1, "t", "kN") == pytest.approx(9.80665, rel=1e-12)
    with pytest.raises(OutOfRangeError, match="value is 0"):
        loads.convert_load_in_cell(0, "t", "kN")
