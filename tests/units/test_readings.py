"""Cells as people type them. Values are worked by hand from the exact definitions in NIST SP 811 (2008)."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl import units
from rigxl.errors import (
    AmbiguousUnitError,
    MissingInputError,
    OutOfRangeError,
    RigxlError,
    UnknownUnitError,
    UnreadableError,
)
from rigxl.units import Habits, readings

GRAVITY = 9.80665
POUND_FORCE = 4.4482216152605

READERS = [
    units.read_force,
    units.read_length,
    units.read_angle,
    units.read_temperature,
    units.read_ratio,
    units.read_count,
    units.read_size,
]


@pytest.mark.parametrize(
    ("cell", "mm"),
    [
        ('1-1/4"', 31.75),
        ("1 1/4 in", 31.75),
        ("1¼ in", 31.75),
        ("1 ¼ in", 31.75),
        ("1-¼”", 31.75),
        ("3/4-inch", 19.05),
        ('5"', 127.0),
        ("5''", 127.0),
        ("5'", 1524.0),
        ("5'-6\"", 1676.4),
        ("5’–6″", 1676.4),
        ("5'6", 1676.4),
        ("5 ft 6 in", 1676.4),
        ("5ft-6in", 1676.4),
        ("5 feet 6 inches", 1676.4),
        ("5' 6 1/2\"", 1689.1),
        ("5'-6½\"", 1689.1),
        ("0' 0\"", 0.0),
        ("2,5 m", 2500.0),
        ("1'250 mm", 1250.0),
        ("25 MM", 25.0),
        ("10-ft", 3048.0),
        ("2 yd", 1828.8),
    ],
)
def test_lengths(cell: str, mm: float) -> None:
    assert units.read_length(cell).value == mm
    assert units.read_length(cell).said == cell


@pytest.mark.parametrize(
    ("cell", "newtons", "unit"),
    [
        ("5,5 t", 5500 * GRAVITY, "t"),
        ("0,5 t", 500 * GRAVITY, "t"),
        ("0,250 t", 250 * GRAVITY, "t"),
        ("1 250 kg", 12258.3125, "kg"),
        ("1'250 kg", 12258.3125, "kg"),
        ("1’250 kg", 12258.3125, "kg"),
        ("1\u00a0250 kg", 12258.3125, "kg"),
        ("1\u202f250\u00a0kg", 12258.3125, "kg"),
        ("1\u2009250 kg", 12258.3125, "kg"),
        ("1.250,5 kg", 12263.215825, "kg"),
        ("1,250.5 kg", 12263.215825, "kg"),
        ("1.250 kg", 12.2583125, "kg"),
        ("1,250,000 kg", 12258312.5, "kg"),
        ("1.250.000 kg", 12258312.5, "kg"),
        ("1.25e3 kg", 12258.3125, "kg"),
        (".5 t", 4903.325, "t"),
        ("1/2 t", 4903.325, "t"),
        ("5 kn", 5000.0, "kN"),
        ("5 KN", 5000.0, "kN"),
        ("5 kip", 5000 * POUND_FORCE, "kip"),
        ("5 klb", 5000 * POUND_FORCE, "kip"),
        ("5 klbs", 5000 * POUND_FORCE, "kip"),
        ("5000 lb", 5000 * POUND_FORCE, "lb"),
        ("5 KG", 49.03325, "kg"),
        ("5 Kg", 49.03325, "kg"),
        ("5kgs", 49.03325, "kg"),
        ("5 LB", 22.2411080763025, "lb"),
        ("5 LBS.", 22.2411080763025, "lb"),
        ("5 lbm", 22.2411080763025, "lb"),
        ("5 lbf", 22.2411080763025, "lbf"),
        ("5 te", 49033.25, "t"),
        ("5 Tonnes", 49033.25, "t"),
        ("5 metric tons", 49033.25, "t"),
        ("5 tf", 49033.25, "tf"),
        ("5 short tons", 44482.216152605, "short ton"),
        ("5 U.S. tons", 44482.216152605, "short ton"),
        ("5 net ton", 44482.216152605, "short ton"),
        ("5 long ton", 49820.0820909176, "long ton"),
        ("5 UK tons", 49820.0820909176, "long ton"),
        ("5 daN", 50.0, "daN"),
        ("5 MN", 5_000_000.0, "MN"),
        ("5 N", 5.0, "N"),
        ("5 kgf", 49.03325, "kgf"),
    ],
)
def test_loads(cell: str, newtons: float, unit: str) -> None:
    """One rounding only: the product of the exact decimals, then a float."""
    reading = units.read_force(cell)
    assert reading.value == newtons
    assert reading.unit == unit
    assert reading.by_gravity == (unit in {"t", "kg", "lb", "short ton", "long ton"})


@pytest.mark.parametrize("cell", ["−5 t", "–5 t", "-5 t", "-0.1 kN"])
def test_a_negative_load_is_refused(cell: str) -> None:
    with pytest.raises(OutOfRangeError, match="negative"):
        units.read_force(cell)


@pytest.mark.parametrize(
    "cell",
    [
        "5±0.1 t", "<=5 t", "~5 t", "5 kg; 6 kg", "5-6 t", "5–6 t", "5/6 t", "5 t or 6 t", "5 t?", "5. t",
        "5\n250 kg", "5 t (11000 lb)", "1 25 kg", "12 34 t", "1,25,000 kg", "1,250.000,5 kg", "5 -t", "t 5",
        "(5 t)", "١ t", "5/4 t", "1/0 t", "1e400 t", "#REF!", "x" * 5000,
    ],
)  # fmt: skip
def test_not_one_plain_value(cell: str) -> None:
    with pytest.raises(UnreadableError, match=r"one (plain )?value"):
        units.read_force(cell)


@pytest.mark.parametrize("cell", ["5 T", "5 ton", "5 tons", "5 Ton", "5 TON", "5-ton", "5 tonf"])
def test_a_bare_ton_is_never_guessed(cell: str) -> None:
    with pytest.raises(AmbiguousUnitError, match=r"'.*' could be short, long or metric tons.*criteria"):
        units.read_force(cell)


@pytest.mark.parametrize("cell", ["5 MT", "5 mt", "5 Mt", "5 k", "5 K", "5 #", "5 cwt"])
def test_a_unit_of_two_meanings(cell: str) -> None:
    with pytest.raises(AmbiguousUnitError, match=f"{cell!r} could be"):
        units.read_force(cell)


@pytest.mark.parametrize(
    ("ton", "unit", "newtons"),
    [
        ("short", "short ton", 8896.443230521),
        ("long", "long ton", 9964.01641818352),
        ("metric", "t", 9806.65),
    ],
)
@pytest.mark.parametrize("spelling", ["T", "ton", "tons", "Ton", "TON"])
def test_the_criteria_say_what_a_ton_is(ton: str, unit: str, newtons: float, spelling: str) -> None:
    assert units.read_force(f"1 {spelling}", None, Habits(ton=ton))[:3] == (newtons, unit, True)
    assert units.read_force(1, spelling, Habits(ton=ton)).unit == unit


def test_mt_is_a_metric_ton_only_where_a_ton_is_metric() -> None:
    assert units.read_force("1 MT", None, Habits(ton="metric")).unit == "t"
    for ton in ("short", "long", "nonsense", None):
        with pytest.raises(AmbiguousUnitError):
            units.read_force("1 MT", None, Habits(ton=ton))


@pytest.mark.parametrize(
    ("cell", "point", "comma"),
    [
        ("1,250 kg", 1250, 1.25),
        ("10,000 lb", 10000, 10),
        ("1.250 kg", 1.25, 1250),
        ("1,250.5 kg", 1250.5, None),
        ("1.250,5 kg", None, 1250.5),
        ("5,5 kg", None, 5.5),
        ("5.5 kg", 5.5, None),
        ("1 250 kg", 1250, 1250),
        ("1250 kg", 1250, 1250),
    ],
)
def test_the_criteria_say_what_a_comma_is(cell: str, point: float | None, comma: float | None) -> None:
    for mark, value in (("point", point), ("comma", comma)):
        habits = Habits(decimal=mark)
        if value is None:
            with pytest.raises(UnreadableError, match=f"decimal {mark}"):
                units.read_force(cell, None, habits)
        else:
            assert (
                units.read_force(cell, None, habits).value == units.read_force(value, cell.split()[-1]).value
            )


@pytest.mark.parametrize("cell", ["1,250 kg", "10,000 lb", "999,999 kg"])
def test_an_undeclared_comma_before_three_figures(cell: str) -> None:
    with pytest.raises(UnreadableError, match=r"could be .* or .*point or a comma"):
        units.read_force(cell)


@pytest.mark.parametrize(
    ("cell", "unit", "newtons"),
    [
        (5, "t", 49033.25),
        (5.0, "(t)", 49033.25),
        ("5", "kN", 5000.0),
        ("5 kg", "tons", 49.03325),
        ("5 kN", "no such unit", 5000.0),
    ],
)
def test_the_header_serves_a_bare_number_only(cell: str | float, unit: str, newtons: float) -> None:
    assert units.read_force(cell, unit).value == newtons


@pytest.mark.parametrize("cell", [5, 5.0, "5", "5.5"])
@pytest.mark.parametrize(
    "read", [units.read_force, units.read_length, units.read_temperature, units.read_size]
)
def test_a_bare_number_needs_a_unit(read: Any, cell: str | float) -> None:
    with pytest.raises(UnknownUnitError, match=r"^5(\.5)? has no unit: .*header"):
        read(cell)


def test_units_of_another_kind_and_of_no_kind() -> None:
    for cell in ("5 mm", "60 C", "60°", "25 %"):
        with pytest.raises(UnknownUnitError, match="not the unit of a load"):
            units.read_force(cell)
    for cell in ("5 foo", "5 mN", "5 kg/m", "5 N/A", "5 t max"):
        with pytest.raises(UnknownUnitError, match="nobody defined"):
            units.read_force(cell)
    with pytest.raises(UnknownUnitError):
        units.read_force(5, "furlongs per fortnight")


@pytest.mark.parametrize("cell", ["N/A", "n/a", "-", "–", "TBC", "TBA", "?", "", "   ", None])
@pytest.mark.parametrize("read", READERS)
def test_not_known_is_never_zero(read: Any, cell: Any) -> None:
    with pytest.raises(MissingInputError):
        read(cell, "t")


@pytest.mark.parametrize(
    "cell",
    [
        True,
        False,
        float("nan"),
        float("inf"),
        10**400,
        datetime.date(2024, 1, 2),
        datetime.time(1, 2),
        b"5 t",
        5j,
    ],
)
@pytest.mark.parametrize("read", READERS)
def test_cells_that_are_no_numbers(read: Any, cell: Any) -> None:
    with pytest.raises(UnreadableError):
        read(cell, "t")


def test_a_truth_value_does_not_pass_for_a_number_read_before() -> None:
    assert units.read_force(1, "t").value == 9806.65
    with pytest.raises(UnreadableError):
        units.read_force(True, "t")


def test_feet_and_inches_from_the_header() -> None:
    assert units.read_length("5-6", "ft-in").value == 1676.4
    assert units.read_length("5-6 1/2", "ft-in").value == 1689.1
    assert units.read_length("25 mm", "ft-in").value == 25.0
    for cell in (5, 5.6, "5", "5.6", "3/4"):
        with pytest.raises(AmbiguousUnitError, match="ft-in"):
            units.read_length(cell, "ft-in")
    for cell, unit in (("5-13", "ft-in"), ("5'-12\"", None), ("5-6", "mm"), ("5' x 6'", None)):
        with pytest.raises(UnreadableError):
            units.read_length(cell, unit)


@pytest.mark.parametrize("cell", ["60°", "60 deg", "60º", "60 Deg", "60 degrees", "60", 60, 60.0])
def test_angles(cell: str | float) -> None:
    assert units.read_angle(cell)[:2] == (60.0, "deg")


def test_a_negative_zero_is_zero() -> None:
    assert str(units.read_angle("-0").value) == str(units.read_force(-0.0, "t").value) == "0.0"


def test_angles_in_radians_and_out_of_range() -> None:
    assert units.read_angle("1.05 rad").value == pytest.approx(60.16056848873644, rel=1e-15)
    assert units.read_angle(0.5, "rad").value == pytest.approx(28.64788975654116, rel=1e-15)
    for cell in ("-5", "361", "7 rad", -0.1):
        with pytest.raises(OutOfRangeError):
            units.read_angle(cell)


@pytest.mark.parametrize(
    ("cell", "celsius"),
    [
        ("60 C", 60),
        ("60 °C", 60),
        ("60℃", 60),
        ("-20 degC", -20),
        ("140 F", 60),
        ("-40 °F", -40),
        ("32 Deg F", 0),
    ],
)
def test_temperatures(cell: str, celsius: float) -> None:
    assert units.read_temperature(cell).value == celsius


def test_temperatures_that_cannot_be() -> None:
    assert units.read_temperature(140, "°F").value == 60
    with pytest.raises(OutOfRangeError, match=r"-273\.15"):
        units.read_temperature("-460 F")
    with pytest.raises(UnknownUnitError):
        units.read_temperature("60°")


def test_ratios() -> None:
    for cell, unit, ratio in (
        (0.25, None, 0.25), ("25 %", None, 0.25), ("25%", "%", 0.25), (1.25, None, 1.25), (25, "%", 0.25),
        ("0.5 %", "%", 0.005), ("80 percent", None, 0.8), ("5:1", None, 5.0), ("0,25", None, 0.25),
    ):  # fmt: skip
        assert units.read_ratio(cell, unit).value == ratio
    with pytest.raises(AmbiguousUnitError, match=r"0\.25 % or 25 %"):
        units.read_ratio(0.25, "%")
    with pytest.raises(OutOfRangeError):
        units.read_ratio("-5 %")


@pytest.mark.parametrize(
    "cell", ["2", 2, 2.0, "2 no", "2 No.", "2 off", "2 legs", "2-leg", "two", "Two legs", "2 pcs", "2x"]
)
def test_counts(cell: str | float) -> None:
    assert units.read_count(cell)[:2] == (2.0, "count")


@pytest.mark.parametrize("cell", ["2.5", 2.5, "1/2", "2-3", "x", "twofold"])
def test_not_counts(cell: str | float) -> None:
    with pytest.raises(UnreadableError):
        units.read_count(cell)


def read_or_refuse(read: Any, cell: str | float, unit: str | None) -> Any:
    """What was read, or None for one of our own refusals; any other exception fails the test."""
    try:
        return read(cell, unit)
    except RigxlError:
        return None


@given(st.text(max_size=30), st.none() | st.text(max_size=8))
def test_any_text_is_read_or_refused(cell: str, unit: str | None) -> None:
    for read in READERS:
        result = read_or_refuse(read, cell, unit)
        assert result is None or result.said == cell


TYPED = st.text(alphabet="0123456789.,'\"/- −¼½±°%()tkgNlbmfincTMx#eE\u00a0", max_size=14)


@given(TYPED, st.sampled_from([None, "t", "tons", "mm", "in", "ft-in", "%", "rad", "°F", "pcs"]))
def test_anything_made_of_figures_and_units_is_read_or_refused(cell: str, unit: str | None) -> None:
    for read in READERS:
        result = read_or_refuse(read, cell, unit)
        assert result is None or result.said == cell


@given(
    st.floats(allow_nan=True, allow_infinity=True) | st.integers(),
    st.sampled_from([None, "t", "in", "deg", "%"]),
)
def test_any_number_is_read_or_refused(cell: float, unit: str | None) -> None:
    for read in READERS:
        result = read_or_refuse(read, cell, unit)
        assert result is None or float(result.said) == pytest.approx(cell, rel=1e-14, abs=1e-300)


@given(st.integers(0, 10**9), st.integers(0, 999))
def test_every_way_to_write_a_number_is_the_same_number(whole: int, thousandths: int) -> None:
    rest = f"{thousandths:03}"
    grouped = f"{whole:,}"
    plain = units.read_force(f"{whole}.{rest} kg").value
    point, comma = Habits(decimal="point"), Habits(decimal="comma")
    for mark in (" ", "'", "\u00a0"):
        assert units.read_force(f"{grouped.replace(',', mark)}.{rest} kg").value == plain
        assert units.read_force(f"{grouped.replace(',', mark)},{rest} kg", None, comma).value == plain
    assert units.read_force(f"{grouped}.{rest} kg", None, point).value == plain
    assert units.read_force(f"{grouped.replace(',', '.')},{rest} kg", None, comma).value == plain


@given(st.integers(0, 99), st.integers(0, 11), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data())
def test_feet_inches_and_fractions(feet: int, inches: int, bottom: int, data: st.DataObject) -> None:
    top = data.draw(st.integers(1, bottom - 1))
    expected = ((feet * 12 + inches) * bottom + top) * 25.4 / bottom
    for text in (f"{feet}'-{inches} {top}/{bottom}\"", f"{feet} ft {inches}-{top}/{bottom} in"):
        assert units.read_length(text).value == pytest.approx(expected, rel=1e-15)


def test_the_cache_is_bounded_and_keeps_no_refusals() -> None:
    for index in range(9000):
        units.read_force(f"{index} kg")
    held = readings._read.cache_info()
    assert held.maxsize is not None
    assert held.currsize <= held.maxsize
    with pytest.raises(UnreadableError):
        units.read_force("x" * 30000)
    assert readings._read.cache_info().currsize == held.currsize
