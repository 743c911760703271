"""The words in which sheets give verdicts of their own, by what each means: a list to add to."""

from __future__ import annotations

import re
from functools import lru_cache

from rigxl.items import FAIL, HOLD, PASS

_WORDS = {
    PASS: (
        "pass, passed, passes, ok, okay, o k, yes, y, true, acceptable, accepted, accept, adequate, good, "
        "fine, suitable, sufficient, satisfactory, safe, go, compliant, complies, within limits, ✓, ✔"
    ),
    FAIL: (
        "fail, failed, fails, not ok, not okay, no, n, ng, n g, no good, no go, false, unacceptable, not "
        "acceptable, reject, rejected, inadequate, not adequate, unsuitable, not suitable, insufficient, "
        "overload, overloaded, exceeds, exceeded, over, unsafe, not safe, non compliant, too small, ✗, ✘, x"
    ),
    HOLD: "hold, held, check, to check, review, verify, on hold, see note, pending, warning, caution",
}
_BETWEEN = re.compile(r"[^\w✓✔✗✘]+")
LONGEST = 40


@lru_cache(maxsize=1024)
def verdict_in(said: str | bool) -> str | None:
    """PASS, FAIL or HOLD, as a sheet's own word says; None where it says none of them.

    >>> verdict_in("O.K."), verdict_in("No good!"), verdict_in(True), verdict_in("J. Doe")
    ('PASS', 'FAIL', 'PASS', None)
    """
    if isinstance(said, bool):
        return PASS if said else FAIL
    if len(said) > LONGEST:
        return None
    if said.strip() in ("?", "??"):
        return HOLD
    return _MEANING.get(" ".join(_BETWEEN.sub(" ", said.casefold()).split()))


_MEANING = {word.strip(): verdict for verdict, said in _WORDS.items() for word in said.split(",")}
