"""The verdict functions and the converters at their edges."""

from __future__ import annotations

import math

import pytest

from rigxl.errors import NotRatedError, OutOfRangeError
from rigxl.functions import call


def test_wear_of_a_tenth() -> None:
    """WAC 296-155-33900, table 19: a dimension reduced by more than 10 % takes the piece out of service."""
    assert call("WEARVERDICT", 1.0, 0.9) == "PASS"
    assert call("WEARVERDICT", 1.0, 0.899) == "FAIL"
    with pytest.raises(OutOfRangeError, match="measure both again"):
        call("WEARVERDICT", 20, 20.1)


def test_capacity_with_the_margin_in_hand() -> None:
    """8 with a quarter to spare is 10: common practice, no source."""
    assert call("CAPACITYVERDICT", 8, 10, 0.25) == "PASS"
    assert call("CAPACITYVERDICT", 8, 9.999, 0.25) == "FAIL"
    assert call("CAPACITYVERDICT", 8, 10, 0.25, 0.99) == "FAIL"
    with pytest.raises(OutOfRangeError, match="margin is 0"):
        call("CAPACITYVERDICT", 8, 10, 0)


@pytest.mark.parametrize(("leaning", "included", "angle"), [(30, 60, 60), (45, 90, 45), (60, 120, 30)])
def test_the_same_bridle_said_three_ways(leaning: float, included: float, angle: float) -> None:
    """US Army FM 5-125, 1995, figure 3-9 gives bridles by their angle from horizontal."""
    assert call("ANGLEFROMVERTICAL", leaning) == angle
    assert call("ANGLEFROMINCLUDED", included) == angle
    half = 1.0
    assert call("SLINGANGLEBYHEIGHT", half * math.tan(math.radians(angle)), 2 * half) == pytest.approx(angle)


@pytest.mark.parametrize("name", ["ANGLEFROMVERTICAL", "ANGLEFROMINCLUDED"])
def test_no_blank_passes_for_plumb(name: str) -> None:
    """A blank cell reads as 0 in some programs."""
    with pytest.raises(OutOfRangeError, match="angle is 0"):
        call(name, 0)


def test_bend_efficiency() -> None:
    """1 - 0.5 / √(D/d), from memory: half at D/d 1, three quarters at 4, nine tenths at 25."""
    for ratio, share in ((1, 0.5), (4, 0.75), (25, 0.9)):
        assert call("BENDEFFICIENCY", ratio * 22, 22, "yes") == pytest.approx(share, abs=1e-12)
    with pytest.raises(NotRatedError, match="from memory"):
        call("BENDEFFICIENCY", 100, 22)
    with pytest.raises(OutOfRangeError, match="thinner than the rope"):
        call("BENDEFFICIENCY", 20, 22, "yes")
