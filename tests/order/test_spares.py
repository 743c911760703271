"""Spares as typed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rigxl.errors import InputError
from rigxl.order.spares import read_spares


@pytest.mark.parametrize(
    ("text", "share"), [("10%", "1/10"), (" 10 % ", "1/10"), ("0%", "0"), ("100%", "1"), ("2,5 %", "1/40")]
)
def test_percentages(text: str, share: str) -> None:
    """Taken exactly."""
    assert read_spares(text) == Fraction(share)


@pytest.mark.parametrize("text", ["10", "0.1", "-5%", "ten", "", "%", "1e1%", "10%%", "nan%", "101%", "٣%"])
def test_what_is_no_percentage(text: str) -> None:
    """Ten may be ten pieces or ten per cent."""
    with pytest.raises(InputError, match="write a percentage"):
        read_spares(text)
