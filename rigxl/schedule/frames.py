"""A schedule held in a DataFrame, as the workbook it might have come from."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigxl.errors import InputError
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Row, Value

if TYPE_CHECKING:
    import pandas as pd

SHEET_NAME = "DataFrame"


def from_frame(frame: pd.DataFrame, sheet: str = SHEET_NAME) -> Book:
    """A workbook of one sheet: the frame's column names in row 1, its rows from row 2 on.

    What pandas counts as missing is a blank; numbers, texts, dates and yes-and-no keep their types.

    Args:
        frame: One line of a schedule a row.
        sheet: What to call the sheet in addresses.

    Raises:
        InputError: A value that no cell could hold, such as a list.
    """
    names = {number: str(name) for number, name in enumerate(frame.columns, 1)}
    columns = [
        [
            None if missing else value
            for value, missing in zip(values.tolist(), values.isna().tolist(), strict=True)
        ]
        for _, values in frame.items()
    ]
    rows = [Row(1, dict(names))]
    for number, values in enumerate(zip(*columns, strict=True), 2):
        cells = {
            column: _cell(value, f"{sheet} row {number}, '{names[column]}'")
            for column, value in enumerate(values, 1)
            if value is not None
        }
        if cells:
            rows.append(Row(number, cells))
    return Book(Path(sheet), "", "frame", False, (Sheet(sheet, "visible", rows),))


def _cell(value: Any, where: str) -> Value:
    if isinstance(value, float | str | bool | dt.datetime | dt.time):
        return value if not hasattr(value, "to_pydatetime") else value.to_pydatetime()
    if isinstance(value, int | Decimal):
        return float(value)
    if isinstance(value, dt.date):
        return dt.datetime(value.year, value.month, value.day)
    if hasattr(value, "item"):  # a number of NumPy's own
        return _cell(value.item(), where)
    raise InputError(
        f"{where} holds a {type(value).__name__}: a number, a text, a date or yes or no is needed"
    )
