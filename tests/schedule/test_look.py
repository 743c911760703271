"""Marks that survive grey paper and colour-blind eyes, in rows high enough to be read."""

from __future__ import annotations

import pytest

from rigxl.items import FAIL, HOLD, WAIVED
from rigxl.schedule import look
from rigxl.workbook import heights


def luminance(colour: str) -> float:
    """Relative luminance of RRGGBB, 0 to 1: WCAG 2.1, definition of relative luminance."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4))
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_fail_and_hold_differ_without_colour() -> None:
    """By lightness, and by the cut of the letters; black text stays readable on both (WCAG 2.1: 7 to 1)."""
    fail, hold = look.ROWS[FAIL], look.ROWS[HOLD]
    assert fail.fill
    assert hold.fill
    assert luminance(hold.fill) - luminance(fail.fill) > 0.25
    assert (fail.bold, fail.italic) != (hold.bold, hold.italic)
    for fill in (fail.fill, hold.fill):
        assert (luminance(fill) + 0.05) / 0.05 > 7


def test_waived_differs_from_both_without_colour() -> None:
    """By the cut of its letters from either, and by a grey between the two fills."""
    looks = [look.ROWS[word] for word in (FAIL, HOLD, WAIVED)]
    assert len({(one.bold, one.italic) for one in looks}) == 3
    dark, light, between = (luminance(one.fill or "") for one in looks)
    assert dark + 0.1 < between < light - 0.1
    assert (between + 0.05) / 0.05 > 7


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [(None, 70, 1), ("short", 70, 1), ("x" * 70, 70, 2), ("one\ntwo\nthree", 70, 3), ("x" * 7000, 70, 27.4)],
)
def test_rows_are_high_enough(text: str | None, width: float, lines: float) -> None:
    """A line takes 14.5 points, and no row is over 400."""
    assert heights.height([(text, width)]) == pytest.approx(min(400, lines * heights.LINE_POINTS + 2), abs=1)
