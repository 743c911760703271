"""From rows to items: whatever the order and the names of the columns."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from rigxl.items import Item
from rigxl.schedule.fields import FIELD
from rigxl.schedule.spellings import SPELLINGS
from rigxl.workbook.values import Area, CellError, Formula
from tests.schedule.sheets import read, rows, sheet

HEADINGS = {
    "lift": "Lift",
    "kind": "Kind",
    "position": "Position",
    "size": "Size",
    "type": "Type",
    "rated_load": "Rated load (t)",
    "load": "Load (t)",
    "legs": "Legs",
    "angle_deg": "Sling angle",
    "inspected": "Last inspection",
    "latch": "Latch",
}
ROWS: list[list[Any]] = [
    ["A", "shackle", "top", "3/4 in", "screw pin", 4.75, 3.5, 2, 60, dt.datetime(2026, 3, 4), "no"],
    ["A", "hook", "top", "TBC", None, 5, 3.5, 2, 60, "03/04/2026", "yes"],
    ["B", "sling", "leg", "13 mm", "chain", "2 ton", 1.5, 4, 95, None, None],
]


def plain(item: Item) -> dict[str, Any]:
    """An item without the addresses that its sentences begin with."""
    said = dataclasses.asdict(item)
    said["problems"] = {name: sentence.partition(": ")[2] for name, sentence in item.problems.items()}
    return said


EXPECTED = [plain(line.item) for line in rows(list(HEADINGS.values()), *ROWS)]


def spelled(name: str) -> st.SearchStrategy[str]:
    """A spelling of a field as somebody may have typed it."""
    unit = {"rated_load": " (t)", "load": " [t]"}.get(name, "")
    case = st.sampled_from([str.lower, str.upper, str.title])
    spelling = st.sampled_from([one.strip() for one in SPELLINGS[name].split(",")])
    return st.builds(lambda text, change: change(text) + unit, spelling, case)


@given(st.permutations(list(HEADINGS)), st.data(), st.integers(0, 3), st.integers(0, 2))
def test_order_names_and_place_of_the_columns_do_not_matter(
    order: list[str], data: st.DataObject, down: int, right: int
) -> None:
    headings = [data.draw(spelled(name)) for name in order]
    places = [list(HEADINGS).index(name) for name in order]
    moved = [[row[place] for place in places] for row in ROWS]
    table = [[]] * down + [[None] * right + row for row in ([headings, *moved])]
    assert [plain(line.item) for line in read(sheet("S", table))] == EXPECTED


JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(),
    st.text(max_size=12),
    st.sampled_from(
        ["shackle", "5 t", "1/2", "TBC", "=1", "Total", "Lift", "Kind", "WLL (t)", "Note", "#N/A", "60°"]
    ),
    st.sampled_from([CellError("#REF!"), dt.datetime(1900, 1, 1), dt.time(12), dt.datetime(2026, 1, 2)]),
    st.builds(
        Formula,
        st.just("=A1"),
        st.one_of(st.none(), st.floats(), st.text(max_size=5)),
        st.booleans(),
        doubt=st.sampled_from(["", " stores 5, but works out to 6: recalculate and save"]),
    ),
)


@given(st.lists(st.lists(JUNK, max_size=8), min_size=1, max_size=8), st.permutations(list(FIELD)))
def test_whatever_cells_hold_is_read_or_named(cells: list[list[Any]], names: list[str]) -> None:
    """No cell breaks the reading, and what cannot be used names a cell or row of the sheet."""
    for line in read(sheet("S", [[FIELD[name].title for name in names[:8]], *cells])):
        for name, sentence in line.item.problems.items():
            assert getattr(line.item, name) is None
            assert re.match(r"S![A-H]?\d+( |: )", sentence)
        for name, cell in line.cells.items():
            assert re.fullmatch(r"S![A-H]\d+", cell), name


def test_items_and_addresses_of_a_plain_table() -> None:
    line = rows(list(HEADINGS.values()), *ROWS)[1]
    assert (line.sheet, line.row, line.hidden) == ("S", 3, False)
    assert (line.item.kind, line.item.legs, line.item.latch) == ("hook", 2, True)
    assert line.item.problems == {
        "size": "S!D3: 'TBC' says that the size is not known yet: fill it in",
        "inspected": "S!J3: '03/04/2026' could be 2026-04-03 or 2026-03-04: write it that way",
    }
    assert line.cells["rated_load"] == "S!F3"
    assert dict(line.cells)["inspected"] == "S!J3"
    assert "type" not in line.cells


def test_every_field_fills_its_place() -> None:
    """One column of each field, with a value that suits how it is read."""
    values: dict[str, Any] = {
        "force": "5 t", "length": "25 mm", "size": "1 in", "angle": 40, "ratio": "5 %", "count": 2,
        "temperature": "20 °C", "text": "some words", "date": "2026-03-04", "yes/no": "yes", "carrying": 2,
        "torque": "20 Nm", "kind": "shackle", "dimension": "25 mm",
    }  # fmt: skip
    for name, field in FIELD.items():
        value = next(iter(field.words)) if field.words else values[field.read]
        value = 5 if name in ("design_factor", "bend_ratio") else value
        cells = {"kind": "shackle", "rated_load": "5 t", "tag": "T-1"} | {name: value}
        (line,) = rows([FIELD[one].title for one in cells], list(cells.values()))
        assert getattr(line.item, field.target) is not None, (name, line.item.problems)


def test_the_kind_cell_also_tells_the_type() -> None:
    line = rows(["Kind", "WLL (t)"], ["Bow shackle, screw pin", 5])[0]
    assert (line.item.kind, line.item.type) == ("shackle", "Bow shackle, screw pin")
    assert line.cells["type"] == "S!A2"
    assert rows(["Kind", "WLL (t)"], ["Shackles", 5])[0].item.type is None
    assert (
        rows(["Kind", "WLL (t)", "Type"], ["Bow shackle", 5, "bolt type"])[0].item.type
        == "bolt type, Bow shackle"
    )
    web = rows(["Kind", "WLL (t)", "Type"], ["web sling", 2, "polyester"])[0].item
    assert (web.kind, web.type) == ("sling", "polyester, web sling")


def test_the_kind_may_be_read_from_the_description() -> None:
    table = ["Description", "WLL (t)", "Size"]
    line = rows(table, ["Screw pin bow shackle, galvanised", 5, "3/4 in"])[0]
    assert line.item.kind == "shackle"
    assert line.notes == ("S!A2: the kind, shackle, is read from the description",)
    assert line.cells["kind"] == "S!A2"
    two = rows(table, ["Shackle for hook", 5, "3/4 in"])[0].item
    assert two.kind is None
    assert "more than one kind of hardware" in two.problems["kind"]
    none = rows(table, ["Something to lift with", 5, "3/4 in"])[0].item
    assert (none.kind, none.problems) == (None, {})


def test_an_unknown_kind_lists_the_known_ones() -> None:
    item = rows(["Kind", "WLL (t)", "Description"], ["Skyhook9", 5, "a shackle"])[0].item
    assert item.kind is None
    assert item.problems["kind"].startswith(
        "S!A2: 'Skyhook9' is not a kind of hardware that can be judged: write one of"
    )
    assert "shackle" in item.problems["kind"]


def test_two_columns_for_one_field_hold_the_row() -> None:
    one, other = rows(["Kind", "WLL (t)", "SWL (kg)"], ["shackle", 5, 5000], ["shackle", 5, None])
    for line in (one, other):
        assert line.item.rated_load is None
        assert line.item.problems["rated_load"].startswith(
            f"S!B{line.row} and S!C{line.row} both give the rated load"
        )


def test_texts_of_two_columns_are_joined() -> None:
    item = rows(["Kind", "WLL (t)", "Remarks", "Comments"], ["shackle", 5, "one", "two"])[0].item
    assert (item.remarks, item.problems) == ("one / two", {})


def test_one_angle_given_in_two_ways() -> None:
    table = ["Kind", "WLL (t)", "Angle from horizontal", "Angle from vertical"]
    agree, differ, single = rows(table, ["sling", 5, 60, 30.2], ["sling", 5, 60, 45], ["sling", 5, None, 30])
    assert agree.item.angle_deg == 59.8
    assert agree.cells["angle_deg"] == "S!D2"
    assert differ.item.problems["angle_deg"] == (
        "S!D3 says that the sling angle is 45° from horizontal and S!C3 60°: correct one of them"
    )
    assert single.item.angle_deg == 60
    assert single.notes == ("S!D4: 30° from vertical is 60° from horizontal",)


def test_all_legs_carry() -> None:
    table = ["Kind", "WLL (t)", "Legs", "Legs carrying"]
    known, unknown, words = rows(
        table, ["sling", 5, 4, "equalised"], ["sling", 5, None, "all"], ["sling", 5, 4, "two legs"]
    )
    assert (known.item.carrying, words.item.carrying) == (4, 2)
    assert unknown.item.carrying is None
    assert unknown.item.problems["carrying"].startswith("S!D3: all legs are said to carry")


def test_a_rope_sling_goes_by_its_rope_where_there_is_no_size() -> None:
    line = rows(["Kind", "WLL (t)", "Rope dia. (mm)"], ["wire rope sling", 5, 26])[0]
    assert line.item.size is not None
    assert line.item.size.name == "26 mm"
    assert line.cells["size"] == "S!C2"
    both = rows(["Kind", "WLL (t)", "Rope dia. (mm)", "Size"], ["wire rope sling", 5, 26, "1 in"])[0].item
    assert both.size is not None
    assert (both.size.name, both.rope_diameter) == ("1 in", 26.0)


def test_hidden_rows_are_read_and_flagged() -> None:
    table = [["Kind", "WLL (t)"], ["shackle", 5], ["hook", 4]]
    assert [line.hidden for line in read(sheet("S", table, hidden=[3]))] == [False, True]
    assert [line.hidden for line in read(sheet("S", table, state="hidden"))] == [True, True]


def test_a_value_merged_down_counts_for_all_its_rows() -> None:
    table = [
        ["Lift", "Kind", "WLL (t)", "Load (t)"],
        ["A", "shackle", 5, 3],
        [None, "hook", 4, None],
        ["B", "hook", 4, 2],
    ]
    first, second, third = read(sheet("S", table, merges=(Area(2, 1, 3, 1), Area(2, 4, 3, 4))))
    assert (second.item.lift, second.item.load) == ("A", first.item.load)
    assert second.cells["load"] == "S!D2"
    assert third.item.lift == "B"


def test_a_kind_merged_down_counts_for_all_its_rows() -> None:
    table = [["Kind", "Size", "WLL (t)"], ["shackle", "3/4 in", 4.75], [None, "1 in", 8.5]]
    assert [line.item.kind for line in read(sheet("S", table, merges=(Area(2, 1, 3, 1),)))] == [
        "shackle",
        "shackle",
    ]


def test_reading_twice_gives_the_same_and_shares_nothing() -> None:
    one, other = rows(["Kind", "WLL (t)"], ["shackle", 5], ["shackle", 5])
    one.item.units["rated_load"] = "kN"
    one.cells.move("kind", "elsewhere")
    assert other.item.units == {"rated_load": "t"}
    assert other.cells["kind"] == "S!A3"
