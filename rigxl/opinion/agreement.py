"""When two figures agree: within the rounding of the one that is shown, and of the constants behind it."""

from __future__ import annotations

import re
from functools import lru_cache

ROUNDING = 0.005
"""Half a per cent: tables, conversion factors and steps on the way are rounded so, and nobody is misled."""

COARSEST = 0.05
"""A figure in whole units, such as a derate of 1, is taken to be rounded by no more than this."""

MOST_DECIMALS = 6
"""A figure with more decimals was not rounded by anybody."""

_FIGURE = re.compile(r"[0-9]+(?:[.,]([0-9]+))?")


def agree(said: float, ours: float, grain: float = 0.0, whole: bool = False) -> bool:
    """Whether two figures are the same.

    Args:
        said: What the sheet says.
        ours: What it works out at, in the same unit.
        grain: One in the last digit that the sheet shows, in that unit; 0 for a figure in full.
        whole: Whether the sheet shows whole units alone.

    >>> agree(2.77, 2.765, 0.01), agree(0.9, 0.86, 0.1), agree(0.71, 0.93, 0.01)
    (True, True, False)
    """
    rounding = grain / 2 * (1 + 1e-9)
    if whole:
        rounding = min(rounding, COARSEST * abs(ours))
    return abs(said - ours) <= max(rounding, ROUNDING * abs(ours))


@lru_cache(maxsize=8192)
def decimals(shown: float | str) -> int | None:
    """How many decimals a figure shows; None where it was not rounded, or holds no figure.

    >>> decimals(2.5), decimals("4.50 t"), decimals(2 / 3)
    (1, 2, None)
    """
    found = _FIGURE.search(f"{shown:.15g}" if isinstance(shown, float) else shown)
    if found is None or (isinstance(shown, float) and "e" in f"{shown:.15g}"):
        return None
    count = len(found[1] or "")
    return count if count <= MOST_DECIMALS else None
