"""Spreader bars and lifting beams: what the load makes of them, as figures for an enquiry.

No figure here rates a device: that is for its engineer. The tension of a spreader's top legs is that of a
bridle of two, in ``legs``.
"""

from __future__ import annotations

import math

from rigxl.errors import OutOfRangeError
from rigxl.mechanics.angles import angle_from_horizontal
from rigxl.mechanics.limits import positive, result
from rigxl.units import Angle, Force
from rigxl.worksheet import AnyForce, AsLoad, worksheet


@worksheet("SPREADERCOMPRESSION", example=(10, 45), answer=5.0)
def spreader_compression(load: AnyForce, angle: Angle) -> AsLoad:
    """Compression in a spreader bar between two top legs: load / (2 × tan(angle)).

    Holds for a bar as long as the picks are apart, so that its lower slings hang plumb.

    Args:
        load: Load on the two top legs: the load, what hangs below the bar, and the bar itself.
        angle: Angle of the top legs from horizontal.

    Refuses: a load of 0 or less; an angle of 0 or less or over 90 degrees.

    Source: plain statics, the balance of forces at the end of the bar.

    >>> round(spreader_compression(10, 45), 9)
    5.0
    """
    slope = angle_from_horizontal("angle", angle)
    if slope < 1e-6:
        raise OutOfRangeError("angle is so near 0 degrees that the compression has no limit")
    return result("compression", positive("load", load) / 2 / math.tan(math.radians(slope)))


def beam_moment(load: float, span: float) -> float:
    """The moment at the middle of a beam on one central pick, half the load at each end: load · span / 4.

    Each end is span / 2 from the pick and carries load / 2.

    Args:
        load: The whole load on the beam, in N.
        span: The distance between its two lower picks, in mm; the moment is in N·mm.

    >>> beam_moment(1000, 2000)
    500000.0
    """
    return result("moment", positive("load", load) * positive("span", span) / 4)


def beam_shear(load: float) -> Force:
    """The shear in either arm of such a beam: load / 2."""
    return positive("load", load) / 2
