"""Criteria on a sheet: found where people write them, and refused where two readings are possible."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.criteria import Criteria
from rigxl.errors import InputError
from rigxl.schedule.criteria_sheet import apply
from rigxl.workbook.values import Formula
from tests.schedule.sheets import sheet


def margin(*rows: list[Any]) -> float:
    """The design margin that a criteria sheet sets."""
    return apply(Criteria.ready(), sheet("Criteria", rows)).margin


@pytest.mark.parametrize(
    "rows",
    [
        [["Criteria of this job"], ["margin", "150 %"]],
        [[1, "margin", "150 %"]],
        [[None, "margin", 1.5]],
        [[Formula('="margin"', "margin", True), "150 %"]],
        [["margin", "150 %"], ["Margin", "150 %"]],
    ],
)
def test_a_setting_is_found(rows: list[list[Any]]) -> None:
    assert margin(*rows) == 1.5


def test_a_blank_value_leaves_the_ready_set() -> None:
    """As our own template has it, with the meaning in the third column."""
    assert margin(["margin", None, "Design margin"]) == 0.25


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([["margin", None, "150 %"]], "Criteria!C1 stands apart from the setting 'margin'"),
        ([["margin", None, None, 1.5]], "Criteria!D1 stands apart from the setting 'margin'"),
        ([["margin", "150 %"], ["margin", "25 %"]], "rows 1 and 2 of sheet 'Criteria' both set margin"),
        ([[1, "margn", "150 %"]], "there is no setting 'margn'"),
        ([[Formula('="margin"', None, False), "150 %"]], "Criteria!A1 holds a formula that was never"),
    ],
)
def test_what_is_refused(rows: list[list[Any]], said: str) -> None:
    with pytest.raises(InputError, match=said):
        margin(*rows)
