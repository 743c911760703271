"""The blank schedule filled in, and worked out by LibreOffice as its user's program would do it."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from rigxl.criteria.settings import SETTINGS
from rigxl.templates import write_blank
from rigxl.templates.columns import (
    FIRST_ROW,
    HARDWARE_FIELDS,
    HARDWARE_WORKED,
    LIFT_FIELDS,
    LIFT_WORKED,
    letters,
)
from rigxl.templates.criteria import FIRST

Cells = Mapping[str, Any]
SETTING_CELLS = {setting.name: f"B{row}" for row, setting in enumerate(SETTINGS, FIRST)}
PLACES = {"Lifts": letters(LIFT_FIELDS, LIFT_WORKED), "Hardware": letters(HARDWARE_FIELDS, HARDWARE_WORKED)}


@pytest.fixture
def fill(tmp_path: Path) -> Callable[..., Path]:
    """Writes a schedule with these lifts and items, by field, and other cells by address or setting."""

    def filled(
        name: str, lifts: Iterable[Cells], items: Iterable[Cells], others: Mapping[str, Any] | None = None
    ) -> Path:
        path = tmp_path / f"{name}.xlsx"
        write_blank(path)
        book = load_workbook(path)
        for sheet, rows in (("Lifts", lifts), ("Hardware", items)):
            for row, cells in enumerate(rows, FIRST_ROW):
                for field, value in cells.items():
                    book[sheet][f"{PLACES[sheet][field]}{row}"] = value
        for address, value in (others or {}).items():
            sheet, _, cell = address.partition("!")
            book[sheet][SETTING_CELLS.get(cell, cell)] = value
        book.save(path)
        return path

    return filled


@pytest.fixture
def recalculate(tmp_path: Path) -> Callable[..., list[Path]]:
    """Has LibreOffice work out workbooks that hold no results yet, and save them."""
    office = shutil.which("soffice")
    if office is None:
        reason = "soffice is missing: the formulas of the blank schedule were NOT worked out by LibreOffice"
        if os.environ.get("RIGXL_REQUIRE_HOSTS") == "1":
            pytest.fail(reason)
        pytest.skip(reason)

    def worked(*paths: Path) -> list[Path]:
        folder = tmp_path / "worked"
        subprocess.run(
            [
                office,
                f"-env:UserInstallation=file://{tmp_path / 'profile'}",
                "--headless",
                *("--convert-to", "xlsx", "--outdir", str(folder)),
                *map(str, paths),
            ],
            check=True,
            capture_output=True,
            timeout=180,
        )
        return [folder / path.name for path in paths]

    return worked


def results(path: Path, sheet: str, rows: int) -> list[dict[str, Any]]:
    """What a worked sheet shows, row by row, by the names of its columns."""
    shown = load_workbook(path, data_only=True)[sheet]
    return [
        {name: shown[f"{letter}{row}"].value for name, letter in PLACES[sheet].items()}
        for row in range(FIRST_ROW, FIRST_ROW + rows)
    ]


@pytest.fixture
def read_results() -> Callable[[Path, str, int], list[dict[str, Any]]]:
    """Reads what a worked sheet shows."""
    return results
