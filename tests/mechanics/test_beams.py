"""Spreader bars and lifting beams, against the balance of forces and handbook cases."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import OutOfRangeError
from rigxl.functions import call
from rigxl.mechanics import angles, beams, legs

slopes = st.floats(0.01, 89.9)
loads = st.floats(0.001, 1e9)


@given(loads, slopes)
def test_the_end_of_a_spreader_is_in_balance(load: float, angle: float) -> None:
    """Plain statics: the top leg's upright part is half the load, its level part is the compression."""
    tension, slope = legs.leg_tension(load, 2, angle), math.radians(angle)
    assert tension * math.sin(slope) == pytest.approx(load / 2)
    assert tension * math.cos(slope) == pytest.approx(beams.spreader_compression(load, angle))


@given(loads, slopes, slopes)
def test_flatter_legs_press_harder(load: float, one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert beams.spreader_compression(load, flat) >= beams.spreader_compression(load, steep)


@pytest.mark.parametrize(("angle", "tension"), [(90, 500), (45, 707), (15, 1930)])
def test_top_legs_are_a_two_leg_bridle(angle: float, tension: float) -> None:
    """US Army FM 5-125, 1995, Figure 3-9: 1,000 lb on two legs; 1,930 is printed rounded down."""
    assert legs.leg_tension(1000, 2, angle) == pytest.approx(tension, rel=0.002)


def test_a_right_angle_between_the_legs() -> None:
    """At 45° the triangle of forces is square: each end presses with half the load."""
    assert call("SPREADERCOMPRESSION", 12, 45) == pytest.approx(6)


def test_upright_legs_do_not_press() -> None:
    assert beams.spreader_compression(12, 90) == pytest.approx(0, abs=1e-9)


def test_beam_on_its_middle() -> None:
    """Handbook case of a beam held in the middle, P/2 at each end of span L: M = P·L/4, V = P/2.

    It is the simple beam under a load in the middle, upside down; from memory of any handbook of mechanics.
    """
    assert beams.beam_moment(8000, 3000) == pytest.approx(8000 * 3000 / 4)
    assert beams.beam_shear(8000) == 4000


@pytest.mark.parametrize(("load", "angle"), [(0, 60), (-1, 60), (10, 0), (10, 90.1), (10, 1e-9)])
def test_refused(load: float, angle: float) -> None:
    with pytest.raises(OutOfRangeError):
        beams.spreader_compression(load, angle)


def test_height_and_length_needed() -> None:
    """US Army FM 5-125, 1995, p. 3-9, turned round: a leg of 8 ft that rises 6 ft."""
    spread, angle = 2 * math.sqrt(8**2 - 6**2), math.degrees(math.asin(6 / 8))
    assert call("HEADROOMNEEDED", spread, angle) == pytest.approx(6)
    assert call("LEGLENGTHNEEDED", spread, angle) == pytest.approx(8)


@given(st.floats(0.1, 1000), st.floats(0.1, 1000), st.floats(1, 89))
def test_a_device_is_needed_where_the_angle_cannot_be_had(
    spread: float, headroom: float, least: float
) -> None:
    steepest = angles.angle_from_height(headroom, spread)
    if abs(steepest - least) > 1e-6:
        assert call("DEVICENEEDED", spread, headroom, least) is (steepest < least)


def test_headroom_that_just_does() -> None:
    """An equilateral bridle: 2 m spread at 60° rises by the square root of 3."""
    assert call("DEVICENEEDED", 2, math.sqrt(3), 60) is False
    assert call("DEVICENEEDED", 2, 1.732, 60) is True
    with pytest.raises(OutOfRangeError, match="headroom is 0"):
        call("DEVICENEEDED", 2, 0, 60)
