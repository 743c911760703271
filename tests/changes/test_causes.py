"""Why verdicts changed: worked out by hand for each, with the arithmetic beside it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from rigxl.changes.compare import Changed, Compared
from rigxl.changes.versions import compare_workbooks
from rigxl.schedule.check import check_workbook
from rigxl.schedule.goods_in import CHECK, READ, RIGHT, TAG
from rigxl.schedule.mark import mark_checked
from rigxl.workbook.guard import Limits
from tests.changes.books import TODAY, between, only, shackle, told, write


def causes(one: Changed) -> list[tuple[str, str]]:
    """The causes of a change, as code and sentence."""
    return [(cause.code, cause.sentence) for cause in one.causes]


def by_name(found: Compared) -> dict[str, Changed]:
    """The changed rows by tag."""
    return {one.new.name: one for one in found.changed}


def test_of_several_inputs_the_one_that_decides_is_named(tmp_path: Path) -> None:
    """2.48 t × 1.25 = 3.10 t: over 3 t and under 3.5 t, whoever the maker is."""
    found = between(tmp_path, [shackle()], [shackle(rated=3.0, maker="Tollmark")])
    one = only(found)
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert causes(one) == [("inputs", "its own rated load")]
    assert [each.field for each in one.inputs] == ["rated_load", "maker"]


def test_two_inputs_that_decide_only_together_are_both_named(tmp_path: Path) -> None:
    """Of 3.85 t: 4.5 t take (4.5 × 1.05 + 0.1) / (2 sin 60°) × 1.25 = 3.48 t, at 50° 3.51 t; both 3.94 t."""
    found = between(tmp_path, [shackle(rated=3.85)], [shackle(rated=3.85, load=4.5, angle=50)])
    one = only(found)
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert causes(one) == [("inputs", "its own load, sling angle from horizontal")]


LIFTS = (["Lift", "Load (t)", "Weight basis", "Rigging weight (t)", "Legs", "Sling angle (deg)"],)
OF_THE_LIFT = ("Load (t)", "Weight basis", "Rigging weight (t)", "Legs", "Sling angle (deg)")


def test_what_a_row_takes_from_its_lift_is_named_with_its_cell(tmp_path: Path) -> None:
    """5 t in place of 4: (5 × 1.05 + 0.1) / (2 sin 60°) × 1.25 = 3.86 t, of 3.5 t."""
    row = {name: value for name, value in shackle(rated=3.5).items() if name not in OF_THE_LIFT}
    old, new = ([*LIFTS, ["Pump", load, "weighed", 0.1, 2, 60]] for load in (4, 5))
    found = between(tmp_path, [row], [row], old_sheets={"Lifts": old}, new_sheets={"Lifts": new})
    assert told(found) == [("Pump", "load", "4 t", "5 t")]
    one = by_name(found)["S-101"]
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert causes(one) == [("taken", "what it takes from other rows: load (Lifts!B2)")]


def test_what_an_inspection_found_is_named_with_its_cell(tmp_path: Path) -> None:
    """A row that is fit, and a later inspection that takes the piece out of service."""
    heads = ["Tag", "Date", "Inspected by", "Findings", "In service"]
    old = [heads, ["S-101", dt.date(2026, 5, 4), "store", "OK", "yes"]]
    new = [*old, ["S-101", dt.date(2026, 11, 3), "rigger", "crack", "no"]]
    found = between(
        tmp_path, [shackle()], [shackle()], old_sheets={"Inspections": old}, new_sheets={"Inspections": new}
    )
    assert [entry.name for entry in found.added] == ["S-101 2026-11-03"]
    one = only(found)
    assert (one.before, one.after) == ("PASS", "FAIL")
    (cause,) = one.causes
    assert cause.code == "taken"
    assert "in service (Inspections!E3)" in cause.sentence


def test_another_row_of_the_same_piece(tmp_path: Path) -> None:
    """A tag stands for one piece: the row that had it first is held since another took it."""
    old = [shackle(tag="S-1"), shackle(tag="S-2", position="pick point")]
    new = [shackle(tag="S-1"), shackle(tag="S-1", position="pick point")]
    found = between(tmp_path, old, new)
    first = next(one for one in found.changed if not one.inputs)
    assert (first.before, first.after) == ("PASS", "HOLD")
    assert causes(first) == [("other rows", "what changed in its lift or piece: tag of S-1 (Schedule!3)")]


def test_rows_of_a_lift_that_no_longer_agree(tmp_path: Path) -> None:
    """One row says another load than its lift: both rows are held, and the row that changed is named."""
    old = [shackle(tag="S-1"), shackle(tag="S-2", position="pick point")]
    new = [shackle(tag="S-1"), shackle(tag="S-2", position="pick point", load=4.5)]
    changed = by_name(between(tmp_path, old, new))
    assert {(one.before, one.after) for one in changed.values()} == {("PASS", "HOLD")}
    assert causes(changed["S-1"]) == [
        ("other rows", "what changed in its lift or piece: load of S-2 (Schedule!3)")
    ]
    assert causes(changed["S-2"]) == [("inputs", "its own load")]


def test_a_figure_rounded_in_another_unit_may_decide(tmp_path: Path) -> None:
    """3103.26 kg are wanted: 3.1033 t has them, and 3103 kg, which is that rounded, has them not."""
    old = shackle(rated=3.1033)
    new = {"WLL (kg)" if name == "WLL (t)" else name: value for name, value in old.items()}
    found = between(tmp_path, [old], [{**new, "WLL (kg)": 3103}])
    one = only(found)
    assert not one.inputs
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert causes(one) == [("inputs", "its own rated load")]


def test_criteria_are_told_apart_from_inputs(tmp_path: Path) -> None:
    """2.48 t × 1.5 = 3.72 t, of 3.5 t: the margin alone. A rating of 3 t fails by either margin."""
    old, new = ([["Setting", "Value"], ["margin", margin]] for margin in ("25 %", "50 %"))
    found = between(
        tmp_path,
        [shackle(tag="S-1", rated=3.5), shackle(tag="S-2")],
        [shackle(tag="S-1", rated=3.5), shackle(tag="S-2", rated=3)],
        old_sheets={"Criteria": old},
        new_sheets={"Criteria": new},
    )
    assert [(one.name, one.old, one.new) for one in found.settings] == [("margin", "0.25", "0.5")]
    changed = by_name(found)
    assert causes(changed["S-1"]) == [("criteria", "the criteria: margin 0.5 in place of 0.25")]
    assert causes(changed["S-2"]) == [("inputs", "its own rated load")]


def test_the_day_is_told_apart_from_the_rest(tmp_path: Path) -> None:
    """Inspected on 2026-05-04, good for twelve months: not on 2027-06-01. The margin did nothing."""
    days = [["Setting", "Value"], ["judged on", dt.date(2026, 11, 25)], ["margin", "25 %"]]
    later = [["Setting", "Value"], ["judged on", dt.date(2027, 6, 1)], ["margin", "30 %"]]
    found = between(
        tmp_path, [shackle()], [shackle()], old_sheets={"Criteria": days}, new_sheets={"Criteria": later}
    )
    one = only(found)
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert causes(one) == [("date", "the day it is judged on, 2027-06-01 in place of 2026-11-25")]


def test_the_passing_of_time_alone_is_no_change_until_a_verdict_changes(tmp_path: Path) -> None:
    """Neither version names a day: the old one is judged on the day asked for."""
    for day, nothing in ((dt.date(2027, 5, 4), True), (dt.date(2027, 5, 5), False)):
        found = between(tmp_path, [shackle()], [shackle()], today=day, old_day=TODAY)
        assert found.nothing is nothing
    assert [cause.code for cause in only(found).causes] == ["date"]


def test_a_waiver_that_was_written(tmp_path: Path) -> None:
    """3 t of 3.10 t wanted and 2.48 t carried: the margin is waived, and nothing else changed."""
    heads = ["Rule", "Item", "Lift", "Reason", "Who", "Until"]
    line = ["design-margin", "S-101", None, "weighed twice", "M. Orrin", dt.date(2026, 12, 18)]
    found = between(tmp_path, [shackle(rated=3)], [shackle(rated=3)], new_sheets={"Waivers": [heads, line]})
    one = only(found)
    assert (one.before, one.after) == ("FAIL", "WAIVED")
    assert [cause.code for cause in one.causes] == ["waiver"]
    assert [(each.name, each.old, each.new) for each in found.waivers] == [
        ("waiver of design-margin for S-101", "–", "M. Orrin, until 2026-12-18: weighed twice")
    ]


def test_makers_ratings_that_changed(tmp_path: Path) -> None:
    """The row says 4.25 t; the maker's own table said so too, and now says 3.25 t, so it is held."""
    heads = ["Kind", "Maker", "Size", "Rated load (t)"]
    old, new = ([heads, ["shackle", "Quernby Forge", "3/4 in", rated]] for rated in (4.25, 3.25))
    found = between(
        tmp_path, [shackle()], [shackle()], old_sheets={"Ratings": old}, new_sheets={"Ratings": new}
    )
    assert told(found) == [("Quernby Forge shackle 3/4 in", "rated_load", "4.25 t", "3.25 t")]
    one = by_name(found)["S-101"]
    assert (one.before, one.after) == ("PASS", "HOLD")
    assert causes(one) == [("taken", "what it takes from other rows: the makers' own ratings")]


def test_what_was_found_on_arrival(tmp_path: Path) -> None:
    """A box of the goods-in list answered with no holds or fails the row that is otherwise good."""
    heads = [TAG, CHECK, READ, RIGHT]
    old, new = ([heads, ["S-101", "certificate number matches", None, answer]] for answer in ("yes", "no"))
    found = between(
        tmp_path, [shackle()], [shackle()], old_sheets={"Goods in": old}, new_sheets={"Goods in": new}
    )
    assert [(each.name, each.old, each.new) for each in found.goods] == [
        ("goods in, S-101: certificate number matches", "yes", "no")
    ]
    one = only(found)
    assert one.after != "PASS"
    assert causes(one) == [("taken", "what it takes from other rows: what was found on arrival")]


def marked(path: Path) -> Path:
    """A workbook marked beside itself."""
    checked = check_workbook(path, today=TODAY)
    target = path.with_name(f"{path.stem}.marked.xlsx")
    mark_checked(checked, target, in_place=False, at=None, limits=Limits())
    return target


def test_a_marked_version_is_judged_on_the_day_it_was_marked(tmp_path: Path) -> None:
    """And its marks are its verdicts: marks of our own are no change."""
    plain = write(tmp_path / "plain.xlsx", [shackle(tag="S-1"), shackle(tag="S-2", rated=3)])
    found = compare_workbooks(marked(plain), plain, today=TODAY + dt.timedelta(days=9))
    assert found.old.criteria.judged_on == TODAY
    assert found.nothing


def test_a_mark_that_no_longer_holds_is_said_to_be_so(tmp_path: Path) -> None:
    """Somebody edited the row after it was marked: its mark says PASS, and what stands there fails."""
    import openpyxl

    old = marked(write(tmp_path / "plain.xlsx", [shackle()]))
    book = openpyxl.load_workbook(old)
    sheet = book["Schedule"]
    sheet.cell(2, [cell.value for cell in sheet[1]].index("WLL (t)") + 1).value = 3
    book.save(old)
    found = compare_workbooks(old, write(tmp_path / "new.xlsx", [shackle(rated=3)]), today=TODAY)
    one = only(found)
    assert (one.before, one.after) == ("PASS", "FAIL")
    assert [cause.code for cause in one.causes] == ["rigxl"]
    assert "edited after it was marked" in one.causes[0].sentence


def test_marks_of_another_version_of_rigxl_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The mark is from a version that judged otherwise."""
    import rigxl

    monkeypatch.setattr(rigxl, "__version__", "0.0.1")
    old = marked(write(tmp_path / "plain.xlsx", [shackle()]))
    monkeypatch.undo()
    import openpyxl

    book = openpyxl.load_workbook(old)
    sheet = book["Schedule"]
    sheet.cell(2, [cell.value for cell in sheet[1]].index("rigxl verdict") + 1).value = "HOLD"
    book.save(old)
    one = only(compare_workbooks(old, write(tmp_path / "new.xlsx", [shackle()]), today=TODAY))
    assert (one.before, one.after) == ("HOLD", "PASS")
    assert "by rigxl 0.0.1" in one.causes[0].sentence
    assert "rigxl has changed since" in one.causes[0].sentence
