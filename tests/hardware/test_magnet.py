"""Lifting magnets, by what their maker states (B30.20, from memory)."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.hardware.gripping import heat
from rigxl.items import FAIL, HOLD, PASS, Item
from tests.hardware.devices import SHEET, verdict


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({"thickness": 15.0}, PASS, set()),
        ({"thickness": 14.9}, FAIL, {"grip-thickness"}),
        ({"thickness": None}, HOLD, {"grip-thickness"}),
        ({"grip_from": None}, HOLD, {"grip-thickness"}),
        ({"grip_to": 18.0}, FAIL, {"grip-thickness"}),
        ({"temperature": 60.0}, PASS, set()),
        ({"temperature": 60.1}, FAIL, {"grip-temperature"}),
        ({"temperature": None}, HOLD, {"grip-temperature"}),
        ({"rated_temperature": None}, HOLD, {"grip-temperature"}),
        ({"surface": None}, HOLD, {"grip-surface"}),
        ({"rated_surface": None}, HOLD, {"grip-surface"}),
        ({"surface": "dry"}, PASS, set()),
        ({"surface": "rusty"}, HOLD, {"grip-surface"}),
        ({"surface": "dry, rusty"}, HOLD, {"grip-surface"}),
        ({"surface": "rusty", "rated_surface": "not rusty"}, HOLD, {"grip-surface"}),
        ({"surface": "dry", "rated_surface": "dry, no rust"}, HOLD, {"grip-surface"}),
        ({"surface": "dry, no rust", "rated_surface": "Dry - no rust"}, PASS, set()),
        ({"surface": "the surface"}, HOLD, {"grip-surface"}),
        ({"pieces": 2}, FAIL, {"one-piece"}),
        ({"lay": "vertical"}, FAIL, {"grip-position"}),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    assert verdict("lifting magnet", SHEET, changes) == (word, rules)


def test_the_heat_comes_back_in_the_unit_it_was_given() -> None:
    item = Item(temperature=100.0, rated_temperature=60.0, units={"temperature": "degF"})
    (hot,) = heat(item)
    assert hot.sentence == "what it holds is at 212 °F, over the 140 °F it is rated for"
