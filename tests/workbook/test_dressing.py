"""Text that number formats show behind numbers, by ECMA-376-1, 18.8.31, with LibreOffice to show it."""

from __future__ import annotations

import csv
import pickle
import subprocess
from pathlib import Path

import openpyxl
import pytest

from rigxl.workbook.book import read_book
from rigxl.workbook.dressing import UNCLEAR, dressing
from rigxl.workbook.values import Dressed
from tests.workbook.office import program

FORMATS = {
    "General": "",
    "0.00": "",
    "0%": "%",
    '0.0 "kN"': "kN",
    '0.0" t"': "t",
    r"0.00\ \t": "t",
    "#,##0 [$kg]": "kg",
    '"SWL "0.0': "",
    '"SWL "0.0" t"': "t",
    '0.0" t";[Red]-0.0" t"': "t",
    '0.0" t";"none"': "t",
    '_-* #,##0.00_-" kN"': "kN",
    '0" ""t"': "t",
    '# ?/?" in"': "in",
    "0.00E+00": "",
    '0.0,"t"': UNCLEAR,
    '[>=1000]0.0" t";0" kg"': UNCLEAR,
    '[>=1000]0.0" t";0.000': UNCLEAR,
}


@pytest.mark.parametrize("code", FORMATS)
def test_text_behind_the_digits(code: str) -> None:
    assert dressing(code).replace("E+", "") == FORMATS[code]


def test_a_dressed_number_is_a_number() -> None:
    """Also after it came from another process."""
    one = Dressed(12.5, "kN")
    assert one == 12.5
    assert pickle.loads(pickle.dumps(one)).text == "kN"


def test_read_from_a_workbook(tmp_path: Path) -> None:
    """The cells as LibreOffice shows them end with the text that is read."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    clear = [code for code, text in FORMATS.items() if text not in ("", UNCLEAR, "%")]
    for row, code in enumerate(clear, 1):
        sheet.cell(row, 1, 12.5).number_format = code
    path = tmp_path / "formats.xlsx"
    book.save(path)
    read = [read_book(path).sheets[0].cell(row, 1) for row in range(1, len(clear) + 1)]
    for code, value in zip(clear, read, strict=True):
        assert isinstance(value, Dressed), code
        assert (float(value), value.text) == (12.5, FORMATS[code])
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    form = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,true"
    command = [program(), profile, "--headless", "--convert-to", form, "--outdir", str(tmp_path), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    with path.with_suffix(".csv").open(encoding="utf-8", newline="") as file:
        shown = [line[0] for line in csv.reader(file)]
    for code, text in zip(clear, shown, strict=True):
        assert text.rstrip().endswith(FORMATS[code]), (code, text)
