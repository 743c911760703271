"""Headers, rows of units, and the ways to say not known. Common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.units import is_not_known, is_unit, split_header, unit_name
from rigxl.units.names import UNITS, Unit


@pytest.mark.parametrize(
    ("header", "words", "unit"),
    [
        ("WLL (t)", "WLL", "t"),
        ("WLL(t)", "WLL", "t"),
        ("WLL [T]", "WLL", "T"),
        ("Load, kN", "Load", "kN"),
        ("Spread [ft-in]", "Spread", "ft-in"),
        ("Weight in kg", "Weight", "kg"),
        ("Weight kg", "Weight", "kg"),
        ("Weight\n(kg)", "Weight", "kg"),
        ("Weight (in kg)", "Weight", "kg"),
        ("Weight in metric tons", "Weight", "metric tons"),
        ("Weight [short tons]", "Weight", "short tons"),
        ("Rated load / t", "Rated load", "t"),
        ("Load/kN", "Load", "kN"),
        ("Load_kN", "Load", "kN"),
        ("Load - kN", "Load", "kN"),
        ("Load: LBS", "Load", "LBS"),
        ("Angle °", "Angle", "°"),
        ("Angle°", "Angle", "°"),
        ("Angle from horizontal (deg)", "Angle from horizontal", "deg"),
        ("Angle (deg) from horizontal", "Angle from horizontal", "deg"),
        ("Load (tons)", "Load", "tons"),
        ("Shackle size (in)", "Shackle size", "in"),
        ("Shackle dia. (in.)", "Shackle dia.", "in."),
        ("Width in in", "Width", "in"),
        ("Height ft in", "Height", "ft in"),
        ("Length ft/in", "Length", "ft/in"),
        ('Pin Ø "', "Pin Ø", '"'),
        ("Margin %", "Margin", "%"),
        ("Temp (°C)", "Temp", "°C"),
        ("WLL (t) at 60 deg", "WLL at 60 deg", "t"),
        ("Torque N m", "Torque", "N m"),
        ("Torque ft lb", "Torque", "ft lb"),
    ],
)
def test_a_unit_is_split_off(header: str, words: str, unit: str) -> None:
    assert split_header(header) == (words, unit)


@pytest.mark.parametrize(
    "header",
    [
        "Weight", "Sling angle (from horizontal)", "Weight in total", "Date in", "Checked in", "In/Out",
        "Item #", "Drawing no", "Serial no.", "Qty (no)", "Grade T", "Grade (80)", "Test MT", "Class N",
        "Crane yard", "Notes (1)",
        "Weight kg/lb", "Weight (kg/m)", "Weight kg/m", "Load per m",
        "Capacity at 60 deg", "WLL @ 45°", "Weight (kg) (lb)", "Weight kg, lb", "kg", "(t)", "",
    ],
)  # fmt: skip
def test_nothing_is_split_off(header: str) -> None:
    assert split_header(header) == (header, None)


@given(st.text(max_size=40))
def test_only_units_are_split_off(header: str) -> None:
    words, unit = split_header(header)
    assert unit is None or (is_unit(unit) and words)


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit.measure != "count" and unit.name != "1"])
def test_every_spelling_in_brackets_is_found(unit: Unit) -> None:
    for spelling in unit.spellings.split(", "):
        words, found = split_header(f"Value ({spelling})")
        assert words == "Value"
        assert found is not None
        assert unit_name(found) == unit.name


@pytest.mark.parametrize("cell", ["(t)", "kN", "[mm]", "deg", "lbs.", "ft-in", "%", "°", "tons", "in", " m "])
def test_units_of_a_units_row(cell: str) -> None:
    assert is_unit(cell)


@pytest.mark.parametrize("cell", ["", "5 t", "No", "#", "-", "1", "Weight", "off", "x", "x" * 40000])
def test_no_units_of_a_units_row(cell: str) -> None:
    assert not is_unit(cell)


@pytest.mark.parametrize(
    "cell",
    [
        "N/A", "n/a", "NA", "#N/A", "-", "–", "—", "--", "TBC", "tba", "TBD", "t.b.c.", "?", "???",
        "not known", "Unknown", "To be confirmed", "to be\nadvised", "pending", "(TBC)", "...", "…", "____",
        " - ", "Not applicable",
    ],
)  # fmt: skip
def test_not_known(cell: str) -> None:
    assert is_not_known(cell)


@pytest.mark.parametrize("cell", ["", "0", "5 t", "none", "nil", ".", "-5", "5?", None, 0, 0.0, "x" * 40000])
def test_known_or_blank(cell: object) -> None:
    assert not is_not_known(cell)
