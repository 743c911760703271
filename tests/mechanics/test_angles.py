"""Sling angles: factors, conversions and geometry."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigxl.errors import OutOfRangeError
from rigxl.mechanics import angles
from rigxl.mechanics.limits import at_least

slanted = st.floats(1, 89)
lengths = st.floats(1, 1e6)


@pytest.mark.parametrize(
    ("angle", "factor", "sine"),
    [
        (90, 1, 1),
        (80, 1.015427, 0.984808),
        (75, 1.035276, 0.965926),
        (65, 1.103378, 0.906308),
        (60, 1.154701, 0.866025),
        (50, 1.305407, 0.766044),
        (45, 1.414214, 0.707107),
        (35, 1.743447, 0.573576),
        (30, 2, 0.5),
        (20, 2.923804, 0.34202),
        (15, 3.863703, 0.258819),
        (5, 11.473713, 0.087156),
    ],
)
def test_load_angle_factor(angle: float, factor: float, sine: float) -> None:
    """Plain trigonometry in six decimals, L / V of US Army FM 5-125, 1995, p. 3-9 and figure 3-8."""
    assert angles.load_angle_factor(angle) == pytest.approx(factor, abs=5e-7)
    assert angles.sine("angle", angle) == pytest.approx(sine, abs=5e-7)


@pytest.mark.parametrize(
    ("horizontal", "vertical", "included"),
    [(90, 0, 0), (75, 15, 30), (60, 30, 60), (45, 45, 90), (30, 60, 120), (5, 85, 170)],
)
def test_one_angle_by_three_names(horizontal: float, vertical: float, included: float) -> None:
    """The angle columns of a load angle table: from horizontal, from vertical, between two legs."""
    assert angles.from_vertical(vertical) == horizontal
    assert angles.from_included(included) == horizontal


def test_fm_5_125_leg_and_height() -> None:
    """US Army FM 5-125, 1995, p. 3-9: a leg of 8 ft that rises 6 ft, so sin(angle) = V / L = 6 / 8."""
    spread = 2 * math.sqrt(8**2 - 6**2)
    assert angles.sine("angle", angles.angle_from_length(8, spread)) == pytest.approx(6 / 8)
    assert angles.sine("angle", angles.angle_from_height(6, spread)) == pytest.approx(6 / 8)


def test_queensland_spacing_rule() -> None:
    """Workplace Health and Safety Queensland, Guide for doggers, 2010: spacing no more than the sling length
    keeps the included angle at no more than 60 degrees."""
    assert angles.angle_from_length(3, 3) == pytest.approx(angles.from_included(60))


def test_three_four_five() -> None:
    """The 3-4-5 triangle."""
    assert angles.run_of_rectangle(6, 8) == pytest.approx(5)
    assert math.tan(math.radians(angles.angle_from_height(4, 6))) == pytest.approx(4 / 3)
    assert math.cos(math.radians(angles.angle_from_length(5, 6))) == pytest.approx(3 / 5)


@given(slanted, lengths)
def test_least_length_and_height_give_the_angle_back(angle: float, spread: float) -> None:
    assert angles.angle_from_length(angles.least_leg_length(spread, angle), spread) == pytest.approx(angle)
    assert angles.angle_from_height(angles.least_height(spread, angle), spread) == pytest.approx(angle)


@given(slanted)
def test_conversions_round_trip(angle: float) -> None:
    assert angles.from_vertical(90 - angle) == pytest.approx(angle)
    assert angles.from_included(180 - 2 * angle) == pytest.approx(angle)


@given(lengths, lengths, st.floats(1e-3, 1e3))
def test_geometry_does_not_care_for_the_unit(leg: float, spread: float, unit: float) -> None:
    assume(leg > spread / 2 * 1.001)
    assert angles.angle_from_length(leg * unit, spread * unit) == pytest.approx(
        angles.angle_from_length(leg, spread)
    )


@given(slanted, slanted)
def test_a_steeper_leg_never_pulls_harder(one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert angles.load_angle_factor(steep) <= angles.load_angle_factor(flat)


def test_sixty_degrees_from_lengths_is_sixty() -> None:
    for spread in (1.1, 2.3, 999.7, 1e5 / 3):
        assert at_least(angles.angle_from_height(spread / 2 * math.sqrt(3), spread), 60)


@pytest.mark.parametrize("angle", [0, -5, 90.1, 120, 1e-9])
def test_angle_outside_a_quarter_turn(angle: float) -> None:
    with pytest.raises(OutOfRangeError, match="degrees"):
        angles.load_angle_factor(angle)


@pytest.mark.parametrize("angle", [-1, 90, 120])
def test_from_vertical_refuses(angle: float) -> None:
    with pytest.raises(OutOfRangeError, match="below 90"):
        angles.from_vertical(angle)


@pytest.mark.parametrize("angle", [-1, 180, 200])
def test_from_included_refuses(angle: float) -> None:
    with pytest.raises(OutOfRangeError, match="below 180"):
        angles.from_included(angle)


@pytest.mark.parametrize(("leg", "spread"), [(1, 2), (1, 3), (0.5, 100)])
def test_a_leg_too_short_to_reach(leg: float, spread: float) -> None:
    with pytest.raises(OutOfRangeError, match="longer than half the spread"):
        angles.angle_from_length(leg, spread)


@pytest.mark.parametrize(("height", "spread"), [(0, 2), (2, 0), (-1, 2)])
def test_no_height_or_spread(height: float, spread: float) -> None:
    with pytest.raises(OutOfRangeError, match="above 0"):
        angles.angle_from_height(height, spread)


def test_no_leg_reaches_outward_and_hangs_plumb() -> None:
    with pytest.raises(OutOfRangeError, match="plumb"):
        angles.least_leg_length(2000, 90)
    with pytest.raises(OutOfRangeError, match="plumb"):
        angles.least_height(2000, 90)
