"""Lifting baskets and skips: for goods, kept in (common practice, no source)."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from rigxl.schedule.words import kinds_in
from tests.hardware.devices import verdict


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({}, PASS, set()),
        ({"secured": False}, FAIL, {"basket-load-secured"}),
        ({"secured": None}, HOLD, {"basket-load-secured"}),
        ({"description": "Man-riding basket"}, HOLD, {"basket-with-people"}),
        ({"type": "personnel basket"}, HOLD, {"basket-with-people"}),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    """Factor 10 where a worker is lifted: Alberta OHS Code, s. 292(1)(a); no such lift is judged here."""
    assert verdict("lifting basket", {"secured": True}, changes) == (word, rules)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Lifting baskets", ("lifting basket",)),
        ("Skip, 2 m3", ("lifting basket",)),
        ("Wire rope sling, basket", ("sling",)),
        ("Spreader bar 6 m", ("spreader bar",)),
        ("Lifting beam", ("lifting beam",)),
        ("Vertical plate clamp", ("plate clamp",)),
        ("Girder clamp", ("beam clamp",)),
        ("Permanent magnet", ("lifting magnet",)),
        ("Vacuum lifter", ("vacuum pad",)),
        ("Crane fork", ("pallet fork",)),
    ],
)
def test_what_schedules_call_devices(text: str, found: tuple[str, ...]) -> None:
    assert kinds_in(text) == found
