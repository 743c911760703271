"""Headroom: whether a bridle fits under its hook, and what device a lift wants."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.checks.headroom import check, uses
from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.items import ADVICE, FAIL, Item

US = Criteria.ready("us")
ONTARIO = Criteria.ready("ontario")
BRIDLE: dict[str, Any] = {"position": "leg", "legs": 2, "spread": 6000.0, "units": {"headroom": "m"}}


def found(criteria: Criteria = US, **fields: Any) -> dict[str, tuple[str, str, str]]:
    """Outcome, sentence and remedy by rule."""
    findings = check(Item(**BRIDLE | fields), criteria)
    return {one.rule.name: (one.outcome, one.sentence, one.remedy) for one in findings}


@pytest.mark.parametrize(
    ("fields", "rules"),
    [
        # 6 m apart at 60° rises 3 · tan 60° = 5.196 m; 30° asks for 1.732 m
        ({"angle_deg": 60.0, "headroom": 5.2e3}, {}),
        ({"angle_deg": 60.0, "headroom": 5.19e3}, {"headroom": FAIL}),
        ({"angle_deg": 60.0, "headroom": 1.73e3}, {"headroom": FAIL, "device-needed": ADVICE}),
        ({"angle_deg": None, "headroom": 1.73e3}, {"device-needed": ADVICE}),
        ({"angle_deg": None, "headroom": 1.74e3}, {}),
        ({"angle_deg": 60.0, "headroom": None}, {}),
        ({"angle_deg": 60.0, "headroom": 1e3, "spread": None}, {}),
        ({"angle_deg": 60.0, "headroom": 1e3, "legs": 1}, {}),
        ({"angle_deg": 60.0, "headroom": 1e3, "position": "top"}, {}),
        ({"angle_deg": 90.0, "headroom": 5e3}, {}),
    ],
)
def test_rules(fields: dict[str, Any], rules: dict[str, str]) -> None:
    """Height = spread / 2 × tan(angle), plain trigonometry; least angle 30°, ASME B30.9, from memory."""
    assert {name: outcome for name, (outcome, _, _) in found(**fields).items()} == rules


def test_what_is_said_where_shorter_legs_would_fit() -> None:
    """In 3 m of headroom legs over 6 m hang at 45°, and are 3 · √2 m long."""
    _, sentence, remedy = found(angle_deg=60.0, headroom=3e3, units={"headroom": "m", "spread": "m"})[
        "headroom"
    ]
    assert "its legs at 60° rise 5.196 m above the picks, and the headroom is 3 m" in sentence
    assert remedy == "legs of 4.243 m, which hang at 45°"


def test_which_sort_of_device() -> None:
    _, two, _ = found(headroom=1.5e3)["device-needed"]
    assert "1.732 m above the picks is needed for 30° and the headroom is 1.5 m" in two
    assert "a lifting beam hung from its middle" in two
    _, four, _ = found(headroom=1.5e3, legs=4)["device-needed"]
    assert "a lifting frame" in four


def test_the_least_angle_is_that_of_the_criteria() -> None:
    """At 45° a spread of 6 m asks for 3 m (the 45° of the Ontario set is common practice, no source)."""
    assert "device-needed" in found(ONTARIO, headroom=2.9e3)
    assert "device-needed" not in found(ONTARIO, headroom=3.1e3)


@pytest.mark.parametrize(
    ("fields", "wanted"),
    [
        ({"kind": "eye bolt", "type": "plain", "angle_deg": 60.0}, "a spreader bar, with 1.732 m"),
        ({"kind": "eye bolt", "type": "plain", "angle_deg": 60.0, "headroom": 1e3}, "a lifting beam"),
        ({"kind": "eye bolt", "type": "shoulder", "angle_deg": 60.0}, ""),
        ({"kind": "eye bolt", "type": "plain", "angle_deg": 89.0}, ""),
        ({"kind": "shackle", "type": "plain", "angle_deg": 60.0}, ""),
    ],
)
def test_picks_that_take_a_plumb_pull_only(fields: dict[str, Any], wanted: str) -> None:
    """A plain eye bolt is pulled in line with its shank only: ASME B30.26, from memory."""
    units = {"headroom": "m", "spread": "m"}
    said = found(position="pick point", units=units, **fields).get("device-for-plumb-picks")
    assert (said is not None) == bool(wanted)
    if said:
        assert said[0] == ADVICE
        assert wanted in said[1]


@given(st.floats(100, 50_000), st.floats(100, 50_000), st.floats(31, 84))
def test_fails_only_what_does_not_fit(spread: float, headroom: float, angle: float) -> None:
    rises = spread / 2 * math.tan(math.radians(angle))
    fails = "headroom" in found(spread=spread, headroom=headroom, angle_deg=angle)
    if abs(rises - headroom) > 1e-3:
        assert fails == (rises > headroom)


def test_it_is_part_of_the_verdict() -> None:
    item = Item(kind="sling", load=1e4, angle_deg=60.0, headroom=2e3, **BRIDLE)
    assert any(one.rule.name == "headroom" and one.outcome == FAIL for one in judge(item, US).findings)
    assert uses(item) == {"headroom", "spread"}
    assert not uses(Item(position="top"))
