"""Swivels: in line, and turned under load only where they are made for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.hardware import swivel
from rigxl.items import FAIL, Item

US = Criteria.ready("us")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]


@pytest.mark.parametrize(
    ("text", "bearing"),
    [
        ("Thrust-bearing swivel", True),
        ("positioning swivel", False),
        ("swivel without bearing", False),
        ("non-bearing", False),
        ("eye and eye swivel", None),
        ("positioning swivel with bearing", None),
    ],
)
def test_what_the_words_say(text: str, bearing: bool | None) -> None:
    assert swivel.bearing(Item(description=text)) is bearing


BEARING: dict[str, Any] = {"type": "ball bearing", "loading_angle_deg": 0, "turns_under_load": True}
POSITIONING = BEARING | {"type": "positioning"}
UNNAMED = BEARING | {"type": "jaw and eye"}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        (BEARING, {}, 1.0),
        (BEARING | {"turns_under_load": None}, {}, 1.0),
        (BEARING | {"loading_angle_deg": 5}, {}, 1.0),
        (BEARING | {"loading_angle_deg": 5.1}, {"swivel-along": "FAIL"}, None),
        (POSITIONING, {"swivel-turns": "FAIL"}, None),
        (POSITIONING | {"turns_under_load": False}, {}, 1.0),
        (POSITIONING | {"turns_under_load": None}, {"swivel-turns": "HOLD"}, 1.0),
        (UNNAMED, {"swivel-turns": "HOLD"}, 1.0),
        (UNNAMED | {"turns_under_load": None}, {"swivel-turns": "HOLD"}, 1.0),
        (UNNAMED | {"turns_under_load": False}, {}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """In line; not turned under load without a bearing: ASME B30.26, from memory."""
    assert said("swivel", **fields) == expected
    assert left("swivel", **fields) == share


@given(st.floats(0, 180), st.booleans() | st.none(), st.sampled_from(["bearing", "positioning", "jaw"]))
def test_full_rating_or_none_and_none_fails(angle: float, turns: bool | None, pattern: str) -> None:
    item = Item(type=pattern, loading_angle_deg=angle, turns_under_load=turns)
    fails = any(finding.outcome == FAIL for finding in swivel.check(item, US))
    assert swivel.derates(item, US) == (None if fails else ())


def test_no_table_is_at_hand() -> None:
    assert swivel.tables(Item(description="swivel 1/2 in")) == ()


def test_legs_are_gathered_below_it() -> None:
    findings = swivel.check(Item(position="top", legs=4, **BEARING), US)
    assert any("4 legs in a link or shackle below it" in one.sentence for one in findings)


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    problems = {"turns_under_load": "K4 holds 'maybe'", "loading_angle_deg": "L4 holds an error"}
    assert said("swivel", type="positioning", problems=problems) == {}
    assert problems.keys() <= swivel.uses(Item())
