"""The criteria sheet of the blank schedule: every setting, its value, and what the formulas make of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rigxl.criteria import Criteria
from rigxl.criteria.settings import SETTINGS
from rigxl.templates.columns import (
    FORCE_CHOICES,
    HARDWARE_FIELDS,
    HARDWARE_WORKED,
    HEADING_ROW,
    LENGTH_CHOICES,
    LIFT_FIELDS,
    LIFT_WORKED,
    letters,
)
from rigxl.templates.style import GROUP, HEAD, INPUT, WORKED, define, lock, look, print_set_up, widths
from rigxl.units import FORCE_UNITS, LENGTH_UNITS

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

FIRST = 5
CHOSEN_WORDS = {
    "leg sharing": ("carrying legs", "mode factors"),
    "derates between steps": ("stepped", "interpolated"),
    "ton": ("undeclared", "short", "long", "metric"),
    "decimal": ("undeclared", "point", "comma"),
    "removal rules": ("strict", "older"),
    "shared pieces": ("held", "between lifts"),
}
BOUNDS = {
    "margin": (0, 10),
    "least angle": (30, 89),
    "legs of three": (1, 3),
    "legs of four": (1, 4),
    "weighed": (1, 3),
    "calculated": (1, 3),
    "estimated": (1, 3),
    "dynamic allowance": (1, 5),
    "inspection interval": (1, 60),
}
WHOLE = frozenset({"legs of three", "legs of four"})
SWITCHES = {
    "leg sharing": ("mode_factors_used", "mode factors", "carrying legs"),
    "derates between steps": ("interpolated_used", "interpolated", "stepped"),
}
UNITS_IN_USE = {
    "load_n": ("Lifts", "load"),
    "rigging_n": ("Lifts", "rigging"),
    "leg_length_mm": ("Lifts", "leg_length"),
    "spread_mm": ("Lifts", "spread"),
    "height_mm": ("Lifts", "height"),
    "hook_load_n": ("Lifts", "hook_load"),
    "leg_tension_n": ("Lifts", "leg_tension"),
    "rated_load_n": ("Hardware", "rated_load"),
    "force_n": ("Hardware", "force"),
    "required_n": ("Hardware", "required"),
}


def write_criteria(book: Workbook, sheet: Worksheet, criteria: Criteria) -> None:
    """Write the settings with the values of these criteria, and the factors of the units."""
    sheet["A1"] = "Criteria: what every verdict is judged by"
    look(sheet["A1"], size=16, bold=True, edge=False)
    sheet["A2"] = (
        f"Starts from: {criteria.title}. Change the values in column B; the check reads them from here."
    )
    look(sheet["A2"], edge=False)
    for column, name in enumerate(("Setting", "Value", "Meaning", "Source", "Worked: value in use"), 1):
        look(
            sheet.cell(FIRST - 1, column, name),
            fill=HEAD,
            bold=True,
            colour="FFFFFF",
            across="center",
            wrap=True,
        )
    for row, setting in enumerate(SETTINGS, FIRST):
        _setting(book, sheet, row, setting.name, setting.meaning, criteria)
    _unit_table(book, sheet)
    _units_in_use(book, sheet)
    widths(
        sheet,
        {
            "A": 22,
            "B": 20,
            "C": 58,
            "D": 50,
            "E": 16,
            "F": 3,
            "G": 13,
            "H": 16,
            "I": 3,
            "J": 34,
            "K": 12,
            "L": 16,
        },
    )
    sheet.row_dimensions[1].height = 24
    sheet.row_dimensions[FIRST - 1].height = 32
    sheet.freeze_panes = f"C{FIRST}"
    print_set_up(sheet, titles=f"{FIRST - 1}:{FIRST - 1}")
    lock(sheet)


def typed(value: Any) -> Any:
    """A setting's value as a person would type it into a cell."""
    if isinstance(value, tuple):
        return ", ".join(value) or "any"
    return value


def _setting(book: Workbook, sheet: Worksheet, row: int, name: str, meaning: str, criteria: Criteria) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    chosen = criteria.chosen[name]
    look(sheet.cell(row, 1, name), fill=GROUP, bold=True, across="left")
    value = sheet.cell(row, 2, typed(chosen.value))
    number = "0 %" if name == "margin" else "yyyy-mm-dd" if name == "judged on" else "General"
    look(value, fill=INPUT, across="left", number=number, wrap=True, locked=False)
    look(sheet.cell(row, 3, meaning), across="left", wrap=True)
    look(sheet.cell(row, 4, chosen.source.cited), size=9, across="left", wrap=True)
    used = sheet.cell(row, 5, _used(name, f"$B${row}"))
    look(used, fill=WORKED, across="center", number=number, size=9)
    if name in NAMES:
        define(book, NAMES[name], f"Criteria!$E${row}")
    sheet.row_dimensions[row].height = 30
    if name in CHOSEN_WORDS:
        rule = DataValidation(type="list", formula1=f'"{",".join(CHOSEN_WORDS[name])}"')
    elif name in BOUNDS:
        least, most = map(str, BOUNDS[name])
        rule = DataValidation(
            type="whole" if name in WHOLE else "decimal", operator="between", formula1=least, formula2=most
        )
    else:
        return
    rule.showErrorMessage = True
    rule.errorTitle, rule.error = name, f"Not a value for this setting. {meaning}"[:225]
    rule.add(f"B{row}")
    sheet.add_data_validation(rule)


NAMES = {
    **{name: f"{name.replace(' ', '_')}_used" for name in BOUNDS},
    **{name: switch[0] for name, switch in SWITCHES.items()},
    "required marks": "certificate_used",
    "accepted makers": "accepted_makers_used",
    "judged on": "judged_on_used",
}
"""The name in formulas of every setting that they use."""


def _used(name: str, cell: str) -> str:
    """The formula for what the formulas take for a setting: #N/A where it is not understood."""
    if name in BOUNDS:
        least, most = BOUNDS[name]
        whole = f",{cell}=INT({cell})" if name in WHOLE else ""
        within = f"AND(ISNUMBER({cell}),NOT(ISLOGICAL({cell})),{cell}>={least},{cell}<={most}{whole})"
        return f"=IF({within},{cell},NA())"
    if name in SWITCHES:
        _, on, off = SWITCHES[name]
        return f'=IF({cell}="{on}",TRUE,IF({cell}="{off}",FALSE,NA()))'
    if name == "required marks":
        return f'=ISNUMBER(SEARCH("certificate",{cell}))'
    if name == "accepted makers":
        plain = f'SUBSTITUTE(SUBSTITUTE(","&LOWER(TRIM({cell}))&",",", ",",")," ,",",")'
        return f'=IF(OR(ISBLANK({cell}),LOWER(TRIM({cell}))="any",LOWER(TRIM({cell}))="none"),"any",{plain})'
    if name == "judged on":
        return f"=IF(ISBLANK({cell}),TODAY(),IF(AND(ISNUMBER({cell}),NOT(ISLOGICAL({cell}))),{cell},NA()))"
    return "by the check only"


def _unit_table(book: Workbook, sheet: Worksheet) -> None:
    """What one of each unit is, in newtons or millimetres; a mass counts under standard gravity."""
    for column, name in ((7, "Unit"), (8, "is, in N or mm")):
        look(
            sheet.cell(FIRST - 1, column, name),
            fill=HEAD,
            bold=True,
            colour="FFFFFF",
            across="center",
            wrap=True,
        )
    factors = {name: FORCE_UNITS[name] for name in FORCE_CHOICES}
    factors |= {name: LENGTH_UNITS[name] for name in LENGTH_CHOICES}
    for row, (name, factor) in enumerate(factors.items(), FIRST):
        look(sheet.cell(row, 7, name), across="left")
        look(sheet.cell(row, 8, factor), across="right")
    last = FIRST + len(factors) - 1
    define(book, "unit_names", f"Criteria!$G${FIRST}:$G${last}")
    define(book, "unit_factors", f"Criteria!$H${FIRST}:$H${last}")


def _units_in_use(book: Workbook, sheet: Worksheet) -> None:
    """The unit that stands in each heading, and its factor; #N/A where it is in no list."""
    for number, title in ((10, "Heading"), (11, "Unit in it"), (12, "Factor")):
        look(sheet.cell(FIRST - 1, number, title), fill=HEAD, bold=True, colour="FFFFFF", across="center")
    places = {
        "Lifts": letters(LIFT_FIELDS, LIFT_WORKED),
        "Hardware": letters(HARDWARE_FIELDS, HARDWARE_WORKED),
    }
    for row, (name, (place, column)) in enumerate(UNITS_IN_USE.items(), FIRST):
        heading, unit = f"$J${row}", f"$K${row}"
        formula = f"={place}!${places[place][column]}${HEADING_ROW}"
        look(sheet.cell(row, 10, formula), fill=WORKED, across="left", size=9)
        start = f'FIND("(",{heading})'
        text = f'=MID({heading},{start}+1,FIND(")",{heading},{start})-{start}-1)'
        look(sheet.cell(row, 11, text), fill=WORKED, across="center")
        known = f"SUMPRODUCT(--EXACT(unit_names,{unit}))=1"
        factor = f"=IF({known},SUMPRODUCT(EXACT(unit_names,{unit})*unit_factors),NA())"
        look(sheet.cell(row, 12, factor), fill=WORKED, across="right")
        define(book, name, f"Criteria!$L${row}")
