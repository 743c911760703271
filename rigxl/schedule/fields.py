"""Everything a sheet can say of an item: one Field for each, and for each way of giving it.

The order is the order of our own template's columns.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from rigxl.schedule.choices import (
    BASES,
    HITCHES,
    LAYS,
    LEGIBLE,
    PLANES,
    POSITIONS,
    RATED_LAYS,
    SADDLES,
    SERVICES,
)


class Limits(NamedTuple):
    """The bounds a number must keep; a bound that does not count itself is left out."""

    says: str
    low: float = float("-inf")
    low_counts: bool = True
    high: float = float("inf")

    def keep(self, value: float) -> bool:
        """Whether the value is within."""
        return (value > self.low or (self.low_counts and value == self.low)) and value <= self.high


ABOVE_ZERO = Limits("more than 0", 0, low_counts=False)
NOT_NEGATIVE = Limits("0 or more", 0)
ONE_OR_MORE = Limits("1 or more", 1)
SLOPE = Limits("more than 0° and at most 90°", 0, low_counts=False, high=90)
FROM_AXIS = Limits("from 0° to 180°", 0, high=180)
ANY = Limits("a number")


class Field(NamedTuple):
    """Something a column can hold.

    ``read`` says how its cells are read: force, length, size, angle, ratio, count, temperature, dimension,
    text, kind, date, yes/no, carrying or choice. ``fills`` is the field of the Item, where that has another
    name.
    """

    name: str
    title: str
    read: str
    meaning: str
    limits: Limits = ANY
    words: Mapping[str, str] = {}
    fills: str = ""

    @property
    def target(self) -> str:
        """The field of the Item that this fills."""
        return self.fills or self.name

    @property
    def group(self) -> str:
        """Which part of a row it belongs to."""
        return GROUP_OF[self.name]

    @property
    def is_share(self) -> bool:
        """Whether it is a part of a whole, which people write as a percentage."""
        return self.title.endswith("(%)")

    @property
    def plain(self) -> str:
        """Its title without the unit, as a sentence speaks of it."""
        return self.title.partition(" (")[0].lower()


GROUPS: Mapping[str, tuple[Field, ...]] = {
    "Which one": (
        Field("lift", "Lift", "text", "The lift an item hangs in; rows of one lift share its load."),
        Field("tag", "Tag", "text", "What tells this piece from its like: a tag or asset number."),
        Field("serial", "Serial no.", "text", "The serial number its maker gave this one piece."),
        Field("description", "Description", "text", "What the item is, in free words."),
        Field("kind", "Kind", "kind", "The kind of hardware, such as shackle, hook or sling."),
        Field("position", "Position", "choice", "Where it hangs: top, leg, device, drop or pick point.",
              words=POSITIONS),
        Field("quantity", "Quantity", "count", "How many identical pieces the row stands for.", ONE_OR_MORE),
        Field("size", "Size", "size", "The nominal size the piece is sold by."),
        Field("grade", "Grade", "text", "The grade of its material, as marked."),
        Field("type", "Type", "text", "The pattern: screw pin, shoulder, wire rope and the like."),
        Field("rated_load", "Rated load (t)", "force", "The working load limit marked on the piece.",
              ABOVE_ZERO),
        Field("maker", "Maker", "text", "Who made it."),
    ),
    "The lift": (
        Field("load", "Load (t)", "force", "The weight of the load alone.", ABOVE_ZERO),
        Field("weight_basis", "Weight basis", "choice", "How the weight is known: weighed, calculated or "
              "estimated.", words=BASES),
        Field("rigging", "Rigging weight (t)", "force", "The weight of all that hangs below the hook besides "
              "the load.", NOT_NEGATIVE),
        Field("legs", "Legs", "count", "How many legs the sling or bridle has.", ONE_OR_MORE),
        Field("carrying", "Legs carrying", "carrying", "How many of the legs are taken to carry the load.",
              ONE_OR_MORE),
        Field("angle_deg", "Sling angle from horizontal (deg)", "angle", "The angle between a leg "
              "and the horizontal.", SLOPE),
        Field("angle_from_vertical", "Sling angle from vertical (deg)", "angle", "The angle between a leg "
              "and the vertical, if it is given that way.", fills="angle_deg"),
        Field("included_angle", "Included angle (deg)", "angle", "The angle between two equal legs, if "
              "it is given that way.", fills="angle_deg"),
        Field("leg_length", "Leg length (m)", "length", "The length of a leg from pick to hook.", ABOVE_ZERO),
        Field("spread", "Spread of picks (m)", "length", "The distance between two opposite picks.",
              ABOVE_ZERO),
        Field("height", "Height of hook above picks (m)", "length", "From the picks straight up to the hook.",
              ABOVE_ZERO),
        Field("headroom", "Headroom (m)", "length",
              "The height there is between picks and hook.", ABOVE_ZERO),
    ),
    "Use": (
        Field("hitch", "Hitch", "choice", "How a sling is rigged: vertical, choker or basket.",
              words=HITCHES),
        Field("choke_angle_deg", "Angle of choke (deg)", "angle", "The angle at the choke of a choker hitch.",
              FROM_AXIS),
        Field("bend_ratio", "D/d", "ratio", "Diameter of what a rope bends round, over that of the rope.",
              ABOVE_ZERO),
        Field("loading_angle_deg", "Loading angle (deg)", "angle", "The angle between the load and the "
              "item's own axis.", FROM_AXIS),
        Field("plane", "Plane of loading", "choice", "Whether the load lies in the plane of the eye or bow, "
              "or across it.", words=PLANES),
        Field("rated_included_angle_deg", "Rated included angle (deg)", "angle", "The included angle the "
              "maker rates a link or ring for.", FROM_AXIS),
        Field("rated_angle_deg", "Rated up to an angle of (deg)", "angle", "The angle from its axis up to "
              "which its maker or engineer gives it the full rating.", FROM_AXIS),
        Field("turns_under_load", "Turns under load", "yes/no", "Whether the item may turn when loaded."),
        Field("temperature", "Temperature (°C)", "temperature", "The temperature the item works at."),
        Field("margin", "Design margin (%)", "ratio", "The margin wanted for this row, in place of the "
              "one in the criteria.", NOT_NEGATIVE),
        Field("edge_protection", "Edge protection", "yes/no", "Whether a sling is kept off sharp edges."),
        Field("seated", "Seated", "yes/no", "Whether a shoulder or pin is fully seated."),
        Field("latch", "Latch", "yes/no", "Whether a hook has a working latch."),
        Field("secured", "Secured", "yes/no", "Whether a pin is moused, or a turnbuckle locked."),
        Field("ends", "Ends", "text", "The end fittings of a turnbuckle, such as jaw and eye."),
        Field("full_thread", "Full thread engagement", "yes/no", "Whether the whole thread is engaged."),
        Field("thread_engagement", "Thread engagement (mm)", "length", "The length of thread engaged.",
              ABOVE_ZERO),
        Field("torque", "Torque applied (N·m)", "torque", "The torque it was tightened to.", ABOVE_ZERO),
        Field("stated_torque", "Torque stated (N·m)", "torque", "The torque the maker asks for.", ABOVE_ZERO),
        Field("engineered", "Engineer's mark", "text", "The engineer's mark or drawing number of a device "
              "made for the job."),
    ),
    "Rope and clips": (
        Field("rope", "Rope", "text", "The construction and grade of the rope."),
        Field("rope_diameter", "Rope diameter (mm)", "length", "The diameter of the rope.", ABOVE_ZERO),
        Field("breaking_strength", "Breaking strength (kN)", "force", "Least breaking strength of the rope.",
              ABOVE_ZERO),
        Field("service", "Rope service", "choice", "What the rope is used for, which sets its factor.",
              words=SERVICES),
        Field("design_factor", "Design factor", "ratio", "Breaking strength over rated load.", ONE_OR_MORE),
        Field("clip_count", "Clips", "count", "How many clips each end has.", ONE_OR_MORE),
        Field("clip_spacing", "Clip spacing (mm)", "length", "The distance from clip to clip.", ABOVE_ZERO),
        Field("turnback", "Turnback (mm)", "length", "The length of rope turned back at the eye.",
              ABOVE_ZERO),
        Field("saddle", "Saddle on", "choice", "Which end of the rope the saddles sit on: live or dead.",
              words=SADDLES),
        Field("clear_length", "Clear length (mm)", "length", "The free length of rope between fittings.",
              ABOVE_ZERO),
    ),
    "Below-the-hook device": (
        Field("own_weight", "Own weight (t)", "force", "The own weight marked on the device.", ABOVE_ZERO),
        Field("proof_load", "Proof load (t)", "force", "The load it was proof tested to.", ABOVE_ZERO),
        Field("proof_tested", "Proof tested", "yes/no", "Whether it was proof tested."),
        Field("procedure", "Written procedure", "yes/no", "Whether it has a written operating procedure."),
        Field("bar_length", "Bar length (m)", "length", "From one lower attachment of a bar to the other.",
              ABOVE_ZERO),
        Field("thickness", "Thickness (mm)", "length",
              "The thickness of what is gripped or held; the width of a flange.", ABOVE_ZERO),
        Field("grip_from", "Grip from (mm)", "length", "The least thickness the maker rates it for.",
              NOT_NEGATIVE),
        Field("grip_to", "Grip to (mm)", "length",
              "The greatest thickness the maker rates it for.", ABOVE_ZERO),
        Field("least_load", "Least load (t)", "force",
              "The least load the maker rates it for.", NOT_NEGATIVE),
        Field("pieces", "Pieces gripped", "count",
              "How many pieces are gripped or held at once.", ONE_OR_MORE),
        Field("lay", "Lay of load", "choice", "How what is held lies: vertical or horizontal.", words=LAYS),
        Field("rated_lay", "Rated lay", "choice", "How it may lie by the maker: vertical, horizontal "
              "or any.", words=RATED_LAYS),
        Field("surface", "Surface", "text", "The surface that is gripped or held."),
        Field("rated_surface", "Rated surface", "text", "The surface the maker rates it for."),
        Field("rated_temperature", "Rated temperature (°C)", "temperature",
              "The highest temperature the maker "
              "rates it for."),
        Field("load_centre", "Load centre (mm)", "length", "From the device to the load's centre of gravity.",
              NOT_NEGATIVE),
        Field("rated_load_centre", "Rated load centre (mm)", "length", "The load centre its rating is for.",
              NOT_NEGATIVE),
    ),
    "Fit": (
        Field("pin", "Pin diameter (mm)", "length", "The diameter of the pin.", ABOVE_ZERO),
        Field("hole", "Hole diameter (mm)", "length", "The diameter of the hole the pin goes through.",
              ABOVE_ZERO),
        Field("throat", "Throat opening (mm)", "length", "The opening of a hook's throat.", ABOVE_ZERO),
        Field("bar", "Bar diameter (mm)", "length", "The thickness of the link or part hung in the item.",
              ABOVE_ZERO),
        Field("inside_width", "Inside width (mm)", "length", "The width inside the bow or jaw.", ABOVE_ZERO),
        Field("sling_width", "Sling width (mm)", "length", "The width of a web sling.", ABOVE_ZERO),
    ),
    "Marking and papers": (
        Field("marked", "Rating marked", "choice", "Whether the rated load is legible on the piece.",
              words=LEGIBLE),
        Field("maker_marked", "Maker marked", "choice", "Whether the maker's name or mark is legible on the "
              "piece.", words=LEGIBLE),
        Field("own_pin", "Own pin", "yes/no", "Whether the pin is the shackle's own."),
        Field("certificate", "Certificate no.", "text", "The number of its certificate."),
        Field("pieces_covered", "Pieces covered", "count", "How many pieces the certificate covers.",
              ONE_OR_MORE),
        Field("batch", "Batch no.", "text", "The batch, lot or heat it was made in."),
    ),
    "Inspection": (
        Field("inspected", "Last inspection", "date", "The date of the last periodic inspection."),
        Field("inspected_by", "Inspected by", "text", "Who inspected it."),
        Field("in_service", "In service", "yes/no", "Whether it is in service."),
        Field("condition", "Condition", "text", "What the inspection found, in words."),
        Field("defects", "Defects", "text", "The defects an inspection found, in words; no for none.",
              words={"no": "no defects", "n": "no defects"}, fills="condition"),
        Field("wear", "Wear (%)", "ratio", "The most that any section has worn, of its original dimension.",
              NOT_NEGATIVE),
        Field("throat_growth", "Throat growth (%)", "ratio", "How far a hook's throat has opened, of the "
              "original.", NOT_NEGATIVE),
        Field("twist_deg", "Twist (deg)", "angle", "How far a hook is twisted out of plane.", FROM_AXIS),
        Field("out_of_straight", "Out of straight (mm)", "length", "How far a bar is bent, at its middle.",
              NOT_NEGATIVE),
        Field("finding", "Kind of finding", "text", "What an inspection measured: throat, twist, wear, "
              "elongation, broken wires and the like."),
        Field("original", "Original dimension (mm)", "dimension", "The dimension of that point when new."),
        Field("measured", "Measured dimension (mm)", "dimension", "The dimension that was measured there."),
        Field("broken_in_lay", "Broken wires in a lay", "count", "Broken wires in one lay of a rope.",
              NOT_NEGATIVE),
        Field("broken_in_strand", "Broken wires in a strand", "count", "Broken wires in one strand of one "
              "lay.", NOT_NEGATIVE),
        Field("remarks", "Remarks", "text", "Anything else."),
    ),
}  # fmt: skip

FIELDS: tuple[Field, ...] = tuple(field for fields in GROUPS.values() for field in fields)
FIELD: Mapping[str, Field] = {field.name: field for field in FIELDS}
GROUP_OF: Mapping[str, str] = {field.name: group for group, fields in GROUPS.items() for field in fields}

FILLED: frozenset[str] = frozenset(field.target for field in FIELDS)
"""The fields of an Item that a sheet can fill."""

OF_THE_LIFT: tuple[str, ...] = tuple(dict.fromkeys(field.target for field in GROUPS["The lift"]))
"""The fields of an Item that belong to its lift, so that one row of the lift may give them for all."""

JOINED: frozenset[str] = frozenset({"tag", "description", "remarks", "condition"})
"""Text that several columns may give together."""

FREE: frozenset[str] = frozenset(
    {
        "tag", "serial", "description", "remarks", "inspected_by", "batch", "finding", "original", "measured",
        "broken_in_lay", "broken_in_strand",
    }
)  # fmt: skip
"""What no verdict needs by itself: a dash there is simply nothing."""
