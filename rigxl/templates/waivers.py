"""The sheet of waivers of the blank schedule."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from rigxl.rules import gathered
from rigxl.templates.style import HEAD, INPUT, lock, look, print_set_up, widths

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WAIVER_HEADINGS = {
    "Rule": 24,
    "Item": 16,
    "Lift": 20,
    "Reason": 52,
    "Who": 24,
    "Until": 14,
    "Utilisation up to": 14,
}
"""The columns and their widths, in characters."""

ABOUT = (
    "One rule on one item or one lift, with the reason, the person who answers for it, and the last day.",
    "The full check (rigxl check) turns FAIL into WAIVED by it. The formulas go on saying FAIL.",
)
HEADING_ROW = 5
ROWS = 20


def waivable() -> tuple[str, ...]:
    """The rules that may be waived."""
    return tuple(sorted(name for name, (rule, _) in gathered().items() if not rule.firm))


def write_waivers(sheet: Worksheet) -> None:
    """Headings, empty lines to fill in, and what each may hold."""
    sheet["A1"] = "Waivers: what somebody answers for"
    look(sheet["A1"], size=16, bold=True, edge=False)
    for row, text in enumerate(ABOUT, 2):
        look(sheet.cell(row, 1, text), edge=False)
    waiver_headings(sheet, HEADING_ROW)
    last = HEADING_ROW + ROWS
    for row in range(HEADING_ROW + 1, last + 1):
        for column, heading in enumerate(WAIVER_HEADINGS, 1):
            number = {"Until": "yyyy-mm-dd", "Utilisation up to": "0%"}.get(heading, "@")
            across = "left" if number == "@" else "center"
            cell = sheet.cell(row, column)
            look(cell, fill=INPUT, across=across, number=number, wrap=heading == "Reason", locked=False)
        sheet.row_dimensions[row].height = 17
    _choices(sheet, f"{HEADING_ROW + 1}", str(last))
    sheet.row_dimensions[1].height = 24
    sheet.freeze_panes = f"C{HEADING_ROW + 1}"
    print_set_up(sheet, titles=f"{HEADING_ROW}:{HEADING_ROW}", paper=9)
    lock(sheet)


def waiver_headings(sheet: Worksheet, row: int, names: Iterable[str] = WAIVER_HEADINGS) -> None:
    """The row of headings, and how wide the columns are."""
    for column, name in enumerate(names, 1):
        cell = sheet.cell(row, column, name)
        look(cell, fill=HEAD, bold=True, colour="FFFFFF", across="center", wrap=True)
    sheet.row_dimensions[row].height = 32
    widths(sheet, dict(zip("ABCDEFG", WAIVER_HEADINGS.values(), strict=True)))


def _choices(sheet: Worksheet, first: str, last: str) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    rules = (
        (
            "A",
            DataValidation(type="list", formula1="waivable_rules"),
            "A rule that may be waived: no other is.",
        ),
        (
            "C",
            DataValidation(type="list", formula1="lift_names"),
            "The name of one lift, as on the sheet Lifts.",
        ),
        (
            "F",
            DataValidation(type="date", operator="greaterThan", formula1="36526"),
            "The last day it holds, typed as a date, a year ahead at most.",
        ),
        (
            "G",
            DataValidation(type="decimal", operator="between", formula1="0.01", formula2="1"),
            "Where given: it covers nothing above this share of what the item may carry, such as 85 %.",
        ),
    )
    for column, rule, prompt in rules:
        rule.allow_blank = rule.showErrorMessage = rule.showInputMessage = True
        rule.promptTitle = rule.errorTitle = str(sheet[f"{column}{HEADING_ROW}"].value)
        rule.prompt = rule.error = prompt
        rule.add(f"{column}{first}:{column}{last}")
        sheet.add_data_validation(rule)
