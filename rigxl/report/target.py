"""Which row is meant: by its address, such as ``Schedule!12`` or ``Schedule!C12``, or by its tag."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby

from rigxl.errors import InputError
from rigxl.schedule.check import Checked, CheckedRow

CELL = re.compile(r"\$?[A-Za-z]{0,3}\$?(\d{1,7})")


def find(checked: Checked, target: str) -> CheckedRow:
    """The row of items that is meant.

    Args:
        checked: The workbook.
        target: ``Sheet!12``, any cell of the row such as ``Sheet!C12``, or the tag of an item.

    Raises:
        InputError: There is no such row of items, or a tag that stands on several; it says which there are.
    """
    sheet, mark, cell = target.rpartition("!")
    wanted = sheet.strip().strip("'").replace("''", "'")
    found = CELL.fullmatch(cell.strip())
    if mark and found:
        name = _sheet(checked, wanted)
        if name is not None:
            return _at(checked, name, int(found[1]))
    return _tagged(checked, target, wanted if mark and found else "")


def _sheet(checked: Checked, wanted: str) -> str | None:
    """The sheet as it is written; a spreadsheet knows no two names that differ in case alone."""
    names = {one.name.casefold(): one.name for one in checked.book.sheets}
    return names.get(wanted.casefold())


def _at(checked: Checked, sheet: str, number: int) -> CheckedRow:
    row = next((one for one in checked.rows if (one.sheet, one.row) == (sheet, number)), None)
    if row is not None:
        return row
    left_out = (table.left_out.get(number) for table in checked.understood.tables if table.sheet == sheet)
    why = next((f" ({said})" for said in left_out if said), "")
    raise InputError(f"{sheet}!{number} is no row of items{why}: {_there_are(checked)}")


def _tagged(checked: Checked, target: str, sheet: str) -> CheckedRow:
    wanted = target.strip().casefold()
    rows = [
        row
        for row in checked.rows
        if wanted in {(row.judged.item.tag or "").casefold(), (row.judged.item.serial or "").casefold()}
    ]
    if wanted and len(rows) == 1:
        return rows[0]
    if rows and wanted:
        where = ", ".join(f"{row.sheet}!{row.row}" for row in rows)
        raise InputError(f"'{target}' stands on several rows: name one of {where}")
    if sheet:
        there = ", ".join(f"'{one.name}'" for one in checked.book.sheets)
        raise InputError(f"there is no sheet '{sheet}' in {checked.book.path.name}: it has {there}")
    raise InputError(
        f"'{target}' is no row and no tag of an item: write one such as "
        f"{_example(checked)}; {_there_are(checked)}"
    )


def _example(checked: Checked) -> str:
    return f"'{checked.rows[0].sheet}!{checked.rows[0].row}'" if checked.rows else "'Schedule!12'"


def _there_are(checked: Checked) -> str:
    """The rows of items of a workbook, in a sentence."""
    sheets = groupby(checked.rows, key=lambda row: row.sheet)
    told = [f"{sheet}!{_runs(row.row for row in rows)}" for sheet, rows in sheets]
    return f"rows of items are {'; '.join(told)}" if told else "there is no row of items in the workbook"


def _runs(numbers: Iterable[int]) -> str:
    """Numbers in short: those that follow each other as from and to.

    >>> _runs([5, 6, 7, 9])
    '5 to 7, 9'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
