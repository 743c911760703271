"""Which formats show dates, and what day a serial number is; openpyxl is the oracle."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, from_excel

from rigxl.workbook.dates import Shows, moment, shows, written_moment
from rigxl.workbook.values import CellError


@pytest.mark.parametrize(("number", "code"), sorted(BUILTIN_FORMATS.items()))
def test_built_in_formats(number: int, code: str) -> None:
    """The formats that are known by number are dates exactly where openpyxl says so."""
    assert (shows(number, None) is not Shows.NUMBER) is is_date_format(code)


@pytest.mark.parametrize(
    ("code", "look"),
    [
        ("General", Shows.NUMBER),
        ("0.00", Shows.NUMBER),
        ('0.0 "days"', Shows.NUMBER),
        (r"0.0\ \k\g", Shows.NUMBER),
        ('#,##0.00_);[Red](#,##0.00)', Shows.NUMBER),
        ("0.00E+00", Shows.NUMBER),
        ("##0.0E+0", Shows.NUMBER),
        ("[$-409]#,##0", Shows.NUMBER),
        ('[>=1000]0.0," t";0" kg"', Shows.NUMBER),
        ("# ?/?", Shows.NUMBER),
        ("@", Shows.NUMBER),
        ("dd/mm/yyyy", Shows.DATE),
        ("[$-409]d-mmm-yy;@", Shows.DATE),
        ("mmm", Shows.DATE),
        ("General;dd", Shows.DATE),
        ("[$-411]ge.m.d", Shows.DATE),
        ("d.m.yy h:mm", Shows.DATE),
        ("h:mm AM/PM", Shows.TIME),
        ("[h]:mm:ss", Shows.TIME),
        ("[mm]:ss.0", Shows.TIME),
        ("ss", Shows.TIME),
    ],
)  # fmt: skip
def test_custom_formats(code: str, look: Shows) -> None:
    """Text in quotes, behind a backslash or in brackets is no code."""
    assert shows(164, code) is look


@given(st.floats(1, 2_900_000).filter(lambda serial: not 60 <= serial < 61), st.booleans())
def test_days_as_openpyxl_counts_them(serial: float, date_1904: bool) -> None:
    """Both calendars, to the millisecond."""
    epoch = CALENDAR_MAC_1904 if date_1904 else CALENDAR_WINDOWS_1900
    if date_1904:
        serial -= 1_462 if serial > 1_463 else 0
    ours = moment(serial, Shows.DATE, date_1904)
    theirs = from_excel(serial, epoch)
    assert isinstance(ours, dt.datetime)
    assert isinstance(theirs, dt.datetime)
    assert abs(ours - theirs) <= dt.timedelta(milliseconds=1)


@pytest.mark.parametrize(
    ("serial", "date_1904", "expected"),
    [
        (1.0, False, dt.datetime(1900, 1, 1)),
        (59.0, False, dt.datetime(1900, 2, 28)),
        (60.0, False, "1900-02-29"),
        (61.0, False, dt.datetime(1900, 3, 1)),
        (0.5, False, dt.time(12)),
        (0.0, False, dt.time()),
        (0.0, True, dt.datetime(1904, 1, 1)),
        (1.0, True, dt.datetime(1904, 1, 2)),
        (2_958_465.0, False, dt.datetime(9999, 12, 31)),
    ],
)
def test_edges_of_the_calendars(serial: float, date_1904: bool, expected: object) -> None:
    """The day that never was stays text; serial 1 is 1 January 1900, or 2 January 1904."""
    assert moment(serial, Shows.DATE, date_1904) == expected


@pytest.mark.parametrize("serial", [-1.0, -0.001, 2_958_466.0, 1e15])
def test_outside_the_calendar(serial: float) -> None:
    """What the spreadsheet shows as hashes is an error, no date."""
    assert isinstance(moment(serial, Shows.DATE, False), CellError)


def test_written_moments() -> None:
    """Dates stored as text."""
    assert written_moment("2026-03-04T05:06:07Z") == dt.datetime(2026, 3, 4, 5, 6, 7)
    assert written_moment("2026-03-04") == dt.datetime(2026, 3, 4)
    assert written_moment("05:06") == dt.time(5, 6)
    assert written_moment("3/4") is None
