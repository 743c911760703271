"""The blank schedule: what is in it, what may be filled in, and that we hand out what we write."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.formula import Tokenizer

from rigxl.criteria import Criteria
from rigxl.criteria.settings import SETTINGS
from rigxl.hardware import kinds
from rigxl.schedule.check import check_workbook
from rigxl.schedule.fields import FIELD
from rigxl.schedule.headings import hear
from rigxl.templates import write_blank
from rigxl.templates.columns import (
    CHOICES,
    FIRST_ROW,
    HARDWARE_FIELDS,
    HARDWARE_ROWS,
    HARDWARE_WORKED,
    HEADING_ROW,
    LIFT_FIELDS,
    LIFT_ROWS,
    LIFT_WORKED,
    letters,
)

HANDED_OUT = Path(__file__).parents[2] / "templates" / "rigging-schedule.xlsx"

# Found in Excel 2016 and later and in LibreOffice 7.4 alike; no CONVERT, whose constants differ.
EVERYWHERE = {
    "ABS", "AND", "ATAN2", "CHOOSE", "COUNT", "COUNTA", "COUNTIF", "DATE", "DAY", "DEGREES", "EXACT",
    "FIND", "IF", "IFERROR", "INDEX", "INT", "ISBLANK", "ISERROR", "ISLOGICAL", "ISNUMBER", "ISTEXT",
    "LEFT", "LEN", "LOWER", "MID", "MIN", "MOD", "MONTH", "NA", "NOT", "OR", "RADIANS", "RIGHT", "ROUND",
    "ROW", "SEARCH", "SIN", "SQRT", "SUBSTITUTE", "SUMPRODUCT", "TODAY", "TRIM", "YEAR",
}  # fmt: skip

SHEETS = (
    ("Lifts", LIFT_FIELDS, LIFT_WORKED, LIFT_ROWS),
    ("Hardware", HARDWARE_FIELDS, HARDWARE_WORKED, HARDWARE_ROWS),
)


@pytest.fixture
def blank(tmp_path: Path) -> Workbook:
    """The blank schedule, just written."""
    write_blank(tmp_path / "blank.xlsx")
    return load_workbook(tmp_path / "blank.xlsx")


def everything(book: Workbook) -> dict[str, Any]:
    """All that a person would see or could do: cells, looks, names, drop-downs and merges."""
    found: dict[str, Any] = {"names": {name: one.attr_text for name, one in book.defined_names.items()}}
    for sheet in book:
        found[f"{sheet.title} merges"] = sorted(map(str, sheet.merged_cells.ranges))
        found[f"{sheet.title} choices"] = sorted(
            (str(rule.sqref), rule.type, rule.formula1, rule.formula2, rule.error, rule.prompt)
            for rule in sheet.data_validations.dataValidation
        )
        found[f"{sheet.title} widths"] = {key: one.width for key, one in sheet.column_dimensions.items()}
        for row in sheet.iter_rows():
            for cell in row:
                look = (cell.number_format, cell.fill.fgColor.rgb, cell.font.b, cell.protection.locked)
                found[f"{sheet.title}!{cell.coordinate}"] = (cell.value, *look)
    return found


def test_the_file_handed_out_is_the_one_we_write(blank: Workbook) -> None:
    """Else write it again: rigxl.templates.write_blank(Path("templates/rigging-schedule.xlsx"))."""
    assert everything(load_workbook(HANDED_OUT)) == everything(blank)


def test_the_same_content_gives_the_same_bytes(tmp_path: Path) -> None:
    """Fixed dates, so that nothing but content makes a difference."""
    for name in ("one", "two"):
        write_blank(tmp_path / name)
    assert (tmp_path / "one").read_bytes() == (tmp_path / "two").read_bytes()


@pytest.mark.parametrize(("name", "fields", "worked", "rows"), SHEETS)
def test_inputs_are_open_and_worked_cells_locked(
    blank: Workbook, name: str, fields: Any, worked: Any, rows: int
) -> None:
    """Told apart by lock and by fill, on a protected sheet."""
    sheet, place = blank[name], letters(fields, worked)
    assert sheet.protection.sheet
    for row in (FIRST_ROW, FIRST_ROW + rows - 1):
        inputs = [sheet[f"{place[field]}{row}"] for field in fields]
        formulas = [sheet[f"{place[one.name]}{row}"] for one in worked]
        assert all(cell.value is None and not cell.protection.locked for cell in inputs)
        assert all(cell.value.startswith("=") and cell.protection.locked for cell in formulas)
        assert not {cell.fill.fgColor.rgb for cell in inputs} & {cell.fill.fgColor.rgb for cell in formulas}


@pytest.mark.parametrize(("name", "fields", "worked", "rows"), SHEETS)
def test_headings_say_to_the_check_what_they_hold(
    blank: Workbook, name: str, fields: Any, worked: Any, rows: int
) -> None:
    """Every input by its own field, and no worked column as an input."""
    sheet, place = blank[name], letters(fields, worked)
    assert sheet.max_row >= FIRST_ROW + rows - 1
    assert [hear(sheet[f"{place[field]}{HEADING_ROW}"].value).field for field in fields] == list(fields)
    assert {hear(sheet[f"{place[one.name]}{HEADING_ROW}"].value).field for one in worked} == {None}


def test_choices_are_words_the_check_knows() -> None:
    """No drop-down offers a word that would be held."""
    for name, words in CHOICES.items():
        if FIELD[name].read == "choice":
            assert set(words) <= set(FIELD[name].words), name


def test_only_functions_that_every_program_has(blank: Workbook) -> None:
    """Read from the formulas themselves."""
    used = set()
    for sheet in blank:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    tokens = Tokenizer(cell.value).items
                    used |= {one.value[:-1] for one in tokens if one.type == "FUNC" and one.subtype == "OPEN"}
                    assert len(cell.value) < 8192
    assert used <= EVERYWHERE
    assert {"IFERROR", "SUMPRODUCT", "ATAN2"} <= used


def test_every_name_in_a_formula_is_defined(blank: Workbook) -> None:
    """Names of ranges, and nothing else, beside cells."""
    for sheet in blank:
        for row in sheet.iter_rows(max_row=FIRST_ROW + 20):
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    ranges = [one.value for one in Tokenizer(cell.value).items if one.subtype == "RANGE"]
                    names = {one for one in ranges if re.fullmatch(r"[a-z]+(_[a-z]+)+", one)}
                    assert names <= set(blank.defined_names), cell.coordinate


def test_the_criteria_sheet_holds_every_setting(blank: Workbook) -> None:
    """One row for each, with its meaning and source."""
    sheet = blank["Criteria"]
    rows = [[cell.value for cell in row[:4]] for row in sheet.iter_rows(min_row=5, max_row=4 + len(SETTINGS))]
    assert [row[0] for row in rows] == [setting.name for setting in SETTINGS]
    assert all(row[2] and row[3] for row in rows)


@pytest.mark.parametrize("ready", ["us", "ontario", "europe"])
def test_criteria_come_back_as_they_went(tmp_path: Path, ready: str) -> None:
    """Whatever set the schedule starts from, the check reads the same values out of it."""
    wanted = Criteria.ready(ready).override({"accepted makers": "Quernby Forge, Tollmark"}, "the office")
    write_blank(tmp_path / "blank.xlsx", wanted)
    found = check_workbook(tmp_path / "blank.xlsx", today=dt.date(2026, 11, 25)).criteria
    values = {one.name: one.value for one in found}
    assert values.pop("judged on") == dt.date(2026, 11, 25)
    assert values == {one.name: one.value for one in wanted if one.name != "judged on"}


def test_an_empty_schedule_has_no_rows(tmp_path: Path) -> None:
    """Formulas alone make no item, and the notes and lists are no schedule."""
    write_blank(tmp_path / "blank.xlsx")
    checked = check_workbook(tmp_path / "blank.xlsx")
    assert checked.rows == []
    roles = {sheet.name: sheet.role for sheet in checked.understood.sheets}
    assert roles == {
        "Lifts": "lifts",
        "Hardware": "hardware",
        "Criteria": "criteria",
        "Waivers": "waivers",
        "Notes": "other",
        "Lists": "other",
    }


def test_kinds_are_those_of_the_check(blank: Workbook) -> None:
    """A new kind of hardware shows up in the drop-down by itself."""
    sheet = blank["Lists"]
    column = [sheet.cell(row, 1).value for row in range(4, 4 + len(kinds()))]
    assert column == list(kinds())
