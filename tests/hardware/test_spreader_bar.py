"""Spreader bars: what presses them, how high their legs rise, and the bar itself."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.hardware import spreader_bar
from rigxl.items import FAIL, HOLD, NOTE, PASS, Item
from tests.hardware.devices import BAR, ENGINEERED, LIFTED, US, verdict


def told(rule: str, **changes: Any) -> str:
    item = Item(**ENGINEERED | LIFTED | BAR | {"position": "device"} | changes)
    return next(found.sentence for found in spreader_bar.check(item, US) if found.rule.name == rule)


def test_compression_and_top_legs_worked() -> None:
    """C = F / (2 tan θ), T = F / (2 sin θ), plain statics: 7.5 t at 60° gives 2.165 t and 4.330 t."""
    said = told("spreader-compression")
    assert "for enquiries only: 7.5 t on two top legs at 60°" in said
    assert "presses the bar with 2.165 t and pulls each top leg with 4.33 t" in said


def test_figures_are_notes_that_pass_nothing() -> None:
    item = Item(**LIFTED | BAR)
    (figure,) = (found for found in spreader_bar.check(item, US) if found.rule is spreader_bar.COMPRESSION)
    assert figure.outcome == NOTE
    assert verdict("spreader bar", BAR, engineered=None, rated_load=None)[0] == HOLD


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({"angle_deg": None}, HOLD, {"spreader-top-legs"}),
        ({"legs": 1}, HOLD, {"spreader-top-legs"}),
        ({"legs": 2}, PASS, set()),
        ({"legs": 2, "angle_deg": 29.9}, FAIL, {"least-angle"}),
        ({"headroom": 3.5e3}, PASS, set()),
        ({"headroom": 3.4e3}, FAIL, {"spreader-headroom"}),
        ({"bar_length": None}, HOLD, {"lower-slings-plumb"}),
        ({"spread": None}, HOLD, {"lower-slings-plumb"}),
        ({"spread": 4030.0}, PASS, set()),
        ({"spread": 4050.0}, HOLD, {"lower-slings-plumb"}),
        ({"spread": 3950.0}, HOLD, {"lower-slings-plumb"}),
        # 0.5 in in 10 ft is 16.67 mm in 4 m
        ({"out_of_straight": 16.6}, PASS, set()),
        ({"out_of_straight": 16.7}, FAIL, {"bar-bent"}),
        ({"out_of_straight": 0.0}, PASS, set()),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    """Two top legs at 60° over 4 m rise 3.464 m, by plain geometry.

    Bent more than 0.5 in in 10 ft: DOE-STD-1090-96, 15.4.8. Plumb lower slings: common practice, no source.
    """
    assert verdict("spreader bar", BAR, changes) == (word, rules)


def test_the_least_bar_is_named() -> None:
    (held,) = (
        found
        for found in spreader_bar.check(Item(**ENGINEERED | {"spread": 5000.0, "angle_deg": 60.0}), US)
        if found.outcome == HOLD
    )
    assert held.remedy == "fill in the bar length, 5000 mm for this spread of picks"


def test_bent_without_a_length_is_held() -> None:
    word, rules = verdict("spreader bar", BAR, bar_length=None, out_of_straight=10.0)
    assert (word, rules) == (HOLD, {"lower-slings-plumb", "bar-bent"})


def test_half_an_inch_in_ten_feet() -> None:
    """DOE-STD-1090-96, 15.4.8, in its own figures."""
    ten_feet, half_inch = 120 * 25.4, 12.7
    bar = {"bar_length": ten_feet, "spread": ten_feet}
    assert verdict("spreader bar", BAR, bar, out_of_straight=half_inch)[0] == PASS
    assert verdict("spreader bar", BAR, bar, out_of_straight=half_inch + 0.1)[0] == FAIL


@given(st.floats(0.1, 20), st.floats(31, 89))
def test_height_taken_gives_the_angle_back(metres: float, angle: float) -> None:
    height = spreader_bar.height_taken(Item(bar_length=metres * 1000, angle_deg=angle))
    assert height is not None
    assert math.degrees(math.atan(height / (metres * 500))) == pytest.approx(angle)


def test_no_height_without_a_slope() -> None:
    assert spreader_bar.height_taken(Item(bar_length=4000)) is None
    assert spreader_bar.height_taken(Item(angle_deg=60)) is None
    assert spreader_bar.height_taken(Item(bar_length=4000, angle_deg=90)) is None


def test_figures_in_the_unit_of_the_load() -> None:
    assert "73.55 kN on two top legs" in told("spreader-compression", units={"load": "kN"})
