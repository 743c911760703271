"""The likely cause of a figure that is off: the slip, or the two slips together, that would make it so.

With a slip in how the load was taken, one more is looked for; pairs of others fit too much by chance.
"""

from __future__ import annotations

from rigxl.opinion.figures import FIGURES, Case
from rigxl.opinion.slips import SLIPS, Slip, of_load, of_unit

NEAR = 0.001
"""A slip is recognised within a tenth of a per cent, or within the rounding that is shown."""

FAR = 0.01
"""Rounding coarser than a per cent fits many a slip, and is a sign of none."""

MOST = 2
"""So many slips are named where several fit."""


def likely_causes(
    name: str, case: Case, said: float, ours: float, grain: float, unit: str
) -> tuple[str, ...]:
    """What would make the sheet's figure of ours, the best first; nothing where no known slip does.

    Args:
        name: The figure.
        case: The row.
        said: What the sheet says, in N, degrees or as a ratio.
        ours: What it works out at.
        grain: One in the last digit shown, in the same unit.
        unit: The unit of a force's column.
    """
    if FIGURES[name].read == "angle":
        return _fitting([*_of_an_angle(ours)], said, ours, grain)
    slips = [slip for make in SLIPS.get(name, ()) for slip in make(case)]
    if FIGURES[name].read == "force" and unit:
        slips += of_unit(unit)
    single = _fitting(slips, said, ours, grain)
    if single or of_load not in SLIPS.get(name, ()):
        return single
    loads = list(of_load(case))
    others = [one for one in slips if one not in loads]
    pairs = [
        Slip(first.ratio * second.ratio, f"{first.words} and {second.words}")
        for first in loads
        for second in others
    ]
    return _fitting(pairs, said, ours, grain)


def _fitting(slips: list[Slip], said: float, ours: float, grain: float) -> tuple[str, ...]:
    """The words of the slips that fit, nearest first."""
    near = max(NEAR, min(FAR, grain / 2 / abs(said))) if said else NEAR
    off = sorted(
        (abs(ours * slip.ratio / said - 1), slip.words)
        for slip in slips
        if said and abs(slip.ratio - 1) > NEAR and abs(ours * slip.ratio / said - 1) <= near
    )
    return tuple(dict.fromkeys(words for _, words in off))[:MOST]


def _of_an_angle(ours: float) -> list[Slip]:
    if not ours:
        return []
    return [
        Slip((90 - ours) / ours, "it were from the vertical, and not from the horizontal"),
        Slip((180 - 2 * ours) / ours, "it were the included angle, and not the sling angle"),
    ]
