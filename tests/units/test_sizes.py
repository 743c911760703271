"""Sizes as schedules name them. Common practice, no source, but for the pitches: ISO 261, from memory."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import AmbiguousUnitError, OutOfRangeError, RigxlError, UnknownUnitError, UnreadableError
from rigxl.units import Habits, read_size


@pytest.mark.parametrize(
    ("cell", "unit", "name", "mm"),
    [
        ("3/4", None, "3/4 in", 19.05),
        ('3/4"', None, "3/4 in", 19.05),
        ("¾”", None, "3/4 in", 19.05),
        ("3/4-inch", None, "3/4 in", 19.05),
        ("3/4", "in", "3/4 in", 19.05),
        ("6/8 in", None, "3/4 in", 19.05),
        ("0.75 in", None, "3/4 in", 19.05),
        (0.75, "in", "3/4 in", 19.05),
        ("0,75 in", None, "3/4 in", 19.05),
        ("1-1/4 in", None, "1 1/4 in", 31.75),
        ("1 1/4", None, "1 1/4 in", 31.75),
        (1.25, '"', "1 1/4 in", 31.75),
        ("1¼", None, "1 1/4 in", 31.75),
        ("9/32", None, "9/32 in", 7.14375),
        (2, "in", "2 in", 50.8),
        ("1 ft", None, "12 in", 304.8),
        ("19mm", None, "19 mm", 19.0),
        ("Ø19 mm", None, "19 mm", 19.0),
        ("1.9 cm", None, "19 mm", 19.0),
        ("12,5 mm", None, "12.5 mm", 12.5),
        ("13", "mm", "13 mm", 13.0),
        (13, "mm", "13 mm", 13.0),
        ("M24", None, "M24", 24.0),
        ("m 24", None, "M24", 24.0),
        ("M24", "in", "M24", 24.0),
        ("M24x3", None, "M24", 24.0),
        ("M24 × 3", None, "M24", 24.0),
        ("M24x2", None, "M24x2", 24.0),
        ("M8 x 1,25", None, "M8", 8.0),
        ("2 t", None, "2 t", None),
        (4.75, "t", "4.75 t", None),
        ("1,5 tonnes", None, "1.5 t", None),
        ("2000 kg", None, "2000 kg", None),
    ],
)
def test_sizes(cell: str | float, unit: str | None, name: str, mm: float | None) -> None:
    assert read_size(cell, unit)[:2] == (name, mm)


@pytest.mark.parametrize(
    ("cell", "readings"),
    [
        (datetime.datetime(2024, 1, 2), ["2 Jan", "1/2", "2/1", "'1/2 in'"]),
        (datetime.date(2024, 3, 4), ["4 Mar", "3/4", "4/3", "'3/4 in'"]),
        (datetime.date(2024, 4, 3), ["3 Apr", "4/3", "3/4", "'3/4 in'"]),
        (datetime.date(2016, 3, 1), ["1 Mar", "3/16"]),
        ("2-Jan", ["2-Jan", "1/2", "2/1"]),
        ("Mar-04", ["3/04", "04/3"]),
    ],
)
def test_a_size_that_became_a_date_offers_its_readings(
    cell: str | datetime.date, readings: list[str]
) -> None:
    with pytest.raises(UnreadableError, match="turned into a date") as refusal:
        read_size(cell, "in")
    for reading in readings:
        assert reading in str(refusal.value)


def test_refused_sizes() -> None:
    with pytest.raises(UnreadableError, match="11/16 in or 3/4 in"):
        read_size("0.7 in")
    with pytest.raises(AmbiguousUnitError, match="looks like inches"):
        read_size("3/4", "mm")
    with pytest.raises(AmbiguousUnitError, match="short, long or metric"):
        read_size("5 ton")
    assert read_size("5 ton", None, Habits(ton="short")).name == "5 short ton"
    with pytest.raises(UnknownUnitError):
        read_size("13")
    with pytest.raises(UnknownUnitError):
        read_size("60 deg")
    for cell in ("13(t", "35M", "Ø5 t", "5 yd"):
        with pytest.raises(UnknownUnitError):
            read_size(cell)
    with pytest.raises(UnknownUnitError):
        read_size("Ø5", "t")
    for cell in ("0 mm", "-3/4", "-19 mm", "M0", "1e6 mm"):
        with pytest.raises(OutOfRangeError):
            read_size(cell)
    for cell in ('3/4" x 2"', "3/4-10", "5/4", "3/4 or 7/8", "13-16 mm", "large", datetime.time(3, 4)):
        with pytest.raises(UnreadableError):
            read_size(cell)  # type: ignore[arg-type]


@given(st.integers(1, 64 * 12))
def test_the_name_of_a_size_is_a_way_to_write_it(parts: int) -> None:
    size = read_size(f"{parts / 64} in")
    assert size.mm == pytest.approx(parts * 25.4 / 64, rel=1e-15)
    assert read_size(size.name)[:2] == size[:2]


@given(st.datetimes() | st.dates() | st.times())
def test_no_date_is_ever_a_size(cell: datetime.date) -> None:
    with pytest.raises(RigxlError, match=r"date|time"):
        read_size(cell)
