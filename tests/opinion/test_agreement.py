"""Two figures agree within the rounding that is shown, and half a per cent."""

from __future__ import annotations

import pytest

from rigxl.opinion.agreement import agree, decimals


@pytest.mark.parametrize(
    ("said", "ours", "grain", "same"),
    [
        (2.77, 2.7651, 0.01, True),  # 2.7651 rounds to 2.77
        (2.8, 2.7651, 0.1, True),
        (2.78, 2.7651, 0.01, False),  # 0.54 % off
        (3, 2.5000001, 1, True),
        (3, 2.49, 1, False),
        (0.71, 0.93, 0.01, False),
        (9.81 / 9.80665, 1.0, 0, True),  # g taken as 9.81: 0.03 %
        (2204.6 / 2204.62262, 1.0, 0, True),
        (1.0051, 1.0, 0, False),
        (-4.6, 4.6, 0.1, False),
    ],
)
def test_within_what_is_shown(said: float, ours: float, grain: float, same: bool) -> None:
    assert agree(said, ours, grain) is same


def test_whole_units_hide_no_more_than_a_twentieth() -> None:
    """A derate of 1 is not 0.7 rounded, though the column shows no decimals."""
    assert agree(1, 0.7, 1)
    assert not agree(1, 0.7, 1, whole=True)
    assert agree(12, 12.4, 1, whole=True)


def test_decimals_as_shown() -> None:
    """A figure in full has none: nobody rounded it."""
    assert [decimals(one) for one in (4.0, 4.5, 4.53, "4.50 t", "0,71")] == [0, 1, 2, 2, 2]
    assert [decimals(one) for one in (2 / 3, 1e-9, "n/a")] == [None, None, None]
