"""Criteria: ready sets, who overrides whom, and what is refused."""

from __future__ import annotations

import datetime as dt

import pytest

from rigxl.criteria import Criteria
from rigxl.criteria.ready import READY
from rigxl.criteria.settings import SETTINGS
from rigxl.errors import InputError


@pytest.mark.parametrize("name", READY)
def test_every_value_has_a_source(name: str) -> None:
    """Each of the ready sets, setting by setting."""
    criteria = Criteria.ready(name)
    assert [one.name for one in criteria] == [one.name for one in SETTINGS]
    assert all(one.source.title for one in criteria)


def test_defaults_of_the_trade() -> None:
    """Margin and allowances: common practice, no source; 12 months: ASME B30 (from memory)."""
    us = Criteria.ready()
    assert us.margin == 0.25
    assert us.weight_allowance == {"weighed": 1.05, "calculated": 1.10, "estimated": 1.20}
    assert us.least_angle_deg == 30
    assert us.inspection_months == 12
    assert us.habits.ton is None
    assert Criteria.ready("europe").mode_factors


def test_later_overrides_earlier_and_says_who() -> None:
    """Set, then sheet, then command line."""
    criteria = Criteria.ready("europe").override({"Margin": "10 %", "ton": "short"}, "sheet 'Criteria'")
    criteria = criteria.override({"margin": "0.5"}, "the command line")
    chosen = {one.name: one.chosen_by for one in criteria}
    assert criteria.margin == 0.5
    assert criteria.habits.ton == "short"
    assert chosen["margin"] == "the command line"
    assert chosen["ton"] == "sheet 'Criteria'"
    assert chosen["least angle"] == READY["europe"].title


def test_the_day_is_set_once() -> None:
    """Somebody's day stands; today fills in where nobody chose."""
    day = dt.date(2026, 3, 31)
    chosen = Criteria.ready().override({"judged on": "2026-03-31"}, "the test")
    assert chosen.on(dt.date(2030, 1, 1)).judged_on == day
    assert Criteria.ready().on(day).judged_on == day
    with pytest.raises(InputError, match="no day"):
        _ = Criteria.ready().judged_on


@pytest.mark.parametrize(
    ("name", "value", "word"),
    [
        ("margin", "lots", "not a number"),
        ("margin", "-5 %", "not a number"),
        ("least angle", "20", "from 30"),
        ("ton", "heavy", "one of"),
        ("legs of four", "5", "whole number"),
        ("weighed", "0.9", "from 1"),
        ("required marks", "rated load, halo", "one of"),
        ("judged on", "31/03/2026", "2026-03-31"),
        ("colour", "red", "no setting"),
    ],
)
def test_refused_with_who_gave_it(name: str, value: str, word: str) -> None:
    """A sentence that names who, which setting, and what would do."""
    with pytest.raises(InputError, match=word) as caught:
        Criteria.ready().override({name: value}, "sheet 'Criteria', row 4")
    assert "sheet 'Criteria', row 4" in str(caught.value)
    assert name in str(caught.value)


def test_an_unknown_set_lists_the_sets() -> None:
    """us, ontario, europe."""
    with pytest.raises(InputError, match="us, ontario, europe"):
        Criteria.ready("mars")
