"""A date typed as text: taken when it has one reading, refused when it has two.

>>> read_day("4 Mar 2026") == read_day("2026-03-04") == read_day("March 4, 2026")
True
"""

from __future__ import annotations

import datetime as dt
import re

from rigxl.errors import UnreadableError

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_FULL = re.compile(
    "jan(uary)?|feb(ruary)?|mar(ch)?|apr(il)?|may|june?|july?|aug(ust)?|sept?(ember)?|oct(ober)?|nov(ember)?|"
    "dec(ember)?"
)
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?Z?)?")
_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/. ]+([a-z]+)\.?[-/., ]+(\d{4})", re.IGNORECASE)
_MONTH_FIRST = re.compile(r"([a-z]+)\.?[-/. ]+(\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\d{4})", re.IGNORECASE)
_FIGURES = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4})")
_REMEDY = "write one such as 2026-03-04 or 4 Mar 2026"


def read_day(text: str) -> dt.date:
    """The date a text names.

    Raises:
        UnreadableError: It is no date, has no full year, or its day and month could be either way round.
    """
    said = " ".join(text.split())
    try:
        if found := _ISO.fullmatch(said):
            return dt.date(int(found[1]), int(found[2]), int(found[3]))
        if found := _DAY_FIRST.fullmatch(said):
            return dt.date(int(found[3]), _month(found[2]), int(found[1]))
        if found := _MONTH_FIRST.fullmatch(said):
            return dt.date(int(found[3]), _month(found[1]), int(found[2]))
        if found := _FIGURES.fullmatch(said):
            return _either_way(said, int(found[1]), int(found[3]), int(found[4]))
    except ValueError:
        raise UnreadableError(f"'{said}' is not a day of the calendar: {_REMEDY}") from None
    raise UnreadableError(f"'{said}' is not a date that can be read: {_REMEDY}")


def _month(word: str) -> int:
    name = word.lower()
    if _FULL.fullmatch(name):
        return _MONTHS.index(name[:3]) + 1
    raise ValueError(word)


def _either_way(said: str, first: int, second: int, year: int) -> dt.date:
    """Day and month in figures: one of them over 12, or both alike, leaves one reading."""
    if first != second and first <= 12 and second <= 12:
        one, other = dt.date(year, second, first), dt.date(year, first, second)
        raise UnreadableError(f"'{said}' could be {one} or {other}: write it that way")
    return dt.date(year, second, first) if second <= 12 else dt.date(year, first, second)
