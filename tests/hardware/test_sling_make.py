"""Slings as made: grade of chain, clear rope, bend of the eye."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rigxl.hardware import sling
from rigxl.items import ADVICE, NOTE, Item
from rigxl.units import read_size
from tests.hardware.devices import TONNE, US

Ask = Callable[..., dict[str, str]]
CHAIN: dict[str, Any] = {"type": "chain", "hitch": "vertical", "rated_load": 3 * TONNE}
ROPE: dict[str, Any] = {
    "type": "wire rope",
    "hitch": "vertical",
    "rated_load": 3 * TONNE,
    "size": read_size("20 mm"),
}


@pytest.mark.parametrize(
    ("grade", "expected"),
    [
        ("80", {}),
        ("Grade 100", {}),
        ("8", {}),
        ("T(8)", {}),
        ("G10", {}),
        ("30", {"chain-grade": "FAIL"}),
        ("43", {"chain-grade": "FAIL"}),
        ("Grade 70", {"chain-grade": "FAIL"}),
        ("G7", {"chain-grade": "FAIL"}),
        ("120", {"chain-grade": "HOLD"}),
        ("alloy", {"chain-grade": "HOLD"}),
        (None, {}),
    ],
)
def test_grade_of_chain(said: Ask, grade: str | None, expected: dict[str, str]) -> None:
    """49 CFR 393.108 lists 30, 43 and 70 as tie-down chain; alloy chain for lifting is from memory, B30.9."""
    assert said("sling", grade=grade, **CHAIN) == expected


def test_a_chain_without_a_grade_is_told_so() -> None:
    found = [one for one in sling.check(Item(**CHAIN), US) if one.rule.name == "chain-grade"]
    assert [one.outcome for one in found] == [ADVICE]


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"clear_length": 200.0}, {}),
        ({"clear_length": 199.0}, {"clear-rope": "FAIL"}),
        ({"leg_length": 199.0}, {"clear-rope": "FAIL"}),
        ({"leg_length": 199.0, "clear_length": 250.0}, {}),
        ({"leg_length": 2000.0}, {}),
        ({}, {}),
        # a grommet of 20 mm is 1920 mm round, so 960 mm long
        ({"description": "grommet", "leg_length": 960.0}, {}),
        ({"description": "grommet", "leg_length": 959.0}, {"clear-rope": "FAIL"}),
        ({"description": "endless", "clear_length": 1919.0}, {"clear-rope": "FAIL"}),
        ({"description": "braided", "clear_length": 100.0}, {}),
    ],
)
def test_clear_rope(said: Ask, fields: dict[str, Any], expected: dict[str, str]) -> None:
    """WAC 296-24-29425(2): 10 rope diameters of 6x19 and 6x37 clear, grommets 96 body diameters round."""
    assert said("sling", **ROPE, **fields) == expected


def test_without_a_length_the_least_is_told() -> None:
    (told,) = (one for one in sling.check(Item(**ROPE), US) if one.rule.name == "clear-rope")
    assert told.outcome == NOTE
    assert "200 mm, 10 diameters at least clear" in told.sentence


@pytest.mark.parametrize(("pin", "expected"), [(20.0, {}), (19.0, {"eye-bend": "FAIL"})])
def test_eye_on_a_pin(said: Ask, pin: float, expected: dict[str, str]) -> None:
    """Common practice, no source."""
    assert said("sling", pin=pin, **ROPE) == expected


@pytest.mark.parametrize(
    ("made_of", "tonnes", "expected"),
    [
        ("wire rope", 15.0, {}),
        ("wire rope", 14.8, {"sling-strength": "FAIL"}),
        ("chain", 12.0, {}),
        ("chain", 11.8, {"sling-strength": "FAIL"}),
        ("web", 15.0, {}),
        ("web", 14.8, {"sling-strength": "FAIL"}),
    ],
)
def test_breaking_strength(said: Ask, made_of: str, tonnes: float, expected: dict[str, str]) -> None:
    """Rated 3 t: a fifth of wire rope (WAC 296-24-29401(1)) and slings (DOE-STD-1090-96, 11.3.1.3).

    A quarter of chain: France, arrêté du 18 décembre 1992, article 4. Half a percent is left for rounding.
    """
    fields = {
        "type": made_of,
        "hitch": "vertical",
        "rated_load": 3 * TONNE,
        "breaking_strength": tonnes * TONNE,
    }
    assert said("sling", **fields) == expected
