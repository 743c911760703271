"""The likely cause of a figure that is off, against numbers worked by hand.

The arithmetic is T = (W / N)(L / V) of US Army FM 5-125, 1995, p. 3-9, which is W / (N sin θ): of 10,000 lb
on two legs each has 10,000 lb at 30°, 7,071 lb at 45° and 5,774 lb at 60°, by load angle factors of 2.000,
1.414 and 1.155 as every sling chart has them. Conversions: NIST SP 811, 2008, appendix B.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.items import Item
from rigxl.opinion.causes import likely_causes
from rigxl.opinion.figures import CHECKS, FIGURES, Case, of_lift
from rigxl.units import read_force, read_size

LB, T = read_force(1, "lb").value, read_force(1, "t").value
PLAIN = {"weighed": "1", "margin": "25 %", "judged on": "2026-11-25"}


def case(overrides: dict[str, str] | None = None, **fields: Any) -> Case:
    """A leg shackle in good order; the load is 10,000 lb, and nothing is allowed for unless stated."""
    given: dict[str, Any] = {
        "kind": "shackle",
        "position": "leg",
        "type": "bow, bolt type",
        "size": read_size("1 1/2 in"),
        "rated_load": 40_000 * LB,
        "maker": "Halden Forge",
        "marked": "yes",
        "inspected": dt.date(2026, 6, 1),
        "load": 10_000 * LB,
        "weight_basis": "weighed",
        "rigging": 0.0,
        "legs": 2,
        "angle_deg": 60.0,
    } | fields
    criteria = Criteria.ready("us").override(PLAIN | (overrides or {}), "the test")
    return Case(judge(Item(**given), criteria), criteria)


def causes(name: str, one: Case, said: float, unit: str = "lb", grain: float = 0.0) -> tuple[str, ...]:
    """What is likely, of a figure said in a unit."""
    size = read_force(1, unit).value if FIGURES[name].read == "force" else 1.0
    return likely_causes(name, one, said * size, FIGURES[name].answers(one)[0], grain * size, unit)


def answer(name: str, one: Case, unit: float = 1.0) -> float:
    """What a figure works out at."""
    return FIGURES[name].answers(one)[0] / unit


@pytest.mark.parametrize(("angle", "tension"), [(30.0, 10_000), (45.0, 7_071), (60.0, 5_774)])
def test_the_chart_itself(angle: float, tension: float) -> None:
    """Two legs, 10,000 lb: the figures of the chart, to its last digit."""
    assert answer("leg_tension", case(angle_deg=angle), LB) == pytest.approx(tension, abs=0.5)
    assert answer("load_angle_factor", case(angle_deg=angle)) == pytest.approx(tension / 5_000, abs=1e-3)


@pytest.mark.parametrize(
    ("fields", "said", "words"),
    [
        # 10,000 / (2 cos 60°) = 10,000; with the 30° from the vertical, sin 30° gives the same
        ({}, 10_000, "the cosine were taken for the sine"),
        ({}, 5_000, "the sling angle were left out"),  # 10,000 / 2
        ({}, 4_330, "it were multiplied by the sine"),  # 5,000 × 0.8660
        ({}, 2_887, "the tangent were taken for the sine"),  # 10,000 / (2 tan 60°)
        ({}, 11_547, "the load were not divided by the legs"),  # 10,000 / 0.8660
        ({"legs": 4}, 2_887, "the load were divided by 4 legs, and 2 carry"),
        ({"legs": 3}, 3_849, "the load were divided by 3 legs, and 2 carry"),
        ({"angle_deg": 70.0}, 7_779, "the included angle were taken for the sling angle"),  # 5,000 / sin 40°
        ({}, -16_404, "in degrees were taken as radians"),  # sin(60) is -0.30481: 5,000 / -0.30481
        ({"quantity": 2}, 2_887, "divided by the 2 pieces of the row"),
        (
            {"rigging": 500 * LB},
            5_774,
            "the rigging weight were left out",
        ),  # else 10,500 / (2 × 0.8660) = 6,062
    ],
)
def test_slips_of_load_legs_and_angle(fields: dict[str, Any], said: float, words: str) -> None:
    """One slip each, recognised to a tenth of a per cent."""
    found = causes("leg_tension", case(**fields), said)
    assert any(words in one for one in found), found


@pytest.mark.parametrize(
    ("said", "unit", "words"),
    [
        (2_619, "lb", "it were in kg, not converted to lb (off by 1/2.2046)"),  # 5,774 lb is 2,618.9 kg
        (5_774, "kg", "it were in lb, not converted to kg (off by 2.2046)"),
        (2.887, "t", "it were in short tons, not converted to t (off by 2204.6/2000)"),  # 5,774 / 2,000
        (2.619, "short ton", "it were in t, not converted to short ton (off by 2000/2204.6)"),
        (2.578, "t", "it were in long tons, not converted to t"),  # 5,774 / 2,240
        (2.619, "kN", "it were in t, not converted to kN (off by 1/9.80665)"),
        (25.683, "t", "it were in kN, not converted to t (off by 9.80665)"),  # 5,774 lbf is 25.683 kN
    ],
)
def test_units_not_converted(said: float, unit: str, words: str) -> None:
    """1 lb = 0.45359237 kg, 1 t = 2,204.62 lb, g = 9.80665 m/s²."""
    found = causes("leg_tension", case(), said, unit)
    assert any(words in one for one in found), found


@pytest.mark.parametrize(
    ("name", "said", "words"),
    [
        # loaded 30° off its axis, derate 0.70: required 5,774 / 0.7 × 1.25 = 10,310 lb
        ("required", 7_217, "the derate of 0.7 were left out"),
        ("required", 8_248, "the design margin of 25% were left out"),
        ("required", 5_052, "it were multiplied by the derate"),  # 5,774 × 0.7 × 1.25
        ("required", 10_997, "it were divided by 0.75, and not multiplied by 1.25"),
        ("derated", 40_000, "the derate of 0.7 were left out"),
        ("derated", 57_143, "it were divided by the derate"),
        # 5,774 / (40,000 × 0.7) = 0.2062
        ("utilisation", 0.1443, "the derate of 0.7 were left out"),
        ("utilisation", 0.2577, "the design margin of 25% were in it"),
        ("utilisation", 4.850, "the rating were divided by the force"),
        ("utilisation", 0.2273, "off by 2204.6/2000"),
        ("utilisation", 2.022, "off by 9.80665"),
        ("derate", 1.0, "the derate of 0.7 were left out"),
        ("load_angle_factor", 2.0, "the cosine were taken for the sine"),
        ("sling_angle", 30.0, "it were from the vertical"),
    ],
)
def test_slips_after_the_force(name: str, said: float, words: str) -> None:
    found = causes(name, case(loading_angle_deg=30.0, plane="in plane"), said)
    assert any(words in one for one in found), found


def test_the_weight_allowance_and_another_slip_together() -> None:
    """(10,000 × 1.1) / (2 sin 60°) is 6,351 lb; without the 1.1 and with the cosine 10,000."""
    one = case({"calculated": "1.1"}, weight_basis="calculated")
    assert answer("leg_tension", one, LB) == pytest.approx(6_351, abs=1)
    assert "the weight allowance of 1.1 were left out" in causes("leg_tension", one, 5_773.5)[0]
    both = causes("leg_tension", one, 10_000)
    assert "the weight allowance of 1.1 were left out and the cosine" in both[0]


def test_nothing_is_said_of_a_figure_that_no_slip_makes() -> None:
    """Nor of one that is shown so coarsely that every slip would do."""
    assert causes("leg_tension", case(), 7_345) == ()
    assert causes("leg_tension", case(), 6_500, grain=1_000) == ()


def test_more_answers_than_one() -> None:
    """By mode factor or by the sine; an angle factor and its inverse; a basket's sling or its legs."""
    europe = Criteria.ready("europe").override({"judged on": "2026-11-25"}, "the test")
    item = case().item
    metric = Case(judge(item, europe), europe)
    # two legs at 30° from the vertical: mode factor 1.4; 10,000 × 1.05 / 1.4 = 7,500, by the sine 6,062
    assert [one / LB for one in FIGURES["leg_tension"].answers(metric)] == pytest.approx(
        [7_500, 6_062], abs=1
    )
    assert FIGURES["angle_factor"].answers(case()) == pytest.approx((1.1547, 0.8660), abs=1e-4)


def test_nothing_is_worked_out_from_a_cell_that_could_not_be_read() -> None:
    """A row that is held over such a cell has no figures of ours to compare with."""
    broken = case(problems={"rigging": "S!K5: unreadable"}, rigging=None)
    assert broken.judged.verdict == "HOLD"
    assert [name for name, one in FIGURES.items() if one.answers(broken)] == [
        "sling_angle",
        "load_angle_factor",
        "angle_factor",
    ]
    assert CHECKS["strength"].ours(broken) is None


def test_a_line_of_a_table_of_lifts_is_worked_out_as_one_of_its_legs() -> None:
    criteria = Criteria.ready("us")
    lift = of_lift(
        Item(load=10 * T, weight_basis="weighed", rigging=0.5 * T, legs=2, angle_deg=60.0), criteria
    )
    assert answer("hook_load", lift, T) == pytest.approx(11.0)
    assert answer("leg_tension", lift, T) == pytest.approx(6.3509, abs=1e-4)
    assert answer("over_tension", lift) == pytest.approx(1.7321, abs=1e-4)
