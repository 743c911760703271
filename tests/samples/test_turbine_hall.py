"""The sample with every kind: verdicts by tag, worked by hand; no kind is without a good and a bad row.

Rotor half: 6 × 1.05 + 0.4 = 6.7 t, × 1.25 = 8.375 t at the top; a leg 6.7 / (2 sin 60°) = 3.868 t, × 1.25 =
4.835 t. Oil cooler: 1.2 × 1.05 + 0.1 = 1.36 t, × 1.25 = 1.7 t, on one line. On a device of w: 2 × 1.05 + 0.3
- w, so 2.2 t under 0.2 t of its own, × 1.25 = 2.75 t.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from pathlib import Path

from rigxl.hardware import kinds
from rigxl.samples import SAMPLES
from rigxl.schedule.check import check_workbook

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
TODAY = dt.date(2026, 11, 25)

EXPECTED = {
    "TH-01": ("PASS", ()),  # 10 t of 8.375
    "TH-02": ("PASS", ()),  # 12 t
    "TH-03": ("PASS", ()),  # a bearing swivel may turn
    "TH-04": ("PASS", ()),  # 9 t; its legs include 60°
    "TH-05": ("PASS", ()),  # 6.5 t of 4.835; worn from 25 to 24 mm: 4 %
    "TH-06": ("PASS", ()),  # 6 t
    "TH-07": ("PASS", ()),  # 8 t
    "TH-11": ("FAIL", ("hook-latch",)),
    "TH-12": ("FAIL", ("load-cell-along",)),  # 8° off
    "TH-13": ("FAIL", ("swivel-turns",)),
    "TH-14": ("FAIL", ("link-along", "out-of-service", "condition")),  # 20° off; its inspection says cracked
    "TH-15": ("FAIL", ("wear",)),  # worn from 22 to 19 mm: 14 %
    "TH-16": ("FAIL", ("turnbuckle-hook",)),
    "TH-17": ("FAIL", ("capacity",)),  # 1 t under 1.36
    "TH-18": ("HOLD", ("rating-over-makers-table",)),  # 4 t where the maker's table says 2
    "TH-19": ("PASS", ()),  # no rating of its own: 3.2 t by the maker's table, of 1.7
    "TH-21": ("PASS", ()),  # shoulder at 30°: 4.835 / 0.25 = 19.34 t of 22
    "TH-22": ("PASS", ()),  # 8 t
    "TH-23": ("PASS", ()),  # 8 t; a pin of 35 in a hole of 37 mm
    "TH-24": ("PASS", ()),  # 32.2 short tons / 5 = 5.842 t, × 0.8 for clips; 1.7 / 0.8 = 2.125 t wanted
    "TH-31": ("FAIL", ("plain-eye-bolt-at-angle",)),
    "TH-32": ("FAIL", ("hoist-ring-flush",)),
    "TH-33": ("FAIL", ("hole-fit",)),  # a pin of 35 in a hole of 34 mm
    "TH-34": ("FAIL", ("clips-not-for-slings", "clip-count")),  # 3 clips where FM 5-125 asks for 5
    "TH-41": ("PASS", ()),  # 3 t of 2.75, tested with 3.75 t: 125 %
    "TH-42": ("PASS", ()),
    "TH-43": ("PASS", ()),  # 2.38 × 1.25 = 2.975 t
    "TH-44": ("PASS", ()),
    "TH-45": ("PASS", ()),
    "TH-46": ("PASS", ()),
    "TH-47": ("PASS", ()),
    "TH-48": ("PASS", ()),
    "TH-51": ("HOLD", ("device-engineered",)),
    "TH-52": ("FAIL", ("device-proof-test",)),  # tested with 3 t, 100 %
    "TH-53": ("FAIL", ("grip-thickness",)),  # 45 mm in jaws of 10 to 40
    "TH-54": ("FAIL", ("beam-clamp-angle",)),  # 50° where the maker allows 45
    "TH-55": ("FAIL", ("grip-thickness",)),  # 8 mm where 20 is wanted
    "TH-56": ("FAIL", ("device-procedure",)),
    "TH-57": ("FAIL", ("fork-load-centre",)),  # 700 mm where 600 is rated
    "TH-58": ("FAIL", ("design-margin",)),  # 2.5 t of 2.75
}


def test_every_row_as_worked_by_hand() -> None:
    """Verdict and rules, tag by tag, and no row more or less."""
    checked = check_workbook(FOLDER / "turbine_hall_every_kind.xlsx", today=TODAY)
    assert {row.name: (row.verdict, row.rules) for row in checked.rows} == EXPECTED


def test_every_kind_is_shown_good_and_bad() -> None:
    """Across the samples; a kind that is added brings its rows."""
    found = defaultdict(set)
    for name in SAMPLES:
        for row in check_workbook(FOLDER / f"{name}.xlsx", today=TODAY).rows:
            found[row.judged.item.kind].add(row.verdict == "PASS")
    assert {kind: found[kind] for kind in kinds()} == {kind: {True, False} for kind in kinds()}
