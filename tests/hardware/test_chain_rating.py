"""Printed ratings of chain slings, as a cell asks for them."""

from __future__ import annotations

import pytest

from rigxl.errors import NotRatedError, OutOfRangeError, UnknownSizeError
from rigxl.functions import call


@pytest.mark.parametrize(
    ("size", "grade", "pounds"),
    [
        ("7/32 in", 80, 2100),
        ("5/8 in", 80, 18100),
        ("1 1/4 in", 80, 72300),
        ("26 mm", 80, 47700),
        ("7/32 in", 100, 2700),
        ("3/8 in", 100, 8800),
        ("3/4 in", 100, 35300),
    ],
)
def test_published(size: str, grade: int, pounds: float) -> None:
    """OSHA Guidance on Safe Sling Use, Tables 1 and 2, single leg at 90°, first, middle and last row read."""
    assert call("CHAINRATING", size, grade) == pounds
    # NIST SP 811 (2008): the pound under standard gravity
    assert call("CHAINRATING", size, grade, "kN") == pytest.approx(pounds * 4.4482216152605e-3)


def test_refused() -> None:
    with pytest.raises(UnknownSizeError, match="lies between 3/8 in and 5/8 in"):
        call("CHAINRATING", "1/2 in", 80)
    with pytest.raises(UnknownSizeError, match="perhaps 16 mm is meant"):
        call("CHAINRATING", "16 in", 80)
    with pytest.raises(NotRatedError, match="grade 70 has no printed rating here for lifting"):
        call("CHAINRATING", "3/8 in", 70)
    with pytest.raises(NotRatedError, match="grade 8 "):
        call("CHAINRATING", "10 mm", 8)
    with pytest.raises(OutOfRangeError, match="whole number"):
        call("CHAINRATING", "3/8 in", 80.5)
