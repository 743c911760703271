"""Hoist rings: full rating within the maker's angles, flush, and torqued as stated."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.hardware import hoist_ring
from rigxl.items import FAIL, HOLD, Item
from rigxl.units import read_size, read_torque

US = Criteria.ready("us")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]

STATED = read_torque("60 ft lb").value
GOOD: dict[str, Any] = {
    "position": "pick point",
    "size": read_size("3/4 in"),
    "loading_angle_deg": 60,
    "rated_angle_deg": 90,
    "seated": True,
    "torque": STATED,
    "stated_torque": STATED,
    "thread_engagement": 1.125 * 25.4,
}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({}, {}, 1.0),
        ({"loading_angle_deg": 90}, {}, 1.0),
        ({"loading_angle_deg": 90.1}, {"hoist-ring-over-90": "FAIL"}, None),
        ({"rated_angle_deg": 45}, {"hoist-ring-range": "FAIL"}, None),
        ({"rated_angle_deg": None}, {"hoist-ring-range": "HOLD"}, 1.0),
        ({"rated_angle_deg": None, "loading_angle_deg": 5}, {}, 1.0),
        ({"loading_angle_deg": None, "angle_deg": 60}, {}, 1.0),
        (
            {"loading_angle_deg": None, "angle_deg": 50, "rated_angle_deg": 30},
            {"hoist-ring-range": "FAIL"},
            None,
        ),
        ({"loading_angle_deg": None}, {"pull-angle": "HOLD"}, 1.0),
        ({"seated": False}, {"hoist-ring-flush": "FAIL"}, 1.0),
        ({"seated": None}, {"hoist-ring-flush": "HOLD"}, 1.0),
        ({"torque": None}, {"torque": "HOLD"}, 1.0),
        ({"stated_torque": None}, {"torque": "HOLD"}, 1.0),
        ({"torque": 0.99 * STATED}, {"torque": "FAIL"}, 1.0),
        ({"torque": 1.1 * STATED}, {}, 1.0),
        ({"torque": 1.11 * STATED}, {"torque": "HOLD"}, 1.0),
        ({"thread_engagement": None}, {}, 1.0),
        ({"thread_engagement": 28.5}, {"thread-engagement": "FAIL"}, 1.0),
        ({"thread_engagement": 30.0, "size": read_size("2 t")}, {"thread-engagement": "HOLD"}, 1.0),
        ({"full_thread": False}, {"thread-engagement": "FAIL"}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """Range, flush seat and torque: common practice, no source; 1 1/2 diameters: WAC 296-155-56110(2)(c)."""
    assert said("hoist ring", **(GOOD | fields)) == expected
    assert left("hoist ring", **(GOOD | fields)) == share


@given(st.floats(0, 180), st.floats(0, 180) | st.none())
def test_nothing_beyond_the_stated_angle_passes(angle: float, limit: float | None) -> None:
    item = Item(**(GOOD | {"loading_angle_deg": angle, "rated_angle_deg": limit}))
    stopped = {finding.outcome for finding in hoist_ring.check(item, US)} & {FAIL, HOLD}
    # a billionth of a limit is forgiven as rounding
    within = angle <= 90 * (1 + 1e-9) and (
        angle <= 5 * (1 + 1e-9) if limit is None else angle <= limit * (1 + 1e-9)
    )
    assert bool(stopped) != within


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    blank = dict.fromkeys(("torque", "stated_torque", "seated", "rated_angle_deg"))
    problems = {name: f"{name} cannot be read" for name in blank}
    assert said("hoist ring", problems=problems, **(GOOD | blank)) == {}
    assert problems.keys() <= hoist_ring.uses(Item())
    assert hoist_ring.tables(Item()) == ()
