"""Formulas in files: worked out again here, and by LibreOffice with the add-in, on one workbook.

    python -m tests.benchmarks.bench_formulas [ROWS]

Three formulas a row, of which two rely on the first. Printed are the seconds for reading the workbook, for
working all of it out and holding it against what is stored, for respelling and for settling it; and what
LibreOffice takes to open it, work it out and save it.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from openpyxl import Workbook

from rigxl.formulas.compare import compare
from rigxl.formulas.respell import respell
from rigxl.formulas.settle import settle
from rigxl.hosts.calc import write
from rigxl.workbook.book import read_book
from tests.hosts.calc_office import calc

FORMULAS = (
    "=RIGXL.LEGTENSION(A{r},B{r},C{r})",
    "=RIGXL.REQUIREDCAPACITY(D{r},0.25)",
    "=RIGXL.UTILISATION(D{r},9000)",
)


def timed(what: str, work: Callable[[], object]) -> object:
    """Do something, and print how long it took."""
    start = time.perf_counter()
    done = work()
    print(f"{what:45} {time.perf_counter() - start:7.2f} s")
    return done


def main() -> None:
    """Measure all of it once, in one run."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        made = Workbook()
        sheet = made.active
        assert sheet is not None
        for row in range(1, rows + 1):
            sheet.append([1000 + row, 2, 30 + 50 * row / rows, *(one.format(r=row) for one in FORMULAS)])
        made.save(home / "book.xlsx")
        (oxt,) = write(home)
        with calc(oxt) as office:
            timed("LibreOffice: open, work out, save", lambda: office.work_out([home / "book.xlsx"], "xlsx"))
            (stored,) = office.home.glob("out1/*.xlsx")
            book = read_book(stored)
            timed("read", lambda: read_book(stored))
            compared = compare(book)
            timed("work out and compare", lambda: compare(book))
            timed("respell", lambda: respell(stored, home / "excel.xlsx", "excel"))
            timed("settle", lambda: settle(stored, home / "settled.xlsx"))
        print(f"{compared.agree} of {compared.looked_at} agree")


if __name__ == "__main__":
    main()
