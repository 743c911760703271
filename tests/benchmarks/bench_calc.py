"""The Calc add-in beside Calc's own formulas, in one run of LibreOffice.

    python -m tests.benchmarks.bench_calc [CELLS]

The same leg tension worked out by a native formula a cell, by the add-in a cell, and by the add-in as one
array formula; and the verdict a cell. Every cell has numbers of its own. Aims: 20 µs a cell, and 10,000 cells
in one array formula within 0.1 s.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from rigxl.hosts.calc import write
from tests.hosts.calc_office import calc

TIMES = 15
FORMULAS = {
    "native formula": "=A{r}/(B{r}*SIN(RADIANS(C{r})))",
    "RIGXL.LEGTENSION": "=RIGXL.LEGTENSION(A{r},B{r},C{r})",
    "RIGXL.CAPACITYVERDICT": "=RIGXL.CAPACITYVERDICT(A{r},C{r}*100,0.25)",
}
ARRAY = "=RIGXL.LEGTENSION(A1:A{n},B1:B{n},C1:C{n})"


def book(path: Path, cells: int, formula: str = "", array: str = "") -> Path:
    """A sheet of loads, legs and angles, with a formula a row or one for all."""
    made = Workbook()
    sheet = made.active
    assert sheet is not None
    for row in range(1, cells + 1):
        sheet.cell(row, 1).value = 1000 + row
        sheet.cell(row, 2).value = 2
        sheet.cell(row, 3).value = 30 + 50 * row / cells
        if formula:
            sheet.cell(row, 4).value = formula.format(r=row)
    if array:
        sheet["D1"] = ArrayFormula(f"D1:D{cells}", array.format(n=cells))
    made.save(path)
    return path


def python_with_uno() -> str:
    """A Python that can talk to LibreOffice: the system's own, where python3-uno is installed."""
    for one in filter(None, ("/usr/bin/python3", shutil.which("python3"))):
        if subprocess.run([one, "-c", "import uno"], capture_output=True).returncode == 0:
            return one
    raise SystemExit("no Python here has uno: install python3-uno")


def main() -> None:
    """Measure, and say how it stands to the aims."""
    cells = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        books = {
            name: book(home / f"book{at}.xlsx", cells, formula)
            for at, (name, formula) in enumerate(FORMULAS.items())
        }
        books["RIGXL.LEGTENSION, one array formula"] = book(home / "array.xlsx", cells, array=ARRAY)
        (oxt,) = write(home)
        with calc(oxt) as office:
            driver = Path(__file__).with_name("calc_driver.py")
            command = [python_with_uno(), driver, office.profile.as_uri(), str(TIMES), *books.values()]
            done = subprocess.run(command, capture_output=True, text=True, check=True)
    for name, line in zip(books, done.stdout.splitlines(), strict=True):
        found = json.loads(line)
        clock, processor = found["clock"], found["processor"]
        print(
            f"{name:<36} {processor:6.3f} s of processor, {processor / cells * 1e6:5.1f} µs a cell; "
            f"{clock:6.3f} s by the clock; D3 shows {found['shows']}"
        )


if __name__ == "__main__":
    main()
