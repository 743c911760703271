"""Hooks: the printed safe loads, plumb loading, latch, throat and twist."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.errors import MissingInputError, OutOfRangeError, UnknownSizeError, UnknownUnitError
from rigxl.functions import call
from rigxl.hardware import hook
from rigxl.items import FAIL, Item

# NIST SP 811 (2008): the pound under standard gravity.
POUND = 4.4482216152605

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]
US = Criteria.ready("us")
OLDER = US.override({"removal rules": "older"}, "this test")


@pytest.mark.parametrize(
    ("diameter", "throat", "pounds"),
    [("11/16", "1 1/16", 1200), ("1 3/8", "1 7/8", 6000), ("3", "4", 24000)],
)
def test_published(diameter: str, throat: str, pounds: float) -> None:
    """US Army FM 5-125, 1995, Table 3-2, p. 3-4: diameter of metal, throat opening, safe load."""
    row = hook.HOOKS.find(f"{diameter} in")
    assert row.throat_opening_in == throat
    assert hook.HOOKS.rating(row) == pytest.approx(pounds * POUND)


def test_rule_of_thumb_of_the_same_page() -> None:
    """FM 5-125, p. 3-3: D² short tons is 3,125 lb for 1 1/4 in, which stays under the table's 5,000 lb."""
    assert hook.HOOKS.find("1 1/4 in").load_lb == 5000
    assert 1.25**2 * 2000 == 3125 < 5000


def test_a_size_not_printed_is_refused() -> None:
    with pytest.raises(UnknownSizeError, match="11/16 in"):
        hook.HOOKS.find("2 in")


def test_the_page_is_for_slip_and_grab_hooks_only() -> None:
    assert hook.tables(Item(description="Slip hook")) == (hook.HOOKS,)
    assert hook.tables(Item(description="Swivel hook, alloy")) == ()


GOOD: dict[str, Any] = {"position": "top", "legs": 1, "latch": True}
TWO: dict[str, Any] = {"position": "top", "legs": 2, "latch": True}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        (GOOD, {}, 1.0),
        (GOOD | {"loading_angle_deg": 5}, {}, 1.0),
        (GOOD | {"loading_angle_deg": 5.1}, {"hook-tip-load": "FAIL"}, None),
        (GOOD | {"loading_angle_deg": -90}, {"hook-tip-load": "FAIL"}, None),
        (GOOD | {"latch": False}, {"hook-latch": "FAIL"}, 1.0),
        (GOOD | {"latch": None}, {"hook-latch": "HOLD"}, 1.0),
        (GOOD | {"legs": None}, {"legs-at-top": "HOLD"}, 1.0),
        (TWO | {"angle_deg": 60}, {}, 1.0),
        (TWO | {"angle_deg": 45}, {}, 1.0),
        (TWO | {"angle_deg": 44.9}, {"hook-legs-wide": "FAIL"}, None),
        (TWO, {"hook-legs-wide": "HOLD"}, 1.0),
        (TWO | {"position": "leg", "angle_deg": 40}, {}, 1.0),
        (GOOD | {"bar": 26.0, "throat": 25.0}, {"hook-fit": "FAIL"}, 1.0),
        (GOOD | {"sling_width": 60.0, "throat": 50.0}, {"hook-fit": "FAIL"}, 1.0),
        (GOOD | {"bar": 25.0, "throat": 25.0}, {}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """Legs within 45° of plumb: ASME B30.10, from memory; latch: Quebec S-2.1, r. 4, s. 2.15.6(7)."""
    assert said("hook", **fields) == expected
    assert left("hook", **fields) == share


@pytest.mark.parametrize(
    ("text", "style"),
    [
        ("Sorting hook", "sorting"),
        ("foundry hook, grade 80", "foundry"),
        ("ram's horn hook", "duplex"),
        ("Ramshorn", "duplex"),
        ("swivel eye hook", "swivel"),
        ("shank hook", "shank"),
        ("eye hook", "eye"),
        ("hook", None),
    ],
)
def test_what_the_words_say(text: str, style: str | None) -> None:
    assert hook.style(Item(description=text)) == style


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({"type": "sorting", "position": "leg", "latch": False}, {"hook-without-latch": "HOLD"}, 1.0),
        ({"type": "foundry", "position": "leg", "latch": False}, {"hook-without-latch": "HOLD"}, 1.0),
        ({"type": "foundry", "position": "leg", "latch": None}, {"hook-latch": "HOLD"}, 1.0),
        ({"type": "eye", "position": "leg", "latch": False}, {"hook-latch": "FAIL"}, 1.0),
        (TWO | {"type": "foundry", "angle_deg": 60}, {"hook-one-leg": "FAIL"}, None),
        (GOOD | {"type": "sorting"}, {}, 1.0),
        (GOOD | {"type": "duplex"}, {"hook-two-bowls": "HOLD"}, 1.0),
        (TWO | {"type": "duplex", "angle_deg": 60}, {}, 1.0),
        (TWO | {"type": "duplex", "angle_deg": 60, "legs": 3}, {"hook-two-bowls": "HOLD"}, 1.0),
        (TWO | {"type": "duplex", "angle_deg": 44}, {"hook-legs-wide": "FAIL"}, None),
        (GOOD | {"type": "swivel", "turns_under_load": True}, {"hook-swivel-turns": "HOLD"}, 1.0),
        (GOOD | {"type": "swivel with bearing", "turns_under_load": True}, {}, 1.0),
        (GOOD | {"type": "swivel", "turns_under_load": False}, {}, 1.0),
    ],
)
def test_by_type(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """Hooks by type, with a latch or without, one bowl or two: common practice, no source."""
    assert said("hook", **fields) == expected
    assert left("hook", **fields) == share


@pytest.mark.parametrize(
    ("kind", "legs", "crowded"), [("eye", 2, 0), ("eye", 3, 1), ("duplex", 4, 0), ("duplex", 6, 1)]
)
def test_many_legs_in_a_bowl_are_advised_against(kind: str, legs: int, crowded: int) -> None:
    findings = hook.check(Item(type=kind, position="top", legs=legs, angle_deg=60, latch=True), US)
    assert sum(one.rule.name == "hook-legs-per-bowl" for one in findings) == crowded


@pytest.mark.parametrize(("angle", "verdict"), [(90, "PASS"), (45, "PASS"), (44.9, "FAIL"), (30, "FAIL")])
def test_angle_verdict(angle: float, verdict: str) -> None:
    """90° between legs at most: ASME B30.10, from memory."""
    assert call("HOOKANGLEVERDICT", angle) == verdict


@pytest.mark.parametrize("angle", [0, -1, 90.1])
def test_no_verdict_on_no_angle(angle: float) -> None:
    with pytest.raises(OutOfRangeError, match="above 0 and at most 90"):
        call("HOOKANGLEVERDICT", angle)


@pytest.mark.parametrize(
    ("original", "measured", "unit", "strict", "older"),
    [
        (40, 40, "mm", "PASS", "PASS"),
        (40, 42, "mm", "PASS", "PASS"),
        (40, 42.1, "mm", "FAIL", "PASS"),
        (40, 46, "mm", "FAIL", "PASS"),
        (40, 46.1, "mm", "FAIL", "FAIL"),
        (150, 156, "mm", "PASS", "PASS"),
        (150, 156.1, "mm", "FAIL", "PASS"),
        (6, 6.24, "in", "FAIL", "PASS"),
        (6, 6.23, "in", "PASS", "PASS"),
    ],
)
def test_throat_verdict(original: float, measured: float, unit: str, strict: str, older: str) -> None:
    """5 %: Queensland guide for doggers; 6 mm: B30.10, from memory; 15 %: Alberta OHS Code, s. 309(a)."""
    assert call("THROATVERDICT", original, measured, unit) == strict
    assert call("THROATVERDICT", original, measured, unit, "older") == older


def test_no_verdict_on_half_a_throat() -> None:
    with pytest.raises(MissingInputError, match="unit"):
        call("THROATVERDICT", 50, 51)
    with pytest.raises(OutOfRangeError, match="under the original"):
        call("THROATVERDICT", 50, 49, "mm")
    with pytest.raises(OutOfRangeError, match="original"):
        call("THROATVERDICT", 0, 49, "mm")
    with pytest.raises(UnknownUnitError, match="unit of length"):
        call("THROATVERDICT", 50, 51, "kN")


@given(st.floats(1, 500), st.floats(0, 0.3), st.floats(0, 0.3))
def test_a_wider_throat_never_passes_where_a_narrower_fails(
    original: float, one: float, other: float
) -> None:
    less, more = sorted((one, other))
    words = [call("THROATVERDICT", original, original * (1 + growth), "mm") for growth in (less, more)]
    assert words != ["FAIL", "PASS"]


@pytest.mark.parametrize(
    ("growth", "throat", "strict", "older"),
    [
        (0.05, None, {}, {}),
        (0.051, None, {"hook-throat": FAIL}, {}),
        (0.15, None, {"hook-throat": FAIL}, {}),
        (0.151, None, {"hook-throat": FAIL}, {"hook-throat-older": FAIL}),
        (0.04, 150.0, {}, {}),
        (0.041, 150.0, {"hook-throat": FAIL}, {}),
    ],
)
def test_throat(
    said: Ask, growth: float, throat: float | None, strict: dict[str, str], older: dict[str, str]
) -> None:
    """More than 5 %: Queensland guide for doggers; 6 mm: B30.10, from memory; 15 %: Alberta s. 309(a)."""
    assert said("hook", US, throat_growth=growth, throat=throat, **GOOD) == strict
    assert said("hook", OLDER, throat_growth=growth, throat=throat, **GOOD) == older


@pytest.mark.parametrize(
    ("twist", "strict", "older"),
    [
        (0, {}, {}),
        (0.5, {"hook-twist": FAIL}, {}),
        (10, {"hook-twist": FAIL}, {}),
        (10.1, {"hook-twist": FAIL}, {"hook-twist-older": FAIL}),
    ],
)
def test_twist(said: Ask, twist: float, strict: dict[str, str], older: dict[str, str]) -> None:
    """Any visible twist: ASME B30.10, from memory; more than 10°: Alberta OHS Code 2009, s. 309(b)."""
    assert said("hook", US, twist_deg=twist, **GOOD) == strict
    assert said("hook", OLDER, twist_deg=twist, **GOOD) == older


@given(st.floats(0, 360), st.floats(0.1, 90), st.integers(1, 8))
def test_full_rating_or_none_and_none_fails(off: float, angle: float, legs: int) -> None:
    item = Item(position="top", legs=legs, angle_deg=angle, loading_angle_deg=off, latch=True)
    fails = any(finding.outcome == FAIL for finding in hook.check(item, US))
    assert hook.derates(item, US) == (None if fails else ())


def test_a_wide_pair_gets_a_remedy() -> None:
    item = Item(position="top", legs=2, angle_deg=40, latch=True)
    (wide,) = (one for one in hook.check(item, US) if one.outcome == FAIL)
    assert "100° apart" in wide.sentence
    assert "shackle or a link" in wide.remedy


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    """What a cell that cannot be read means for the row is said once, by whoever read it."""
    problems = {"latch": "G7 holds 'maybe'"}
    assert said("hook", position="top", legs=1, problems=problems) == {}
    assert "latch" in hook.uses(Item(position="top"))
