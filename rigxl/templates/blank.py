"""The blank schedule: lifts, hardware, criteria and waivers, and notes on how to fill it in."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rigxl.criteria import Criteria
from rigxl.schedule.fields import FIELD
from rigxl.templates import formulas
from rigxl.templates.columns import (
    CHOICES,
    FIRST_ROW,
    FORCE_CHOICES,
    HARDWARE_FIELDS,
    HARDWARE_ROWS,
    HARDWARE_WORKED,
    HEADING_ROW,
    LENGTH_CHOICES,
    LIFT_FIELDS,
    LIFT_ROWS,
    LIFT_WORKED,
    WIDTHS,
    Worked,
    letters,
)
from rigxl.templates.criteria import write_criteria
from rigxl.templates.notes import write_lists, write_notes
from rigxl.templates.style import (
    AMBER,
    GREEN,
    GROUP,
    HEAD,
    INPUT,
    RED,
    WORKED,
    define,
    lock,
    look,
    new_book,
    print_set_up,
    save,
)
from rigxl.templates.waivers import write_waivers

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

FORMATS = {"inspected": "yyyy-mm-dd"}
"""No formats of numbers: under one, LibreOffice takes TRUE for the number 1 and ISLOGICAL does not see it."""

AS_TEXT = frozenset({"tag", "size", "grade", "type", "certificate", "lift"})


def write_blank(path: Path, criteria: Criteria | None = None) -> None:
    """Write a blank schedule.

    Args:
        path: Where it goes; a file that is there is replaced.
        criteria: The criteria it starts with; the default ready set unless stated.
    """
    book = new_book("Rigging schedule", ("Lifts", "Hardware", "Criteria", "Waivers", "Notes", "Lists"))
    lifts, hardware, chosen, waivers, notes, lists = book.worksheets
    _sheet(lifts, "Rigging schedule: lifts", LIFT_FIELDS, LIFT_WORKED, LIFT_ROWS)
    _sheet(hardware, "Rigging schedule: hardware", HARDWARE_FIELDS, HARDWARE_WORKED, HARDWARE_ROWS)
    _title_block(lifts)
    _formulas(lifts, LIFT_FIELDS, LIFT_WORKED, LIFT_ROWS, formulas.lift_formulas)
    _formulas(hardware, HARDWARE_FIELDS, HARDWARE_WORKED, HARDWARE_ROWS, formulas.hardware_formulas)
    write_criteria(book, chosen, criteria or Criteria.ready())
    write_waivers(waivers)
    write_notes(notes)
    write_lists(book, lists)
    _name_columns(book)
    _two_pages_wide(hardware, after="latch")
    hardware.freeze_panes = f"D{FIRST_ROW}"
    lifts.freeze_panes = f"B{FIRST_ROW}"
    save(book, path)


def _two_pages_wide(sheet: Worksheet, after: str) -> None:
    """Print the hardware over two pages side by side, what names an item on both."""
    from openpyxl.worksheet.pagebreak import Break, ColBreak
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=False)
    sheet.page_setup.scale = 58
    sheet.print_title_cols = "A:C"
    sheet.col_breaks = ColBreak(brk=(Break(id=HARDWARE_FIELDS.index(after) + 1),))


def _sheet(sheet: Worksheet, title: str, fields: Sequence[str], worked: Sequence[Worked], rows: int) -> None:
    """Title, headings, empty cells to fill in, drop-downs and print set-up."""
    look(sheet["A1"], size=16, bold=True, edge=False)
    sheet["A1"] = title
    _bands(sheet, fields, worked)
    place = letters(fields, worked)
    for name in fields:
        heading = sheet[f"{place[name]}{HEADING_ROW}"]
        heading.value = FIELD[name].title
        look(heading, fill=HEAD, bold=True, colour="FFFFFF", across="center", wrap=True)
        sheet.column_dimensions[place[name]].width = WIDTHS.get(name, 10.5)
        for row in range(FIRST_ROW, FIRST_ROW + rows):
            cell = sheet[f"{place[name]}{row}"]
            number = "@" if name in AS_TEXT else FORMATS.get(name, "General")
            look(cell, fill=INPUT, across=_across(name), number=number, locked=False)
        _choices(sheet, name, f"{place[name]}{FIRST_ROW}:{place[name]}{FIRST_ROW + rows - 1}")
    for one in worked:
        heading = sheet[f"{place[one.name]}{HEADING_ROW}"]
        heading.value = one.heading
        look(heading, fill="6B7A86", bold=True, colour="FFFFFF", across="center", wrap=True)
        sheet.column_dimensions[place[one.name]].width = one.width
    _units(sheet, {place[name]: FIELD[name].title for name in fields})
    _units(sheet, {place[one.name]: one.heading for one in worked})
    for row in range(FIRST_ROW, FIRST_ROW + rows):
        sheet.row_dimensions[row].height = 17
    sheet.row_dimensions[1].height = 24
    sheet.row_dimensions[HEADING_ROW].height = 58
    print_set_up(
        sheet,
        titles=f"{HEADING_ROW - 1}:{HEADING_ROW}",
        footer="The makers' instructions, the local code and a licensed engineer come before this sheet.",
    )
    lock(sheet)


def _across(name: str) -> str:
    return "left" if FIELD[name].read in ("text", "kind", "size", "choice", "yes/no") else "center"


def _bands(sheet: Worksheet, fields: Sequence[str], worked: Sequence[Worked]) -> None:
    """The names of the groups over the headings, as words over a run of tinted cells."""
    groups = ["Anything else" if name == "remarks" else FIELD[name].group for name in fields]
    groups += ["Worked by formulas: do not fill in"] * len(worked)
    for column, group in enumerate(groups, 1):
        cell = sheet.cell(HEADING_ROW - 1, column)
        first = column == 1 or groups[column - 2] != group
        cell.value = group if first else None
        look(cell, fill=WORKED if column > len(fields) else GROUP, bold=True, size=9, edge=False)
    sheet.row_dimensions[HEADING_ROW - 1].height = 16


def _choices(sheet: Worksheet, name: str, cells: str) -> None:
    """The drop-down of a column, or the bounds of its numbers."""
    from openpyxl.worksheet.datavalidation import DataValidation

    field = FIELD[name]
    names = {"kind": "kind_list", "size": "size_list", "type": "type_list", "lift": "lift_names"}
    if name in CHOICES:
        rule = DataValidation(type="list", formula1=f'"{",".join(CHOICES[name])}"')
    elif name in names and not (name == "lift" and sheet.title == "Lifts"):
        rule = DataValidation(type="list", formula1=names[name])
        # other sizes and types than ours exist: warn, and let them be
        rule.errorStyle = "warning" if name in ("size", "type") else "stop"
    elif field.read in ("count", "carrying"):
        rule = DataValidation(type="whole", operator="between", formula1="1", formula2="1000")
    elif field.read == "angle":
        most = 90 if name == "angle_deg" else 180
        rule = DataValidation(type="decimal", operator="between", formula1="0", formula2=str(most))
    elif field.read in ("force", "length", "ratio"):
        rule = DataValidation(type="decimal", operator="greaterThanOrEqual", formula1="0")
    elif field.read == "date":
        rule = DataValidation(type="date", operator="greaterThan", formula1="36526")
    else:
        return
    rule.allow_blank = True
    rule.showErrorMessage = True
    rule.showInputMessage = True
    rule.errorTitle, rule.promptTitle = field.title[:32], field.title[:32]
    rule.error = f"Not one of what this column can hold. {field.meaning}"[:225]
    rule.prompt = field.meaning[:225]
    rule.add(cells)
    sheet.add_data_validation(rule)


def _units(sheet: Worksheet, headings: dict[str, str]) -> None:
    """The heading of a quantity is chosen from a list, one for each unit it may be in."""
    from openpyxl.styles import Protection
    from openpyxl.worksheet.datavalidation import DataValidation

    for letter, title in headings.items():
        words, _, unit = title.rstrip(")").rpartition(" (")
        units = next((choices for choices in (FORCE_CHOICES, LENGTH_CHOICES) if unit in choices), None)
        if units is None:
            continue
        rule = DataValidation(type="list", formula1=f'"{",".join(f"{words} ({one})" for one in units)}"')
        rule.showErrorMessage = rule.showInputMessage = True
        rule.promptTitle, rule.prompt = "Unit of this column", "Choose the heading with the unit you use."
        rule.errorTitle, rule.error = "Unit of this column", "Choose one of the headings in the list."
        rule.add(f"{letter}{HEADING_ROW}")
        sheet.add_data_validation(rule)
        sheet[f"{letter}{HEADING_ROW}"].protection = Protection(locked=False)


def _title_block(sheet: Worksheet) -> None:
    """Job, people, revision and date over the lifts."""
    for label, value in (("A", "B"), ("E", "F"), ("H", "I"), ("K", "L"), ("N", "O")):
        look(sheet[f"{label}2"], bold=True, across="right", edge=False)
        look(sheet[f"{value}2"], fill=INPUT, across="left", locked=False)
    for label, text in (
        ("A2", "Job"),
        ("E2", "Prepared by"),
        ("H2", "Checked"),
        ("K2", "Revision"),
        ("N2", "Date"),
    ):
        sheet[label] = text
    for first, last in (("B", "C"), ("F", "G"), ("I", "J"), ("O", "P")):
        look(sheet[f"{last}2"], fill=INPUT, locked=False)
        sheet.merge_cells(f"{first}2:{last}2")
    sheet["O2"].number_format = "yyyy-mm-dd"
    sheet.row_dimensions[2].height = 20


def _formulas(
    sheet: Worksheet,
    fields: Sequence[str],
    worked: Sequence[Worked],
    rows: int,
    make: formulas.Maker,
) -> None:
    """The worked cells, their look, and the colours of their words."""
    from openpyxl.formatting.rule import Rule
    from openpyxl.styles import Font, PatternFill
    from openpyxl.styles.differential import DifferentialStyle

    place = letters(fields, worked)
    last = place[fields[-1]]
    for row in range(FIRST_ROW, FIRST_ROW + rows):
        cells_of = {name: f"${letter}{row}" for name, letter in place.items()}
        texts = make(cells_of.__getitem__, f"$A{row}:${last}{row}")
        for one in worked:
            cell = sheet[f"{place[one.name]}{row}"]
            cell.value = texts[one.name]
            look(cell, fill=WORKED, across="center", number=one.number, bold=one.name == "verdict")
    cells = f"{place[worked[0].name]}{FIRST_ROW}:{place[worked[-1].name]}{FIRST_ROW + rows - 1}"
    for word, fill, ink in (("FAIL", RED, "8E1B12"), ("CHECK", AMBER, "7A4B00"), ("PASS", GREEN, "1E5B22")):
        shown = DifferentialStyle(fill=PatternFill(bgColor=fill), font=Font(color=ink, bold=True))
        rule = Rule(type="cellIs", operator="equal", formula=[f'"{word}"'], dxf=shown)
        sheet.conditional_formatting.add(cells, rule)


def _name_columns(book: Workbook) -> None:
    """Names for the columns that the formulas of the hardware look up."""
    looked_up = ("legs", "leg_length", "angle", "angle_check", "hook_load", "share", "leg_tension")
    lifts = {"lift_names": "lift", **{f"lift_{name}": name for name in looked_up}}
    compared = ("lift", "tag", "kind", "position", "hitch", "quantity", "certificate")
    items = {f"item_{name}": name for name in compared}
    for sheet, place, rows, named in (
        ("Lifts", letters(LIFT_FIELDS, LIFT_WORKED), LIFT_ROWS, lifts),
        ("Hardware", letters(HARDWARE_FIELDS, HARDWARE_WORKED), HARDWARE_ROWS, items),
    ):
        for name, column in named.items():
            last = FIRST_ROW + rows - 1
            define(book, name, f"{sheet}!${place[column]}${FIRST_ROW}:${place[column]}${last}")
