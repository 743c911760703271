"""Load cells: in line, with a rated load of their own and a pin that fits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.hardware import load_cell
from rigxl.items import ADVICE, Item

US = Criteria.ready("us")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({"loading_angle_deg": 0}, {}, 1.0),
        ({"loading_angle_deg": 5}, {}, 1.0),
        ({}, {}, 1.0),
        ({"loading_angle_deg": 6}, {"load-cell-along": "FAIL"}, None),
        ({"loading_angle_deg": -6}, {"load-cell-along": "HOLD"}, 1.0),
        ({"pin": 30.0, "hole": 29.0}, {"hole-fit": "FAIL"}, 1.0),
        ({"pin": 30.0, "hole": 32.0}, {}, 1.0),
        ({"problems": {"loading_angle_deg": "K4 holds an error"}}, {}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """In line, one line, a pin that fits its hole: common practice, no source."""
    assert said("load cell", **fields) == expected
    assert left("load cell", **fields) == share


@given(st.floats(0, 180))
def test_full_rating_or_none(angle: float) -> None:
    assert load_cell.derates(Item(loading_angle_deg=angle), US) == (() if angle <= 5 else None)


def test_what_it_shows_is_not_what_it_carries() -> None:
    found = [one for one in load_cell.check(Item(rated_load=5e4), US) if one.outcome == ADVICE]
    assert "not the most that it can show" in found[0].sentence


def test_legs_are_gathered_below_it() -> None:
    findings = load_cell.check(Item(position="top", legs=2, loading_angle_deg=0), US)
    assert any("2 legs in a link or shackle below it" in one.sentence for one in findings)
    assert load_cell.tables(Item()) == ()
