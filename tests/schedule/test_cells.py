"""Cells that cannot be used: each says its address, what was found and what would do."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from rigxl.schedule.check import check_workbook
from rigxl.units import Habits
from rigxl.workbook.values import CellError, Formula
from tests.schedule.sheets import item, problem, read, rows, sheet

MARCH = dt.datetime(2026, 3, 4)


@pytest.mark.parametrize(
    ("heading", "value", "said"),
    [
        ("Load", "5 ton", "could be short, long or metric tons"),
        ("Load", 5.0, "has no unit"),
        ("Load (t)", "N/A", "'N/A' says that the load is not known"),
        ("Load (t)", "TBC", "not known"),
        ("Load (t)", "-", "not known"),
        ("Load (t)", "?", "not known"),
        ("Load (t)", -5.0, "negative"),
        ("Load (t)", "−5", "negative"),
        ("Load (t)", 0.0, "cannot be the load, which is more than 0"),
        ("Load (t)", "heavy", "not one plain value"),
        ("Load (t)", "5 ± 0.1 t", "not one plain value"),
        ("Load (t)", True, "yes is a yes or no, where the load is wanted"),
        ("Load (t)", MARCH, "2026-03-04 is a date or time, where the load is wanted"),
        ("Load (mm)", 5.0, "not the unit of a load"),
        ("Size", MARCH, "turned into a date"),
        ("Size", "big", "not one plain size"),
        ("Legs", 0.0, "cannot be the legs, which is 1 or more"),
        ("Legs", 2.5, "not a whole number"),
        ("Quantity", 0.0, "1 or more"),
        ("Quantity", "a few", "not one plain value"),
        ("Sling angle", "steep", "not one plain value"),
        ("Sling angle", 0.0, "more than 0° and at most 90°"),
        ("Sling angle", 95.0, "more than 0° and at most 90°"),
        ("Angle from vertical", 90.0, "below 90 degrees"),
        ("Angle from vertical", 95.0, "below 90 degrees"),
        ("Included angle", 180.0, "below 180 degrees"),
        ("Loading angle", 181.0, "from 0° to 180°"),
        ("Temperature", 20.0, "has no unit"),
        ("Wear", 25.0, "could be 25 % or 25 times"),
        ("Design margin", 25.0, "write 25 %"),
        ("Hitch", "somehow", "write one of vertical, choker, basket"),
        ("Position", "upstairs", "write one of top, leg, device, drop, pick point"),
        ("Weight basis", "told by John", "write one of weighed, calculated, estimated"),
        ("Rating marked", "perhaps", "write one of yes, no, illegible"),
        ("Latch", "perhaps", "neither yes nor no"),
        ("Latch", "N/A", "not known"),
        ("Last inspection", "03/04/2026", "could be 2026-04-03 or 2026-03-04"),
        ("Last inspection", 46000.0, "46000 is not a date"),
        ("Last inspection", "last spring", "not a date that can be read"),
        ("Last inspection", "31/02/2026", "not a day of the calendar"),
        ("Last inspection", "4 Mar 26", "not a date that can be read"),
        ("Certificate no.", "pending", "not known"),
    ],
)
def test_a_cell_that_cannot_be_used(heading: str, value: Any, said: str) -> None:
    sentence = problem(heading, value)
    assert sentence.startswith("S!C2: ")
    assert said in sentence


def test_a_formula_that_was_never_calculated() -> None:
    """Whether nothing is stored with it or the 0 that some writers put there."""
    for stored in (None, 0.0):
        sentence = problem("Load (t)", Formula("=D9*2", stored, False))
        assert sentence == (
            "S!C2 holds a formula that was never calculated (=D9*2): open the file in a spreadsheet program, "
            "recalculate and save"
        )


def test_a_calculated_formula_stands_for_its_result() -> None:
    assert item("Load (t)", Formula("=2*2.5", 5.0, True)).load == pytest.approx(49033.25)
    assert item("Load (t)", Formula("=A1", "", True)).load is None


@pytest.mark.parametrize("cell", [CellError("#DIV/0!"), Formula("=1/0", CellError("#DIV/0!"), True)])
def test_an_error_is_neither_blank_nor_text(cell: Any) -> None:
    assert problem("Load (t)", cell).startswith("S!C2 holds the error #DIV/0!")
    assert problem("Certificate no.", cell).startswith("S!C2 holds the error #DIV/0!")


def test_what_equals_another_cell_is_not_taken_for_it() -> None:
    """True equals 1.0 and an error equals its text; the second of each is read on its own."""
    rows = [["Kind", "WLL (t)", "Legs", "Certificate no."], ["shackle", 5, 1.0, "#N/A"]]
    rows += [["shackle", 5, True, CellError("#N/A")]]
    first, second = (line.item for line in read(sheet("S", rows)))
    assert first.legs == 1
    assert "legs" in second.problems
    assert "not known" in first.problems["certificate"]
    assert "error" in second.problems["certificate"]


@pytest.mark.parametrize(
    ("heading", "value", "field", "wanted"),
    [
        ("Load (t)", 5.0, "load", 49033.25),
        ("Load (t)", "50 kN", "load", 50_000.0),
        ("Load", "11 000 lb", "load", 11_000 * 4.4482216152605),
        ("Rigging weight (t)", 0.0, "rigging", 0.0),
        ("Leg length (m)", 2.5, "leg_length", 2500.0),
        ("Pin dia (in)", 0.5, "pin", 12.7),
        ("Legs", "two legs", "legs", 2),
        ("Qty", "4 off", "quantity", 4),
        ("Sling angle", "60°", "angle_deg", 60.0),
        ("Angle from vertical", 30.0, "angle_deg", 60.0),
        ("Included angle", 60.0, "angle_deg", 60.0),
        ("Wear (%)", 5.0, "wear", 0.05),
        ("Wear", "5 %", "wear", 0.05),
        ("Temperature (°F)", 212.0, "temperature", 100.0),
        ("Hitch", "Choker hitch", "hitch", "choker"),
        ("Position", "Crane hook", "position", "top"),
        ("Position", "Load end", "position", "pick point"),
        ("Weight basis", "Load cell", "weight_basis", "weighed"),
        ("Plane of loading", "In the plane of the eye", "plane", "in plane"),
        ("Rating marked", "worn", "marked", "illegible"),
        ("Maker's mark", "Y", "maker_marked", "yes"),
        ("Latch", True, "latch", True),
        ("Latch", "No", "latch", False),
        ("Own pin", "x", "own_pin", True),
        ("Last inspection", MARCH, "inspected", MARCH.date()),
        ("Last inspection", "2026-03-04", "inspected", MARCH.date()),
        ("Last inspection", "4 Mar 2026", "inspected", MARCH.date()),
        ("Last inspection", "March 4th, 2026", "inspected", MARCH.date()),
        ("Last inspection", "25/12/2025", "inspected", dt.date(2025, 12, 25)),
        ("Tag", 17.0, "tag", "17"),
        ("Grade", 80.0, "grade", "80"),
        ("Torque applied (N·m)", 200.0, "torque", 200_000.0),
    ],
)
def test_a_cell_that_can_be_used(heading: str, value: Any, field: str, wanted: Any) -> None:
    one = item(heading, value)
    assert one.problems == {}
    got = getattr(one, field)
    assert got == (pytest.approx(wanted, rel=1e-12) if isinstance(wanted, float) else wanted)


def test_the_unit_and_the_step_from_mass_to_force_are_kept() -> None:
    one = item("Load", "5 t")
    assert one.units == {"rated_load": "t", "load": "t"}
    assert one.by_gravity == {"rated_load", "load"}
    assert item("Load", "50 kN").by_gravity == {"rated_load"}


def test_habits_settle_what_a_ton_is() -> None:
    one = read(sheet("S", [["Kind", "WLL (ton)"], ["shackle", 1]]), habits=Habits(ton="short"))[0].item
    assert one.rated_load == pytest.approx(2000 * 4.4482216152605)


@pytest.mark.parametrize("heading", ["Remarks", "Tag", "Description", "Inspected by"])
def test_a_dash_in_free_text_is_nothing(heading: str) -> None:
    assert item(heading, "-").problems == {}


def test_a_size_that_became_a_date_offers_both_readings() -> None:
    """2 January for 1/2, as spreadsheets make it."""
    sentence = problem("Size", dt.datetime(2026, 1, 2))
    assert "1/2" in sentence
    assert "2/1" in sentence


@pytest.mark.parametrize(
    ("said", "kind"),
    [("Chain sling with hooks", "sling"), ("sling c/w master link", "sling"), ("sling hook", "hook"),
     ("spreader shackle", None), ("shackle / hook", None), ("Shackle pin", None), ("Hook block", None),
     ("Coil hook", None), ("Sling bag", None), ("No shackle", None), ("Shackle - not required", None),
     ("Shackle pins spare", None), ("Pin for shackle", None), ("Bolt for shackle", None),
     ("Shackle nut", None), ("Shackle storage box", None), ("Load cell display", None),
     ("Edge protector for sling", None),
     ("Tag line w/ shackle", None), ("Wire rope w/ hook", None), ("Snap hook", None),
     ("Shackle, missing pin", None), ("Shackle w/o pin", None), ("Hook, no latch", None),
     ("Bent shackle", None),
     ("Shackle (do not use)", None), ("Scrap sling", None), ("Instead of shackle", None),
     ("Shackle with bolt, nut and cotter", "shackle"), ("Shackle, bolt type", "shackle"),
     ("Hook with latch", "hook"), ("Eye bolt for motor", "eye bolt"), ("Shackle no. 4, screw pin", "shackle"),
     ("Vacuum pad for plate", "vacuum pad"), ("Loose pin shackle", "shackle"), ("Spare shackle", "shackle"),
     ("Shackle, screw pin", "shackle")],
)  # fmt: skip
def test_a_cell_that_names_two_kinds_names_none(said: str, kind: str | None) -> None:
    """What it comes with does not count; a part of it, none of it, or one that is not whole is no kind."""
    found = rows(["Kind", "WLL (t)", "Size"], [said, 5, "3/4 in"])[0].item
    assert found.kind == kind
    assert ("kind" in found.problems) is (kind is None)


@pytest.mark.parametrize("heading", ["Description", "Type"])
@pytest.mark.parametrize("said", ["Shackle, missing pin", "Scrap shackle", "Wire rope w/ shackle"])
def test_a_kind_is_not_read_from_words_that_speak_against_it(heading: str, said: str) -> None:
    found = rows(["Tag", heading, "WLL (t)", "Size"], ["S-1", said, 5, "3/4 in"])[0].item
    assert found.kind is None
    assert found.problems["kind"].endswith("fill in the kind")


@pytest.mark.parametrize(
    ("heading", "said"),
    [
        ("Type", "screw pin (TBC)"),
        ("Type", "screw pin?"),
        ("Maker", "to be confirmed by vendor"),
        ("Maker", "as above"),
        ("Maker", '"'),
        ("Grade", "see note 3"),
        ("Certificate no.", "pending"),
    ],
)
def test_a_text_that_leaves_open_what_it_is_wanted_for(heading: str, said: str) -> None:
    assert problem(heading, said).startswith(f"S!C2: '{said}' ")


def test_no_defects_is_said_by_no_under_defects_alone() -> None:
    assert item("Defects (Y/N)", "No").condition == "no defects"
    assert item("Damage", "bent pin").condition == "bent pin"
    assert item("Condition", "no").condition == "no"


def test_in_line_is_an_angle_of_nothing() -> None:
    assert item("Loading angle (deg)", "In-line").loading_angle_deg == 0


@pytest.mark.parametrize(
    ("heading", "code", "tonnes", "held"),
    [
        ("WLL (t)", '0.0" t"', 50.0, ""),
        ("WLL", '0.0" t"', 50.0, ""),
        ("WLL (t)", '0.0" kN"', None, "its number format shows 'kN' behind it where the heading says t"),
        ("WLL (kg)", '0.0,"t"', None, "divided or in two ways where the heading says kg"),
        ("WLL (t)", '0.0" pcs"', 50.0, ""),
    ],
)
def test_a_unit_that_only_the_number_format_shows(
    tmp_path: Path, heading: str, code: str, tonnes: float | None, held: str
) -> None:
    """It stands in where the heading has no unit; where the heading has another, the row is held."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Kind", heading, "Size"])
    sheet.append(["shackle", 50, "2 in"])
    sheet["B2"].number_format = code
    path = tmp_path / "formats.xlsx"
    book.save(path)
    item = check_workbook(path).rows[0].judged.item
    assert held in item.problems.get("rated_load", "")
    assert bool(held) is ("rated_load" in item.problems)
    assert item.rated_load == (None if tonnes is None else pytest.approx(tonnes * 9806.65))
