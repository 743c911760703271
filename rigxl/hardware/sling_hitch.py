"""What a hitch makes of a sling's vertical rating, and what must be known of it.

>>> [one.factor for one in derates(Item(hitch="choker", choke_angle_deg=100), "wire rope") or ()]
[0.75, 0.87]
>>> derates(Item(hitch="choker", choke_angle_deg=100), "web")
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.errors import RigxlError
from rigxl.hardware.hitches import CHOKE_ANGLES, CHOKERS, choke_factor
from rigxl.hardware.sling_tables import FIBRE_PAGE, FIBRE_ROPE
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.angles import sine
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

BASKET_PAGE = Source("US Navy NAVEDTRA 14080", place="p. 3-24, single basket, 2 for its two legs")
BENDS = Source("ASME B30.9 wire rope slings", place="basket hitch, D/d of 25 or more", note=FROM_MEMORY)

HITCH = Rule("hitch", "What a sling may carry depends on its hitch.", COMMON_PRACTICE)
CHOKE = Rule(
    "choke-angle", "A choker loses rating with its angle of choke, which must be known.", CHOKE_ANGLES
)
BASKET = Rule(
    "basket-angle", "A basket carries 2 × sin of its sling angle, which must be known.", BASKET_PAGE
)
BEND = Rule("basket-bend", "A wire rope basket has its full rating round D/d of 25 or more.", BENDS)

RULES = (HITCH, CHOKE, BASKET, BEND)

FULL_BEND = 25.0
NATURAL_CHOKE = 0.5
NATURAL = "half of vertical, or less where the page prints less for the size"


def derates(item: Item, made_of: str | None) -> tuple[Derate, ...] | None:
    """Factors on the vertical rating of a sling of this material; None where the hitch has no rating."""
    if item.hitch == "vertical":
        return ()
    if item.hitch == "choker" and made_of:
        return _choker(item, made_of)
    if item.hitch == "basket" and made_of:
        return _basket(item, made_of)
    return None


def check(item: Item, made_of: str | None) -> Iterator[Finding]:
    """What is to be said of the hitch of a sling of this material."""
    if item.hitch not in ("vertical", "choker", "basket"):
        if "hitch" not in item.problems:
            yield HITCH.holds(
                f"its hitch is {item.hitch or 'not stated'}", "fill in the hitch: vertical, choker or basket"
            )
    elif item.hitch == "choker":
        yield from _angle_of_choke(item, made_of)
    elif item.hitch == "basket":
        yield from _basket_angle(item, made_of)


def _angle_of_choke(item: Item, made_of: str | None) -> Iterator[Finding]:
    angle = item.choke_angle_deg
    if angle is None:
        if "choke_angle_deg" not in item.problems:
            yield CHOKE.holds(
                "it is choked and its angle of choke is not stated",
                "fill in the angle of choke; 120° or more is where a choke settles by itself",
            )
        return
    try:
        left = choke_factor(angle)
    except RigxlError as error:
        yield CHOKE.holds(str(error), "fill in the angle of choke, 0 to 180°")
        return
    if left < 1 and made_of != "wire rope":
        yield CHOKE.holds(
            f"no reduction is published here for a choked {made_of or ''} sling at {angle:.4g}°, under 120°",
            "the maker's own rating for this angle of choke, or 120° or more",
        )


def _basket_angle(item: Item, made_of: str | None) -> Iterator[Finding]:
    if item.angle_deg is None:
        if "angle_deg" not in item.problems:
            yield BASKET.holds("a basket, and its sling angle is not known", "fill in the sling angle")
    elif not 0 < item.angle_deg <= 90 or _basket(item, "chain") is None:
        yield BASKET.holds(
            f"a basket at {item.angle_deg:.4g}° from the horizontal", "a sling angle over 0 and up to 90°"
        )
    if made_of != "wire rope":
        return
    if item.bend_ratio is None:
        if "bend_ratio" not in item.problems:
            yield BEND.holds(
                "a wire rope basket, and what it bends round is not stated",
                "fill in D/d: diameter of the bend over diameter of the rope",
            )
    elif not at_least(item.bend_ratio, FULL_BEND):
        yield BEND.holds(
            f"a wire rope basket round D/d {item.bend_ratio:.4g}, under 25: no efficiency is published here",
            "the maker's own rating for this bend, or a bend of D/d 25 or more",
        )


def _choker(item: Item, made_of: str) -> tuple[Derate, ...] | None:
    angle = item.choke_angle_deg
    if angle is None:
        return None
    try:
        left = choke_factor(angle)
    except RigxlError:
        return None
    if made_of == "fibre rope":
        hitch = Derate(_natural_choke(item), "choker hitch", FIBRE_PAGE, ("hitch", "type", "size"), NATURAL)
    else:
        hitch = Derate(CHOKERS[made_of].factor, "choker hitch", CHOKERS[made_of].source, ("hitch", "type"))
    if left == 1:
        return (hitch,)
    if made_of != "wire rope":
        return None
    return hitch, Derate(left, f"angle of choke {angle:.4g}°", CHOKE_ANGLES, ("choke_angle_deg",))


def _natural_choke(item: Item) -> float:
    """Half of vertical, or less where the page prints less for the size."""
    row = FIBRE_ROPE.get(item.size.name) if item.size else None
    return NATURAL_CHOKE if row is None else min(NATURAL_CHOKE, row.choker_lb / row.vertical_lb)


def _basket(item: Item, made_of: str) -> tuple[Derate, ...] | None:
    if item.angle_deg is None:
        return None
    if made_of == "wire rope" and (item.bend_ratio is None or not at_least(item.bend_ratio, FULL_BEND)):
        return None
    try:
        factor = 2 * sine("sling angle", item.angle_deg)
    except RigxlError:
        return None
    why = f"basket hitch, its sides at {item.angle_deg:.4g}°"
    return (Derate(factor, why, BASKET_PAGE, ("hitch", "angle_deg"), "2 × sin(θ)"),)
