"""A DataFrame goes the same way as a sheet."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import numpy as np
import pandas as pd
import pytest

from rigxl.errors import InputError
from rigxl.schedule.frames import from_frame
from rigxl.schedule.map import understand
from rigxl.schedule.read import lines


def frame() -> pd.DataFrame:
    """Two rows with gaps of every sort that pandas knows."""
    return pd.DataFrame(
        {
            "Kind": ["shackle", "hook"],
            "WLL (t)": [4.75, np.nan],
            "Legs": [2, 4],
            "Latch": [None, True],
            "Last inspection": [pd.Timestamp("2026-03-04"), pd.NaT],
            "Remarks": pd.array(["fine", pd.NA], dtype="string"),
            "Temperature (°C)": np.array([20, 30], dtype=np.int8),
        }
    )


def test_a_frame_reads_like_the_sheet_it_might_have_come_from() -> None:
    book = from_frame(frame())
    first, second = lines(book, understand(book))
    assert (first.item.rated_load, first.item.legs) == (pytest.approx(4.75 * 9806.65), 2)
    assert (first.item.inspected, first.item.remarks, first.item.latch) == (dt.date(2026, 3, 4), "fine", None)
    assert (second.item.rated_load, second.item.inspected, second.item.remarks) == (None, None, None)
    assert (second.item.latch, second.item.temperature, second.item.problems) == (True, 30.0, {})
    assert (first.row, first.cells["kind"]) == (2, "DataFrame!A2")


def test_true_python_types_are_kept() -> None:
    (sheet,) = from_frame(frame()).sheets
    assert [type(value) for value in sheet.rows[1].cells.values()] == [
        str,
        float,
        float,
        dt.datetime,
        str,
        float,
    ]


def test_what_no_cell_could_hold_is_refused() -> None:
    with pytest.raises(InputError, match="row 2, 'Kind' holds a list"):
        from_frame(pd.DataFrame({"Kind": [["shackle", "hook"]]}))


def test_decimals_are_numbers() -> None:
    (sheet,) = from_frame(pd.DataFrame({"WLL (t)": [Decimal("4.75")]})).sheets
    assert sheet.rows[1].cells == {1: 4.75}


def test_an_empty_frame() -> None:
    book = from_frame(pd.DataFrame({"Kind": [], "WLL (t)": []}))
    assert lines(book, understand(book)) == []
