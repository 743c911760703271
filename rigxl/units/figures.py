"""Figures as people type them: decimal points and commas, groups of three, fractions and mixed numbers.

A figure has one meaning or is refused. Values are exact decimals, so that 5 t and 5000 kg come out equal.
"""

from __future__ import annotations

import re
from decimal import Context, Decimal
from typing import NamedTuple, SupportsFloat

from rigxl.errors import MissingInputError, UnreadableError


class Habits(NamedTuple):
    """What a workbook's criteria declare about its own way of writing; None is undeclared.

    Attributes:
        ton: What a bare ton is: ``short``, ``long`` or ``metric``.
        decimal: The decimal mark: ``point`` or ``comma``.
    """

    ton: str | None = None
    decimal: str | None = None


UNDECLARED = Habits()


class Figure(NamedTuple):
    """A number, what stood behind it, and whether it was written as a fraction."""

    value: Decimal
    rest: str
    fraction: bool


# Own context: sums must not depend on the caller's, and nothing here may raise from inside decimal.
EXACT = Context(prec=40, traps=[])

LONGEST_CELL = 80

_LOOKALIKES = str.maketrans(
    {
        **dict.fromkeys(
            "\u00a0\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000", " "
        ),
        **dict.fromkeys("\u200b\u200e\u200f\u2060\ufeff", None),
        **dict.fromkeys("‐‑‒–—−﹣－", "-"),
        **dict.fromkeys("‘’′´ʹ`", "'"),
        **dict.fromkeys("“”″ʺ", '"'),
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("×✕", "x"),
        "％": "%",
        "（": "(",
        "）": ")",
        "℃": "°C",
        "℉": "°F",
        "½": " 1/2",
        "⅓": " 1/3",
        "⅔": " 2/3",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
    }
)

_START = re.compile(
    r"(?P<sign>[+-]?)"
    r"(?:(?:(?P<whole>[0-9]{1,4})(?: ?- ?| {1,2}))?(?P<top>[0-9]{1,2})/(?P<bottom>[0-9]{1,2})(?![0-9./,])"
    r"|(?P<figure>[0-9.,](?:[0-9., ']*[0-9])?)(?P<power>[eE][+-]?[0-9]{1,2})?(?![0-9.,/]))"
)
_GROUPS = r"(?:[0-9]+|[1-9][0-9]{0,2}(?P<group>[ '%s])[0-9]{3}(?:(?P=group)[0-9]{3})*)?(?:\%s[0-9]+)?"
_POINT = re.compile(_GROUPS % (",", "."))
_COMMA = re.compile(_GROUPS % (".", ","))
_DROP_GROUPS_AND_COMMAS = str.maketrans({" ": None, "'": None, ",": None})
_DROP_GROUPS_AND_POINTS = str.maketrans({" ": None, "'": None, ".": None, ",": "."})
_BOTTOMS = frozenset({2, 3, 4, 8, 16, 32, 64})


def tidy(text: str) -> str:
    """The text with look-alike spaces, dashes, quotes and fractions made plain."""
    return text if text.isascii() else text.translate(_LOOKALIKES)


def number(cell: object) -> Decimal:
    """A numeric cell as the decimal that it shows."""
    if cell is None:
        raise MissingInputError("nothing is given: write a number with its unit")
    if isinstance(cell, bool) or not isinstance(cell, float | int | SupportsFloat):
        raise UnreadableError(
            f"{str(cell)[:LONGEST_CELL]!r} is not a number: type the value again as a number or text"
        )
    try:
        value = Decimal(repr(float(cell)))
    except (OverflowError, ValueError):
        value = Decimal("NaN")
    if not value.is_finite():
        raise UnreadableError(f"{str(cell)[:20]!r} is not a plain number: type the value again")
    return value


def split_figure(text: str, habits: Habits) -> Figure | None:
    """The figure that a text begins with, and the rest; None when it does not begin with one.

    Args:
        text: A tidy text without outer spaces.
        habits: Which decimal mark the criteria declare.
    """
    found = _START.match(text)
    if found is None:
        return None
    sign, whole, top, bottom, figure, power = found.groups()
    value = _fraction(text, whole, top, bottom) if top else _decimal(text, figure, habits)
    if power:
        value = value.scaleb(int(power[1:]), EXACT)
    return Figure(value.copy_negate() if sign == "-" else value, text[found.end() :].strip(), bool(top))


def _fraction(text: str, whole: str | None, top: str, bottom: str) -> Decimal:
    """A proper fraction with a denominator from a rule or a tape, with whole numbers before it."""
    if int(bottom) not in _BOTTOMS or not 0 < int(top) < int(bottom):
        raise UnreadableError(
            f"{text!r} is not one plain value: write a fraction such as 3/4 or 1 1/4, or a decimal"
        )
    return EXACT.add(Decimal(whole or 0), EXACT.divide(Decimal(top), Decimal(bottom)))


def _decimal(text: str, figure: str, habits: Habits) -> Decimal:
    if figure.isdigit():
        return Decimal(figure)
    point = habits.decimal != "comma" and _POINT.fullmatch(figure)
    comma = habits.decimal != "point" and _COMMA.fullmatch(figure)
    if point and comma and "," in figure:
        as_point, as_comma = figure.replace(",", ""), figure.replace(",", ".")
        raise UnreadableError(
            f"{text!r} could be {as_point} or {as_comma}: write it without the comma, "
            "or state in the criteria whether the decimal mark is a point or a comma"
        )
    if point:
        return Decimal(figure.translate(_DROP_GROUPS_AND_COMMAS))
    if comma:
        return Decimal(figure.translate(_DROP_GROUPS_AND_POINTS))
    declared = f" with the decimal {habits.decimal} that the criteria declare" if habits.decimal else ""
    raise UnreadableError(f"{text!r} is not one plain value{declared}: write a number such as 1250 or 5.5")
