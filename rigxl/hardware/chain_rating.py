"""Printed ratings of alloy chain slings, for a cell."""

from __future__ import annotations

from rigxl.errors import NotRatedError
from rigxl.hardware.listed import AsUnit, rating
from rigxl.hardware.sling_tables import GRADE_80, GRADE_80_PAGE, GRADE_100, GRADE_100_PAGE
from rigxl.mechanics.limits import count
from rigxl.units import Count
from rigxl.worksheet import worksheet

BY_GRADE = {80: GRADE_80, 100: GRADE_100}


@worksheet(
    "CHAINRATING",
    example=("3/8 in", 80, "lb"),
    answer=7100.0,
    source=f"{GRADE_80_PAGE.cited}; {GRADE_100_PAGE.place}",
)
def chain_rating(size: str, grade: Count, unit: str = "lb") -> AsUnit:
    """Printed rating of one vertical leg of an alloy chain sling.

    Args:
        size: Size of the chain with its unit, such as 3/8 in or 10 mm.
        grade: Grade of the chain, 80 or 100.
        unit: Unit of the answer, such as lb, kN or t.

    Refuses: a size that the page does not list; any grade but 80 and 100. European grade 8 is known from
        memory only: use the rated load on the tag.

    >>> chain_rating("10 mm", 100)
    8800.0
    """
    marked = count("grade", grade)
    if marked not in BY_GRADE:
        raise NotRatedError(
            f"grade {marked} has no printed rating here for lifting; it must be 80 or 100 "
            f"({GRADE_80_PAGE.title})"
        )
    return rating(BY_GRADE[marked], size, unit)
