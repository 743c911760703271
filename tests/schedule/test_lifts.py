"""What belongs to a lift is shared among its rows, from one row or from a table of lifts."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.schedule.line import Line
from tests.schedule.sheets import read, rows, sheet

FLAT = ["Lift", "Kind", "WLL (t)", "Load (t)", "Sling angle", "Position"]
HARDWARE = ["Lift", "Kind", "WLL (t)"]
LOAD = 29_419.95
"""3 t by standard gravity, 9.80665 m/s² (NIST SP 811)."""


def joined(lifts: list[list[Any]], *items: list[Any], headings: list[str] = HARDWARE) -> list[Line]:
    """Hardware on one sheet, lifts on another."""
    return read(sheet("Lifts", lifts), sheet("Gear", [headings, *items]))


def test_one_row_of_a_lift_speaks_for_all() -> None:
    first, second, other = rows(FLAT, ["A", "shackle", 5, 3, 60], [" a ", "hook", 5], ["B", "hook", 5])
    assert (second.item.load, second.item.angle_deg) == (LOAD, 60)
    assert (second.cells["load"], second.item.units["load"]) == ("S!D2", "t")
    assert "load" in second.item.by_gravity
    assert second.notes == ("load, sling angle from horizontal: taken from row 2 of sheet 'S'",)
    assert first.notes == ()
    assert (other.item.load, other.item.problems) == (None, {})


def test_rows_that_disagree_hold_the_whole_lift() -> None:
    lines = rows(FLAT, ["A", "shackle", 5, 3, 60], ["A", "hook", 5, 4, 60], ["A", "hook", 5])
    for line in lines:
        assert line.item.load is None
        assert line.item.problems == {
            "load": "S!D2 and S!D3 differ on the load of lift 'A' (3 t and 4 t): settle which is right"
        }
        assert line.item.angle_deg == 60


def test_the_same_load_in_two_units_does_not_disagree() -> None:
    lines = rows(FLAT, ["A", "shackle", 5, 3], ["A", "hook", 5, "3000 kg"])
    assert [line.item.problems for line in lines] == [{}, {}]


def test_a_load_that_cannot_be_read_holds_the_rows_that_lean_on_it() -> None:
    first, second = rows(FLAT, ["A", "shackle", 5, "5 ton"], ["A", "hook", 5])
    assert second.item.problems == first.item.problems
    assert first.item.problems["load"].startswith("S!D2: ")


def test_drops_under_a_device_have_their_own_geometry() -> None:
    leg, drop, pick = rows(
        FLAT,
        ["A", "sling", 5, 3, 60, "leg"],
        ["A", "sling", 5, None, 90, "drop"],
        ["A", "shackle", 5, None, None, "pick point"],
    )
    assert [line.item.angle_deg for line in (leg, drop, pick)] == [60, 90, 90]
    assert [line.item.load for line in (leg, drop, pick)] == [LOAD] * 3
    assert pick.cells["angle_deg"] == "S!E3"


def test_a_drop_takes_no_geometry_from_the_legs_above() -> None:
    leg, drop = rows(FLAT, ["A", "sling", 5, 3, 60, "leg"], ["A", "sling", 5, None, None, "drop"])
    assert (leg.item.angle_deg, drop.item.angle_deg, drop.item.load) == (60, None, LOAD)


def test_without_a_device_the_pick_point_shares_the_legs_geometry() -> None:
    _, pick = rows(FLAT, ["A", "sling", 5, 3, 60, "leg"], ["A", "shackle", 5, None, None, "pick point"])
    assert pick.item.angle_deg == 60


def test_lifts_of_one_name_on_two_sheets_are_two_lifts() -> None:
    one = sheet("One", [FLAT, ["A", "shackle", 5, 3]])
    other = sheet("Two", [FLAT, ["A", "shackle", 5]])
    assert [line.item.load for line in read(one, other)] == [LOAD, None]


def test_a_table_of_lifts_is_joined_by_name() -> None:
    lifts = [
        [
            "Lift",
            "Load (t)",
            "Weight basis",
            "Legs",
            "Legs carrying",
            "Angle from vertical",
            "Temperature (°C)",
        ]
    ]
    lifts += [["Lift 1", 3, "weighed", 4, "all", 30, 20], ["Lift 2", 5, "calculated", 2, None, 15, None]]
    first, second = joined(lifts, ["LIFT  1", "sling", 5], ["Lift 2", "sling", 5])
    item = first.item
    assert (item.load, item.weight_basis, item.legs, item.carrying, item.angle_deg) == (
        LOAD,
        "weighed",
        4,
        4,
        60,
    )
    assert (item.temperature, second.item.temperature) == (20, None)
    assert first.cells["load"] == "Lifts!B2"
    assert first.notes == (
        "load, weight basis, legs, legs carrying, sling angle from horizontal, temperature: "
        "taken from row 2 of sheet 'Lifts'",
    )
    assert (item.problems, second.item.problems) == ({}, {})


def test_what_a_table_of_lifts_says_of_its_slings_is_not_said_of_each_item() -> None:
    lifts = [
        ["Lift", "Load (t)", "Sling type", "Hitch", "Remarks"],
        ["A", 3, "wire rope", "basket", "slowly"],
    ]
    (line,) = joined(lifts, ["A", "shackle", 5])
    assert (line.item.load, line.item.type, line.item.hitch, line.item.remarks) == (LOAD, None, None, None)


def test_a_lift_that_is_not_in_the_table() -> None:
    (line,) = joined([["Lift", "Load (t)"], ["A", 3]], ["C", "shackle", 5])
    sentence = "Gear!A2: lift 'C' is not in the table of lifts: add it there or correct its name"
    assert line.item.problems == {"lift": sentence, "load": sentence}


def test_a_lift_that_is_twice_in_the_table() -> None:
    (line,) = joined([["Lift", "Load (t)"], ["A", 3], ["a", 3]], ["A", "shackle", 5])
    assert line.item.problems["load"] == (
        "Gear!A2: lift 'A' is more than once in the table of lifts (Lifts!A2 and Lifts!A3): keep one of them"
    )


def test_a_row_that_names_no_lift_beside_a_table_of_lifts() -> None:
    (line,) = joined([["Lift", "Load (t)"], ["A", 3]], [None, "shackle", 5])
    assert "names no lift" in line.item.problems["load"]


def test_a_row_that_disagrees_with_the_table_of_lifts() -> None:
    headings = [*HARDWARE, "Load (t)"]
    first, second = joined(
        [["Lift", "Load (t)"], ["A", 3]], ["A", "shackle", 5, 4], ["A", "hook", 5, None], headings=headings
    )
    for line in (first, second):
        assert line.item.problems["load"].startswith(
            "Lifts!B2 and Gear!D2 differ on the load of lift 'A' (3 t and 4 t)"
        )


@pytest.mark.parametrize("said", ["TBC", "5 ton"])
def test_a_table_of_lifts_with_an_unusable_load(said: str) -> None:
    (line,) = joined([["Lift", "Load (t)"], ["A", said]], ["A", "shackle", 5])
    assert line.item.problems["load"].startswith("Lifts!B2: ")


def test_a_table_of_lifts_on_the_same_sheet_comes_first() -> None:
    own = sheet("S", [["Lift", "Load (t)"], ["A", 3], [], HARDWARE, ["A", "shackle", 5]])
    (line,) = read(own, sheet("Lifts", [["Lift", "Load (t)"], ["A", 9]]))
    assert line.item.load == LOAD


def test_a_row_keeps_the_geometry_it_states() -> None:
    """A hook that takes one line and legs at two angles are no contradiction; blanks are then not filled."""
    headings = [*FLAT, "Legs"]
    hook, leg, other, blank = rows(
        headings,
        ["A", "hook", 5, 3, 90, "top", 1],
        ["A", "sling", 5, None, 60, "leg", 2],
        ["A", "sling", 5, None, 45, "leg", None],
        ["A", "shackle", 5, None, None, "leg", 2],
    )
    assert [line.item.angle_deg for line in (hook, leg, other)] == [90, 60, 45]
    assert [line.item.problems for line in (hook, leg)] == [{}, {}]
    assert other.item.problems["legs"] == (
        "S!G2 and S!G3 differ on the legs of lift 'A' (1 and 2): settle which is right"
    )
    assert blank.item.angle_deg is None
    assert blank.item.problems["angle_deg"] == (
        "S!E2 and S!E3 differ on the sling angle from horizontal of lift 'A' (90° and 60°): "
        "settle which is right"
    )
    assert blank.item.load == LOAD


def test_a_row_keeps_its_angle_beside_a_table_of_lifts() -> None:
    headings = [*HARDWARE, "Sling angle"]
    first, second = joined(
        [["Lift", "Load (t)", "Sling angle"], ["A", 3, 60]],
        ["A", "shackle", 5, 75],
        ["A", "sling", 5, 60],
        headings=headings,
    )
    assert (first.item.angle_deg, second.item.angle_deg) == (75, 60)
    assert (first.item.problems, second.item.problems) == ({}, {})


def test_the_rigging_of_a_lift_may_not_differ() -> None:
    headings = [*HARDWARE, "Load (t)", "Rigging weight (t)"]
    for line in rows(headings, ["A", "shackle", 5, 3, 0.1], ["A", "hook", 5, 3, 0.2]):
        assert line.item.rigging is None
        assert "differ on the rigging weight" in line.item.problems["rigging"]
