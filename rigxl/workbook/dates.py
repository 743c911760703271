"""Which number formats show dates, and what day a serial number is."""

from __future__ import annotations

import datetime as dt
import re
from enum import Enum

from rigxl.workbook.values import CellError


class Shows(Enum):
    """What a number format makes of a number."""

    NUMBER = 0
    DATE = 1
    TIME = 2


# ECMA-376-1, 18.8.30: the formats that are known by number alone; 27-36 and 50-58 are East Asian dates.
_BUILT_IN = {
    **dict.fromkeys([14, 15, 16, 17, 22, *range(27, 37), *range(50, 59)], Shows.DATE),
    **dict.fromkeys([18, 19, 20, 21, 45, 46, 47], Shows.TIME),
}
_ELAPSED = re.compile(r"\[(?:h+|m+|s+)\]", re.IGNORECASE)
_NOT_CODE = re.compile(r'"[^"]*"?|\\.|_.|\*.|\[[^\]]*\]', re.DOTALL)
_LAST_SERIAL = 2_958_466  # the day after 31 December 9999
_SHIFT_1904 = 1_462


def shows(number: int, code: str | None) -> Shows:
    """Does a format show a date, a time of day or a number?

    Args:
        number: The format's number in the workbook.
        code: Its code, when the workbook gives one.

    >>> shows(164, 'yyyy-mm-dd').name, shows(164, '[h]:mm').name, shows(164, '0.0 "days"').name
    ('DATE', 'TIME', 'NUMBER')
    """
    if code is None:
        return _BUILT_IN.get(number, Shows.NUMBER)
    bare = _NOT_CODE.sub("", _ELAPSED.sub("h", code)).lower().replace("general", "")
    if any(letter in bare for letter in "dygeb") and not re.search(r"[0#?][ ]*e[+-]", bare):
        return Shows.DATE
    if any(letter in bare for letter in "hs"):
        return Shows.TIME
    return Shows.DATE if "m" in bare else Shows.NUMBER


def moment(serial: float, look: Shows, date_1904: bool) -> dt.datetime | dt.time | str | CellError:
    """The day and time of a serial number, to the millisecond.

    The calendar from 1900 has a 29 February 1900 that never was: serial 60 comes back as the text that
    the spreadsheet shows. A serial without a day is a time. One outside the calendar shows as hashes.
    """
    day, milliseconds = divmod(round(serial * 86_400_000), 86_400_000)
    if not 0 <= day < _LAST_SERIAL - (_SHIFT_1904 if date_1904 else 0):
        return CellError("########")
    clock = dt.timedelta(milliseconds=milliseconds)
    if day == 0 and (look is Shows.TIME or not date_1904):
        return (dt.datetime.min + clock).time()
    if date_1904:
        return dt.datetime(1904, 1, 1) + dt.timedelta(day) + clock
    if day == 60:
        return "1900-02-29"
    return dt.datetime(1899, 12, 31 if day < 60 else 30) + dt.timedelta(day) + clock


def written_moment(text: str) -> dt.datetime | dt.time | None:
    """The moment in a cell that stores its date as text; None when it is no such text."""
    try:
        if "T" not in text and ":" in text:
            return dt.time.fromisoformat(text)
        return dt.datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        return None
