"""Which row is which: by tag, by serial number, by content; never by where it stands."""

from __future__ import annotations

import time
from pathlib import Path

from tests.changes.books import between, only, shackle, told


def test_a_tag_finds_its_row_wherever_it_stands(tmp_path: Path) -> None:
    """The rows change places, and one rating changes."""
    old = [shackle(tag="S-1"), shackle(tag="S-2", rated=6.5)]
    new = [shackle(tag="s-2 ", rated=8.5), shackle(tag="S-1")]
    found = between(tmp_path, old, new)
    assert told(found) == [("s-2", "rated_load", "6.5 t", "8.5 t")]
    assert only(found).pair.by == "tag"
    assert only(found).old.where == "Schedule!3"
    assert only(found).new.where == "Schedule!2"


def test_a_serial_number_finds_a_row_that_has_no_tag_or_another(tmp_path: Path) -> None:
    """The piece is the same, and its tag is what changed."""
    old = [shackle(tag="S-1", serial="Q77"), shackle(tag=None, serial="Q78", rated=6.5)]
    new = [shackle(tag="S-9", serial="Q77", rated=6.5), shackle(tag=None, serial="Q78", rated=8.5)]
    found = between(tmp_path, old, new)
    assert told(found) == [
        ("S-9", "tag", "S-1", "S-9"),
        ("S-9", "rated_load", "4.25 t", "6.5 t"),
        ("Q78", "rated_load", "6.5 t", "8.5 t"),
    ]
    assert {one.pair.by for one in found.changed} == {"serial"}


def test_rows_without_a_tag_are_found_by_content(tmp_path: Path) -> None:
    """One value changed among rows that differ in others; nothing is doubtful."""
    ratings = (4.25, 6.5, 8.5, 9.5)
    old = [shackle(tag=None, rated=rated, maker=f"Maker {place}") for place, rated in enumerate(ratings)]
    new = [dict(row) for row in reversed(old)]
    new[1]["Sling angle (deg)"] = 55
    found = between(tmp_path, old, new)
    assert [(one.inputs[0].old, one.inputs[0].new) for one in found.changed if one.inputs] == [("60°", "55°")]
    changed = next(one for one in found.changed if one.inputs)
    assert (changed.pair.by, changed.pair.doubt) == ("content", "")
    assert changed.old.line.item.maker == "Maker 2"


def test_several_values_changed_in_a_row_without_a_tag(tmp_path: Path) -> None:
    """Most of it is the same, so it is the same row; a row that shares little is another."""
    old = [shackle(tag=None), shackle(tag=None, lift="Valve", kind="hook", type="eye hook", size=None)]
    link = shackle(tag="T-9", kind="link", lift="Cap", position="top", type="oblong", size="1 in", rated=9)
    new = [shackle(tag=None, rated=6.5, angle=50, quantity=4), {**link, "Maker": "Tollmark", "Legs": 1}]
    found = between(tmp_path, old, new)
    assert [(field, before, after) for _, field, before, after in told(found)] == [
        ("quantity", "2", "4"),
        ("rated_load", "4.25 t", "6.5 t"),
        ("angle_deg", "60°", "50°"),
    ]
    assert [entry.line.item.kind for entry in found.removed] == ["hook"]
    assert [entry.name for entry in found.added] == ["T-9"]


def test_two_rows_of_one_tag_are_told_apart_by_content(tmp_path: Path) -> None:
    """The one that did not change is its own, so the other is certain too."""
    old = [shackle(rated=4.25, position="leg"), shackle(rated=6.5, position="pick point")]
    new = [shackle(rated=8.5, position="pick point"), shackle(rated=4.25, position="leg")]
    found = between(tmp_path, old, new)
    assert told(found) == [("S-101", "rated_load", "6.5 t", "8.5 t")]
    changed = next(one for one in found.changed if one.inputs)
    assert (changed.pair.by, changed.pair.doubt) == ("tag and content", "")


def test_where_two_rows_of_one_tag_could_each_be_either_it_is_said(tmp_path: Path) -> None:
    """Both ratings changed, and nothing else tells the rows apart."""
    old = [shackle(rated=4.25), shackle(rated=6.5)]
    new = [shackle(rated=5.5), shackle(rated=8.5)]
    found = between(tmp_path, old, new)
    assert len(told(found)) == 2
    assert {one.pair.doubt for one in found.changed} == {
        "tag 'S-101' stands on 2 rows of the old version and 2 rows of the new: paired by what else they say"
    }


def test_a_tag_that_came_twice_and_stands_once(tmp_path: Path) -> None:
    """The row that went is told, and which it was."""
    old = [shackle(rated=4.25), shackle(rated=6.5)]
    found = between(tmp_path, old, [shackle(rated=6.5)])
    assert [entry.values["rated_load"] for entry in found.removed] == [4.25 * 9806.65]
    assert told(found) == []


def test_another_tag_on_a_row_that_says_the_same(tmp_path: Path) -> None:
    """All but the tag is the same: it is said as a changed tag."""
    found = between(tmp_path, [shackle(tag="S-1")], [shackle(tag="S-2")])
    assert told(found) == [("S-2", "tag", "S-1", "S-2")]
    assert only(found).pair.by == "content"


def test_another_tag_and_another_value_are_another_row_and_the_likeness_is_said(tmp_path: Path) -> None:
    """Nobody can know: one removed, one added, each with a word on the other."""
    found = between(tmp_path, [shackle(tag="S-1")], [shackle(tag="S-2", rated=6.5)])
    (removed,), (added,) = found.removed, found.added
    assert found.like(removed) is added
    assert found.like(added) is removed


def test_line_numbers_name_no_piece(tmp_path: Path) -> None:
    """A row put in at the top renumbers all others: only that row is told, and why."""
    old = [shackle(tag=number, rated=rated) for number, rated in enumerate((4.25, 6.5, 8.5), 1)]
    new = [shackle(tag=1, rated=9.5, maker="Tollmark")] + [
        shackle(tag=number, rated=rated) for number, rated in enumerate((4.25, 6.5, 8.5), 2)
    ]
    found = between(tmp_path, old, new)
    assert told(found) == []
    assert [entry.values["maker"] for entry in found.added] == ["Tollmark"]
    assert any("line numbers" in said for said in found.said)


def test_the_work_grows_with_the_rows_and_no_faster(tmp_path: Path) -> None:
    """Four times the rows, of which none is as it was, take about four times as long: never sixteen times."""

    def seconds(count: int) -> float:
        old = [shackle(tag=None, rated=2 + place % 97 / 10, angle=45 + place % 31) for place in range(count)]
        new = [{**row, "WLL (t)": row["WLL (t)"] + 0.05, "Legs": 4} for row in reversed(old)]
        begun = time.process_time()
        between(tmp_path, old, new)
        return time.process_time() - begun

    seconds(50)
    assert seconds(1600) < 9 * seconds(400)
