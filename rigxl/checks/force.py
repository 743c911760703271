"""From load to force: what hangs at the hook, how the legs share it, and so what one item carries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import NamedTuple

from rigxl.criteria import Criteria
from rigxl.errors import RigxlError
from rigxl.firm import MAY_BE_WAIVED
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics import angles, legs, loads
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import show_force, show_length

GEOMETRY = Source("plain trigonometry; T = (W/N)(L/V) in US Army FM 5-125", "1995", "p. 3-9")
LEAST = Source(
    "ASME B30.9 Slings: no sling under 30° unless its maker or a qualified person allows it", note=FROM_MEMORY
)
TWO_CARRY = Source(
    "US Navy NAVEDTRA 14080", place="p. 3-24, the two-leg formula also for three and four legs"
)

LOAD = Rule("load-not-known", "The weight of the load must be known, with its unit.", COMMON_PRACTICE)
POSITION = Rule("position-not-known", "What an item carries depends on where it hangs.", COMMON_PRACTICE)
LEGS = Rule(
    "legs-not-known", "How many legs share the load, and how many of them carry, must be known.", TWO_CARRY
)
ANGLE = Rule(
    "angle-not-known", "Two legs and more need a sling angle, or the lengths that give it.", GEOMETRY
)
ANGLES_DIFFER = Rule(
    "angles-differ", "A stated sling angle and the lengths beside it must agree within 2°.", GEOMETRY
)
LEAST_ANGLE = Rule(
    "least-angle", "A sling angle may not be under the least the criteria allow.", LEAST, firm=MAY_BE_WAIVED
)
WANTED_ANGLE = Rule(
    "wanted-angle", "A sling angle of 60° and more is wanted; 45° is the usual limit.", COMMON_PRACTICE
)
ALLOWANCES = Rule(
    "hook-load",
    "Hook load = (load × weight allowance + rigging) × dynamic allowance.",
    COMMON_PRACTICE,
)
SHARING = Rule("leg-sharing", "How many of the legs are counted as carrying the load.", TWO_CARRY)
RIGGING = Rule(
    "rigging-not-stated",
    "Rigging and devices weigh too; their weight belongs in the schedule.",
    COMMON_PRACTICE,
)

RULES = (
    LOAD, POSITION, LEGS, ANGLE, ANGLES_DIFFER, LEAST_ANGLE, WANTED_ANGLE, ALLOWANCES, SHARING, RIGGING,
)  # fmt: skip

LEG_LIKE = frozenset({"leg", "pick point", "drop"})
BY_LOAD = frozenset({"position", "load", "weight_basis", "rigging"})
BY_LEGS = frozenset({"legs", "carrying", "hitch", "angle_deg", "leg_length", "spread", "height"})


@dataclass(slots=True)
class Carried:
    """The force on an item in newtons, None where it cannot be known, and what was found on the way."""

    force: float | None = None
    findings: list[Finding] = field(default_factory=list)


class Weights(NamedTuple):
    """What the hook load is made of; weights in newtons, allowances as ratios."""

    load: float
    basis: str
    allowance: float
    rigging: float
    own: float
    """What the item does not carry of the rigging weight: a device itself, or one above it."""
    dynamic: float

    @property
    def at_hook(self) -> float:
        """Hook load = (load × weight allowance + rigging) × dynamic allowance, in newtons."""
        return loads.hook_load(self.load, self.allowance, self.rigging - self.own, self.dynamic)


class Share(NamedTuple):
    """How the hook load comes onto one leg: by the legs that carry and their angle, or by a mode factor."""

    carrying: int = 1
    angle_deg: float | None = None
    """None for a basket: its angle is in its derate, so that only the share of one sling counts here."""
    mode_factor: float | None = None

    def force(self, at_hook: float) -> float:
        """The force on one leg, in newtons."""
        if self.mode_factor is not None:
            return at_hook / self.mode_factor
        if self.angle_deg is None:
            return at_hook / self.carrying
        return legs.leg_tension(at_hook, self.carrying, self.angle_deg)


def uses(item: Item) -> frozenset[str]:
    """The fields the force depends on."""
    if item.position in LEG_LIKE or item.position is None or (item.legs or 0) > 1:
        return BY_LOAD | BY_LEGS
    return BY_LOAD | {"own_weight"} if item.position == "device" else BY_LOAD


def carried(item: Item, criteria: Criteria) -> Carried:
    """The force on an item, by its position, with every assumption among the findings."""
    result = Carried()
    found = result.findings
    found.extend(sling_angle(item, criteria))
    at_hook = _hook_load(item, criteria, found)
    if item.position is None:
        if "position" not in item.problems:
            found.append(
                POSITION.holds(
                    "its position is not stated",
                    "fill in the position: top, leg, device, drop or pick point",
                )
            )
        return result
    if at_hook is None:
        return result
    if item.position in LEG_LIKE:
        share = leg_share(item, criteria, found)
        result.force = None if share is None else share.force(at_hook)
    else:
        result.force = at_hook
    return result


def _hook_load(item: Item, criteria: Criteria, found: list[Finding]) -> float | None:
    weights = weights_of(item, criteria)
    if weights is None:
        if "load" not in item.problems:
            found.append(LOAD.holds("the weight of the load is not given", "fill in the load weight"))
        return None
    at_hook = weights.at_hook
    found.append(ALLOWANCES.notes(partial(_hook_load_worked, item, weights, at_hook)))
    if item.rigging is None and "rigging" not in item.problems:
        found.append(RIGGING.advises("no rigging weight is given: taken as 0, fill it in"))
    return at_hook


def weights_of(item: Item, criteria: Criteria) -> Weights | None:
    """What the hook load is made of; None where the load is not known."""
    if item.load is None:
        return None
    basis = item.weight_basis or "estimated"
    allowance = criteria.weight_allowance[basis]
    own, rigging = item.hung_above, item.rigging or 0.0
    if item.position == "device":
        own = item.own_weight if item.own_weight and item.own_weight <= rigging else 0.0
    return Weights(item.load, basis, allowance, rigging, own, criteria.dynamic_allowance)


def _hook_load_worked(item: Item, weights: Weights, at_hook: float) -> str:
    unit = item.units.get("load", "kN")
    taken = "" if item.weight_basis else " (how it was found is not said: taken as estimated)"
    gravity = "; mass to force by g = 9.80665 m/s²" if "load" in item.by_gravity else ""
    what = "load on the device" if weights.own and not item.hung_above else "hook load"
    what = "load below the device" if item.hung_above else what
    itself = (
        f" − {show_force(weights.own, unit)} {'the device' if item.hung_above else 'its own weight'}"
        if weights.own
        else ""
    )
    rigging = f"{show_force(weights.rigging, unit)} rigging{itself}"
    return (
        f"{what} {show_force(at_hook, unit)} = ({show_force(weights.load, unit)} × {weights.allowance:.2f} "
        f"{weights.basis}{taken} + {rigging}) × {weights.dynamic:.2f}{gravity}"
    )


def lengths_angle(item: Item) -> float | None:
    """The sling angle that the row's lengths give; None where they give none."""
    if item.spread is None:
        return None
    if item.leg_length is not None:
        return angles.angle_from_length(item.leg_length, item.spread)
    if item.height is not None:
        return angles.angle_from_height(item.height, item.spread)
    return None


def sling_angle(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """Settle the sling angle from what is stated and what the lengths give; the worse of two that agree."""
    try:
        worked = lengths_angle(item)
    except RigxlError as error:
        yield ANGLE.holds(f"its lengths make no bridle: {error}", "correct the leg length, spread or height")
        return
    if worked is not None:
        if item.angle_deg is not None and abs(item.angle_deg - worked) > 2 + 1e-9:
            yield ANGLES_DIFFER.holds(
                f"the stated sling angle is {item.angle_deg:.4g}° and the lengths give {worked:.4g}°",
                "correct the angle or the lengths",
            )
        item.angle_deg = worked if item.angle_deg is None else min(worked, item.angle_deg)
    angle = item.angle_deg
    if angle is None or ((item.legs or 1) < 2 and item.hitch != "basket" and at_least(angle, 85)):
        return
    if not at_least(angle, criteria.least_angle_deg):
        yield LEAST_ANGLE.fails(
            f"the sling angle is {angle:.4g}° from the horizontal, under the least of "
            f"{criteria.least_angle_deg:.4g}° by {criteria.chosen['least angle'].chosen_by}",
            _steeper(item, criteria.least_angle_deg),
        )
    elif item.position == "leg" and not at_least(angle, criteria.wanted_angle_deg):
        usual = "" if at_least(angle, 45) else ", and under the usual limit of 45°"
        yield WANTED_ANGLE.advises(
            f"the sling angle is {angle:.4g}°; {criteria.wanted_angle_deg:.4g}° or more is wanted{usual}"
        )


def _steeper(item: Item, least: float) -> str:
    remedy = f"a sling angle of {least:.4g}° or more"
    if item.spread is None:
        return f"{remedy}: longer legs, or a spreader"
    unit = item.units.get("spread", "mm")
    length = show_length(angles.least_leg_length(item.spread, least), unit)
    return f"{remedy}: legs of {length} or longer, or a spreader"


def leg_share(item: Item, criteria: Criteria, found: list[Finding]) -> Share | None:
    """How the hook load comes onto one leg; None where it cannot be known, and why is added to ``found``."""
    if item.legs is None:
        if "legs" not in item.problems:
            found.append(LEGS.holds("the number of legs is not given", "fill in the number of legs"))
        return None
    if item.carrying is None and item.legs > 4:
        found.append(
            LEGS.holds(
                f"{item.legs} legs, and how many of them carry is not stated",
                "fill in how many legs carry, as worked out by a qualified person",
            )
        )
        return None
    if item.carrying is not None and item.carrying > item.legs:
        found.append(
            LEGS.holds(
                f"{item.carrying} legs are said to carry and there are {item.legs}",
                "correct the number of legs or of carrying legs",
            )
        )
        return None
    basket = item.hitch == "basket"
    angle = item.angle_deg
    if angle is None and not basket:
        if item.legs > 1 and item.position != "drop":
            if "angle_deg" not in item.problems:
                found.append(
                    ANGLE.holds(
                        f"{item.legs} legs and no sling angle",
                        "fill in the sling angle, or leg length and spread, or height and spread",
                    )
                )
            return None
        angle = 90.0
    if criteria.mode_factors and item.legs > 1 and item.carrying is None and not basket and angle is not None:
        return _by_mode_factor(item.legs, angle, found)
    carrying = item.carrying or criteria.carrying[item.legs]
    if carrying != item.legs:
        said = "as stated" if item.carrying else "two can hold it all, for legs are never equal"
        found.append(SHARING.notes(f"{carrying} of {item.legs} legs counted as carrying ({said})"))
    return Share(carrying, None if basket else angle)


def _by_mode_factor(of_legs: int, angle: float, found: list[Finding]) -> Share | None:
    if not at_most(90 - angle, 60) or of_legs > 4:
        return None
    factor = legs.mode_factor(of_legs, 90 - angle)
    found.append(
        SHARING.notes(
            f"mode factor {factor:g} for {of_legs} legs at {90 - angle:.3g}° from the vertical "
            "(EN 818-4 and others)"
        )
    )
    return Share(angle_deg=angle, mode_factor=factor)
