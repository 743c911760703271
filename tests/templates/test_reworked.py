"""The second opinion on the blank schedule, filled in and worked out by LibreOffice."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from rigxl.schedule.check import Checked, check_workbook
from rigxl.templates.columns import HARDWARE_FIELDS, HARDWARE_WORKED, LIFT_FIELDS, LIFT_WORKED, letters
from tests.templates.test_native import ITEMS, JUDGED_ON, LIFTS

TODAY = dt.date(2026, 11, 25)
PLACE = {"Lifts": letters(LIFT_FIELDS, LIFT_WORKED), "Hardware": letters(HARDWARE_FIELDS, HARDWARE_WORKED)}

Fill = Callable[..., Path]
Work = Callable[..., list[Path]]


def said(checked: Checked) -> dict[str, str]:
    """What is said, by cell."""
    return {one.cell: one.sentence for one in checked.opinion.remarks}


def spoilt(path: Path, cells: dict[str, Any]) -> Path:
    """A copy with typed results, as from a program that keeps the other results as they were."""
    book, shown = load_workbook(path), load_workbook(path, data_only=True)
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    cell.value = shown[sheet.title][cell.coordinate].value
    for address, value in cells.items():
        sheet, _, cell_name = address.partition("!")
        book[sheet][cell_name] = value
    target = path.with_name("spoilt.xlsx")
    book.save(target)
    return target


def test_our_own_formulas_draw_no_word(fill: Fill, recalculate: Work) -> None:
    """Over every lift and item that the formulas were tried on, and both sheets."""
    (worked,) = recalculate(fill("reworked", LIFTS, [cells for cells, _ in ITEMS], JUDGED_ON))
    checked = check_workbook(worked, today=TODAY)
    assert said(checked) == {}
    compared = {one.column.worked: one.compared for one in checked.opinion.columns if one.compared}
    assert compared.keys() == {
        "lengths_angle", "sling_angle", "angle_check", "hook_load", "over_tension", "leg_tension",
        "force", "derate", "required", "utilisation", "strength", "verdict",
    }  # fmt: skip
    assert sum(compared.values()) > 300

    place, lift = PLACE["Hardware"], PLACE["Lifts"]
    cells = {
        f"Hardware!{place['force']}6": 100.0,  # 11 t / (2 sin 60°) is 62.28 kN
        f"Hardware!{place['verdict']}7": "PASS",  # it fails
        f"Lifts!{lift['hook_load']}6": 10.5,  # 107.9 kN, and not converted from tonnes
    }
    found = said(check_workbook(spoilt(worked, cells), today=TODAY))
    assert found.keys() == cells.keys()
    assert "62.28 kN" in found[f"Hardware!{place['force']}6"]


def test_the_blank_schedule_has_nothing_to_say_of(tmp_path: Path, fill: Fill) -> None:
    """Rows that are not filled in hold formulas and no figures."""
    assert tmp_path.exists()
    checked = check_workbook(fill("blank", [], []), today=TODAY)
    assert said(checked) == {}
