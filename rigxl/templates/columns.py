"""The columns of the blank schedule: which fields are filled in, what is worked out, and what may be chosen.

Headings are those that the check knows; a unit stands in its heading, chosen there from a list.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rigxl.workbook.values import column_letters

FIRST_ROW = 6
HEADING_ROW = 5
LIFT_ROWS = 20
HARDWARE_ROWS = 60
LAST_LIFT = FIRST_ROW + LIFT_ROWS - 1
LAST_ITEM = FIRST_ROW + HARDWARE_ROWS - 1

FORCE_CHOICES = ("t", "kg", "kN", "lb", "kip", "short ton")
LENGTH_CHOICES = ("m", "mm", "ft", "in")


class Worked(NamedTuple):
    """A worked column: its name in formulas, its heading, the format of its numbers, its width."""

    name: str
    heading: str
    number: str = "General"
    width: float = 11


LIFT_FIELDS = (
    "lift", "load", "weight_basis", "rigging", "legs", "carrying", "angle_deg", "leg_length", "spread",
    "height", "remarks",
)  # fmt: skip

LIFT_WORKED = (
    Worked("lengths_angle", "Worked: angle by lengths (deg)", "0.0"),
    Worked("angle", "Worked: sling angle taken (deg)", "0.0"),
    Worked("angle_check", "Worked: angle check"),
    Worked("hook_load", "Worked: hook load (kN)", "0.00"),
    Worked("share", "Worked: hook load over leg tension", "0.000"),
    Worked("leg_tension", "Worked: leg tension (kN)", "0.00"),
)

HARDWARE_FIELDS = (
    "lift", "tag", "kind", "position", "quantity", "size", "grade", "type", "rated_load", "maker",
    "hitch", "edge_protection", "choke_angle_deg", "bend_ratio", "loading_angle_deg", "plane",
    "rated_included_angle_deg",
    "seated", "full_thread", "secured", "latch",
    "marked", "maker_marked", "own_pin", "certificate",
    "inspected", "condition", "remarks",
)  # fmt: skip

HARDWARE_WORKED = (
    Worked("line", "Worked: line of the lift", "0", 9),
    Worked("force", "Worked: force (kN)", "0.00"),
    Worked("use", "Worked: use allowed"),
    Worked("derate", "Worked: derate", "0.00"),
    Worked("required", "Worked: required capacity (t)", "0.00"),
    Worked("utilisation", "Worked: utilisation", "0.00"),
    Worked("strength", "Worked: strength"),
    Worked("marks", "Worked: marks and papers"),
    Worked("inspection", "Worked: inspection"),
    Worked("verdict", "Worked: verdict"),
)

WIDTHS: Mapping[str, float] = {
    "lift": 20, "tag": 12, "kind": 14, "position": 12, "size": 10, "grade": 9, "type": 19, "remarks": 22,
    "weight_basis": 13, "maker": 18, "certificate": 14, "inspected": 12, "condition": 15, "plane": 11,
    "angle_deg": 14, "loading_angle_deg": 10, "rated_included_angle_deg": 11,
}  # fmt: skip


def letters(fields: Sequence[str], worked: Sequence[Worked]) -> dict[str, str]:
    """The letter of every column of a sheet, by name.

    >>> letters(LIFT_FIELDS, LIFT_WORKED)["leg_tension"]
    'Q'
    """
    names = (*fields, *(one.name for one in worked))
    return {name: column_letters(number) for number, name in enumerate(names, 1)}


YES_NO = ("yes", "no")
LEGIBLE = ("yes", "no", "illegible")

CHOICES: Mapping[str, tuple[str, ...]] = {
    "weight_basis": ("weighed", "calculated", "estimated"),
    "position": ("top", "leg", "device", "drop", "pick point"),
    "hitch": ("vertical", "choker", "basket"),
    "plane": ("in plane", "across"),
    "edge_protection": YES_NO,
    "seated": YES_NO,
    "full_thread": YES_NO,
    "secured": YES_NO,
    "latch": YES_NO,
    "own_pin": YES_NO,
    "marked": LEGIBLE,
    "maker_marked": LEGIBLE,
    "condition": ("fit for use", "unfit for use"),
}
"""What a cell may say, and nothing else."""

SHACKLE_TYPES = tuple(
    f"{pin} {shape}" for pin in ("screw pin", "bolt type", "round pin") for shape in ("bow", "dee")
)
SLING_TYPES = ("wire rope", "chain", "web", "round")
TYPES = (
    *SHACKLE_TYPES, *SLING_TYPES, "shank hook", "eye hook", "oblong master link", "coupling link",
    "plain", "shoulder", "DIN 580", "jaw and jaw", "jaw and eye", "eye and eye",
)  # fmt: skip
SIZES = (
    "1/4 in", "5/16 in", "3/8 in", "7/16 in", "1/2 in", "9/16 in", "5/8 in", "3/4 in", "7/8 in", "1 in",
    "1 1/8 in", "1 1/4 in", "1 3/8 in", "1 1/2 in", "1 3/4 in", "2 in",
    "6 mm", "7 mm", "8 mm", "10 mm", "13 mm", "16 mm", "18 mm", "20 mm", "22 mm", "26 mm", "32 mm",
    "M8", "M10", "M12", "M16", "M20", "M24", "M30", "M36", "M42", "M48",
)  # fmt: skip
NOT_KNOWN = ("TBC", "TBA", "TBD", "N/A", "NA", "n/k", "unknown", "not known", "none", "-", "–", "?", "??")
"""What a cell says when nobody knows: the formulas take none of these for an answer."""
