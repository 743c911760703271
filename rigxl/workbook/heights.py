"""How high a row must be for what is written into it to be read."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

LINE_POINTS = 14.5
HIGHEST_POINTS = 400.0
"""A row may be 409 points high at most (ECMA-376-1, 18.3.1.73)."""
CHARACTERS_PER_WIDTH = 0.95
"""A column is as wide as so many digits; bold words take a little more."""


def height(cells: Iterable[tuple[str | None, float]]) -> float:
    """How high a row must be, in points, for wrapped texts in columns of these widths to be read."""
    most = 1
    for text, width in cells:
        if text:
            room = max(1.0, width * CHARACTERS_PER_WIDTH)
            most = max(most, sum(max(1, ceil(len(line) / room)) for line in text.split("\n")))
    return min(HIGHEST_POINTS, most * LINE_POINTS + 2)
