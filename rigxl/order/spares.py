"""How many spares: a percentage as typed, taken exactly, so that a tenth of 30 is 3 and never 4.

>>> read_spares("10 %"), read_spares("2.5%"), read_spares("0%")
(Fraction(1, 10), Fraction(1, 40), Fraction(0, 1))
"""

from __future__ import annotations

import re
from fractions import Fraction

from rigxl.errors import InputError

_PERCENT = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,4})?) ?%")
MOST = 1


def read_spares(text: str) -> Fraction:
    """The share of spares for each piece.

    Raises:
        InputError: No plain percentage from 0 % to 100 %.
    """
    found = _PERCENT.fullmatch(text.strip())
    if found is None:
        raise InputError(f"--spares '{text}': write a percentage such as 10%, with its sign")
    share = Fraction(found[1].replace(",", ".")) / 100
    if share > MOST:
        raise InputError(f"--spares '{text}': more spares than pieces; write a percentage from 0% to 100%")
    return share
