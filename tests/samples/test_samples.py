"""The samples: every verdict and every rule worked out by hand, through the call that everybody uses.

The arithmetic is T = F / (n sin θ) or F over the mode factor, required = T / derates × 1.25, by the rules and
sources that the check cites. Masses stay masses here: standard gravity cancels.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from openpyxl import load_workbook

from rigxl.criteria import Criteria
from rigxl.samples import SAMPLES, write_all
from rigxl.schedule.check import Checked, check_workbook

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
TODAY = dt.date(2026, 11, 25)

FOOTBRIDGE = {
    # hook load 14,500 × 1.10 + 850 = 16,800 lb, at the top × 1.25 = 21,000 lb = 10.5 short tons
    5: ("PASS", ()),  # 20
    6: ("PASS", ()),  # 15; its legs include 60°, what a link is taken to be rated for
    # four legs, two carry, 60°: 16,800 / (2 × 0.8660254) = 9,699 lb; × 1.25 = 12,124 lb = 6.06 short tons
    7: ("PASS", ()),  # 6.5
    8: ("PASS", ()),  # 8.4
    9: ("PASS", ()),  # 8.4
    10: ("PASS", ()),  # 7.5
    11: ("PASS", ()),  # 8.5
    12: ("PASS", ()),  # 6.5
    # side loaded at 30°: 6.5 × 0.70 = 4.55 short tons = 9,100 lb, and 9,699 lb hangs on it
    13: ("FAIL", ("capacity",)),
    14: ("PASS", ()),  # 17 at the top
}

BAKERY = {
    # 4.2 × 1.05 + 0.12 = 4.53 t; a leg 4.53 / (2 sin 55°) = 2.765 t, × 1.25 = 3.456 t
    8: ("PASS", ()),  # hook, 10 t against 4.53 × 1.25 = 5.66 t
    9: ("HOLD", ("cell-unreadable",)),  # 12 ton: short, long or metric
    10: ("PASS", ()),  # 5.8 t
    11: ("PASS", ()),  # 9,500 lb = 4.309 t
    12: ("FAIL", ("design-margin",)),  # at 30°: 3.016 t over 2.765 t, and 3.456 / 0.7 = 4.937 t wanted
    13: ("FAIL", ("round-pin-off-line",)),
    # 0.65 × 1.20 + 0.02 = 0.80 t on one sling
    15: ("PASS", ()),  # web choked at 120°: 0.80 / 0.80 × 1.25 = 1.25 t of 2 t
    16: ("FAIL", ("capacity",)),  # wire rope choked at 50°: 1.116 t × 0.75 × 0.62 = 0.519 t
    # 1.1 × 1.10 + 0.03 = 1.24 t; a leg 1.24 / (2 sin 45°) = 0.877 t, × 1.25 = 1.096 t
    18: ("FAIL", ("plain-eye-bolt-at-angle",)),
    19: ("PASS", ()),  # shoulder at 45°: 1.096 / 0.25 = 4.384 t of 10,000 lb = 4.536 t
    20: ("HOLD", ("cell-unreadable",)),  # 3/4 that became 4 March
    21: ("HOLD", ("maker-not-known",)),
    22: ("HOLD", ("rated-load-mark",)),
    # 1.5 × 1.05 + 0.05 = 1.625 t
    24: ("PASS", ()),  # basket: 0.8125 / (2 sin 60°) × 1.25 = 0.586 t of 1.116 t
    25: ("HOLD", ("basket-bend",)),  # round D/d 10
    26: ("HOLD", ("cell-unreadable",)),  # the rating is an error
    27: ("FAIL", ("capacity",)),  # hidden; 1.625 / (2 sin 60°) = 0.938 t on 1,000 lb = 0.454 t
    # 28° from the horizontal; 0.9 × 1.10 + 0.01 = 1.00 t, a leg 1.065 t, all of them strong enough
    29: ("FAIL", ("least-angle", "hook-legs-wide")),
    30: ("FAIL", ("least-angle",)),
    31: ("FAIL", ("least-angle", "inspection-overdue", "condition")),  # 2025-08-19 and twelve months; bent
    33: ("HOLD", ("cell-unreadable",)),  # load TBC
    35: ("HOLD", ("cell-unreadable",)),  # the load is a formula that was never calculated
    36: ("HOLD", ("cell-unreadable",)),
}

LOCK_GATES = {
    # 8.4 × 1.05 + 0.35 = 9.17 t, × 1.25 = 11.46 t; four legs, 35° from vertical: 9.17 / 2.1 × 1.25 = 5.458 t
    5: ("PASS", ()),  # 16 t
    6: ("PASS", ()),  # 17 t, a bow with legs that include 70°
    7: ("PASS", ()),  # 8 t
    8: ("PASS", ()),  # 6.5 t
    9: ("FAIL", ("capacity",)),  # at 50°: 8.5 × 0.5 = 4.25 t under 4.367 t
    # 9.6 × 1.10 + 0.35 = 10.91, 13.64 t at the top; cos θ = 1.9 / 4, θ = 61.6°: 10.91 / 1.4 × 1.25 = 9.741 t
    10: ("PASS", ()),  # 16 t
    11: ("PASS", ()),  # 12.5 t
    12: ("FAIL", ("design-margin",)),  # 8 t
    13: ("HOLD", ("certificate-missing",)),  # 12 t
    # 1.2 × 1.20 + 0.05 = 1.49 t; two legs at 50° from vertical: 1.49 / 1.0 × 1.25 = 1.863 t
    14: ("FAIL", ("hook-legs-wide",)),  # 5 t, and its legs 50° from plumb
    15: ("FAIL", ("eye-bolt-over-45",)),
    16: ("HOLD", ("maker-not-accepted",)),  # 3.25 t
    # 0.9 × 1.05 + 0.02 = 0.965 t, × 1.25 = 1.206 t
    17: ("PASS", ()),  # web choked at 120°: 1.206 / 0.80 = 1.508 t of 2 t
    18: ("FAIL", ("inspection-overdue",)),  # 2025-10-30
    19: ("WAIVED", ()),  # it has no latch, and somebody answers for it
}

PUMP_HOUSE = {
    # 7.4 × 1.05 + 0.28 = 8.05 t, × 1.25 = 10.06 t; four legs, two carry: 8.05 / (2 × 0.8660254) = 4.648 t
    5: ("PASS", ()),  # 12
    6: ("PASS", ()),  # 12.5
    7: ("PASS", ()),  # × 1.25 = 5.81 t of 7.7
    8: ("FAIL", ("design-margin",)),  # 30° off its axis: 7.7 × 0.7 = 5.39 t over 4.648 t, under 5.81 t
    9: ("FAIL", ("design-margin",)),
    # 2.6 × 1.10 + 0.09 = 2.95 t; two legs at 50°: 2.95 / (2 × 0.7660444) = 1.925 t, × 1.25 = 2.407 t
    10: ("PASS", ()),  # 2.95 × 1.25 = 3.688 t of 5
    11: ("PASS", ()),  # 4.3
    12: ("FAIL", ("design-margin",)),  # 40° off its axis: 2.9 × 0.7 = 2.03 t over 1.925 t, under 2.407 t
    # 1.5 × 1.20 + 0.05 = 1.85 t; two legs at 55°: 1.85 / (2 × 0.8191520) = 1.129 t, × 1.25 = 1.412 t
    13: ("PASS", ()),  # 1.85 × 1.25 = 2.313 t of 3.2
    14: ("PASS", ()),  # 2.9
    15: ("PASS", ()),
    # 1.9 × 1.10 + 0.06 = 2.15 t; two legs at 65°: 2.15 / (2 × 0.9063078) = 1.186 t, × 1.25 = 1.483 t
    16: ("PASS", ()),  # 2.15 × 1.25 = 2.688 t of 5
    17: ("PASS", ()),  # 2.9
    18: ("PASS", ()),
}

BOILER_HOUSE = {
    # 5 × 1.05 + 0.1 = 5.35 t, × 1.25 = 6.69 t; cos θ = 2 / 4, θ = 60°: 5.35 / (2 sin 60°) × 1.25 = 3.861 t
    5: ("PASS", ()),  # 10 t
    6: ("PASS", ()),  # 5 t
    7: ("PASS", ()),  # 5.8 t
    # cos θ = 1.75 / 2.5, θ = 45.6°, and 60° is stored, as it was with a spread of 2.5 m
    8: ("HOLD", ("cell-unreadable",)),
    9: ("HOLD", ("cell-unreadable",)),
    10: ("HOLD", ("angle-not-known", "cell-unreadable")),  # legs of 2.5 m do not reach over 6 m
}


def check(name: str) -> Checked:
    """The sample as it is handed out."""
    return check_workbook(FOLDER / f"{name}.xlsx", today=TODAY)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("footbridge", FOOTBRIDGE),
        ("bakery_as_received", BAKERY),
        ("lock_gates_metric", LOCK_GATES),
        ("pump_house_reworked", PUMP_HOUSE),
        ("boiler_house_functions", BOILER_HOUSE),
    ],
)
def test_every_row_as_worked_by_hand(name: str, expected: dict[int, tuple[str, tuple[str, ...]]]) -> None:
    """Verdict and rules, row by row, and no row more or less."""
    found = {row.row: (row.verdict, row.rules) for row in check(name).rows}
    assert found == {row: (verdict, tuple(rules)) for row, (verdict, rules) in expected.items()}


@pytest.mark.parametrize(
    ("name", "row", "required_t"),
    [
        ("footbridge", 13, 9699.485 / 0.7 * 1.25 * 0.45359237e-3),
        ("bakery_as_received", 12, 4.9376),
        ("bakery_as_received", 16, 2.15054),
        ("bakery_as_received", 19, 4.38406),
        ("bakery_as_received", 24, 0.586371),
        ("lock_gates_metric", 9, 10.91667),
        ("lock_gates_metric", 12, 9.741071),
        ("lock_gates_metric", 17, 1.507813),
    ],
)
def test_required_capacity_as_worked_by_hand(name: str, row: int, required_t: float) -> None:
    """The numbers that decide, to the digits given."""
    (found,) = [one for one in check(name).rows if one.row == row]
    assert found.judged.required is not None
    assert found.judged.required / 9806.65 == pytest.approx(required_t, rel=2e-6)


def test_the_criteria_sheets_are_followed() -> None:
    """European practice in one, US practice in the other, both judged on the day they name."""
    metric, small = check("lock_gates_metric").criteria, check("footbridge").criteria
    assert metric.title == Criteria.ready("europe").title
    assert metric.mode_factors
    assert metric.accepted_makers == {"ferrandel", "oudekamp"}
    assert small.title == Criteria.ready("us").title
    later = check_workbook(FOLDER / "footbridge.xlsx", today=dt.date(2030, 1, 1))
    assert later.criteria.judged_on == TODAY
    assert later.counts == check("footbridge").counts


def test_a_waiver_that_holds_one_that_lapsed_and_one_that_covers_nothing() -> None:
    """The hook without a latch; an inspection overdue again since 2026-11-16; a margin that is in hand."""
    checked = check("lock_gates_metric")
    (row,) = [one for one in checked.rows if one.row == 19]
    assert row.waived == ("hook-latch",)
    found = [(one.waiver.rule, one.waiver.item, one.state) for one in checked.waivers]
    assert found == [
        ("hook-latch", "LG-15", "in force"),
        ("inspection-overdue", "LG-14", "lapsed"),
        ("design-margin", "LG-07", "unused"),
    ]


def test_the_received_sample_has_what_people_send() -> None:
    """Each slip that its verdicts rest on is really in the file, and nothing that is no item was judged."""
    sheet = load_workbook(FOLDER / "bakery_as_received.xlsx")["Gear list"]
    assert isinstance(sheet["E20"].value, dt.datetime)
    assert sheet["G26"].data_type == "e"
    assert sheet["K35"].data_type == "f"
    assert load_workbook(FOLDER / "bakery_as_received.xlsx", data_only=True)["Gear list"]["K35"].value is None
    assert sheet.row_dimensions[27].hidden
    assert "A6:F6" in map(str, sheet.merged_cells.ranges)
    checked = check("bakery_as_received")
    assert {row.sheet for row in checked.rows} == {"Gear list"}
    assert "Crane hire" in {sheet.name for sheet in checked.understood.sheets if sheet.role == "other"}


@pytest.mark.parametrize("name", SAMPLES)
def test_the_files_handed_out_are_those_we_write(tmp_path: Path, name: str) -> None:
    """Else write them again: rigxl.samples.write_all(Path("sample_workbooks"))."""
    SAMPLES[name](tmp_path / "written.xlsx")
    written, handed_out = load_workbook(tmp_path / "written.xlsx"), load_workbook(FOLDER / f"{name}.xlsx")
    assert written.sheetnames == handed_out.sheetnames
    for sheet in written:
        other = handed_out[sheet.title]
        assert [[cell.value for cell in row] for row in sheet.iter_rows()] == [
            [cell.value for cell in row] for row in other.iter_rows()
        ]
        looks = [
            [[(cell.number_format, cell.fill.fgColor.rgb) for cell in row] for row in one.iter_rows()]
            for one in (sheet, other)
        ]
        assert looks[0] == looks[1]
        assert sorted(map(str, sheet.merged_cells.ranges)) == sorted(map(str, other.merged_cells.ranges))


def test_write_all_writes_each_sample_once_and_the_same_bytes(tmp_path: Path) -> None:
    """Names of the files, and no date or chance in their bytes."""
    first, second = write_all(tmp_path / "one"), write_all(tmp_path / "two")
    assert [path.stem for path in first] == list(SAMPLES)
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]
