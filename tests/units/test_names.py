"""Unit names and factors, with pint's own registry as the judge of every factor."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl import units
from rigxl.errors import AmbiguousUnitError, RigxlError, UnknownUnitError
from rigxl.units import FORCE_UNITS, LENGTH_UNITS, TORQUE_UNITS, Habits
from rigxl.units.names import SEVERAL, UNITS, look_up

IN_PINT = {
    "N": "newton", "daN": "decanewton", "kN": "kilonewton", "MN": "meganewton", "kgf": "kilogram_force",
    "tf": "1000 * kilogram_force", "lbf": "pound_force", "kip": "kip", "short ton-force": "US_ton_force",
    "long ton-force": "UK_ton_force", "g": "gram", "kg": "kilogram", "t": "metric_ton", "oz": "ounce",
    "lb": "pound", "short ton": "short_ton", "long ton": "long_ton", "mm": "millimeter", "cm": "centimeter",
    "m": "meter", "in": "inch", "ft": "foot", "yd": "yard", "N·m": "newton * meter",
    "ft·lb": "foot * pound_force", "in·lb": "inch * pound_force",
}  # fmt: skip

# Twelve figures: pint multiplies floats, so its own last figures are rounded.
SAME = 1e-12


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


def newtons(registry: pint.UnitRegistry[float], value: float, unit: str) -> float:
    quantity = value * registry(IN_PINT[unit])
    if quantity.check("[mass]"):
        quantity = quantity * registry("standard_gravity")
    return float(quantity.to("newton").magnitude)


def test_pint_judges_every_unit() -> None:
    assert set(IN_PINT) == set(FORCE_UNITS) | set(LENGTH_UNITS) | set(TORQUE_UNITS)


@pytest.mark.parametrize("unit", FORCE_UNITS)
@given(value=st.floats(1e-3, 1e7))
def test_forces_as_pint_has_them(registry: pint.UnitRegistry[float], unit: str, value: float) -> None:
    expected = newtons(registry, value, unit)
    assert units.read_force(value, unit).value == pytest.approx(expected, rel=SAME)
    assert units.read_force(f"{value!r} {unit}").value == pytest.approx(expected, rel=SAME)
    assert units.to_unit(expected, unit) == pytest.approx(value, rel=SAME)
    assert value * FORCE_UNITS[unit] == pytest.approx(expected, rel=SAME)


@pytest.mark.parametrize("unit", LENGTH_UNITS)
@given(value=st.floats(1e-3, 1e7))
def test_lengths_as_pint_has_them(registry: pint.UnitRegistry[float], unit: str, value: float) -> None:
    expected = (value * registry(IN_PINT[unit])).to("millimeter").magnitude
    assert units.read_length(value, unit).value == pytest.approx(expected, rel=SAME)
    assert value * LENGTH_UNITS[unit] == pytest.approx(expected, rel=SAME)


@pytest.mark.parametrize("unit", TORQUE_UNITS)
@given(value=st.floats(1e-3, 1e7))
def test_torques_as_pint_has_them(registry: pint.UnitRegistry[float], unit: str, value: float) -> None:
    expected = (value * registry(IN_PINT[unit])).to("newton * millimeter").magnitude
    assert units.read_torque(value, unit).value == pytest.approx(expected, rel=SAME)
    assert units.read_torque(f"{value!r} {unit}").value == pytest.approx(expected, rel=SAME)
    assert value * TORQUE_UNITS[unit] == pytest.approx(expected, rel=SAME)


@given(st.floats(0, 360), st.floats(-200, 2000))
def test_angles_and_temperatures_as_pint_has_them(
    registry: pint.UnitRegistry[float], degrees: float, fahrenheit: float
) -> None:
    radians = registry.Quantity(degrees, "degree").to("radian").magnitude
    if radians <= 6.283:
        assert units.read_angle(radians, "rad").value == pytest.approx(degrees, rel=SAME)
    celsius = registry.Quantity(fahrenheit, "degF").to("degC").magnitude
    # A temperature near 0 °C is a difference of larger numbers in pint: 1e-12 of the kelvin scale.
    assert units.read_temperature(fahrenheit, "°F").value == pytest.approx(celsius, rel=SAME, abs=1e-9)


@pytest.mark.parametrize("start", FORCE_UNITS)
@given(value=st.floats(1e-3, 1e7), end=st.sampled_from(sorted(FORCE_UNITS)))
def test_convert_load_as_pint_has_it(
    registry: pint.UnitRegistry[float], start: str, value: float, end: str
) -> None:
    expected = newtons(registry, value, start) / newtons(registry, 1.0, end)
    assert units.convert_load(value, start, end) == pytest.approx(expected, rel=SAME)


def test_the_same_load_is_the_same_float_in_every_unit() -> None:
    """A load at its limit must not fail for the last bit of a float."""
    for tenths in range(1, 2000):
        tonnes = tenths / 10
        assert units.read_force(tonnes, "t").value == units.read_force(f"{tenths * 100} kg").value
        assert units.read_force(tonnes, "kip").value == units.read_force(f"{tenths * 100} lb").value
        assert units.read_force(tonnes, "short ton").value == units.read_force(tenths * 200, "lb").value


def test_every_spelling_leads_to_its_unit_and_no_other() -> None:
    seen: dict[str, str] = dict.fromkeys(SEVERAL, "several meanings")
    for unit in UNITS:
        for spelling in unit.spellings.split(", "):
            assert seen.setdefault(spelling, unit.name) == unit.name
            assert look_up(spelling) is unit
            assert look_up(f" ({spelling}) ") is unit
            assert units.unit_name(unit.name) == unit.name


@pytest.mark.parametrize(
    "text", ["", " ", "()", "foo", "mN", "mn", "n", "G", "c", "kg/m", "t?", "km/h", "x" * 1000]
)
def test_unknown_units(text: str) -> None:
    with pytest.raises(UnknownUnitError, match="is not a unit: write one such as"):
        units.unit_name(text)


@pytest.mark.parametrize("text", ["ton", "T", "TONS", "MT", "Mt", "mt", "k", "#", "cwt", "tonf"])
def test_ambiguous_units(text: str) -> None:
    with pytest.raises(AmbiguousUnitError, match="could be"):
        units.unit_name(text)


def test_unit_names_with_habits() -> None:
    assert [units.unit_name("Tons", Habits(ton=ton)) for ton in ("short", "long", "metric")] == [
        "short ton",
        "long ton",
        "t",
    ]
    assert units.unit_name("MT", Habits(ton="metric")) == "t"
    assert units.unit_name("tonf", Habits(ton="short")) == "short ton-force"


@given(st.text(max_size=50))
def test_any_text_is_a_unit_or_refused(text: str) -> None:
    try:
        name = units.unit_name(text)
    except RigxlError:
        name = "t"
    assert units.unit_name(name) == name


def test_reading_loads_no_pint() -> None:
    code = "import sys, rigxl.units as u; u.read_force('5 t'); print('pint' in sys.modules)"
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
        == "False\n"
    )
