"""What the real LibreOffice works out with the real add-in is what is worked out here."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula

from rigxl.errors import CellError
from rigxl.formulas.compare import compare
from rigxl.formulas.respell import respell
from rigxl.formulas.settle import settle
from rigxl.functions import FUNCTIONS
from rigxl.hosts.calc import write
from rigxl.workbook.book import read_book
from rigxl.workbook.values import Formula
from tests.hosts.calc_office import Calc, calc

MORE = [
    '=IF(RIGXL_UTILISATION(A{row},B{row})<=1,"PASS","FAIL")&""',
    "=ROUND(RIGXL_UTILISATION(A{row}*2,B{row})*100,1)+SUM(A{row}:B{row},1)%",
    "=RIGXL_REQUIREDCAPACITY(RIGXL_UTILISATION(A{row},1),0.25,1)^2-1",
    "=IFERROR(RIGXL_UTILISATION(0,0),-1)",
    "=RIGXL_UTILISATION(A{row},Z99)",
    "=RIGXL_UTILISATION(load,Rest!B2)",
]
"""With other functions, in each other, by name, from another sheet, refused and caught."""


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """LibreOffice with the add-in."""
    (oxt,) = write(tmp_path_factory.mktemp("oxt"))
    with calc(oxt) as found:
        yield found


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example of every function, its arguments in cells, and what people build around them.

    A 0 stands in a range of one cell, for LibreOffice hands over a blank cell as a 0, and so refuses both.
    """
    folder = tmp_path_factory.mktemp("source")
    book = openpyxl.Workbook()
    sheet, rest = book.active, book.create_sheet("Rest")
    assert sheet is not None
    for row, (name, entry) in enumerate(FUNCTIONS.items(), 1):
        letters = "ABCDEFGHIJ"[: len(entry.example)]
        for letter, value in zip(letters, entry.example, strict=True):
            sheet[f"{letter}{row}"] = value
        given = [
            f"{letter}{row}" if value != 0 else f"{letter}{row}:{letter}{row}"
            for letter, value in zip(letters, entry.example, strict=True)
        ]
        sheet[f"L{row}"] = f"=_xldudf_RIGXL_{name}({','.join(given)})"
    start = len(FUNCTIONS) + 1
    for row, formula in enumerate(MORE, start):
        sheet[f"A{row}"], sheet[f"B{row}"] = row, 300
        sheet[f"L{row}"] = formula.format(row=row)
    rest["B2"] = 40
    rest["D1"] = ArrayFormula("D1:D3", f"=RIGXL.UTILISATION(Sheet!A{start}:A{start + 2},B2)")
    book.defined_names["load"] = openpyxl.workbook.defined_name.DefinedName("load", attr_text="Rest!$B$2")
    book.save(folder / "mixed.xlsx")
    respell(folder / "mixed.xlsx", folder / "calc.xlsx", "calc")
    return folder / "calc.xlsx"


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_libreoffice_stores_what_is_worked_out(office: Calc, source: Path, ending: str) -> None:
    """Respelt for it, worked out by it, saved by it: every cell agrees; what it refuses is refused here."""
    (saved,) = office.work_out([source], ending)
    compared = compare(read_book(saved))
    assert [one.sentence for one in compared.doubtful if one.kind != "refused"] == []
    assert [one.where.row for one in compared.doubtful] == [len(FUNCTIONS) + 5]
    assert compared.looked_at == len(FUNCTIONS) + len(MORE) + 3
    assert compared.relying == 0


def test_settled_values_are_those_of_libreoffice(office: Calc, source: Path, tmp_path: Path) -> None:
    """A workbook that no program has worked out, settled, reads as the one LibreOffice worked out."""
    (saved,) = office.work_out([source], "ods")
    outcome = settle(source, tmp_path / "settled.xlsx")
    (left,) = outcome.left
    assert left == "Rest!D1 was left as it is: only 1 of the 3 cells that it fills are stored: recalculate it"
    settled, worked = read_book(tmp_path / "settled.xlsx").sheets[0], read_book(saved).sheets[0]
    for row in range(1, len(FUNCTIONS) + len(MORE) + 1):
        other, value = worked.cell(row, 12), settled.cell(row, 12)
        assert isinstance(other, Formula)
        if isinstance(value, CellError):
            assert isinstance(other.result, CellError)
        elif isinstance(value, str | bool):
            assert other.result == value
        else:
            assert other.result == pytest.approx(value, rel=1e-12), other.text


def test_what_libreoffice_saved_can_be_settled(office: Calc, source: Path, tmp_path: Path) -> None:
    """The file as LibreOffice writes it: all is settled, and nothing else changes."""
    (saved,) = office.work_out([source], "xlsx")
    outcome = settle(saved, tmp_path / "settled.xlsx")
    assert outcome.left == []
    assert outcome.differ == 0
    assert len(outcome.settled) == len(FUNCTIONS) + len(MORE) + 1
