"""Plate clamps: jaw range, position, one plate, least load; all as the maker states (B30.20, from memory)."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.hardware import clamp
from rigxl.hardware.gripping import rated_lay
from rigxl.items import FAIL, HOLD, PASS, Item
from tests.hardware.devices import PLATE, TONNE, US, verdict


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({"thickness": 5.0}, PASS, set()),
        ({"thickness": 4.9}, FAIL, {"grip-thickness"}),
        ({"thickness": 30.0}, PASS, set()),
        ({"thickness": 30.1}, FAIL, {"grip-thickness"}),
        ({"thickness": None}, HOLD, {"grip-thickness"}),
        ({"grip_from": None}, HOLD, {"grip-thickness"}),
        ({"grip_to": None}, HOLD, {"grip-thickness"}),
        ({"grip_from": None, "thickness": 31.0}, FAIL, {"grip-thickness"}),
        ({"lay": "horizontal"}, FAIL, {"grip-position"}),
        ({"lay": "horizontal", "rated_lay": "any"}, PASS, set()),
        ({"lay": None}, HOLD, {"grip-position"}),
        ({"rated_lay": None}, HOLD, {"grip-position"}),
        ({"rated_lay": None, "type": "vertical plate clamp"}, PASS, set()),
        ({"rated_lay": None, "type": "horizontal"}, FAIL, {"grip-position"}),
        ({"pieces": 2}, FAIL, {"one-piece"}),
        ({"pieces": None}, HOLD, {"one-piece"}),
        ({"least_load": None}, HOLD, {"grip-least-load"}),
        ({"least_load": 6 * TONNE}, PASS, set()),
        ({"least_load": 6.01 * TONNE}, FAIL, {"grip-least-load"}),
        # two clamps under a beam: each carries half, and the least load is asked of that half
        ({"position": "drop", "legs": 2, "least_load": 3.01 * TONNE}, FAIL, {"grip-least-load"}),
        ({"position": "drop", "legs": 2, "least_load": 3 * TONNE}, PASS, set()),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    assert verdict("plate clamp", PLATE, changes) == (word, rules)


def test_a_clamp_without_a_thickness_says_what_to_fill_in() -> None:
    (held,) = (found for found in clamp._use(Item(**PLATE | {"thickness": None})) if found.outcome == HOLD)
    assert held.sentence == "the thickness of the plate is not given"
    assert held.remedy == "fill in the thickness of the plate, such as 20 mm"


@pytest.mark.parametrize(
    ("words", "lay"),
    [
        ("Vertical plate clamp", "vertical"),
        ("horizontal", "horizontal"),
        ("universal plate clamp", "any"),
        ("vertical and horizontal", "any"),
        ("plate clamp", None),
    ],
)
def test_rated_position_by_words(words: str, lay: str | None) -> None:
    assert rated_lay(Item(description=words)) == lay


@given(st.floats(0.1, 100), st.floats(0.1, 100), st.floats(0.1, 100))
def test_full_rating_within_the_jaws_and_none_outside(held: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    item = Item(**PLATE | {"thickness": held, "grip_from": low, "grip_to": high, "load": 5 * TONNE})
    if low <= held <= high:
        assert clamp.derates(item, US) == ()
    elif not low * 0.999 <= held <= high * 1.001:
        assert clamp.derates(item, US) is None
