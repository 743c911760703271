"""The items of one lift as an assembly: from whole workbooks to verdicts."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from rigxl.rules import gathered
from rigxl.schedule.check import CheckedRow
from tests.schedule.books import GOOD, HOOK, check, decided, sentences

LIFT = {name: GOOD[name] for name in ("Lift", "Load (t)", "Weight basis", "Rigging weight (t)", "Maker")}
LIFT |= {name: GOOD[name] for name in ("Rating marked", "Last inspection")}
LINK: dict[str, Any] = LIFT | {"Tag": "L-1", "Kind": "link", "Type": "oblong master link", "Position": "top"}
LINK |= {"Quantity": 1, "Rated load (t)": 12, "Legs": 2, "Sling angle (deg)": 60}
SLING: dict[str, Any] = LIFT | {"Tag": "W-1", "Kind": "sling", "Type": "wire rope", "Position": "leg"}
SLING |= {"Quantity": 2, "Rated load (t)": 6, "Legs": 2, "Sling angle (deg)": 60, "Hitch": "vertical"}


def flat(row: dict[str, Any], angle: float = 40) -> dict[str, Any]:
    """The row at a flatter sling angle, and a link that is rated for it."""
    return row | {"Sling angle (deg)": angle, "Rated included angle (deg)": 120}


def verdicts(folder: Path, *rows: dict[str, Any]) -> list[tuple[str, list[str]]]:
    return [decided(row) for row in check(folder, *rows).rows]


def test_a_hook_above_a_link_sees_one_line(tmp_path: Path) -> None:
    """Its legs are 50° from plumb, over 45°, and the link collects them; a note says so."""
    slings = flat(SLING) | {"Rated load (t)": 8}
    assert verdicts(tmp_path, flat(HOOK), slings) == [(FAIL, ["hook-legs-wide"]), (PASS, [])]
    hook, link, _ = check(tmp_path, flat(HOOK), flat(LINK), slings).rows
    assert (decided(hook), decided(link)) == ((PASS, []), (PASS, []))
    assert sentences(hook, "collected-below") == [
        "it holds the one link or shackle below it, which collects the legs: one line"
    ]
    assert link.judged.item.legs == 2


def test_a_hook_above_a_collecting_shackle_sees_one_line(tmp_path: Path) -> None:
    """A bow shackle at the top."""
    shackle = flat(GOOD) | {"Position": "top", "Quantity": 1, "Rated load (t)": 8.5, "Size": "1 1/8 in"}
    assert verdicts(tmp_path, flat(HOOK), shackle)[0] == (PASS, [])


@pytest.mark.parametrize(
    "below",
    [
        [flat(LINK) | {"Quantity": 2}],
        [flat(LINK), flat(LINK) | {"Tag": "L-2"}],
        [flat(GOOD) | {"Position": "leg"}],
    ],
    ids=["two of a row", "two rows", "a shackle in a leg"],
)
def test_a_hook_that_holds_more_than_one_line(tmp_path: Path, below: list[dict[str, Any]]) -> None:
    """Then it collects, and its legs are too wide."""
    assert "hook-legs-wide" in verdicts(tmp_path, flat(HOOK), *below)[0][1]


def test_a_link_above_the_hook_collects_nothing(tmp_path: Path) -> None:
    """Rows are in order from the top."""
    assert "hook-legs-wide" in verdicts(tmp_path, flat(LINK), flat(HOOK))[1][1]


@pytest.mark.parametrize(
    ("quantities", "legs", "held"),
    [
        ((3,), 4, True),
        ((4,), 4, False),
        ((2, 2), 4, False),
        ((2, 1), 4, True),
        ((8,), 4, False),
        ((6,), 4, True),
    ],
)
def test_enough_items_for_the_legs(
    tmp_path: Path, quantities: tuple[int, ...], legs: int, held: bool
) -> None:
    """The rows of one kind together."""
    rows = [
        GOOD | {"Tag": f"S-{number}", "Quantity": quantity, "Legs": legs}
        for number, quantity in enumerate(quantities)
    ]
    expected = (HOLD, ["items-for-legs"]) if held else (PASS, [])
    assert verdicts(tmp_path, *rows) == [expected] * len(rows)


def test_three_shackles_for_four_legs_are_named(tmp_path: Path) -> None:
    """With the cells."""
    (row,) = check(tmp_path, GOOD | {"Quantity": 3, "Legs": 4}).rows
    assert sentences(row, "items-for-legs") == ["3 shackles in the legs, and there are 4 legs (Schedule!E2)"]


def test_what_serves_several_legs_or_is_not_counted(tmp_path: Path) -> None:
    """One bridle is of four legs; a blank quantity says nothing; at the pick points more may hang."""
    bridle = SLING | {
        "Description": "4-leg bridle, rating per leg",
        "Quantity": 1,
        "Legs": 4,
        "Rated load (t)": 6,
    }
    assert verdicts(tmp_path, bridle) == [(PASS, [])]
    assert verdicts(tmp_path, GOOD | {"Quantity": None, "Legs": 4}) == [(PASS, [])]
    picks = GOOD | {"Position": "pick point", "Legs": 4}
    assert verdicts(tmp_path, picks | {"Quantity": 6}) == [(PASS, [])]
    assert verdicts(tmp_path, picks | {"Quantity": 3}) == [(HOLD, ["items-for-legs"])]


BAR: dict[str, Any] = LIFT | {
    "Tag": "B-1", "Kind": "spreader bar", "Position": "device", "Quantity": 1, "Rated load (t)": 8,
    "Engineer's mark": "DRG-7", "Own weight (t)": 0.8, "Proof load (t)": 10, "Written procedure": "yes",
    "Bar length (m)": 4, "Spread of picks (m)": 4, "Rigging weight (t)": 1, "Sling angle (deg)": 60,
    "Legs": 2,
}  # fmt: skip


def test_each_item_sees_the_weight_below_it(tmp_path: Path) -> None:
    """5 t × 1.05 + 1 t of rigging, of which the bar is 0.8 t: the legs carry the bar, the drops do not."""
    rigged = {"Rigging weight (t)": 1}
    legs = SLING | rigged | {"Rated load (t)": 8}
    drops = SLING | rigged | {"Tag": "D-1", "Position": "drop", "Sling angle (deg)": 90}
    picks = GOOD | rigged | {"Tag": "P-1", "Position": "pick point", "Sling angle (deg)": 90}
    rows = check(tmp_path, HOOK | rigged, legs, BAR, drops, picks).rows
    forces = [force(row) for row in rows]
    leg = 6.25 / 2 / math.sin(math.radians(60))
    assert forces == pytest.approx([6.25, leg, 5.45, 5.45 / 2, 5.45 / 2])
    assert all(row.verdict == PASS for row in rows)
    assert "− 0.8 t the device" in sentences(rows[3], "hook-load")[0]


def test_the_device_is_not_taken_off_what_does_not_have_it_in(tmp_path: Path) -> None:
    """A rigging weight less than the bar's own cannot have the bar in it."""
    rigged = {"Rigging weight (t)": 0.1}
    drops = SLING | rigged | {"Tag": "D-1", "Position": "drop", "Sling angle (deg)": 90}
    _, drop = check(tmp_path, BAR | rigged, drops).rows
    assert force(drop) == pytest.approx(5.35 / 2)


def force(row: CheckedRow) -> float:
    """In tonnes by standard gravity."""
    assert row.judged.force is not None
    return row.judged.force / 9806.65


PAD: dict[str, Any] = LIFT | {
    "Tag": "E-1", "Kind": "pad eye", "Position": "pick point", "Quantity": 2, "Rated load (t)": 6, "Legs": 2,
    "Sling angle (deg)": 60, "Engineer's mark": "DRG-8", "Rated up to an angle of (deg)": 60,
    "Plane": "in plane",
}  # fmt: skip


@pytest.mark.parametrize(
    ("hole", "verdict"),
    [(26, (PASS, [])), (24, (FAIL, ["hole-fit"])), (30, (FAIL, ["hole-fit"]))],
)
def test_pin_and_hole_of_neighbours(tmp_path: Path, hole: float, verdict: tuple[str, list[str]]) -> None:
    """A pin of 25.4 mm; 1/8 in or 10 % over it is common practice, no source."""
    shackle = GOOD | {"Pin diameter (mm)": 25.4}
    rows = check(tmp_path, shackle, PAD | {"Hole diameter (mm)": hole}).rows
    assert [decided(row) for row in rows] == [verdict] * 2
    if verdict[0] == FAIL:
        assert "(Schedule!Q2 and Schedule!U3)" in sentences(rows[0], "hole-fit")[0]


def test_rows_that_are_no_neighbours_are_not_compared(tmp_path: Path) -> None:
    """A sling between them, another lift, or the load's end above the leg."""
    shackle, pad = GOOD | {"Pin diameter (mm)": 25.4}, PAD | {"Hole diameter (mm)": 20}
    for rows in (
        (shackle, SLING, pad),
        (shackle, pad | {"Lift": "Lift 2"}),
        (pad, shackle),
    ):
        assert all("hole-fit" not in rules for _, rules in verdicts(tmp_path, *rows))


@pytest.mark.parametrize(("bar", "verdict"), [(38, PASS), (42, FAIL)])
def test_a_link_in_the_throat_of_a_hook(tmp_path: Path, bar: float, verdict: str) -> None:
    """A throat of 40 mm."""
    rows = check(tmp_path, HOOK | {"Throat opening (mm)": 40}, LINK | {"Bar diameter (mm)": bar}).rows
    assert [row.verdict for row in rows] == [verdict] * 2
    assert ("hook-fit" in rows[0].rules) == (verdict == FAIL)


@pytest.mark.parametrize(("width", "verdict"), [(60, PASS), (61, FAIL)])
def test_two_slings_side_by_side_in_a_bow(tmp_path: Path, width: float, verdict: str) -> None:
    """Two web slings in a bow of 120 mm."""
    bow = GOOD | {
        "Position": "top",
        "Quantity": 1,
        "Rated load (t)": 12,
        "Size": None,
        "Inside width (mm)": 120,
    }
    web = SLING | {"Type": "web", "Sling width (mm)": width, "Edge protection": "yes"}
    rows = check(tmp_path, bow, web).rows
    assert [row.verdict for row in rows] == [verdict] * 2
    if verdict == FAIL:
        assert "2 slings side by side" in sentences(rows[1], "bow-fit")[0]


@pytest.mark.parametrize(("rope", "expected"), [("25 mm", (PASS, [])), ("28 mm", (HOLD, ["bend-over-pin"]))])
def test_a_rope_over_a_thin_pin(tmp_path: Path, rope: str, expected: tuple[str, list[str]]) -> None:
    """D/d of 1 at least over a pin of 25.4 mm: common practice, no source."""
    rows = check(tmp_path, SLING | {"Rope diameter": rope}, GOOD | {"Pin diameter (mm)": 25.4}).rows
    assert [decided(row) for row in rows] == [expected] * 2


def test_the_weakest_item_is_named(tmp_path: Path) -> None:
    """The one of the highest utilisation, of those whose utilisation is known."""
    sling, shackle, unknown = check(tmp_path, SLING, GOOD, LINK | {"Rated load (t)": None}).rows
    assert (sling.weakest, shackle.weakest) == (False, True)
    assert sentences(shackle, "weakest-item") == [
        "the weakest of 2 items of its lift, utilisation 0.533; of 1 the utilisation is not known"
    ]
    assert unknown.verdict == HOLD


def test_lifts_of_one_name_on_two_sheets_have_a_weakest_item_each(tmp_path: Path) -> None:
    """For they are two lifts."""
    more = [list(GOOD), list((GOOD | {"Tag": "S-2"}).values())]
    checked = check(tmp_path, GOOD, Other=more)
    assert [row.weakest for row in checked.rows] == [True, True]
    assert list(checked.lifts) == ["Lift 1", "Lift 1 on sheet 'Other'"]


def test_every_rule_is_gathered() -> None:
    """So that rigxl rules can explain it."""
    assert {"collected-below", "items-for-legs", "bend-over-pin", "weakest-item"} <= gathered().keys()
