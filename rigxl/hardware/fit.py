"""Fit of one piece in another, for every kind that has a pin, a throat or an opening."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigxl.items import Finding, Rule
from rigxl.tables import COMMON_PRACTICE
from rigxl.units import show_pair

HOLE_FIT = Rule(
    "hole-fit",
    "A pin goes through its hole, and the hole is over the pin by no more than 1/8 in or 10 %, the greater.",
    COMMON_PRACTICE,
)

LOOSE_MM = 25.4 / 8


def _shown(smaller: float, greater: float, units: Mapping[str, str]) -> tuple[str, str]:
    unit = next((units[name] for name in ("hole", "pin", "bar", "throat", "inside_width") if name in units), "mm")
    return show_pair(smaller, greater, unit)


def hole_fits(pin_name: str, pin: float, hole: float, units: Mapping[str, str]) -> Iterator[Finding]:
    """Whether a pin goes through a hole, and is not loose in it; lengths in mm."""
    shown_pin, shown_hole = _shown(pin, hole, units)
    if pin > hole:
        yield HOLE_FIT.fails(
            f"the {pin_name} is {shown_pin} and the hole {shown_hole}: it does not go through",
            "a smaller pin or a larger hole, by whoever engineered the hole",
        )
    elif hole - pin > max(LOOSE_MM, 0.1 * pin) * (1 + 1e-9):
        yield HOLE_FIT.fails(
            f"the {pin_name} is {shown_pin} in a hole of {shown_hole}: over 1/8 in and 10 % too loose",
            "a pin that fills the hole, or a lug made for this pin",
        )


def passes_through(
    rule: Rule, name: str, inner: float, opening: float, units: Mapping[str, str]
) -> Iterator[Finding]:
    """Whether what hangs in an opening fits it; lengths in mm."""
    if inner > opening:
        shown_inner, shown_opening = _shown(inner, opening, units)
        yield rule.fails(
            f"what hangs in the {name} is {shown_inner} thick and the opening {shown_opening}",
            f"a {name} with an opening over {shown_inner}",
        )
