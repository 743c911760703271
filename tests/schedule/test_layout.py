"""Tables as people lay them out: titles, two rows of headings, units, totals, notes, several on a sheet."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.schedule.listing import Listing
from rigxl.schedule.map import understand
from rigxl.workbook.values import Area, Formula, TableArea
from tests.schedule.sheets import book, read, rows, sheet

TABLE = [["Lift", "Kind", "Size", "WLL (t)"], ["A", "shackle", "3/4 in", 4.75], ["A", "hook", None, 5]]


def tables(*cells: Any, **more: Any) -> list[Listing]:
    """The tables of one sheet."""
    return understand(book(sheet("S", cells, **more))).sheets[0].tables


def fields(table: Listing) -> list[str | None]:
    """What the columns of a table give, in order."""
    return [column.field for column in table.columns]


def numbers(table: Listing) -> list[int]:
    """The rows of items of a table."""
    return [row.number for row in table.rows]


def test_titles_and_blank_rows() -> None:
    title = [["Lifting schedule"], ["Project:", "New bridge", "Date:", "soon"], []]
    (table,) = tables(*title, TABLE[0], *[[]] * 2, *TABLE[1:], [], ["B", "shackle", "1 in", 8.5])
    assert (table.header_rows, numbers(table), table.left_out) == ((4,), [7, 8, 10], {})
    assert (table.header_row, table.first_row, table.last_row) == (4, 7, 10)
    assert (table.first_column, table.last_column) == (1, 4)


def test_a_merged_title_right_above_the_headings() -> None:
    (table,) = tables(["Rigging for the north end"], *TABLE, merges=(Area(1, 1, 1, 4),))
    assert (table.header_rows, fields(table)) == ((2,), ["lift", "kind", "size", "rated_load"])


def test_headings_over_two_rows() -> None:
    top = ["Lift", "Hardware", None, None, "Sling", None, "Load"]
    sub = [None, "Kind", "Size", "WLL (t)", "Angle (deg)", "Length (m)", "(t)"]
    merges = (Area(1, 1, 2, 1), Area(1, 2, 1, 4), Area(1, 5, 1, 6))
    (table,) = tables(top, sub, ["A", "shackle", "3/4 in", 4.75, 60, 2, 3], merges=merges)
    assert table.header_rows == (1, 2)
    assert fields(table) == ["lift", "kind", "size", "rated_load", "angle_deg", "leg_length", "load"]
    assert [column.unit for column in table.columns][3:] == ["t", "deg", "m", "t"]
    assert table.columns[4].heading == "Sling Angle (deg)"
    assert numbers(table) == [3]


def test_a_group_that_changes_the_meaning_is_not_ignored() -> None:
    """The height of the load is not the height of the hook, nor a new throat the original one."""
    top = ["Kind", "WLL (t)", "Load", None, None]
    sub = [None, None, "Weight (t)", "Throat (mm)", "Twist"]
    (table,) = tables(top, sub, ["hook", 5, 3, 40, 1], merges=(Area(1, 3, 1, 5),))
    assert fields(table) == ["kind", "rated_load", "load", None, None]
    assert table.columns[3].proposals == ("throat",)
    assert table.columns[3].why == "'Throat (mm)' stands under 'Load', which may change what it means"


def test_a_heading_broken_over_two_rows() -> None:
    (table,) = tables(
        ["Kind", "Rated", "Last"], [None, "load (t)", "inspection"], ["shackle", 5, "2026-03-04"]
    )
    assert (table.header_rows, fields(table)) == ((1, 2), ["kind", "rated_load", "inspected"])


@pytest.mark.parametrize(
    ("top", "sub", "field"),
    [
        ("Included", "Angle", "included_angle"),
        ("From vertical", "Angle", "angle_from_vertical"),
        ("Vertical", "Angle (deg)", "angle_from_vertical"),
        ("Required", "WLL (t)", None),
        ("Shackle", "Angle", None),
        ("4-leg", "WLL (t)", None),
        ("Basket", "WLL (t)", None),
        ("At 60°", "SWL (t)", None),
        ("Breaking", "Rated load (t)", None),
        ("Hardware", "WLL (t)", "rated_load"),
    ],
)
def test_a_word_right_above_a_heading_that_changes_it(top: str, sub: str, field: str | None) -> None:
    """An included angle of 90° is 45° from the horizontal: read as from the horizontal it would pass."""
    head = ["Tag", "Kind", "Size", "Legs", sub]
    (table,) = tables([None, None, None, None, top], head, ["S-1", "shackle", "1 in", 2, 90])
    assert fields(table) == ["tag", "kind", "size", "legs", field]
    assert numbers(table) == [3]


@pytest.mark.parametrize("below", [[], [[]]], ids=["right above", "apart"])
@pytest.mark.parametrize(
    ("above", "title", "item"),
    [([[]], "On the load: pad eyes", False), ([], "On the load: pad eyes", False), ([[]], "Pad eyes", False),
     ([], "Pad eyes", True)],
)  # fmt: skip
def test_the_title_of_the_next_table_is_no_item(
    above: list[Any], title: str, item: bool, below: list[Any]
) -> None:
    """Under the kinds of the table above; what could be its last item stays one, and is held."""
    head = TABLE[0][1:]
    first, second = tables(head, ["shackle", "1 in", 8], *above, [title], *below, head, ["pad eye", None, 5])
    assert len(first.rows) == 1 + item
    assert list(first.left_out.values()) == (
        [] if item else [f"it is the title of the table below: '{title}'"]
    )
    assert len(second.rows) == 1


def test_a_row_of_words_right_above_other_headings_stays_an_item() -> None:
    words = ["A", "sling", "1 in", "TBC", "vertical"]
    head = ["Lift", "Kind", "Size", "WLL (t)", "Angle"]
    first, second = tables([*head[:4], "Hitch"], words, head, ["B", "shackle", "1 in", 5, 60])
    assert (numbers(first), numbers(second)) == ([2], [4])
    assert fields(second)[-1] == "angle_deg"


def test_a_row_of_text_under_the_headings_is_no_heading() -> None:
    (table,) = tables(["Lift", "Kind", "Size"], ["Lift A", "Shackle", "3/4 in"])
    assert (table.header_rows, numbers(table)) == ((1,), [2])


def test_a_row_of_units() -> None:
    (table,) = tables(
        ["Lift", "Kind", "Size", "WLL", "Load"], [None, None, "in", "(t)", "kN"], ["A", "hook", 1, 5, 20]
    )
    assert (table.units_row, numbers(table)) == (2, [3])
    assert [column.unit for column in table.columns] == [None, None, "in", "t", "kN"]


def test_a_row_of_units_that_contradicts_the_heading() -> None:
    """Neither unit is taken, so a bare number has none and holds the row."""
    (line,) = rows(["Kind", "Size", "WLL (t)"], [None, "in", "kg"], ["shackle", 1, 5])
    assert line.item.rated_load is None
    assert "has no unit" in line.item.problems["rated_load"]


def test_totals_and_notes_are_left_out_and_said() -> None:
    after = [
        ["Total", None, None, 9.75],
        [],
        ["Note: every pin is to be moused"],
        ["Prepared by", "somebody"],
    ]
    (table,) = tables(*TABLE, *after, ["B", "shackle", "1 in", 8.5])
    assert numbers(table) == [2, 3, 8]
    assert table.left_out == {
        4: "it is a row of totals",
        6: "it is a note: 'Note: every pin is to be moused'",
        7: "it is a note: 'Prepared by'",
    }


@pytest.mark.parametrize("text", ["Subtotal", "Sub-total lift A", "GRAND TOTAL", "Totals:"])
def test_words_for_totals(text: str) -> None:
    assert tables(*TABLE, [text, None, None, 9])[0].left_out == {4: "it is a row of totals"}


def test_names_that_begin_like_a_total_are_no_totals() -> None:
    """An item is never left out for a word in its lift, its remarks or its kind."""
    head = ["Lift", "Kind", "Size", "WLL (t)", "Remarks"]
    cells = [
        ["Total Platform", "shackle", None, "TBC"],
        ["Total", "shackle"],
        ["A", "widget", "1 in", 5, "total: 2"],
    ]
    (table,) = tables(head, *cells)
    assert (numbers(table), table.left_out) == ([2, 3, 4], {})


def test_a_huge_count_of_totals_rows_is_nothing_special() -> None:
    """As a damaged file may claim."""
    area = TableArea("Table1", Area(1, 1, 3, 4), 10**12)
    (table,) = tables(*TABLE, tables=(area,))
    assert table.left_out == {2: "it is a row of totals", 3: "it is a row of totals"}


def test_sums_without_a_word_are_totals() -> None:
    total = Formula("=SUM(D2:D3)", 9.75, True)
    assert tables(*TABLE, [None, None, None, total])[0].left_out == {4: "it is a row of totals"}


def test_the_totals_row_of_a_table_object() -> None:
    area = TableArea("Table1", Area(1, 1, 4, 4), 1)
    (table,) = tables(*TABLE, ["all", "shackle", None, 9.75], tables=(area,))
    assert (numbers(table), table.left_out) == ([2, 3], {4: "it is a row of totals"})


def test_an_incomplete_item_is_no_note() -> None:
    """A row is left out only when it cannot be an item."""
    (table,) = tables(
        *TABLE, [None, "shackle"], ["B", "widget", "1 in"], [None, None, None, 4], ["B", None, None, 4]
    )
    assert numbers(table) == [2, 3, 4, 5, 7]
    assert table.left_out == {6: "it holds only a number, which is no item"}


def test_bands_between_rows_are_left_out_and_said() -> None:
    (table,) = tables(*TABLE, ["Second lift"], ["B", "shackle", "1 in", 8.5])
    assert (numbers(table), table.left_out) == (
        [2, 3, 5],
        {4: "it holds only 'Second lift', which is no item"},
    )


def test_rows_that_hold_only_formulas_of_ours_are_blank() -> None:
    worked = Formula('=IF(A3="","",1)', None, False)
    (table,) = tables(["Kind", "WLL (t)", "Worked: force (kN)"], ["hook", 5, worked], [None, None, worked])
    assert (numbers(table), table.left_out) == ([2], {})


def test_tables_below_each_other() -> None:
    second = [["Kind", "Rated load (kN)", "Tag"], ["hook", 40, "H-1"]]
    first, other = tables(*TABLE, [], ["Other gear"], *second)
    assert (numbers(first), numbers(other)) == ([2, 3], [7])
    assert fields(other) == ["kind", "rated_load", "tag"]
    assert first.left_out == {5: "it holds only 'Other gear', which is no item"}


def test_tables_side_by_side() -> None:
    wide = [[*left, None, *right] for left, right in zip(TABLE, [TABLE[0], *TABLE[:0:-1]], strict=True)]
    first, other = tables(*wide)
    assert [table.first_column for table in (first, other)] == [1, 6]
    lines = read(sheet("S", wide))
    assert [(line.row, line.item.kind, line.cells["kind"]) for line in lines] == [
        (2, "shackle", "S!B2"), (3, "hook", "S!B3"), (2, "hook", "S!G2"), (3, "shackle", "S!G3"),
    ]  # fmt: skip


def test_a_blank_column_within_a_table() -> None:
    (table,) = tables(["Lift", "Kind", None, "Size", "WLL (t)"], ["A", "hook", None, "1 in", 4])
    assert fields(table) == ["lift", "kind", "size", "rated_load"]


def test_what_stands_under_no_heading_is_said() -> None:
    (table,) = tables(["Kind", "WLL (t)", "Size"], ["hook", 4, "1 in", None, "who knows"])
    assert table.says == [
        "the table under row 1 of sheet 'S': what stands in column E has no heading and was left alone"
    ]


def test_a_table_without_rows_is_said() -> None:
    (table,) = tables(TABLE[0])
    assert table.says == ["the table under row 1 of sheet 'S' has headings and no rows of items"]


def test_hidden_columns_and_doubled_ones_are_said() -> None:
    (table,) = tables(["Kind", "WLL (t)", "SWL (t)"], ["hook", 4, 4], hidden_columns=frozenset({3}))
    assert table.says == [
        "the table under row 1 of sheet 'S': column C, 'SWL (t)', is hidden",
        "the table under row 1 of sheet 'S': columns B and C both give the rated load, so its rows are held: "
        "keep one, or say in a mapping which counts",
    ]


def test_headings_of_a_table_below_are_not_taken_for_an_item() -> None:
    """Even where the words under 'Kind' name one."""
    second = [["Shackle size", "Load (t)", "WLL (t)", "Kind"], ["1 in", 3, 8.5, "shackle"]]
    first, other = tables(["Kind", "WLL (t)", "Load (t)"], ["hook", 5, 3], *second)
    assert (numbers(first), numbers(other)) == ([2], [4])
    assert fields(other) == ["size", "load", "rated_load", "kind"]


def test_our_own_columns_are_ours() -> None:
    (table,) = tables(
        ["Kind", "WLL (t)", "Size", "rigxl verdict", "rigxl load"], ["hook", 4, "1 in", "PASS", 4]
    )
    assert [column.ours for column in table.columns] == [False, False, False, True, True]
    assert (fields(table)[3:], table.last_column) == ([None, None], 3)


def test_headings_that_are_formulas() -> None:
    (table,) = tables(["Kind", Formula('="WLL (t)"', "WLL (t)", True), "Size"], ["hook", 4, "1 in"])
    assert fields(table)[1] == "rated_load"
