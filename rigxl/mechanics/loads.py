"""From the weight of a load to the force on the hook, and from a force to the capacity it asks for."""

from __future__ import annotations

from typing import Annotated

from rigxl.errors import OutOfRangeError
from rigxl.items import FAIL, PASS
from rigxl.mechanics.limits import at_least, at_least_one, derating, not_negative, number, positive, result
from rigxl.units import Force, Ratio
from rigxl.worksheet import AnyForce, AsForce, AsLoad, worksheet


def hook_load(load: float, weight_allowance: float, rigging: float, dynamic_allowance: float) -> Force:
    """The force on the hook: (load · weight allowance + rigging) · dynamic allowance.

    ``rigging`` is the weight of everything that hangs below the hook besides the load. Allowances are factors
    of 1 or more and never assumed here.

    >>> hook_load(10_000, 1.1, 500, 1.0)
    11500.0
    """
    weight = positive("load", load) * at_least_one("weight_allowance", weight_allowance)
    hanging = weight + not_negative("rigging", rigging)
    return result("hook load", hanging * at_least_one("dynamic_allowance", dynamic_allowance))


@worksheet("HOOKLOAD", example=(10, 0.5, 1.1), answer=11.5)
def hook_load_in_cell(
    load: AnyForce, rigging: AnyForce, weight_allowance: Ratio, dynamic_allowance: Ratio = 1.0
) -> AsLoad:
    """Load on the hook: (load × weight allowance + rigging) × dynamic allowance.

    Args:
        load: Weight of the load alone, in any unit.
        rigging: Weight of all slings, hardware and devices below the hook, in the unit of the load.
        weight_allowance: Factor of 1 or more for how well the weight is known, such as 1.05 weighed,
            1.10 calculated from drawings, 1.20 estimated.
        dynamic_allowance: Factor of 1 or more for the movement of the crane; 1 is a slow lift on firm ground.

    Refuses: a load or rigging of 0 or less; an allowance below 1.

    Source: the sum is plain statics; the allowances are common practice, no source.

    >>> hook_load_in_cell(10, 0.5, 1.1)
    11.5
    """
    return hook_load(load, weight_allowance, positive("rigging", rigging), dynamic_allowance)


@worksheet("REQUIREDCAPACITY", example=(8, 0.25, 0.5), answer=20.0)
def required_capacity(force: AnyForce, margin: Ratio = 0.25, derate: Ratio = 1.0) -> AsForce:
    """Rating an item needs for a force: force / derate × (1 + margin).

    Args:
        force: Force the item carries, in any unit.
        margin: Design margin as a fraction, 0.25 for 25 %.
        derate: What the use leaves of the rating, above 0 and at most 1; 1 when nothing is taken off.

    Refuses: a force of 0 or less; a negative margin; a derate of 0 or less or above 1.

    Source: the margin of 25 % is common practice, no source.

    >>> required_capacity(8, 0.25, 0.5)
    20.0
    """
    needed = positive("force", force) / derating("derate", derate)
    return result("required capacity", needed * (1 + not_negative("margin", margin)))


@worksheet("UTILISATION", example=(6, 10, 0.75), answer=0.8)
def utilisation(force: AnyForce, rating: AnyForce, derate: Ratio = 1.0) -> Ratio:
    """Share of what an item may carry that is used: force / (rating × derate).

    Args:
        force: Force the item carries.
        rating: Rated load of the item, in the unit of the force.
        derate: What the use leaves of the rating, above 0 and at most 1; 1 when nothing is taken off.

    Refuses: a force or rating of 0 or less; a derate of 0 or less or above 1.

    Source: the definition of utilisation, demand over capacity; common practice, no source.

    >>> utilisation(6, 10, 0.75)
    0.8
    """
    capacity = positive("rating", rating) * derating("derate", derate)
    if capacity == 0:
        raise OutOfRangeError(f"rating is {rating:g}; that is too small to work with")
    return result("utilisation", positive("force", force) / capacity)


def _why_capacity(force: float, rating: float, margin: float, derate: float = 1.0) -> str:
    needed = required_capacity(force, margin, derate)
    compared = "at least" if at_least(rating, needed) else "less than"
    return (
        f"rated {rating:.6g}, {compared} the {needed:.6g} required: force {force:.6g} / derate {derate:g} "
        f"× (1 + design margin {margin:g})"
    )


@worksheet("CAPACITYVERDICT", example=(6, 10, 0.25), answer="PASS", why=_why_capacity)
def capacity_verdict(force: AnyForce, rating: AnyForce, margin: Ratio, derate: Ratio = 1.0) -> str:
    """Whether a rating carries a force with the design margin in hand: PASS or FAIL.

    PASS where rating ≥ force / derate × (1 + margin). It says nothing of the piece itself.

    Args:
        force: Force the item carries.
        rating: Rated load of the item, in the unit of the force.
        margin: Design margin as a fraction above 0, 0.25 for 25 %.
        derate: What the use leaves of the rating, above 0 and at most 1; 1 when nothing is taken off.

    Refuses: a force or rating of 0 or less; a margin of 0 or less, for a blank cell reads as 0 in some
        programs; a derate of 0 or less or above 1.

    Source: the margin of 25 % is common practice, no source.

    >>> capacity_verdict(8, 10, 0.25), capacity_verdict(8, 10, 0.25, 0.7)
    ('PASS', 'FAIL')
    """
    needed = required_capacity(force, positive("margin", margin), derate)
    return PASS if at_least(positive("rating", rating), needed) else FAIL


@worksheet("CONVERTLOAD", example=(1, "short ton", "lb"), answer=2000.0)
def convert_load_in_cell(value: AnyForce, from_unit: str, to_unit: str) -> Annotated[float, "as to_unit"]:
    """A load or rating in another unit, mass and force by standard gravity.

    Args:
        value: The load, in from_unit.
        from_unit: Unit it is given in, such as kg, t, lb, kN, kip or short ton.
        to_unit: Unit wanted.

    Refuses: a load of 0 or less; a unit nobody defined, or with more than one meaning, such as a bare ton.

    Source: NIST SP 811, 2008, appendix B; standard gravity 9.80665 m/s², exact by definition.

    >>> round(convert_load_in_cell(1, "short ton", "lb"), 9)
    2000.0
    """
    from rigxl.units import convert_load

    return result("load", number("load", convert_load(positive("value", value), from_unit, to_unit)))
