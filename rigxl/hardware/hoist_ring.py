"""Swivel hoist rings: full rating in the maker's range of angles, flush on the surface, torqued as stated.

>>> [found.rule.name for found in _angle(Item(loading_angle_deg=60))]
['hoist-ring-range']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware import pull, threads
from rigxl.hardware.bought import MARKED_HARDWARE, Bought, Look
from rigxl.hardware.pull import pulled_at
from rigxl.hardware.usage import in_line, refuses
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE, Table

KIND = "hoist ring"
WORDS = (
    "hoist ring",
    "swivel hoist ring",
    "swivel lifting ring",
    "swivel ring",
    "swivelling hoist ring",
    "safety hoist ring",
    "side pull hoist ring",
    "side-pull hoist ring",
    "centre pull hoist ring",
    "center pull hoist ring",
    "rotating lifting point",
    "swivel lifting point",
    "swivel eye bolt",
    "swivel eyebolt",
)
POSITION = "pick point"
TABLES: tuple[Table[Any], ...] = ()

RANGE = Rule(
    "hoist-ring-range",
    "A hoist ring has its full rating at any angle up to the one its maker states, and none beyond.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
OVER_NINETY = Rule(
    "hoist-ring-over-90",
    "No hoist ring is pulled more than 90° from its bolt.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
FLUSH = Rule(
    "hoist-ring-flush",
    "The bushing of a hoist ring sits flush on the surface, without shims.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)

RULES = (RANGE, OVER_NINETY, FLUSH, *pull.RULES, *threads.RULES)

BOUGHT = Bought(
    MARKED_HARDWARE,
    marks=("the torque of its bolt", "size and pitch of the thread"),
    looks=(
        Look("thread fits", "Its bolt, size and pitch, goes in by hand over its full length."),
        Look("turns freely", "It swivels all round and tips both ways by hand, and its bushing sits flush."),
        Look("torque stated", "The torque of its bolt stands on the ring, and is the one that was ordered."),
    ),
    own=("rated_angle_deg", "stated_torque"),
    measured="the outer diameter of the thread",
    only_size="its bolt is that of the hole: a larger one does not go in, a smaller one has less thread",
)


def tables(item: Item) -> tuple[Table[Any], ...]:  # noqa: ARG001
    """No table: the rated load must be stated."""
    return TABLES


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    return pull.uses(item) | threads.USES | threads.TORQUES | {"rated_angle_deg", "seated"}


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """Full rating within the maker's range; None beyond it."""
    return None if refuses(_angle(item)) else ()


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for hoist rings say of one line of a schedule."""
    yield from pull.known(item)
    yield from _angle(item)
    if item.seated is False:
        yield FLUSH.fails(
            "its bushing does not sit flush", "a flush seat: no shims, spacers or washers under it"
        )
    elif item.seated is None and "seated" not in item.problems:
        yield FLUSH.holds("whether its bushing sits flush is not stated", "fill in seated: yes or no")
    yield from threads.tightened(item)
    yield from threads.engaged(item, needed=False)


def _angle(item: Item) -> Iterator[Finding]:
    angle, limit = pulled_at(item), item.rated_angle_deg
    if angle is None or angle < 0:
        return
    if not at_most(angle, 90):
        yield OVER_NINETY.fails(
            f"pulled at {angle:.4g}° from its bolt, over 90°", "turn the load or the ring"
        )
    elif limit is not None and not at_most(angle, limit):
        yield RANGE.fails(
            f"pulled at {angle:.4g}° from its bolt, and its maker rates it up to {limit:.4g}°",
            f"a pull at {limit:.4g}° or less, or a ring rated for this angle",
        )
    elif limit is None and not in_line(angle) and "rated_angle_deg" not in item.problems:
        yield RANGE.holds(
            f"pulled at {angle:.4g}° from its bolt, and up to which angle it is rated is not stated",
            "fill in the rated angle: the one up to which its maker gives the full rating",
        )
