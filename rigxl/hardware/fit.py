"""Fit of one piece in another, for every kind that has a pin, a throat or an opening."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigxl.firm import NO_FIT
from rigxl.items import Finding, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE
from rigxl.units import show_length

HOLE_FIT = Rule(
    "hole-fit",
    "A pin goes through its hole, and the hole is over the pin by no more than 1/8 in or 10 %, the greater.",
    COMMON_PRACTICE,
    firm=NO_FIT,
)

LOOSE_MM = 25.4 / 8
LENGTHS = ("hole", "pin", "bar", "throat", "inside_width", "sling_width")


def _shown(smaller: float, greater: float, units: Mapping[str, str]) -> tuple[str, str]:
    """Two lengths in the reader's own unit, or in mm where that would not tell them apart."""
    unit = next((units[name] for name in LENGTHS if name in units), "mm")
    shown = show_length(smaller, unit), show_length(greater, unit)
    return shown if shown[0] != shown[1] else (f"{smaller:.9g} mm", f"{greater:.9g} mm")


def hole_fits(pin_name: str, pin: float, hole: float, units: Mapping[str, str]) -> Iterator[Finding]:
    """Whether a pin goes through a hole, and is not loose in it; lengths in mm."""
    shown_pin, shown_hole = _shown(pin, hole, units)
    if not at_most(pin, hole):
        yield HOLE_FIT.fails(
            f"the {pin_name} is {shown_pin} and the hole {shown_hole}: it does not go through",
            "a smaller pin or a larger hole, by whoever engineered the hole",
        )
    elif not at_most(hole - pin, max(LOOSE_MM, 0.1 * pin)):
        yield HOLE_FIT.fails(
            f"the {pin_name} is {shown_pin} in a hole of {shown_hole}: over 1/8 in and 10 % too loose",
            "a pin that fills the hole, or a lug made for this pin",
        )


def passes_through(
    rule: Rule, name: str, inner: float, opening: float, units: Mapping[str, str]
) -> Iterator[Finding]:
    """Whether what hangs in an opening fits it; lengths in mm."""
    if not at_most(inner, opening):
        shown_inner, shown_opening = _shown(inner, opening, units)
        yield rule.fails(
            f"what hangs in the {name} is {shown_inner} and its opening {shown_opening}: it does not fit",
            f"a {name} with an opening over {shown_inner}",
        )
