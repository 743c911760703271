"""A heading that may mean something is neither taken nor passed over."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigxl.schedule.mapping import read_mapping
from tests.schedule.sheets import item, read, rows, sheet


@pytest.mark.parametrize(
    ("heading", "value", "field"),
    [
        ("Load angle", 45, "loading_angle_deg"),
        ("Side load (deg)", 45, "loading_angle_deg"),
        ("Side loading", "yes", "loading_angle_deg"),
        ("Shackle angle (deg)", "TBC", "loading_angle_deg"),
        ("Weight (kg)", 5000, "load"),
        ("No. of slings", 2, "legs"),
        ("Broken wires", 12, "broken_in_lay"),
        ("Status", "Quarantined", "in_service"),
        ("Examination", "cracked", "condition"),
        ("Location", "below the beam", "position"),
    ],
)
def test_a_field_that_such_a_column_may_give_cannot_be_used(heading: str, value: Any, field: str) -> None:
    one = item(heading, value)
    assert getattr(one, field) is None
    assert one.problems[field].startswith(f"S!C2 stands under '{heading}', which could mean ")


@pytest.mark.parametrize(
    ("heading", "value"),
    [
        ("Side load (deg)", 0),
        ("Side load", "none"),
        ("Broken wires", 0),
        ("Status", "Issued"),
        ("Inspection", "annual"),
        ("Location", "Bay 3"),
        ("Width", 60),
        ("Material", "alloy steel"),
    ],
)
def test_what_changes_no_verdict_holds_no_row(heading: str, value: Any) -> None:
    assert item(heading, value).problems == {}


def test_what_another_column_gives_is_not_in_doubt() -> None:
    (line,) = rows(["Kind", "WLL (t)", "Load (t)", "Weight (kg)"], ["shackle", 5, 2, 8])
    assert line.item.problems == {}


def test_the_lift_gives_what_the_row_does_not() -> None:
    lifts = sheet("Lifts", [["Lift", "Load (t)", "Legs"], ["A", 4, 2]])
    hardware = sheet("Hardware", [["Lift", "Kind", "WLL (t)", "Weight (kg)"], ["A", "shackle", 5, 8]])
    (line,) = read(lifts, hardware)
    assert line.item.problems == {}


def test_a_doubt_in_the_table_of_lifts_reaches_its_items() -> None:
    lifts = sheet("Lifts", [["Lift", "Total weight (t)", "Legs"], ["A", 4, 2]])
    hardware = sheet("Hardware", [["Lift", "Kind", "WLL (t)"], ["A", "shackle", 5]])
    (line,) = read(lifts, hardware)
    assert line.item.problems["load"].startswith("Lifts!B2 stands under 'Total weight (t)'")


def test_a_mapping_settles_it(tmp_path: Path) -> None:
    (path := tmp_path / "map.csv").write_text("heading,field\nSide angle,leave alone\n")
    cells = [["Kind", "WLL (t)", "Side angle"], ["shackle", 5, 45]]
    (line,) = read(sheet("S", cells), mapping=read_mapping(path))
    assert line.item.problems == {}
