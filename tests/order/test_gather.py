"""Lines of an order: what passes is counted once, and nothing else is counted at all."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.errors import InputError
from rigxl.order.gather import gather
from rigxl.order.lines import BLOCKED, ORDER, SETTLE
from rigxl.schedule.check import check_workbook
from tests.order.schedules import DEVICE, ROW, check, order

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
SAMPLE_DAY = dt.date(2026, 7, 1)
FAILS = {"Rated load (t)": 1.0}
HELD = {"Maker": None}


def counted(name: str) -> list[tuple[str, str | None, int, int, str]]:
    """The lines of a sample's order: what, size, pieces that pass, spares, status."""
    found = gather(check_workbook(SAMPLES / name, today=SAMPLE_DAY), Fraction(1, 10))
    return [(one.what, one.wanted.size, one.quantity, one.spares, one.status) for one in found.lines]


def test_footbridge_counted_by_hand() -> None:
    """FB-03 and FB-08 are 4 + 2 of one shackle, which FB-09, overloaded, blocks; FB-04 and 05 are 2 + 2."""
    assert counted("footbridge.xlsx") == [
        ("hook, shank hook", None, 1, 1, SETTLE),
        ("link, coupling link", "3/4 in", 2, 1, ORDER),
        ("link, oblong master link", "1 3/8 in", 1, 1, ORDER),
        ("shackle, bolt type bow", "1 in", 2, 1, ORDER),
        ("shackle, bolt type bow", "1 1/2 in", 1, 1, ORDER),
        ("shackle, screw pin bow", "7/8 in", 6, 1, BLOCKED),
        ("sling, wire rope", "1 in", 4, 1, SETTLE),
    ]


def test_bakery_counted_by_hand() -> None:
    """Six of 23 rows pass; BK-05 and 11 block the shackle of BK-04, BK-08 and 15 the sling of BK-14."""
    assert counted("bakery_as_received.xlsx") == [
        ("eye bolt, shoulder", "1 in", 2, 1, ORDER),
        ("hook, eye hook", None, 1, 1, SETTLE),
        ("shackle, screw pin bow", "3/4 in", 4, 1, BLOCKED),
        ("sling, web", None, 1, 1, SETTLE),
        ("sling, wire rope", "3/8 in", 2, 1, BLOCKED),
        ("sling, wire rope", "7/8 in", 4, 1, SETTLE),
    ]


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.xlsx")), ids=lambda path: path.stem)
def test_no_row_of_a_sample_is_ordered_that_does_not_pass(path: Path) -> None:
    """Every row is in one line or not ordered, never both, and what does not pass is in none."""
    checked = check_workbook(path, today=SAMPLE_DAY)
    if not checked.rows:
        return
    found = gather(checked)
    in_lines = [id(row) for line in found.lines for row in line.rows]
    left = [id(one.row) for one in found.not_ordered]
    assert sorted(in_lines + left) == sorted(map(id, checked.rows))
    assert not set(in_lines) & {id(row) for row in checked.rows if row.verdict != "PASS"}
    assert {id(row) for line in found.lines for row in line.blockers} <= set(left)


def test_one_line_for_what_is_one_item() -> None:
    """The order of words, their case, and the unit of the rating do not count."""
    (line,) = order(
        ROW | {"Tag": "S-1", "Quantity": 2},
        ROW | {"Tag": "S-2", "Quantity": 3, "Type": "Screw pin, bow", "Size": '7/8"'},
        ROW | {"Tag": "S-3", "Quantity": 1, "Rated load (t)": "5800 kg"},
    ).lines
    assert (line.quantity, line.status) == (6, ORDER)


@pytest.mark.parametrize(
    "other",
    [
        {"Size": "1 in"}, {"Grade": "B"}, {"Type": "bow, bolt type"}, {"Rated load (t)": 5.5},
        {"Pin diameter (mm)": 25}, {"Inside width (mm)": 40},
    ],
)  # fmt: skip
def test_two_lines_for_what_differs(other: Mapping[str, Any]) -> None:
    """Size, grade, type, rating, and the dimensions of the piece itself."""
    found = order(ROW | {"Tag": "S-1"}, ROW | {"Tag": "S-2"} | other)
    assert len(found.lines) == 2
    assert not found.not_ordered


def test_a_shared_piece_is_counted_once() -> None:
    """One tag on the rows of three lifts is the same two pieces."""
    found = order(
        *(
            ROW | {"Lift": f"Lift {name}", "Tag": tag}
            for name, tag in zip("ABC", ("S-1", "s-1", "S-1"), strict=True)
        )
    )
    assert [line.quantity for line in found.lines] == [2]
    assert [(row.name, pieces) for row, pieces in found.lines[0].pieces] == [("S-1", 2)]


def test_numbers_of_lines_are_no_tags() -> None:
    """1 and 1 in a column of tags are two rows of two pieces each."""
    assert order(ROW | {"Tag": "1"}, ROW | {"Tag": "1"}).lines[0].quantity == 4


def test_a_failing_row_of_the_same_item_blocks_its_line() -> None:
    """By name, and its pieces are not counted."""
    found = order(ROW | {"Tag": "S-1"}, ROW | {"Tag": "S-2", "Load (t)": 9})
    (line,) = found.lines
    assert (line.status, line.quantity, line.to_order) == (BLOCKED, 2, None)
    assert [row.name for row in line.blockers] == ["S-2"]
    assert [(one.row.name, one.blocks) for one in found.not_ordered] == [("S-2", [line])]


def test_a_held_row_blocks_every_line_it_may_belong_to() -> None:
    """A rating that cannot be read may be that of the line; one that is another is not."""
    found = order(
        ROW | {"Tag": "S-1"},
        ROW | {"Tag": "S-2", "Rated load (t)": "5.8 ton"},
        ROW | {"Tag": "S-3", "Size": "1 in", "Rated load (t)": 7.5},
    )
    assert {line.wanted.size: [row.name for row in line.blockers] for line in found.lines} == {
        "7/8 in": ["S-2"],
        "1 in": [],
    }


def test_a_row_whose_kind_is_not_known_blocks_what_it_may_be() -> None:
    """Its size and rating are those of a shackle that passes, and not those of the other."""
    unknown = ROW | {"Tag": "S-2", "Kind": "shackle or hook"}
    found = order(ROW, unknown, ROW | {"Tag": "S-3", "Size": "1 in", "Rated load (t)": 7.5})
    assert [(line.wanted.size, line.status) for line in found.lines] == [("7/8 in", BLOCKED), ("1 in", ORDER)]


def test_a_piece_that_fails_elsewhere_is_not_ordered() -> None:
    """S-1 passes under 3 t and is overloaded under 9 t: it is one piece."""
    found = order(
        ROW | {"Lift": "Lift A", "Tag": "S-1"},
        ROW | {"Lift": "Lift B", "Tag": "S-1", "Load (t)": 9},
        ROW | {"Tag": "H-1", "Size": "1 in"},
    )
    assert [[row.name for row in line.rows] for line in found.lines] == [["H-1"]]
    why = [one.why for one in found.not_ordered if one.row.verdict == "PASS"]
    assert why == ["it passes, but the same piece, tag 'S-1', is FAIL in Schedule!3"]


def test_a_waived_row_is_not_ordered() -> None:
    """Somebody answers for the piece that is there, which is no reason to buy one; the waiver is shown."""
    late = ROW | {"Tag": "S-2", "Last inspection": dt.datetime(2025, 1, 1)}
    waivers = [
        ["Rule", "Item", "Lift", "Reason", "Who", "Until"],
        ["inspection-overdue", "S-2", None, "inspected on Friday", "A. Engel", dt.datetime(2026, 12, 31)],
    ]
    found = order(ROW, late, Waivers=waivers)
    assert [(line.quantity, line.status) for line in found.lines] == [(2, BLOCKED)]
    (one,) = found.not_ordered
    assert (one.row.name, one.row.verdict) == ("S-2", "WAIVED")
    assert "waived by A. Engel until 2026-12-31: inspected on Friday" in one.why


def test_two_rows_of_one_tag_that_differ() -> None:
    """By their maker they are held by the check; by what no check compares, the order holds them itself."""
    held = order(ROW | {"Lift": "A"}, ROW | {"Lift": "B", "Maker": "Other Works"}, ROW | {"Tag": "S-9"})
    said = [one.why.split(" [")[0] for one in held.not_ordered]
    assert said == [
        "HOLD, same-tag: the tag 'S-1' of Schedule!B2 also stands in Schedule!B3",
        "HOLD, same-tag: the tag 'S-1' of Schedule!B3 also stands in Schedule!B2",
    ]
    kept = order(ROW | {"Lift": "A"}, ROW | {"Lift": "B", "Type": "bow, bolt type"}, ROW | {"Tag": "S-9"})
    assert [one.why for one in kept.not_ordered] == [
        "it passes, but the tag 'S-1' also stands in Schedule!3, which differs in type: one tag is one piece",
        "it passes, but the tag 'S-1' also stands in Schedule!2, which differs in type: one tag is one piece",
    ]
    assert [line.rows[0].name for line in kept.lines] == ["S-9"]


def test_no_quantity_no_order() -> None:
    """A row may pass without one; how many to buy is then not known."""
    found = order(ROW | {"Quantity": None}, ROW | {"Tag": "S-2"})
    assert [one.why for one in found.not_ordered] == [
        "it passes, but how many is not stated: fill in the quantity"
    ]
    assert found.lines[0].status == BLOCKED


def test_what_is_not_stated_is_settled_first() -> None:
    """A shackle without a type, a sling whose own length no schedule gives; not the size of a device."""
    found = order(ROW | {"Type": None}, DEVICE)
    assert [line.questions for line in found.lines] == [["the type is not stated in the schedule"], []]


@pytest.mark.parametrize(
    ("quantity", "share", "spares"),
    [(30, "1/10", 3), (31, "1/10", 4), (1, "1/100", 1), (7, "0", 0), (3, "1", 3), (200, "1/40", 5)],
)
def test_spares_are_rounded_up(quantity: int, share: str, spares: int) -> None:
    """A tenth of 30 is 3, of 31 is 4."""
    (line,) = order(ROW | {"Quantity": quantity}, spares=share).lines
    assert (line.quantity, line.spares, line.to_order) == (quantity, spares, quantity + spares)


def test_nothing_that_passes() -> None:
    """One sentence: how many rows, and what the first of them says."""
    with pytest.raises(
        InputError, match=r"no row of schedule\.xlsx can be ordered \(1 FAIL, 1 HOLD\)"
    ) as one:
        order(ROW | FAILS, ROW | {"Tag": "S-2"} | HELD)
    assert "the first, Schedule!2, says: FAIL, capacity: overloaded" in str(one.value)


def test_nothing_that_was_checked() -> None:
    """A workbook without a schedule."""
    with pytest.raises(InputError, match=r"nothing in schedule\.xlsx was checked, so nothing can be ordered"):
        gather(check_sheet([["Shopping", "list"], ["Milk", "two"]]))


def check_sheet(cells: list[list[Any]]) -> Any:
    """A workbook of one sheet, checked."""
    from rigxl.schedule.check import check_book
    from tests.schedule.books import TODAY
    from tests.schedule.sheets import book, sheet

    return check_book(book(sheet("Schedule", cells)), today=TODAY)


def test_formulas_that_were_never_calculated() -> None:
    """A workbook written by a program, and never opened since."""
    from rigxl.workbook.values import Formula

    formula = Formula("=A1*2", None, calculated=False)
    with pytest.raises(InputError, match="was never calculated, so nothing in it passes"):
        order(ROW | {"Load (t)": formula})


VARIANTS: dict[str, dict[str, Any]] = {
    "passes": {},
    "larger": {"Size": "1 in", "Rated load (t)": 7.5},
    "bolt": {"Type": "bow, bolt type"},
    "overloaded": FAILS,
    "held": HELD,
    "ambiguous": {"Rated load (t)": "5.8 ton"},
}
PASSING = {"passes", "larger", "bolt"}


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(sorted(VARIANTS)), st.integers(1, 9), st.integers(0, 4)),
        min_size=1,
        max_size=14,
    ),
    st.fractions(0, 1, max_denominator=40),
)
def test_quantities_are_those_of_what_passes(pieces: list[tuple[str, int, int]], spares: Fraction) -> None:
    """The oracle knows what each row is by how it was made: a tag counts once, and a bad tag nowhere."""
    numbered = list(enumerate(pieces))
    uses = [(variant, quantity, f"S-{number}", lift) for number, (variant, quantity, more) in numbered
            for lift in range(more + 1)]  # fmt: skip
    rows = [
        ROW | VARIANTS[variant] | {"Tag": tag, "Quantity": quantity, "Lift": f"{tag} use {lift}"}
        for variant, quantity, tag, lift in uses
    ]
    good = {
        f"S-{number}": quantity for number, (variant, quantity, _) in enumerate(pieces) if variant in PASSING
    }
    if not good:
        with pytest.raises(InputError, match="can be ordered"):
            order(*rows)
        return
    found = gather(check(*rows), spares)
    assert sum(line.quantity for line in found.lines) == sum(good.values())
    ordered = {row.name for line in found.lines for row in line.rows}
    assert ordered == set(good)
    assert {one.row.name for one in found.not_ordered} == {tag for *_, tag, _ in uses} - set(good)
    for line in found.lines:
        assert 0 <= line.spares - line.quantity * spares < 1
