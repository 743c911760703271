"""The sample with every kind: verdicts by tag, worked by hand; no kind is without a good and a bad row.

Required = force / derates × 1.25, of which the deciding figures are:

- Rotor: 6 × 1.05 + 0.4 = 6.7 t, 8.375 t at the top; a leg 6.7 / (2 sin 60°) = 3.868 t, 4.835 t.
- Bearing cap: 1.2 × 1.10 + 0.1 = 1.42 t, 1.775 t at the top; a leg 1.42 / (2 sin 45°) = 1.004 t, 1.255 t.
- Valve body: 0.4 × 1.05 + 0.02 = 0.44 t; a leg 0.44 / (2 sin 60°) = 0.254 t, 0.318 t.
- Oil cooler, Tugger line: 1.2 × 1.05 + 0.1 = 1.36 t on one line, 1.7 t.
- Cooling pump, Drain tank: 0.9 × 1.05 + 0.05 = 0.995 t on one line, 1.244 t.
- The other lifts: 2 × 1.05 + 0.3 less the device's own weight, so 2.2 t under 0.2 t, 2.75 t.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from pathlib import Path

import pytest

from rigxl.hardware import kinds
from rigxl.items import NOTE
from rigxl.samples import SAMPLES
from rigxl.schedule.check import Checked, check_workbook

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
TODAY = dt.date(2026, 11, 25)

EXPECTED = {
    "TH-01": ("PASS", ()),  # 10 t; throat 38 mm, now 39: 2.6 %, and 5 % is the most
    "TH-02": ("PASS", ()),  # 12 t
    "TH-03": ("PASS", ()),  # 10 t; a bearing swivel may turn
    "TH-04": ("PASS", ()),  # 9 t; its legs include 60°
    "TH-05": ("PASS", ()),  # 6.5 t; worn from 25 to 24 mm: 4 %, and 10 % is the most
    "TH-06": ("PASS", ()),  # 8 t; stretched from 1200 to 1212 mm: 1 %, and 3 % is the most
    "TH-07": ("PASS", ()),  # 6 t
    "TH-08": ("PASS", ()),  # 8 t at any angle up to 90°
    "TH-11": ("PASS", ()),  # 2 t; its legs hang 45° from plumb, the most that a hook may collect
    "TH-12": ("PASS", ()),  # 1.6 t
    "TH-13": ("PASS", ()),  # 1.5 t; engineered up to 45°; a pin of 19 in a hole of 21 mm, under 1/8 in loose
    "TH-21": ("PASS", ()),  # 1 t
    "TH-22": ("PASS", ()),  # shoulder at 30° from its shank: 0.318 / 0.25 = 1.270 t of 2.3
    "TH-31": ("FAIL", ("hook-latch",)),
    "TH-32": ("FAIL", ("load-cell-along",)),  # 8° off its axis
    "TH-33": ("FAIL", ("swivel-turns",)),
    "TH-34": ("FAIL", ("out-of-service", "condition")),  # fit in May, cracked in November
    "TH-35": ("FAIL", ("wear",)),  # worn from 22 to 19 mm: 13.6 %
    "TH-36": ("FAIL", ("turnbuckle-hook",)),
    "TH-37": ("FAIL", ("capacity",)),  # 1 t under 1.36
    "TH-38": ("FAIL", ("plain-eye-bolt-at-angle",)),
    "TH-41": ("PASS", ()),  # no rating of its own: 3.2 t by the maker's table
    "TH-42": ("HOLD", ("rating-over-makers-table",)),  # 4 t where the maker's table says 2
    "TH-43": ("FAIL", ("hoist-ring-flush",)),
    "TH-44": ("FAIL", ("hole-fit",)),  # a pin of 35 in a hole of 34 mm
    "TH-51": ("PASS", ()),  # 32.2 short tons / 5 = 5.842 t, × 0.8 for clips; 1.7 / 0.8 = 2.125 t wanted
    "TH-52": ("FAIL", ("clip-saddle", "clip-count")),  # 3 clips where FM 5-125 asks for 5
    "TH-61": ("PASS", ()),  # 3 t of 2.75, tested with 3.75 t: 125 %; its top legs rise 1.5 tan 60° = 2.598 m
    "TH-62": ("FAIL", ("spreader-headroom",)),  # 2.598 m, and the headroom is 2
    "TH-63": ("PASS", ()),
    "TH-64": ("FAIL", ("device-proof-test",)),  # tested with 3 t, 100 %
    "TH-65": ("PASS", ()),
    "TH-66": ("FAIL", ("fork-load-centre",)),  # 700 mm where 600 is rated
    "TH-67": ("PASS", ()),
    "TH-68": ("FAIL", ("basket-load-secured",)),
    "TH-71": ("PASS", ()),  # under 0.02 t of its own: 2.38 × 1.25 = 2.975 t
    "TH-72": ("FAIL", ("grip-thickness",)),  # 45 mm in jaws of 10 to 40
    "TH-73": ("PASS", ()),
    "TH-74": ("FAIL", ("beam-clamp-angle",)),  # 50° where its maker allows 45
    "TH-81": ("PASS", ()),
    "TH-82": ("FAIL", ("grip-thickness",)),  # 8 mm where 20 is wanted
    "TH-83": ("PASS", ()),
    "TH-84": ("FAIL", ("grip-temperature",)),  # 90 °C where 60 is rated
}


@pytest.fixture(scope="module")
def checked() -> Checked:
    """The sample as it is handed out."""
    return check_workbook(FOLDER / "turbine_hall_every_kind.xlsx", today=TODAY)


def test_every_row_as_worked_by_hand(checked: Checked) -> None:
    """Verdict and rules, tag by tag, and no row more or less."""
    assert {row.name: (row.verdict, row.rules) for row in checked.rows} == EXPECTED


@pytest.mark.parametrize(
    ("tag", "required_t"),
    [
        ("TH-01", 8.375),
        ("TH-08", 4.835309),
        ("TH-13", 1.255114),
        ("TH-22", 1.270171),
        ("TH-35", 1.7),
        ("TH-41", 1.24375),
        ("TH-51", 2.125),
        ("TH-61", 2.75),
        ("TH-71", 2.975),
        ("TH-81", 2.8125),
        ("TH-83", 2.875),
    ],
)
def test_required_capacity_as_worked_by_hand(checked: Checked, tag: str, required_t: float) -> None:
    """The numbers that decide, to the digits given."""
    (found,) = [row for row in checked.rows if row.name == tag]
    assert found.judged.required is not None
    assert found.judged.required / 9806.65 == pytest.approx(required_t, rel=1e-6)


def test_a_rating_comes_from_the_makers_sheet(checked: Checked) -> None:
    """With the line it came from among the reasons."""
    (found,) = [row for row in checked.rows if row.name == "TH-41"]
    said = [one.sentence for one in found.judged.findings if one.outcome == NOTE]
    assert any("3.2 t (row 5 of sheet 'Ratings')" in one for one in said)


def test_a_lift_runs_over_the_tables_of_its_sheet(checked: Checked) -> None:
    """One weakest item in each: the link at 6.7 / 9 in the rotor, the sling at 1.36 / 1 in the oil cooler."""
    weakest = [
        (row.judged.item.lift, row.name)
        for row in checked.rows
        if row.line.sheet == "Rigging" and row.weakest
    ]
    assert weakest == [
        ("Rotor", "TH-04"),
        ("Bearing cap", "TH-11"),
        ("Oil cooler", "TH-37"),
        ("Valve body", "TH-22"),
        ("Cooling pump", "TH-43"),
        ("Drain tank", "TH-44"),
    ]


def test_every_column_is_understood(checked: Checked) -> None:
    """No heading of the sample is left over."""
    left = [
        column.heading
        for table in checked.understood.tables
        for column in table.columns
        if not column.field and column.heading != "Source"
    ]
    assert left == []


def test_every_kind_is_shown_good_and_bad() -> None:
    """Across the samples; a kind that is added brings its rows."""
    found = defaultdict(set)
    for name in SAMPLES:
        for row in check_workbook(FOLDER / f"{name}.xlsx", today=TODAY).rows:
            found[row.judged.item.kind].add(row.verdict == "PASS")
    assert {kind: found[kind] for kind in kinds()} == {kind: {True, False} for kind in kinds()}
