"""Links and rings: full rating up to the included angle the maker states, and nothing over 120°."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.hardware import link
from rigxl.items import FAIL, HOLD, Item

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]
US = Criteria.ready("us")

TWO: dict[str, Any] = {"position": "top", "legs": 2}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({"position": "top", "legs": 1}, {}, 1.0),
        (TWO | {"angle_deg": 60}, {}, 1.0),
        (TWO | {"angle_deg": 59.9}, {"link-spread": "HOLD"}, 1.0),
        (TWO | {"angle_deg": 30}, {"link-spread": "HOLD"}, 1.0),
        (TWO | {"angle_deg": 29.9}, {"link-over-120": "FAIL"}, None),
        (TWO | {"angle_deg": 45, "rated_included_angle_deg": 90}, {}, 1.0),
        (TWO | {"angle_deg": 44, "rated_included_angle_deg": 90}, {"link-spread": "FAIL"}, None),
        (TWO | {"angle_deg": 65, "rated_included_angle_deg": 45}, {"link-spread": "FAIL"}, None),
        (TWO | {"angle_deg": 29, "rated_included_angle_deg": 150}, {"link-over-120": "FAIL"}, None),
        (TWO, {"link-spread": "HOLD"}, 1.0),
        ({"position": "top"}, {"legs-at-top": "HOLD"}, 1.0),
        ({"position": "leg", "loading_angle_deg": 5}, {}, 1.0),
        ({"position": "leg", "loading_angle_deg": 6}, {"link-along": "FAIL"}, None),
        ({"position": "leg", "loading_angle_deg": -6}, {"link-along": "FAIL"}, None),
        ({"position": "leg", "bar": 30.0, "inside_width": 29.0}, {"link-fit": "FAIL"}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """120° at most: ASME B30.26, from memory; 60° where nobody says: common practice, no source."""
    assert said("link", **fields) == expected
    assert left("link", **fields) == share


def test_no_table_is_at_hand() -> None:
    assert link.TABLES == ()
    assert link.tables(Item(description="master link 1 in")) == ()


@given(st.floats(0.1, 90), st.floats(1, 180) | st.none())
def test_nothing_over_its_angle_passes(angle: float, rated: float | None) -> None:
    item = Item(position="top", legs=2, angle_deg=angle, rated_included_angle_deg=rated, loading_angle_deg=0)
    stopped = {finding.outcome for finding in link.check(item, US)} & {FAIL, HOLD}
    most = 60 if rated is None else min(rated, 120)
    # a billionth of a limit is forgiven as rounding
    assert bool(stopped) == (180 - 2 * angle > most * (1 + 1e-9))


@pytest.mark.parametrize(
    ("text", "legs", "advised"),
    [
        ("oblong master link", 2, 0),
        ("oblong master link", 4, 1),
        ("master link with sub-links", 4, 0),
        ("master link assembly", 3, 0),
        ("master link without sub-links", 4, 1),
        ("ring", 3, 1),
    ],
)
def test_many_legs_want_sub_links(text: str, legs: int, advised: int) -> None:
    """Two legs on each sub-link: common practice, no source."""
    item = Item(description=text, position="top", legs=legs, angle_deg=60)
    assert sum(one.rule.name == "link-legs" for one in link.check(item, US)) == advised
