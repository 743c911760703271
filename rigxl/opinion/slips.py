"""Why a figure is off: the slips that people make, each with what it does to the figure.

A slip is a ratio: what the sheet would say over what it works out at, had somebody made it. Ratios come from
the row itself, so that they are exact: T = F / (n sin θ) with the cosine in place of the sine is off by
sin θ / cos θ, whatever the load.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from rigxl.errors import RigxlError
from rigxl.mechanics import legs
from rigxl.opinion.agreement import ROUNDING
from rigxl.opinion.figures import Case
from rigxl.units import to_unit


class Slip(NamedTuple):
    """A slip: what it makes of the right figure, as a ratio, and how to say it."""

    ratio: float
    words: str


Slips = Iterator[Slip]


def of_load(case: Case) -> Slips:
    """The weight allowance, the rigging weight or the dynamic allowance left out, or another one taken."""
    item, whole = case.item, case.hook_load
    if whole is None or item.load is None:
        return
    load, rigging, dynamic = item.load, item.rigging or 0.0, case.criteria.dynamic_allowance
    allowance = case.allowance
    if rigging:
        yield Slip(load * allowance * dynamic / whole, "the rigging weight were left out")
        yield Slip(
            load / whole, f"the weight allowance of {allowance:g} and the rigging weight were left out"
        )
    yield Slip((load + rigging) * dynamic / whole, f"the weight allowance of {allowance:g} were left out")
    if dynamic != 1:
        yield Slip(1 / dynamic, f"the dynamic allowance of {dynamic:g} were left out")
        yield Slip((load + rigging) / whole, "the weight and dynamic allowances were left out")
    for basis, other in case.criteria.weight_allowance.items():
        if other != allowance and basis != item.weight_basis:
            yield Slip(
                (load * other + rigging) * dynamic / whole,
                f"the weight allowance were {other:g}, for a load that was {basis}",
            )


def of_legs(case: Case) -> Slips:
    """The load not divided by the legs, or by another number of them."""
    item, carrying, slope = case.item, case.carrying, case.slope
    if not item.legs or not carrying:
        return
    if not case.in_legs:
        for number in {carrying, item.legs} - {1}:
            yield Slip(1 / number, f"the load were divided by {number} legs, and it hangs above them")
        return
    if _by_mode(case):
        try:
            factor = legs.mode_factor(item.legs, 90 - (slope or 90))
        except RigxlError:
            return
        for number in range(1, item.legs + 1):
            by_sine = factor / number / math.sin(math.radians(slope or 90))
            yield Slip(by_sine, f"it were divided by {number} legs and the sine, and not by the mode factor")
            yield Slip(factor / number, f"it were divided by {number} legs, and not by the mode factor")
        return
    if carrying > 1:
        yield Slip(carrying, "the load were not divided by the legs")
    for number in range(2, item.legs + 1):
        if number != carrying:
            yield Slip(carrying / number, f"the load were divided by {number} legs, and {carrying} carry")


def _by_mode(case: Case) -> bool:
    item = case.item
    several = (item.legs or 1) > 1 and item.carrying is None and item.hitch != "basket"
    return case.criteria.mode_factors and several and case.slope is not None


def of_angle(case: Case) -> Slips:
    """The wrong function of the sling angle, or of another angle."""
    slope = case.slope
    if slope is None or slope >= 90 or _by_mode(case):
        return
    sine, cosine = math.sin(math.radians(slope)), math.cos(math.radians(slope))
    yield Slip(
        sine / cosine,
        "the cosine were taken for the sine, that is an angle from the vertical for one from the horizontal",
    )
    yield Slip(sine, "the sling angle were left out")
    yield Slip(sine * sine, "it were multiplied by the sine of the sling angle, and not divided by it")
    yield Slip(cosine, "the tangent were taken for the sine")
    yield Slip(sine * cosine, "it were multiplied by the cosine of the sling angle")
    yield Slip(sine / math.sin(slope), "the sling angle in degrees were taken as radians")
    if slope > 45:
        included = math.sin(math.radians(180 - 2 * slope))
        yield Slip(sine / included, "the included angle were taken for the sling angle")


def of_leg_angle(case: Case) -> Slips:
    """Slips of the sling angle, where it matters to what the item carries."""
    if case.in_legs and case.item.hitch != "basket":
        yield from of_angle(case)


def of_pieces(case: Case) -> Slips:
    """The force divided by the pieces of the row, each of which carries it."""
    pieces = case.item.quantity or 1
    if pieces > 1:
        yield Slip(1 / pieces, f"it were divided by the {pieces} pieces of the row, each of which carries it")


def _left_out(case: Case) -> Slips:
    """The derate left out of what is divided by it, whole or in part."""
    whole = case.judged.derate
    if not whole or whole == 1:
        return
    yield Slip(whole, f"the derate of {whole:.4g} were left out")
    for one in case.judged.derates:
        if one.factor not in (1, whole):
            yield Slip(one.factor, f"the derate of {one.factor:.4g} for {one.why} were left out")


def of_derate(case: Case) -> Slips:
    """The derate left out, or put to the wrong side."""
    for one in _left_out(case):
        yield one
        yield Slip(one.ratio**2, "it were multiplied by the derate, and not divided by it")


def of_capacity(case: Case) -> Slips:
    """The derate left out of a capacity, which is multiplied by it, or put to the wrong side."""
    for one in _left_out(case):
        yield Slip(1 / one.ratio, one.words)
        yield Slip(1 / one.ratio**2, "it were divided by the derate, and not multiplied by it")


def of_margin(case: Case) -> Slips:
    """The design margin left out, or taken off instead of added."""
    margin = case.judged.margin
    if margin:
        yield Slip(1 / (1 + margin), f"the design margin of {margin:.0%} were left out")
        yield Slip(1 + margin, f"the design margin of {margin:.0%} were added twice")
        if margin < 1:
            yield Slip(
                1 / (1 - margin) / (1 + margin),
                f"it were divided by {1 - margin:g}, and not multiplied by {1 + margin:g}",
            )


def of_utilisation(case: Case) -> Slips:
    """The design margin in it, force and rating the wrong way round or in different units."""
    margin, ours = case.judged.margin, case.judged.utilisation
    if margin:
        yield Slip(1 + margin, f"the design margin of {margin:.0%} were in it")
    if ours:
        yield Slip(1 / ours / ours, "the rating were divided by the force")
    for ratio, between in RATIOS:
        yield Slip(ratio, f"force and rating were in different units ({between})")


RATIOS = (
    (2204.62262 / 2000, "off by 2204.6/2000, a tonne over a short ton"),
    (2000 / 2204.62262, "off by 2000/2204.6, a short ton over a tonne"),
    (9.80665, "off by 9.80665, mass for force"),
    (1 / 9.80665, "off by 1/9.80665, mass for force"),
    (2.20462262, "off by 2.2046, kilograms for pounds"),
    (1 / 2.20462262, "off by 1/2.2046, kilograms for pounds"),
    (1000.0, "off by 1000"),
    (0.001, "off by 1/1000"),
)
"""Between units, as they show in a plain ratio. NIST SP 811, 2008, appendix B; 9.80665 is exact."""

UNITS = ("kg", "t", "lb", "kip", "short ton", "long ton", "N", "daN", "kN")
KNOWN = {
    ("t", "short ton"): "2204.6/2000",
    ("short ton", "t"): "2000/2204.6",
    ("t", "kN"): "9.80665",
    ("kN", "t"): "1/9.80665",
    ("kg", "N"): "9.80665",
    ("N", "kg"): "1/9.80665",
    ("kg", "lb"): "2.2046",
    ("lb", "kg"): "1/2.2046",
}
"""How the ratio between two units is known, by the unit wanted and the unit given."""


def of_unit(unit: str) -> Slips:
    """The figure left in another unit than its column's."""
    for other in UNITS:
        ratio = to_unit(1.0, other) / to_unit(1.0, unit)
        if abs(ratio - 1) > ROUNDING:
            off = KNOWN.get((unit, other)) or f"a factor of {ratio:.4g}"
            plural = f"{other}s" if other.endswith("ton") else other
            yield Slip(ratio, f"it were in {plural}, not converted to {unit} (off by {off})")


Maker = Callable[[Case], Slips]

FORCE: tuple[Maker, ...] = (of_load, of_legs, of_leg_angle, of_pieces)
SLIPS: Mapping[str, tuple[Maker, ...]] = {
    "load_angle_factor": (of_angle,),
    "angle_factor": (of_angle,),
    "hook_load": (of_load,),
    "share": (of_load, of_legs),
    "leg_tension": FORCE,
    "force": FORCE,
    "derate": (of_capacity,),
    "derated": (of_capacity,),
    "required": (*FORCE, of_derate, of_margin),
    "utilisation": (*FORCE, of_derate, of_utilisation),
}
"""By figure, the slips that would put it off."""
