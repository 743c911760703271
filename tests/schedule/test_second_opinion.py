"""The second opinion on whole sheets: what is off is found, all of it, and what is right draws no word."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.errors import WorkbookError
from rigxl.items import FAIL, HOLD, PASS
from rigxl.rules import gathered
from rigxl.samples import pump_house
from rigxl.schedule.check import Checked, check_book
from rigxl.schedule.map import read_mapping
from rigxl.schedule.opinion import Remark
from rigxl.schedule.report import workbook as as_data
from rigxl.schedule.summary import summary
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.marks import Link
from rigxl.workbook.values import Formula, Row, Value, cell_name, column_letters, column_number
from tests.schedule.sheets import book, sheet

TODAY = dt.date(2026, 11, 25)
ROOT = Path(__file__).parents[2]
WORKED = {letters: column_number(letters) for letters in "UVWXYZ"}
ROWS = range(5, 19)
DECIMALS = 3


@pytest.fixture(scope="module")
def clean(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The pump house as it was before anybody touched its formulas, every result stored."""
    path = tmp_path_factory.mktemp("clean") / "clean.xlsx"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pump_house, "MISHAPS", {})
        pump_house.write(path)
    return read_book(path)


def with_cells(found: Book, changed: Mapping[tuple[int, int], Value]) -> Book:
    """The workbook with some cells of its first sheet changed."""
    first, *others = found.sheets
    rows = [
        Row(
            row.number,
            {column: changed.get((row.number, column), value) for column, value in row.cells.items()},
            row.hidden,
        )
        for row in first.rows
    ]
    changed_sheet = Sheet(first.name, first.state, rows, first.merges)
    return Book(found.path, found.sha256, found.kind, found.date_1904, (changed_sheet, *others), found.names)


def at(address: str) -> tuple[int, int]:
    """Row and column of an address."""
    letters = address.rstrip("0123456789")
    return int(address[len(letters) :]), column_number(letters)


def remarks(checked: Checked) -> dict[str, Remark]:
    """What is said, by the address of the cell."""
    return {one.cell.rpartition("!")[2]: one for one in checked.opinion.remarks}


def checked_with(found: Book, changed: Mapping[str, Value]) -> dict[str, Remark]:
    changes = {at(address): value for address, value in changed.items()}
    return remarks(check_book(with_cells(found, changes), today=TODAY))


def results(found: Book) -> dict[tuple[int, int], Any]:
    """The stored results of the worked columns."""
    place = {row.number: row.cells for row in found.sheets[0].rows}
    return {(row, column): place[row][column].result for row in ROWS for column in WORKED.values()}  # type: ignore[union-attr]


def test_untouched_formulas_draw_no_word(clean: Book) -> None:
    """84 figures and verdicts, all of them gone through."""
    checked = check_book(clean, today=TODAY)
    assert not checked.opinion.remarks
    assert sum(one.compared for one in checked.opinion.columns) == len(ROWS) * len(WORKED)
    assert not any(one.off for one in checked.opinion.columns)
    (said,) = [one for one in checked.said if "worked out again" in one]
    assert said.endswith("all agree")


@pytest.mark.parametrize("places", [2, 3, 6])
def test_untouched_figures_pasted_as_values_draw_no_word(clean: Book, places: int) -> None:
    """Rounded to what was shown, and no formula left."""
    pasted = {
        place: round(value, places) if isinstance(value, float) else value
        for place, value in results(clean).items()
    }
    checked = check_book(with_cells(clean, pasted), today=TODAY)
    assert not checked.opinion.remarks
    assert sum(one.compared for one in checked.opinion.columns) == len(ROWS) * len(WORKED)


typed_over = st.dictionaries(
    st.tuples(st.sampled_from(ROWS), st.sampled_from(sorted(WORKED.values()))),
    st.one_of(
        st.floats(0.001, 10_000).map(lambda value: round(value, DECIMALS)),
        st.sampled_from((0.0, 1.0, -1.0, 0.5, 2.0)),
    ),
    min_size=1,
    max_size=60,
)
words = st.sampled_from(("PASS", "FAIL", "OK", "not ok"))
MEANS = {"PASS": PASS, "OK": PASS, "FAIL": FAIL, "not ok": FAIL}


@settings(max_examples=150, deadline=None)
@given(typed=typed_over, word=words)
@pytest.mark.parametrize("pasted", [False, True], ids=["among formulas", "among values"])
def test_typed_over_values_are_all_found(
    clean: Book, pasted: bool, typed: dict[tuple[int, int], float], word: str
) -> None:
    """Whatever is typed over whichever cells, each is found that is off, and nothing is said of the others.

    Off is what differs by more than half a per cent and half of the last digit that the column shows. Among
    formulas those are found too that are not off, as long as half of the rows used alike keep theirs.
    """
    right = results(clean)
    values: dict[tuple[int, int], Any] = {}
    if pasted:
        values = {place: round(one, 3) if isinstance(one, float) else one for place, one in right.items()}
    changed = {place: word if place[1] == WORKED["Z"] else value for place, value in typed.items()}
    checked = check_book(with_cells(clean, values | changed), today=TODAY)
    found = remarks(checked)
    wanted = {cell_name(*place) for place, value in changed.items() if is_off(value, right[place])}
    assert wanted <= found.keys()
    assert found.keys() <= {cell_name(*place) for place in changed}
    if not pasted and len(typed) <= 3:
        # two or more rows are used alike in this sheet: where all of them are typed, none has a formula
        assert found.keys() == wanted | {
            cell_name(*place) for place in changed if keeps_formulas(place, changed.keys())
        }
    assert [row.verdict for row in checked.rows] == [
        row.verdict for row in check_book(clean, today=TODAY).rows
    ]


def is_off(value: float | str, right: float | str) -> bool:
    """By the test's own arithmetic."""
    if isinstance(value, str):
        return MEANS[value] != right
    assert isinstance(right, float)
    return abs(value - right) > 0.005 * abs(right) + 0.5 * 10**-DECIMALS


USED = (
    "hook",
    "link",
    "leg",
    "pick",
    "pick",
    "hook",
    "leg",
    "pick",
    "hook",
    "leg",
    "pick",
    "hook",
    "leg",
    "pick",
)
"""How each row is used."""


def keeps_formulas(place: tuple[int, int], typed: Any) -> bool:
    """Whether at least as many rows used like this one keep the formula as have it typed over."""
    row, column = place
    alike = [one for one, use in zip(ROWS, USED, strict=True) if use == USED[row - ROWS[0]]]
    gone = sum((one, column) in typed for one in alike)
    return len(alike) - gone >= gone


def test_the_sample_says_what_happened_to_it() -> None:
    """Each mishap by its rule and its cause, with both numbers, and what follows from it as following."""
    path = ROOT / "sample_workbooks" / "pump_house_reworked.xlsx"
    checked = check_book(read_book(path), today=TODAY)
    found = remarks(checked)
    told = {cell: (one.rule.name, one.says, one.ours) for cell, one in found.items()}
    assert told == {
        "W9": ("typed-over", "1", "0.7"),
        "X9": ("sheets-figure-differs", "5.81 t", "8.299 t"),  # 4.648 / 0.7 × 1.25
        "Y9": ("sheets-figure-differs", "0.6036", "0.8623"),
        "Z9": ("sheets-verdict-differs", "'PASS'", "FAIL"),
        "V11": ("odd-formula", "2.295 t", "1.925 t"),  # 2.95 / (2 cos 50°), / (2 sin 50°)
        "X11": ("sheets-figure-differs", "2.868 t", "2.407 t"),
        "Y11": ("sheets-figure-differs", "0.5336", "0.4478"),
        "Z12": ("sheets-verdict-differs", "'PASS'", "FAIL"),
        "V14": ("odd-formula", "1.245 t", "1.129 t"),  # × 2204.6 / 2000
        "X14": ("sheets-figure-differs", "1.556 t", "1.412 t"),
        "Y14": ("sheets-figure-differs", "0.4292", "0.3894"),
        "X15": ("odd-formula", "1.129 t", "1.412 t"),
        "U18": ("stale-result", "1.6 t", "2.15 t"),  # 1.4 × 1.1 + 0.06
        "V18": ("sheets-figure-differs", "0.8827 t", "1.186 t"),
        "X18": ("sheets-figure-differs", "1.103 t", "1.483 t"),
        "Y18": ("sheets-figure-differs", "0.3044", "0.409"),
    }
    causes = {cell: one.cause for cell, one in found.items()}
    assert "cosine were taken for the sine" in causes["V11"]
    assert "off by 2204.6/2000" in causes["V14"]
    assert "design margin of 25% were left out" in causes["X15"]
    assert "derate of 0.7 were left out" in causes["X9"]
    assert causes["Z12"] == "it looks at row 11 and not at its own"
    assert causes["Y9"] == "it follows from X9"
    assert {causes[cell] for cell in ("V18", "X18", "Y18")} == {"it follows from U18"}
    assert {cell for cell, one in found.items() if one.is_kinder} == {"Z9", "Z12"}
    assert checked.said[0] == (
        "the sheet's own verdict passes 2 rows that this check does not pass: Schedule!Z9, Schedule!Z12"
    )


RIGHT = [
    *sorted((ROOT / "tests" / "workbook" / "fixtures").glob("*.xls*")),
    *(path for path in sorted((ROOT / "sample_workbooks").glob("*.xlsx")) if "reworked" not in path.name),
]


@pytest.mark.parametrize("path", RIGHT, ids=[path.stem for path in RIGHT])
def test_workbooks_that_nobody_spoilt_draw_no_word(path: Path) -> None:
    """Other people's workbooks, and our samples that have no worked columns."""
    try:
        found = read_book(path)
    except WorkbookError:
        return  # encrypted, signed or damaged
    assert not check_book(found, today=TODAY).opinion.remarks


def test_a_verdict_of_ours_stays_and_the_sheets_own_is_the_first_advice() -> None:
    path = ROOT / "sample_workbooks" / "pump_house_reworked.xlsx"
    checked = check_book(read_book(path), today=TODAY)
    (row,) = [one for one in checked.rows if one.row == 12]
    assert row.verdict == FAIL
    advice = [one for one in row.judged.findings if one.outcome == "advice"]
    assert advice[0].rule.name == "sheets-verdict-differs"
    data = as_data(checked)
    assert {one["figure"] for one in data["second opinion"]["columns"]} == {
        "hook_load", "force", "derate", "required", "utilisation", "verdict",
    }  # fmt: skip
    (of_row,) = [one for one in data["rows"] if one["row"] == 12]
    assert [one["works out at"] for one in of_row["second opinion"]] == ["FAIL"]
    assert {one["rule"] for one in of_row["second opinion"]} <= gathered().keys()


def test_the_summary_lists_every_cell_with_a_link_to_it() -> None:
    checked = check_book(read_book(ROOT / "sample_workbooks" / "pump_house_reworked.xlsx"), today=TODAY)
    linked = [row[0].content for row in summary(checked).rows if isinstance(row[0].content, Link)]
    cells = [one.cell for one in linked if "!" in one.text]
    assert cells == [one.cell.rpartition("!")[2] for one in checked.opinion.remarks]


def formula(text: str, result: Any) -> Formula:
    return Formula(text, result, True)


GOOD: dict[str, Any] = {
    "Tag": "S-1", "Kind": "shackle", "Position": "leg", "Size": "7/8 in", "Type": "bow, bolt type",
    "Rated load (t)": 5.8, "Maker": "Halden Forge", "Load (t)": 5.0, "Weight basis": "weighed",
    "Rigging weight (t)": 0.1, "Legs": 2.0, "Sling angle (deg)": 60.0, "Rating marked": "yes",
    "Last inspection": dt.datetime(2026, 6, 1),
}  # fmt: skip
"""(5 × 1.05 + 0.1) / (2 sin 60°) = 3.089 t, × 1.25 = 3.861 t, 53.3 % used: it passes."""


def rows(*changes: Mapping[str, Any]) -> Checked:
    """Rows like GOOD but for what is changed, checked."""
    filled = [GOOD | {"Tag": f"S-{number}"} | change for number, change in enumerate(changes, 1)]
    names = list(dict.fromkeys(name for row in filled for name in row))
    table: Sequence[Sequence[Any]] = [names, *([row.get(name) for name in names] for row in filled)]
    return check_book(book(sheet("S", table)), today=TODAY)


def only(checked: Checked) -> Remark:
    (one,) = checked.opinion.remarks
    return one


@pytest.mark.parametrize(
    ("heading", "right", "off"),
    [
        ("Hook load (t)", 5.35, 5.0),
        ("Leg tension (t)", 3.09, 3.9),
        ("Leg tension (kN)", 30.29, 3.09),
        ("Tension", 3.09, 2.8),
        ("Leg tension (lb)", 6810, 3.09),
        ("Load per leg (t)", 3.09, 2.68),
        ("Load angle factor", 1.155, 2.0),
        ("Angle factor", 0.866, 0.5),
        ("Derate", 1.0, 0.7),
        ("Derated WLL (t)", 5.8, 4.06),
        ("Required WLL (t)", 3.86, 3.09),
        ("Utilisation", 0.533, 0.71),
        ("Utilisation", 53.3, 71.0),
        ("Utilisation (%)", 53, 71),
        ("Hook load (t)", 5.4, 5),
        ("Derate", 1, 0.7),
        ("Utilisation (%)", 53.3, 71.0),
        ("Utilisation (%)", 0.533, 0.71),
        ("Result", "OK", "Not OK"),
        ("Acceptable", True, False),
        ("Leg tension", "3.09 t", "3.9 t"),
        ("Calculated angle (deg)", 60.0, 30.0),
    ],
)
def test_one_column_right_and_off(heading: str, right: Any, off: Any) -> None:
    """The figure by hand draws no word; another one does, with both numbers."""
    agreed = rows({heading: right})
    assert not agreed.opinion.remarks
    assert [one.compared for one in agreed.opinion.columns] == [1]
    said = only(rows({heading: off}))
    assert said.says
    assert said.ours
    assert said.cell in said.sentence


@pytest.mark.parametrize(
    "shown",
    [None, "n/a", "-", "TBC", "see note 3", "#", "J. Doe", formula("=A2", None)._replace(calculated=False)],
)
def test_what_is_no_figure_is_not_compared(shown: Any) -> None:
    checked = rows({"Leg tension (t)": shown, "Result": shown})
    assert not checked.opinion.remarks
    assert sum(one.compared for one in checked.opinion.columns) == 0


def test_a_figure_off_by_more_than_one_slip() -> None:
    """The share without its allowance and by all four legs, and the tension from it not in kN: three slips.

    16 / 4 = 4 t, over sin 60° 4.62 t; ours is 16 × 1.05 / 2 = 8.4 t, over sin 60° 9.699 t or 95.12 kN.
    """
    worked = {"Load (t)": 16.0, "Rigging weight (t)": 0, "Legs": 4, "Quantity": 4}
    checked = rows(worked | {"Load per leg (kg)": 4000, "Tension (kN)": 4.62})
    share, tension = checked.opinion.remarks
    assert share.cause == (
        "as if the weight allowance of 1.05 were left out and the load were divided by 4 legs, and 2 carry"
    )
    assert (tension.says, tension.ours) == ("4.62 kN", "95.12 kN")
    assert tension.cause == (
        f"it follows from {share.cell.partition('!')[2]}, "
        "and as if it were in t, not converted to kN (off by 1/9.80665)"
    )


def test_a_ratio_far_off_is_not_taken_for_a_percentage() -> None:
    """1 / cos 70° where 1 / sin 70° is right."""
    said = only(rows({"Sling angle (deg)": 70.0, "Load angle factor": 2.92}))
    assert (said.says, said.ours) == ("2.92", "1.064")
    assert "cosine were taken for the sine" in said.cause


def test_a_load_per_leg_beside_a_tension_is_the_share_without_the_angle() -> None:
    """5.35 t on two legs."""
    assert not rows({"Load per leg (t)": 2.675, "Leg tension (t)": 3.09}).opinion.remarks
    assert only(rows({"Load per leg (t)": 3.09, "Leg tension (t)": 3.09})).heading == "Load per leg (t)"


def test_a_verdict_that_passes_what_is_held() -> None:
    """The maker is not known."""
    said = only(rows({"Maker": None, "Result": "PASS"}))
    assert (said.says, said.ours, said.is_kinder) == ("'PASS'", HOLD, True)
    assert not rows({"Maker": None, "Result": "FAIL"}).opinion.remarks
    assert not rows({"Maker": None, "Result": "CHECK"}).opinion.remarks


def test_a_verdict_that_fails_what_passes() -> None:
    said = only(rows({"Result": "FAIL"}))
    assert (said.says, said.ours, said.is_kinder) == ("'FAIL'", PASS, False)


def test_one_word_typed_in_every_row() -> None:
    checked = rows(*({"Rated load (t)": rated, "Result": "PASS"} for rated in (5.8, 5.0, 3.0, 4.9)))
    assert only(checked).cause == "the same word is typed in all 4 rows of the column"


def test_formulas_that_all_look_at_one_row() -> None:
    """An anchor too many: every verdict is that of the first row."""
    words = [formula('=IF($A$2="S-1","PASS","FAIL")', "PASS") for _ in range(4)]
    checked = rows(
        *(
            {"Rated load (t)": rated, "Result": word}
            for rated, word in zip((5.8, 3.0, 5.0, 3.0), words, strict=True)
        )
    )
    off = {one.cell: one.cause for one in checked.opinion.remarks if one.is_kinder}
    assert off == dict.fromkeys(("S!O3", "S!O5"), "it looks at row 2 and not at its own")


def test_a_rating_typed_over_a_look_up() -> None:
    """A column of inputs that are looked up: the one that is typed is told."""
    ratings: list[dict[str, Any]] = [
        {"Rated load (t)": formula(f"=O{row}*2", 5.8), "Half": 2.9} for row in range(2, 8)
    ]
    ratings[2]["Rated load (t)"] = 8.5
    checked = rows(*ratings)
    letters = column_letters(list(GOOD).index("Rated load (t)") + 1)
    said = only(checked)
    assert (said.cell, said.rule.name, said.says) == (f"S!{letters}4", "typed-over", "8.5")
    assert not rows(*ratings[:2], {"Rated load (t)": 8.5}, {"Rated load (t)": 5.8}).opinion.remarks


def test_a_formula_without_a_cell_in_it_is_as_good_as_typed() -> None:
    cells: list[Any] = [formula(f"=A{row}&B{row}", 3.089) for row in range(2, 8)]
    cells[3] = formula("=2.1*1.8", 3.78)
    said = only(rows(*({"Leg tension (t)": cell} for cell in cells)))
    assert (said.rule.name, said.says, said.ours) == ("typed-over", "3.78 t", "3.089 t")


def test_a_table_of_lifts_is_worked_out_too() -> None:
    """Its remarks stand with the workbook, for no row of items is its own."""
    lifts = sheet(
        "Lifts",
        [
            [
                "Lift",
                "Load (t)",
                "Weight basis",
                "Rigging weight (t)",
                "Legs",
                "Sling angle",
                "Leg tension (t)",
            ],
            ["L1", 10, "weighed", 0.5, 2, 60, 6.35],
            ["L2", 8, "weighed", 0.5, 4, 60, 2.57],  # 8.9 / (4 sin 60°), and two of four carry: 5.138
        ],
    )
    hardware = sheet(
        "Hardware",
        [["Lift", "Kind", "Position", "WLL (t)"], ["L1", "shackle", "leg", 9], ["L2", "shackle", "leg", 9]],
    )
    checked = check_book(book(lifts, hardware), today=TODAY)
    said = only(checked)
    assert (said.cell, said.says, said.ours, said.on_item) == ("Lifts!G3", "2.57 t", "5.138 t", False)
    assert "divided by 4 legs, and 2 carry" in said.cause
    assert said.sentence in checked.said
    assert not any(row.remarks for row in checked.rows)


@pytest.mark.parametrize("choice", [",O,,leg tension,kN", ",,S in leg,tension,kN"])
def test_a_mapping_says_what_a_column_of_figures_is(tmp_path: Path, choice: str) -> None:
    """By its letter or its heading; 3.089 t is 30.29 kN."""
    (tmp_path / "columns.csv").write_text(f"sheet,column,heading,field,unit\n{choice}\n")
    mapping = read_mapping(tmp_path / "columns.csv")
    for figure, off in ((30.29, 0), (3.09, 1)):
        table = [[*GOOD, "S in leg"], [*GOOD.values(), figure]]
        checked = check_book(book(sheet("S", table)), mapping=mapping, today=TODAY)
        assert [one.compared for one in checked.opinion.columns] == [1]
        assert len(checked.opinion.remarks) == off
        assert checked.rows[0].verdict == PASS
    assert "it were in t, not converted to kN (off by 1/9.80665)" in only(checked).cause


def test_european_practice_agrees_by_mode_factor_and_by_the_sine() -> None:
    """Two legs at 30° from the vertical: 5.35 / 1.4 = 3.821 t, and 3.089 t by the sine."""
    for tension, off in ((3.82, 0), (3.09, 0), (2.675, 1)):
        table = [[*GOOD, "Leg tension (t)"], [*GOOD.values(), tension]]
        checked = check_book(book(sheet("S", table)), overrides={"leg sharing": "mode factors"}, today=TODAY)
        assert len(checked.opinion.remarks) == off


anything = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from((0.0, -1.0, 1e308, 1e-308, 45.0, 90.0, 180.0)),
    st.text(max_size=12),
    st.sampled_from(("5 t", "1,250 kg", "5 ton", "60°", "86 %", "N/A", "PASS", "=1", "1e999", "½", "4..5")),
    st.datetimes(dt.datetime(1950, 1, 1), dt.datetime(2050, 1, 1)),
    st.builds(
        Formula,
        st.sampled_from(("=A2", "=1/0", "=B2*2", "=(", "", "=LEGTENSION(1,2,60)", "=$D$2", "=#REF!")),
        st.one_of(st.none(), st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=5)),
        st.booleans(),
    ),
)
HEADINGS = (
    "Hook load (t)", "Leg tension (ton)", "Load per leg", "Share (kN)", "Load angle factor", "Derate",
    "Derated WLL", "Required WLL (lb)", "Utilisation (%)", "Capacity check", "Angle check", "Result",
    "Force (mm)", "Something else", "Load (t)", "Legs", "Sling angle (deg)", "Rated load (t)",
    "Rigging weight (t)", "Hitch", "Quantity",
)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(
    changes=st.lists(
        st.dictionaries(st.sampled_from(HEADINGS), anything, max_size=12), min_size=1, max_size=5
    ),
    criteria=st.sampled_from(("us", "europe")),
)
def test_whatever_stands_there_the_verdicts_are_those_without_it(
    changes: list[dict[str, Any]], criteria: str
) -> None:
    """No cell of a worked column breaks the check, or changes a verdict."""
    worked = HEADINGS[:14]
    filled = [GOOD | {"Tag": f"S-{number}"} | change for number, change in enumerate(changes)]
    bare = [{name: cell for name, cell in row.items() if name not in worked} for row in filled]
    ground = Criteria.ready(criteria)
    with_worked, without = (
        check_book(book(sheet("S", of(rows))), criteria=ground, today=TODAY) for rows in (filled, bare)
    )
    assert [row.verdict for row in with_worked.rows] == [row.verdict for row in without.rows]
    for one in with_worked.opinion.remarks:
        assert one.cell in one.sentence


def of(filled: Sequence[Mapping[str, Any]]) -> list[list[Any]]:
    """Rows of named cells under one row of headings, every heading there."""
    names = list(dict.fromkeys((*GOOD, *(name for row in filled for name in row))))
    return [names, *([row.get(name) for name in names] for row in filled)]
