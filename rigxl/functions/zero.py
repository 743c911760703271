"""Arguments for which 0 is an answer, such as the angle of a shackle loaded in line.

Some programs hand over 0 for a blank cell. Where 0 is refused that is harmless; a host has to look closer at
the arguments named here.
"""

from __future__ import annotations

from rigxl.functions.columns import Refused, answer
from rigxl.functions.described import FunctionSpec


def takes_zero(entry: FunctionSpec) -> tuple[bool, ...]:
    """For each argument of a function whether a number of 0 in it is answered.

    >>> from rigxl.functions import spec
    >>> takes_zero(spec("SHACKLEDERATE")), takes_zero(spec("LEGTENSION"))
    ((True, False), (False, False, False, False))
    """
    return tuple(_answered(entry, at) for at in range(len(entry.arguments)))


def _answered(entry: FunctionSpec, at: int) -> bool:
    if entry.arguments[at].kind == "any":
        return True
    values: list[object] = [*entry.example, *[None] * (len(entry.arguments) - len(entry.example))]
    values[at] = 0.0
    return not isinstance(answer(entry.name, values), Refused)
