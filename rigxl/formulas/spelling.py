"""How the worksheet functions are spelt in files, and how each program wants them spelt.

>>> [call.name for call in calls("=_xldudf_RIGXL_LEGTENSION(A1,rigxl.legsneeded(2),60)&\\"RIGXL.NONE(\\"")]
['LEGTENSION', 'LEGSNEEDED']
>>> respelt("='C:\\\\add-ins\\\\rigxl.xlam'!RIGXL_LEGTENSION(A1, 2, 60)", "calc")
'=RIGXL.LEGTENSION(A1, 2, 60)'
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from rigxl.workbook.tokens import UnreadableFormulaError, tokens

HOSTS = {"excel": "_xldudf_RIGXL_{}", "desktop": "RIGXL_{}", "calc": "RIGXL.{}"}
"""What a program writes into its files for a function, by the name of the add-in that brings it there."""

_NAME = re.compile(
    r"\s*(?P<whole>(?:'(?:[^']|'')*'!|\[\d+\][^!]*!|[^!'\[\]]+\.xlam?!)?(?:_xldudf_|_xll\.)?"
    r"RIGXL[._](?P<name>[A-Z]+))",
    re.IGNORECASE | re.ASCII,
)


class Call(NamedTuple):
    """A call of one of our functions: its name in capitals, and where its spelling stands in the formula.

    The name is empty where a name speaks of us in a spelling that nobody uses.
    """

    name: str
    start: int
    end: int


def mentions(formula: str) -> bool:
    """Whether a formula may call us at all."""
    return "rigxl" in formula.lower()


def called(name: str) -> str:
    """The function of ours that a spelling stands for, in capitals; empty for anybody else's.

    >>> called("[2]!_xldudf_RIGXL_LEGTENSION"), called("LEGTENSION")
    ('LEGTENSION', '')
    """
    found = _NAME.fullmatch(name)
    return found["name"].upper() if found else ""


@lru_cache(maxsize=2**16)
def calls(formula: str) -> tuple[Call, ...]:
    """Every call of ours in a formula, in order, nested ones too; texts are no calls.

    Args:
        formula: The formula with its equals sign.

    Raises:
        UnreadableFormulaError: A formula that cannot be taken apart.
    """
    found = []
    if mentions(formula):
        for token in tokens(formula):
            if token.kind == "FUNC" and token.part == "OPEN" and mentions(token.text):
                spelt = _NAME.fullmatch(token.text[:-1])
                if spelt:
                    start, end = spelt.span("whole")
                    found.append(Call(spelt["name"].upper(), token.start + start, token.start + end))
                else:
                    found.append(Call("", token.start, token.start + len(token.text) - 1))
    return tuple(found)


class Respelling(NamedTuple):
    """What to write in place of a stretch of a formula."""

    start: int
    end: int
    new: str


def respellings(formula: str, host: str) -> list[Respelling]:
    """What to change in a formula so that every call of ours is spelt as a program spells it.

    Args:
        formula: The formula with its equals sign.
        host: One of ``HOSTS``.

    Raises:
        UnreadableFormulaError: A formula that cannot be taken apart.
    """
    spelt = ((call, HOSTS[host].format(call.name)) for call in calls(formula) if call.name)
    return [
        Respelling(call.start, call.end, new) for call, new in spelt if formula[call.start : call.end] != new
    ]


def respelt(formula: str, host: str) -> str:
    """A formula with every call of ours as a program spells it; all else stays to the letter.

    Raises:
        UnreadableFormulaError: A formula that cannot be taken apart.
    """
    pieces, at = [], 0
    for start, end, new in respellings(formula, host):
        pieces += [formula[at:start], new]
        at = end
    return "".join([*pieces, formula[at:]])


__all__ = ["HOSTS", "Call", "UnreadableFormulaError", "called", "calls", "mentions", "respellings", "respelt"]
