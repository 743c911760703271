"""Wire rope bent over a pin: what the bend leaves of its strength.

>>> bend_efficiency(4, 1, "yes")
0.75
"""

from __future__ import annotations

import math
from typing import Literal

from rigxl.errors import NotRatedError, OutOfRangeError
from rigxl.mechanics.limits import at_least, positive
from rigxl.tables import FROM_MEMORY, Source
from rigxl.units import Ratio
from rigxl.worksheet import AnyLength, worksheet

BEND_PAGE = Source(
    "marine operations standards for steel wire rope slings",
    place="bending factor, 1 - 0.5 / √(D/d)",
    note=FROM_MEMORY,
)


@worksheet("BENDEFFICIENCY", example=(100, 25, "yes"), answer=0.75, source=BEND_PAGE)
def bend_efficiency(pin: AnyLength, rope: AnyLength, memory: Literal["yes", "no"] = "no") -> Ratio:
    """Share of a wire rope's strength left where it bends over a pin: 1 - 0.5 / √(D/d).

    The printed basket ratings already allow for a bend of D/d 25 or more; this is of the straight rope.

    Args:
        pin: Diameter D of what the rope bends over.
        rope: Diameter d of the rope, in the unit of the pin.
        memory: The equation is only from memory: yes to take it all the same, for a first estimate.

    Refuses: a diameter of 0 or less; a pin thinner than the rope; everything unless memory is yes.

    >>> round(bend_efficiency(250, 10, "yes"), 3)
    0.9
    """
    ratio = positive("pin", pin) / positive("rope", rope)
    if not at_least(ratio, 1):
        raise OutOfRangeError(f"pin is {pin:g} and rope {rope:g}; the pin may not be thinner than the rope")
    if memory != "yes":
        raise NotRatedError(
            f"the bend efficiency is only known from memory ({BEND_PAGE.cited}): ask the rope's maker, or "
            "give yes for memory to take it for a first estimate"
        )
    return 1 - 0.5 / math.sqrt(ratio)
