"""What a table is for, by its headings: a schedule, a table of lifts, of inspections, of makers' ratings."""

from __future__ import annotations

import re

from rigxl.schedule.fields import FIELD, OF_THE_LIFT
from rigxl.schedule.headings import plain
from rigxl.schedule.listing import Column, Listing, text_of
from rigxl.schedule.words import kinds_in
from rigxl.workbook.contents import Sheet

HARDWARE = frozenset({"kind", "size", "rated_load"})
"""What a table of lifts does not have, nor one of inspections unless its sheet is named for them."""

IN_USE = frozenset({*OF_THE_LIFT, "lift", "position", "quantity", "hitch", "loading_angle_deg"})
"""What is said of a piece in a lift, and neither of an inspection nor of a maker's table."""

WHICH = frozenset({"tag", "serial"})
MEASURED = frozenset({"finding", "original", "measured", "broken_in_lay", "broken_in_strand"})
FOUND = MEASURED | {"condition", "in_service", "inspected_by"}

INSPECTIONS = re.compile(r"\b(inspections?|examinations?)\b")
RATINGS = re.compile(r"(maker )?(ratings?|rated loads?|rating tables?|tables?)|ratings? (by|of) maker")
IN_AN_INSPECTION = {
    "date": "inspected",
    "result": "condition",
    "verdict": "condition",
    "pass fail": "condition",
    "pass or fail": "condition",
    "acceptable": "condition",
    "status": "condition",
    "state": "condition",
}
"""Headings that say nothing sure of a schedule, and one thing in a table of inspections."""

LOOK_AHEAD = 50


def settle(sheet: Sheet, listing: Listing) -> None:
    """Give a table its role; empty where its headings are not those of a schedule."""
    targets = frozenset(FIELD[name].target for name in listing.fields)
    if _is_inspections(sheet, listing, targets):
        listing.role = "inspections"
        listing.columns = tuple(map(_of_an_inspection, listing.columns))
    elif RATINGS.fullmatch(plain(sheet.name)) and is_ratings(targets):
        listing.role = "ratings"
    else:
        listing.role = _role(sheet, listing, targets)


def is_ratings(targets: frozenset[str]) -> bool:
    """Whether a table lists sizes with their ratings, and no pieces of a lift."""
    return {"rated_load", "size"} <= targets and not targets & (IN_USE | WHICH | {"inspected"})


def _is_inspections(sheet: Sheet, listing: Listing, targets: frozenset[str]) -> bool:
    """Whether a table says of tags what an inspection found of them, and nothing of their use."""
    if not targets & WHICH or targets & IN_USE:
        return False
    dated = "inspected" in targets or any(plain(one.heading) == "date" for one in listing.columns)
    if targets & HARDWARE:
        return dated and (bool(targets & MEASURED) or INSPECTIONS.search(plain(sheet.name)) is not None)
    return bool(targets & MEASURED) or (dated and bool(targets & FOUND))


def _of_an_inspection(column: Column) -> Column:
    meant = IN_AN_INSPECTION.get(plain(column.heading))
    if meant is None or column.field or column.chosen or column.ours:
        return column
    return column._replace(field=meant, proposals=(), why="as it stands in a table of inspections", worked="")


def _role(sheet: Sheet, listing: Listing, targets: frozenset[str]) -> str:
    fields = listing.fields
    if "lift" in fields and targets & set(OF_THE_LIFT) and not targets & HARDWARE:
        return "lifts"
    if ("kind" in fields and len(fields) > 1) or ("rated_load" in fields and len(fields) > 2):
        return "schedule"
    telling = [number for name in ("description", "type") if (number := listing.column_of(name))]
    if (
        fields & {"size", "rope_diameter"}
        and telling
        and _names_kinds(sheet, listing.header_rows[-1], telling)
    ):
        return "schedule"
    return ""


def _names_kinds(sheet: Sheet, after: int, columns: list[int]) -> bool:
    """Whether one of the first rows under the headings names a kind of hardware in these columns."""
    below = [row for row in sheet.rows if row.number > after][:LOOK_AHEAD]
    return any(kinds_in(text_of(row.cells.get(number))) for row in below for number in columns)
