"""Headers and other words: the unit in a header, a row of units, the many ways to say not known.

>>> split_header("Weight in kg")
('Weight', 'kg')
>>> split_header("Weight in total")
('Weight in total', None)
"""

from __future__ import annotations

import re
from functools import lru_cache

from rigxl.units.figures import tidy
from rigxl.units.names import SEVERAL, Several, look_up

_BRACKET = re.compile(r"[(\[{] *(?:in +)?([^()\[\]{}]+?) *[)\]}]")
_TIGHT = re.compile(r"(.*[^\s/_,;:|])[/_,;:|]([^/_,;:|]+)")
_SYMBOL = re.compile(r"(.*[A-Za-z])([°%\"])")
_ENDS_OPEN = ",;:|/-"

# Words of their own, unless a bracket, a comma or "in" makes units of them: Date in, Grade T, Test MT.
_ALSO_WORDS = frozenset({"in", "ins", "foot", "yard", "yards", "k", "mt", "'", "ft'"})
# What comes after one of these is part of the description: load per m, capacity at 60 deg.
_BEFORE_A_FIGURE = frozenset({"per", "at", "to", "of", "by", "a", "an", "x", "@", "<", ">", "=", "and", "or"})

_NOT_KNOWN = frozenset(
    {
        "n/a", "na", "n.a.", "n.a", "n/k", "nk", "#n/a", "not applicable", "not available",
        "tbc", "t.b.c.", "t.b.c", "tba", "t.b.a.", "t.b.a", "tbd", "t.b.d.", "t.b.d", "tbn",
        "unknown", "unk", "not known", "not yet known", "not given", "not stated", "not specified",
        "not sure", "to be confirmed", "to be advised", "to be announced", "to be agreed", "to be determined",
        "to be decided", "to be defined", "to be provided", "to follow",
        "pending", "awaited", "awaiting", "outstanding",
    }
)  # fmt: skip
_ONLY_MARKS = re.compile(r"[-?._…\s]*[-?_…][-?._…\s]*|\.{2,}")


def split_header(text: str) -> tuple[str, str | None]:
    """The words of a header and the unit in it, as spelled there; only units that we know are split off.

    Args:
        text: The header, such as ``WLL (t)``, ``Load, kN`` or ``Weight kg``.
    """
    return _split_header(text) if len(text) <= 200 else (text, None)


@lru_cache(maxsize=2048)
def _split_header(text: str) -> tuple[str, str | None]:
    plain = " ".join(tidy(text).split())
    brackets = [found for found in _BRACKET.finditer(plain) if _known(found[1])]
    if brackets:
        found = brackets[0]
        words = " ".join((plain[: found.start()] + " " + plain[found.end() :]).split()).strip(" ,;:|/-")
        if len(brackets) > 1 or not words or _tail(words)[1]:
            return plain, None
        return words, found[1]
    return _tail(plain)


def is_unit(text: str) -> bool:
    """Whether a cell holds a unit and nothing else, as in a row of units under the header.

    >>> is_unit("(t)"), is_unit("5 t")
    (True, False)
    """
    plain = tidy(text).strip()
    return bool(plain) and _known(plain)


def is_not_known(text: object) -> bool:
    """Whether a cell says that its value is not known, such as N/A, TBC, a dash or a question mark.

    >>> is_not_known("TBC"), is_not_known("0")
    (True, False)
    """
    return isinstance(text, str) and len(text) <= 40 and _says_not_known(text)


@lru_cache(maxsize=2048)
def _says_not_known(text: str) -> bool:
    plain = " ".join(tidy(text).casefold().split()).strip("()[]<>* ")
    return plain in _NOT_KNOWN or _ONLY_MARKS.fullmatch(plain) is not None


def _known(text: str) -> bool:
    """Whether a text names a unit that may stand in a header; # and no. number items there."""
    unit = look_up(text)
    if isinstance(unit, Several):
        return unit is not SEVERAL["#"]
    return unit is not None and unit.measure != "count" and unit.name != "1"


def _tail(plain: str) -> tuple[str, str | None]:
    """The unit at the end of a header without brackets."""
    words = plain.split()
    for length in (3, 2, 1):
        before, unit = words[:-length], " ".join(words[-length:])
        if not before or not _known(unit):
            continue
        if before[-1] == "in" and before[1:]:
            return _one_unit(plain, before[:-1], unit)
        if before[-1][-1] in _ENDS_OPEN:
            return _one_unit(plain, before, unit)
        if _bare_unit_stands(before[-1], unit):
            return _one_unit(plain, before, unit)
        return plain, None
    for pattern in (_TIGHT, _SYMBOL):
        found = pattern.fullmatch(plain)
        if found and _known(found[2]) and found[2] != "in":
            return _one_unit(plain, found[1].split(), found[2])
    return plain, None


def _bare_unit_stands(word: str, unit: str) -> bool:
    """Whether a unit with only a space before it is a unit: not Grade T, nor at 60 deg, nor kg per m."""
    if unit.casefold() in _ALSO_WORDS or (len(unit) == 1 and unit.isupper()):
        return False
    return word.casefold() not in _BEFORE_A_FIGURE and not word[-1].isdigit() and not _known(word)


def _one_unit(plain: str, before: list[str], unit: str) -> tuple[str, str | None]:
    """Words and unit, unless the words end in a unit of their own."""
    words = " ".join(before).rstrip(" ,;:|/-")
    if not words or _tail(words)[1] or _known(words.split()[-1].strip("()[]")):
        return plain, None
    return words, unit
