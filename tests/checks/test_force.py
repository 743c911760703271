"""From load to force: against printed worked examples, and where a row must be held."""

from __future__ import annotations

import pytest

from rigxl.checks.force import carried
from rigxl.criteria import Criteria
from rigxl.items import Item
from rigxl.units import read_force

BARE = {"weighed": "1.0", "calculated": "1.0", "estimated": "1.0"}
PLAIN = Criteria.ready("us").override(BARE, "the test: no allowances, as in the printed examples")
POUND = 4.4482216152605


def pounds(force: float | None) -> float:
    assert force is not None
    return force / POUND


def leg(load_lb: float, **given: object) -> Item:
    return Item(position="leg", load=load_lb * POUND, rigging=0.0, units={"load": "lb"}, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("item", "printed", "within"),
    [
        # US Army FM 5-125, 1995, p. 3-9: 1,800 lb, two legs of 8 ft, 6 ft high
        (leg(1800, legs=2, leg_length=8 * 304.8, spread=2 * (8**2 - 6**2) ** 0.5 * 304.8), 1200, 0.001),
        # FM 5-125, Figure 3-9: 1,000 lb on two legs at 90, 45 degrees
        (leg(1000, legs=2, angle_deg=90.0), 500, 0.001),
        (leg(1000, legs=2, angle_deg=45.0), 707, 0.001),
        # FEMA Structural Collapse Technician, Module 4, p. SM4-19: 575 printed, 577.35 exact
        (leg(1000, legs=2, angle_deg=60.0), 577.35, 0.0001),
        # BC Association for Crane Safety quiz: 15,000 lb, legs of 16 ft, 12 ft high
        (leg(15000, legs=2, height=12 * 304.8, spread=2 * (16**2 - 12**2) ** 0.5 * 304.8), 10000, 0.001),
    ],
)
def test_printed_leg_tensions(item: Item, printed: float, within: float) -> None:
    """T = (W/N)(L/V), as printed."""
    assert pounds(carried(item, PLAIN).force) == pytest.approx(printed, rel=within)


def test_allowances_are_counted_and_said() -> None:
    """Hook load = (load × weight allowance + rigging) × dynamic allowance (common practice, no source)."""
    item = Item(position="top", load=10_000.0, rigging=500.0, weight_basis="calculated", units={"load": "kN"})
    result = carried(item, Criteria.ready("us").override({"dynamic allowance": "1.2"}, "the test"))
    assert result.force == pytest.approx((10_000 * 1.10 + 500) * 1.2)
    said = next(one.sentence for one in result.findings if one.rule.name == "hook-load")
    assert "1.10 calculated" in said
    assert "1.20" in said


def test_a_mass_becomes_a_force_by_standard_gravity_and_says_so() -> None:
    """9.80665 m/s2, exact by convention (NIST SP 811)."""
    reading = read_force("1 t")
    item = Item(
        position="top",
        load=reading.value,
        rigging=0.0,
        weight_basis="weighed",
        units={"load": "t"},
        by_gravity=frozenset({"load"}),
    )
    result = carried(item, PLAIN)
    assert result.force == pytest.approx(9806.65)
    assert any("9.80665" in one.sentence for one in result.findings)


@pytest.mark.parametrize(
    ("legs", "carrying", "share"), [(3, None, 2), (4, None, 2), (4, 3, 3), (4, 4, 4), (6, 3, 3)]
)
def test_two_of_four_legs_carry_unless_stated(legs: int, carrying: int | None, share: int) -> None:
    """NAVEDTRA 14080 p. 3-24: the two-leg formula also for three and four legs."""
    item = leg(1000, legs=legs, carrying=carrying, angle_deg=90.0)
    assert pounds(carried(item, PLAIN).force) == pytest.approx(1000 / share)


@pytest.mark.parametrize(
    ("legs", "angle_deg", "factor"),
    [(2, 45.0, 1.4), (2, 44.0, 1.0), (3, 60.0, 2.1), (4, 45.0, 2.1), (4, 30.0, 1.5)],
)
def test_european_mode_factors(legs: int, angle_deg: float, factor: float) -> None:
    """EN 818-4, EN 13414-1, EN 1492-1 uniform load method (from memory): capacity over one leg's WLL."""
    europe = Criteria.ready("europe").override(BARE, "the test")
    assert pounds(carried(leg(1000, legs=legs, angle_deg=angle_deg), europe).force) == pytest.approx(
        1000 / factor
    )


@pytest.mark.parametrize(
    ("item", "rule", "word"),
    [
        (Item(position="top"), "load-not-known", "weight"),
        (leg(1000, angle_deg=60.0), "legs-not-known", "number of legs"),
        (leg(1000, legs=2), "angle-not-known", "no sling angle"),
        (leg(1000, legs=5, angle_deg=60.0), "legs-not-known", "5 legs"),
        (leg(1000, legs=2, carrying=3, angle_deg=60.0), "legs-not-known", "3 legs"),
        (leg(1000, legs=2, leg_length=1000.0, spread=3000.0), "angle-not-known", "no bridle"),
        (Item(load=1000.0, rigging=0.0), "position-not-known", "position"),
    ],
)
def test_what_cannot_be_worked_out_is_held(item: Item, rule: str, word: str) -> None:
    """No force, and a sentence that says what to fill in."""
    result = carried(item, PLAIN)
    assert result.force is None
    held = [one for one in result.findings if one.outcome == "HOLD"]
    assert rule in {one.rule.name for one in held}
    assert any(word in one.sentence for one in held)
    assert all(one.remedy for one in held)


def test_angle_and_lengths_that_differ_are_held_and_both_shown() -> None:
    """Over 2° apart is held; within it the worse is taken (common practice, no source)."""
    apart = leg(1000, legs=2, angle_deg=60.0, leg_length=1000.0, spread=1414.2)
    held = [one for one in carried(apart, PLAIN).findings if one.outcome == "HOLD"]
    assert [one.rule.name for one in held] == ["angles-differ"]
    assert "60°" in held[0].sentence
    assert "45" in held[0].sentence
    close = leg(1000, legs=2, angle_deg=46.0, leg_length=1000.0, spread=1414.2)
    assert pounds(carried(close, PLAIN).force) == pytest.approx(707.1, rel=1e-3)


@pytest.mark.parametrize(
    ("ready", "angle_deg", "fails"),
    [("us", 30.0, False), ("us", 29.9, True), ("ontario", 44.0, True), ("ontario", 45.0, False)],
)
def test_least_sling_angle(ready: str, angle_deg: float, fails: bool) -> None:
    """ASME B30.9 forbids under 30° (from memory); 45° in the Ontario set is common practice, no source."""
    found = carried(leg(1000, legs=2, angle_deg=angle_deg, spread=None), Criteria.ready(ready)).findings
    assert any(one.rule.name == "least-angle" and one.outcome == "FAIL" for one in found) is fails


def test_a_shallow_bridle_is_told_how_long_its_legs_must_be() -> None:
    """cos 30° = (s/2)/L: for a spread of 3 m, legs of 1.732 m."""
    item = Item(
        position="leg", load=1000.0, rigging=0.0, legs=2, angle_deg=20.0, spread=3000.0, units={"spread": "m"}
    )
    remedy = next(one.remedy for one in carried(item, PLAIN).findings if one.rule.name == "least-angle")
    assert "1.732 m" in remedy
