"""Wear of any piece of hardware: how much of a section may be gone.

>>> wear_verdict(20, 18), wear_verdict(20, 17.9)
('PASS', 'FAIL')
"""

from __future__ import annotations

from rigxl.errors import OutOfRangeError
from rigxl.items import FAIL, PASS
from rigxl.mechanics.limits import at_most, positive
from rigxl.tables import Source
from rigxl.worksheet import AnyLength, worksheet

WEAR_PAGE = Source("WAC 296-155-33900", place="Table 19, dimension reduced by 10 % at any point")
MOST_WORN = 0.10


def _why(original: float, measured: float) -> str:
    worn = 1 - measured / original
    limit = "within" if at_most(worn, MOST_WORN) else "over"
    return f"worn by {worn:.3%} of the original {original:g}, {limit} the {MOST_WORN:.0%} allowed"


@worksheet("WEARVERDICT", example=(20, 18.5), answer="PASS", source=WEAR_PAGE, why=_why)
def wear_verdict(original: AnyLength, measured: AnyLength) -> str:
    """Whether wear has left enough of a section, at most 10 % of the original gone: PASS or FAIL.

    Args:
        original: Dimension of the section when it was new, such as the diameter of a pin.
        measured: The same dimension now, at its thinnest, in the unit of the original.

    Refuses: a dimension of 0 or less; one that is over the original.

    >>> wear_verdict(1.5, 1.3)
    'FAIL'
    """
    new, now = positive("original", original), positive("measured", measured)
    if not at_most(now, new):
        raise OutOfRangeError(f"measured is {now:g}, over the original {new:g}: measure both again")
    return PASS if at_most(1 - now / new, MOST_WORN) else FAIL
