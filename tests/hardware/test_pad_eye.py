"""Pad eyes: engineered, in the plane of the eye, within their angles, with a pin that fits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.hardware import pad_eye
from rigxl.items import FAIL, HOLD, Item

US = Criteria.ready("us")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]

GOOD: dict[str, Any] = {
    "position": "pick point",
    "engineered": "DRG-2201",
    "loading_angle_deg": 30,
    "rated_angle_deg": 45,
    "plane": "in plane",
    "pin": 25.4,
    "hole": 28.0,
}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({}, {}, 1.0),
        ({"loading_angle_deg": 45}, {}, 1.0),
        ({"loading_angle_deg": 46}, {"pad-eye-range": "FAIL"}, None),
        ({"rated_angle_deg": None}, {"pad-eye-range": "HOLD"}, 1.0),
        ({"rated_angle_deg": None, "plane": None, "loading_angle_deg": 5}, {}, 1.0),
        ({"plane": "across"}, {"pad-eye-across": "FAIL"}, None),
        ({"plane": None}, {"pad-eye-across": "HOLD"}, 1.0),
        ({"loading_angle_deg": None}, {"pull-angle": "HOLD"}, 1.0),
        ({"loading_angle_deg": None, "angle_deg": 60}, {}, 1.0),
        ({"engineered": None}, {"pad-eye-engineered": "HOLD"}, 1.0),
        ({"engineered": "yes"}, {"pad-eye-engineered": "HOLD"}, 1.0),
        ({"engineered": "no"}, {"pad-eye-engineered": "FAIL"}, 1.0),
        ({"engineered": "site made"}, {"pad-eye-engineered": "FAIL"}, 1.0),
        ({"pin": None}, {}, 1.0),
        ({"hole": 25.0}, {"hole-fit": "FAIL"}, 1.0),
        ({"hole": 28.7}, {"hole-fit": "FAIL"}, 1.0),
        ({"hole": 28.5}, {}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """In plane, in range, a hole over its pin by 1/8 in or 10 % at most: common practice, no source."""
    assert said("pad eye", **(GOOD | fields)) == expected
    assert left("pad eye", **(GOOD | fields)) == share


@given(st.floats(0, 180), st.floats(0, 180) | st.none())
def test_nothing_beyond_its_angles_passes(angle: float, limit: float | None) -> None:
    item = Item(**(GOOD | {"loading_angle_deg": angle, "rated_angle_deg": limit}))
    stopped = {finding.outcome for finding in pad_eye.check(item, US)} & {FAIL, HOLD}
    # a billionth of a limit is forgiven as rounding
    within = angle <= 5 * (1 + 1e-9) or (limit is not None and angle <= limit * (1 + 1e-9))
    assert bool(stopped) != within


def test_a_rating_must_be_stated() -> None:
    assert pad_eye.tables(Item(description="pad eye")) == ()


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    blank = dict.fromkeys(("engineered", "plane", "rated_angle_deg", "pin"))
    problems = {name: f"{name} cannot be read" for name in blank}
    assert said("pad eye", problems=problems, **(GOOD | blank)) == {}
    assert problems.keys() <= pad_eye.uses(Item())
