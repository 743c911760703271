"""What a lift looks like from the side, as far as its rows agree on it: legs, angle, spread, device.

>>> shape_of([])
'it has no rows'
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from rigxl.checks.force import ANGLES_DIFFER
from rigxl.items import Item
from rigxl.mechanics.legs import VERTICAL_WITHIN_DEG
from rigxl.schedule.check import CheckedRow

BARS = frozenset({"spreader bar", "lifting beam"})
HIGH_DEG = 90 - VERTICAL_WITHIN_DEG
SAME = 1e-6
"""Two rows that state one angle or length may differ by this share, as conversions between units do."""


class Shape(NamedTuple):
    """A lift from the side; lengths in mm, None where nobody gives them.

    ``legs`` hang from the hook: to the picks, to the ends of a spreader bar, or one to what is below.
    """

    legs: int
    angle_deg: float | None = None
    spread: float | None = None
    device: str = ""


def shape_of(rows: Sequence[CheckedRow]) -> Shape | str:
    """The shape of a lift, or why it cannot be drawn, in words."""
    items = [row.judged.item for row in rows]
    if not items:
        return "it has no rows"
    if any(one.rule.name == ANGLES_DIFFER.name for row in rows for one in row.judged.findings):
        return "a stated angle and the lengths beside it differ"
    devices = [item for item in items if item.position == "device"]
    if len(devices) > 1:
        return "several devices hang in it"
    device = devices[0] if devices else None
    if device is not None and device.kind != "spreader bar":
        return Shape(
            1, spread=_length(device) if device.kind in BARS else None, device=device.kind or "device"
        )
    return _bridle([device] if device else _hanging(items), device)


def _hanging(items: Sequence[Item]) -> Sequence[Item]:
    """The items that tell of the legs: the slings, else what is at the picks or in the legs, else all."""
    groups = (
        [one for one in items if one.position == "leg" and one.kind == "sling"],
        [one for one in items if one.position == "pick point"],
        [one for one in items if one.position == "leg"],
    )
    return next((group for group in groups if group), items)


def _bridle(items: Sequence[Item], device: Item | None) -> Shape | str:
    legs = {item.legs for item in items if item.legs is not None}
    angles = _different(item.angle_deg for item in items)
    spreads = _different(item.spread for item in items)
    if len(legs) != 1 or any("legs" in item.problems for item in items):
        return "its rows differ on the legs" if len(legs) > 1 else "the number of legs is not known"
    if len(angles) > 1 or len(spreads) > 1:
        return f"its rows differ on the {'angle' if len(angles) > 1 else 'spread'}"
    count = legs.pop()
    if count == 1:
        slanted = bool(angles) and angles[0] < HIGH_DEG
        return "one leg hangs at an angle" if slanted else Shape(1)
    if not angles or any("angle_deg" in item.problems for item in items):
        return "the sling angle is not known"
    if angles[0] >= HIGH_DEG:
        return "its legs hang plumb"
    spread = _length(device) if device else (spreads[0] if spreads else None)
    return Shape(count, angles[0], spread, "spreader bar" if device else "")


def _length(bar: Item) -> float | None:
    return bar.bar_length or bar.spread


def _different(values: Iterable[Any]) -> list[float]:
    """The values that are given and differ by more than conversions between units do."""
    found: list[float] = []
    for value in values:
        if value is not None and not any(abs(value - one) <= SAME * one for one in found):
            found.append(value)
    return found
