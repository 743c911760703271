"""Turnbuckles: the printed loads, the weaker end, and what is refused for lifting."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.errors import UnknownSizeError, UnknownUnitError
from rigxl.hardware import turnbuckle
from rigxl.hardware.listed import where
from rigxl.items import HOLD, Item
from rigxl.units import read_size

# NIST SP 811 (2008): the pound under standard gravity.
POUND = 4.4482216152605
US = Criteria.ready("us")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]


@pytest.mark.parametrize(
    ("thread", "breaking", "working", "kilonewtons"),
    [("3/4", 20000, 4000, 17.8), ("1 1/2", 85000, 17000, 75.6), ("2 1/4", 197000, 39400, 175.2)],
)
def test_published(thread: str, breaking: int, working: int, kilonewtons: float) -> None:
    """AASHTO M 269-77, Table 2: breaking strength and working load in lb, working load in kN beside them."""
    row = turnbuckle.FORGED.find(f"{thread} in")
    assert (row.breaking_lb, row.load_lb) == (breaking, working)
    assert turnbuckle.FORGED.rating(row) == pytest.approx(working * POUND)
    # the page gives kN to one decimal, in places cut off and not rounded
    assert turnbuckle.rating(f"{thread} in", "eye", "kN") == pytest.approx(kilonewtons, abs=0.1)


def test_working_load_is_a_fifth_of_breaking() -> None:
    """AASHTO M 269-77, note to Table 2."""
    assert all(row.breaking_lb == 5 * row.load_lb for row in turnbuckle.FORGED.rows)


def test_a_hook_end_is_two_thirds() -> None:
    """FEMA US&R, Structural Collapse Technician, Module 4, 2000: hook end 2/3 of an eye or jaw end."""
    assert turnbuckle.rating("3/4 in", "hook") == pytest.approx(4000 * 2 / 3)
    assert turnbuckle.rating("3/4 in", "jaw") == turnbuckle.rating("3/4 in", "stub") == 4000


@pytest.mark.parametrize(
    ("size", "lies"),
    [
        ("7/8 in", "between 3/4 in and 1 in"),
        ("19 in", "perhaps 19 mm is meant"),
        ("1/2 in", "under 3/4 in"),
        ("M20", "between 3/4 in and 1 in"),
    ],
)
def test_a_size_not_printed_is_refused(size: str, lies: str) -> None:
    with pytest.raises(UnknownSizeError, match=lies):
        turnbuckle.rating(size, "eye")


def test_an_answer_in_no_unit_of_load_is_refused() -> None:
    with pytest.raises(UnknownUnitError, match="unit of load"):
        turnbuckle.rating("1 in", "eye", "mm")


def test_a_size_without_a_length_lies_nowhere() -> None:
    assert where("2 t", turnbuckle.FORGED.sizes) == ""


@pytest.mark.parametrize(
    ("fields", "found"),
    [
        ({"ends": "Jaw & eye"}, ("jaw", "eye")),
        ({"ends": "clevis/clevis"}, ("jaw", "jaw")),
        ({"ends": "both stub ends"}, ("stub", "stub")),
        ({"ends": "jaw and hook"}, ("jaw", "hook")),
        ({"ends": "jaw and swage"}, ()),
        ({"ends": "standard"}, ()),
        ({"type": "jaw-eye", "description": "Turnbuckle, jaw-eye"}, ("jaw", "eye")),
        ({"description": "Turnbuckle 3/4 jaw"}, ()),
        ({"description": "Turnbuckle, hook and eye"}, ("hook",)),
    ],
)
def test_what_the_words_say(fields: dict[str, Any], found: tuple[str, ...]) -> None:
    assert turnbuckle.ends(Item(**fields)) == found


GOOD: dict[str, Any] = {
    "ends": "jaw and jaw", "loading_angle_deg": 0, "secured": True, "full_thread": True, "rated_load": 2e4,
}  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({}, {}, 1.0),
        ({"ends": "eye and stub"}, {}, 1.0),
        ({"loading_angle_deg": 5}, {}, 1.0),
        ({"loading_angle_deg": None}, {}, 1.0),
        ({"loading_angle_deg": 5.1}, {"turnbuckle-along": "FAIL"}, None),
        ({"loading_angle_deg": -1}, {"turnbuckle-along": "HOLD"}, 1.0),
        ({"ends": "hook and eye"}, {"turnbuckle-hook": "FAIL"}, None),
        ({"ends": None}, {"turnbuckle-ends": "HOLD"}, 1.0),
        ({"ends": "pattern 7"}, {"turnbuckle-ends": "HOLD"}, 1.0),
        ({"secured": False}, {"turnbuckle-locked": "FAIL"}, 1.0),
        ({"secured": None}, {"turnbuckle-locked": "HOLD"}, 1.0),
        ({"full_thread": False}, {"turnbuckle-thread": "FAIL"}, 1.0),
        ({"full_thread": None}, {"turnbuckle-thread": "HOLD"}, 1.0),
        ({"rated_load": None}, {"turnbuckle-rating": "HOLD"}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, Any], expected: dict[str, str], share: float | None
) -> None:
    """In line, locked, in full thread, no hook end overhead: ASME B30.26, from memory."""
    assert said("turnbuckle", **(GOOD | fields)) == expected
    assert left("turnbuckle", **(GOOD | fields)) == share


@given(st.floats(0, 180))
def test_full_rating_or_none(angle: float) -> None:
    assert turnbuckle.derates(Item(loading_angle_deg=angle, ends="jaw"), US) == (() if angle <= 5 else None)


def test_the_printed_load_alone_never_passes() -> None:
    """The page says that it is not for overhead lifting."""
    fields = GOOD | {"rated_load": None, "size": read_size("3/4 in"), "kind": "turnbuckle", "position": "leg"}
    criteria = US.override({"judged on": "2026-11-20"}, "this test")
    judged = judge(Item(load=100.0, legs=1, **fields), criteria)
    assert judged.verdict == HOLD
    assert any("not for overhead lifting" in one.sentence for one in judged.findings)


def test_a_size_in_the_wrong_unit_is_held() -> None:
    fields = GOOD | {"rated_load": None, "size": read_size("19 in"), "kind": "turnbuckle", "position": "leg"}
    criteria = US.override({"judged on": "2026-11-20"}, "this test")
    judged = judge(Item(load=100.0, legs=1, **fields), criteria)
    assert any("size '19 in' is not listed" in one.sentence for one in judged.findings if one.outcome == HOLD)


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    problems = {"ends": "K4 holds an error", "secured": "L4 holds 'maybe'", "full_thread": "M4 holds 'maybe'"}
    fields = GOOD | {"ends": None, "secured": None, "full_thread": None}
    assert said("turnbuckle", problems=problems, **fields) == {}
    assert problems.keys() <= turnbuckle.uses(Item())
