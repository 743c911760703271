"""REASON: the sentence behind a verdict, a number or an error, so that a cell can say why."""

from __future__ import annotations

from rigxl.functions.columns import Refused, answer
from rigxl.functions.described import typed
from rigxl.worksheet import worksheet


@worksheet(
    "REASON",
    example=("CAPACITYVERDICT", 8, 10, 0.25),
    answer="PASS: rated 10, at least the 10 required: force 8 / derate 1 × (1 + design margin 0.25)",
    source="the source of the function that is named",
)
def reason(
    of: str,
    first: object = None,
    second: object = None,
    third: object = None,
    fourth: object = None,
    fifth: object = None,
    sixth: object = None,
    seventh: object = None,
    eighth: object = None,
) -> str:
    """Sentence behind what a function gives: why a verdict, why an error, how a number came about.

    Args:
        of: Name of the function, such as LEGTENSION or CAPACITYVERDICT.
        first: Its first argument; then the others in their order.
        second: Its second argument.
        third: Its third argument.
        fourth: Its fourth argument.
        fifth: Its fifth argument.
        sixth: Its sixth argument.
        seventh: Its seventh argument.
        eighth: Its eighth argument.

    Refuses: a name that is no function.

    >>> reason("LEGTENSION", 10, 2, 0)
    'LEGTENSION: angle is 0 degrees; it must be above 0 and at most 90 degrees from horizontal'
    """
    from rigxl.functions import spec
    from rigxl.functions.reading import read

    entry = spec(of)
    given = [first, second, third, fourth, fifth, sixth, seventh, eighth]
    while given and given[-1] is None:
        given.pop()
    if entry.function is reason:
        return entry.help
    found = answer(entry.name, given)
    if isinstance(found, Refused):
        return found.sentence
    assert not isinstance(found, list)
    if entry.why is not None:
        values = [
            each.default if value is None else read(each, value)
            for each, value in zip(entry.arguments, given, strict=False)
        ]
        shown = ("FALSE", "TRUE")[found] if isinstance(found, bool) else found
        return f"{shown}: {entry.why(*values)}"
    result = f"{found:.12g}" if isinstance(found, float | int) else found
    return f"{typed(entry.name, given)} = {result}: {entry.help} Source: {entry.source}"
