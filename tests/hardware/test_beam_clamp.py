"""Beam clamps: the flange within the jaws, loaded as the maker states (B30.20, from memory)."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from tests.hardware.devices import verdict

FLANGE: dict[str, Any] = {"thickness": 150.0, "grip_from": 75.0, "grip_to": 200.0}


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({}, PASS, set()),
        ({"thickness": 75.0}, PASS, set()),
        ({"thickness": 74.0}, FAIL, {"grip-thickness"}),
        ({"thickness": 201.0}, FAIL, {"grip-thickness"}),
        ({"thickness": None}, HOLD, {"grip-thickness"}),
        ({"grip_to": None}, HOLD, {"grip-thickness"}),
        ({"loading_angle_deg": 5.0}, PASS, set()),
        ({"loading_angle_deg": 6.0}, HOLD, {"beam-clamp-angle"}),
        ({"loading_angle_deg": 45.0, "rated_angle_deg": 45.0}, PASS, set()),
        ({"loading_angle_deg": 46.0, "rated_angle_deg": 45.0}, FAIL, {"beam-clamp-angle"}),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    assert verdict("beam clamp", FLANGE, changes) == (word, rules)
