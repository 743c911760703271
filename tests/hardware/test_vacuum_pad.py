"""Vacuum pads, by what their maker states (B30.20, from memory)."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from tests.hardware.devices import SHEET, verdict


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({}, PASS, set()),
        ({"thickness": 10.0}, FAIL, {"grip-thickness"}),
        ({"surface": "porous"}, HOLD, {"grip-surface"}),
        ({"temperature": 80.0}, FAIL, {"grip-temperature"}),
        ({"lay": "vertical"}, FAIL, {"grip-position"}),
        ({"lay": "vertical", "rated_lay": "vertical"}, PASS, set()),
        ({"pieces": 3}, FAIL, {"one-piece"}),
        (dict.fromkeys(SHEET), HOLD, {
            "grip-thickness", "grip-position", "one-piece", "grip-surface", "grip-temperature",
        }),
    ],
)  # fmt: skip
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    assert verdict("vacuum pad", SHEET, changes) == (word, rules)
