"""The angle at which a sling pulls a piece on the load: as stated, or taken from the sling.

>>> pulled_at(Item(position="pick point", angle_deg=60))
30
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.items import Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE

PULL = Rule("pull-angle", "The angle of the pull from the piece's own axis must be known.", COMMON_PRACTICE)
TAKEN = Rule(
    "pull-angle-taken",
    "With no loading angle stated, the axis is taken as upright and the sling gives the angle.",
    COMMON_PRACTICE,
)

RULES = (PULL, TAKEN)


def pulled_at(item: Item) -> float | None:
    """The angle of the pull from the axis, in degrees: as stated, or from the sling with the axis upright."""
    if item.loading_angle_deg is not None:
        return item.loading_angle_deg
    if item.angle_deg is not None:
        return 90 - item.angle_deg if item.position == "pick point" else None
    return 0.0 if item.legs == 1 else None


def uses(item: Item) -> frozenset[str]:
    """The fields the angle depends on."""
    fields = {"loading_angle_deg"}
    return frozenset(fields | ({"angle_deg", "legs"} if item.loading_angle_deg is None else set()))


def reads(item: Item) -> tuple[str, ...]:
    """The fields the angle was taken from."""
    return ("angle_deg",) if item.loading_angle_deg is None else ("loading_angle_deg",)


def known(item: Item) -> Iterator[Finding]:
    """Holds an item whose angle of pull is not known, and tells where an angle was taken from."""
    angle = pulled_at(item)
    if angle is None or angle < 0:
        if not {"loading_angle_deg", "angle_deg"} & item.problems.keys():
            yield PULL.holds(
                "the angle of the pull from its axis is not known",
                "fill in the loading angle from its axis, 0 to 90°",
            )
    elif item.loading_angle_deg is None:
        sling = "a single vertical line" if item.angle_deg is None else f"a sling at {item.angle_deg:.4g}°"
        yield TAKEN.notes(f"{sling} and an upright axis: pulled at {angle:.4g}° from its axis")
