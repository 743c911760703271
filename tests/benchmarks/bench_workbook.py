"""Reading and marking a large workbook, beside other readers, in one run.

    python tests/benchmarks/bench_workbook.py [ROWS] [COLUMNS]

Each measurement has a process of its own, three times over; the table gives the median time and the
highest memory. It makes its own workbook (100,000 rows by 20 columns unless told otherwise).
"""

from __future__ import annotations

import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).parents[2]))

from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.guard import Limits
from rigxl.workbook.marks import Block, Look, MarkColumn, SheetMarks

ROUNDS = 3
SHEET = "xl/worksheets/sheet1.xml"
ROOMY = Limits(file_bytes=10**9, unpacked_bytes=10**10, cells=10**8)


def make(path: Path, rows: int, columns: int) -> None:
    """A schedule-like workbook: a quarter texts, a quarter numbers with a format, the rest plain numbers."""
    import xlsxwriter

    chance = random.Random(1)
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Data")
    look = book.add_format({"border": 1, "num_format": "0.00"})
    sheet.write_row(0, 0, [f"Heading {column}" for column in range(columns)])
    for row in range(1, rows + 1):
        for column in range(columns):
            if column % 4 == 0:
                sheet.write_string(row, column, f"item {chance.randrange(5000)}")
            elif column % 4 == 1:
                sheet.write_number(row, column, chance.randrange(1000) / 8, look)
            else:
                sheet.write_number(row, column, round(chance.random() * 1000, 3))
    book.close()


def inflate(path: Path) -> None:
    with zipfile.ZipFile(path) as file:
        file.read(SHEET)


def _nothing(*_: object) -> None:
    """A handler that does nothing."""


def _expat(path: Path, handlers: bool) -> None:
    from pyexpat import ParserCreate

    with zipfile.ZipFile(path) as file:
        text = file.read(SHEET)
    parser = ParserCreate()
    parser.buffer_text = True
    if handlers:
        parser.StartElementHandler = _nothing
        parser.EndElementHandler = _nothing
        parser.CharacterDataHandler = _nothing
    parser.Parse(text, True)


def expat_without_handlers(path: Path) -> None:
    _expat(path, handlers=False)


def expat_with_empty_handlers(path: Path) -> None:
    _expat(path, handlers=True)


def read_with_calamine(path: Path) -> None:
    import python_calamine

    python_calamine.CalamineWorkbook.from_path(str(path)).get_sheet_by_index(0).to_python()


def read_with_openpyxl(path: Path) -> None:
    import openpyxl

    for row in openpyxl.load_workbook(path, read_only=True).worksheets[0].iter_rows(values_only=True):
        len(row)


def read(path: Path) -> None:
    read_book(path, ROOMY)


def _mark(path: Path, last_row: int, last_column: int, step: int) -> None:
    rows = {
        row: ("FAIL" if row % 7 else "PASS", 0.5, "over the limit") for row in range(2, last_row + 1, step)
    }
    columns = (
        MarkColumn("rigxl verdict", 10, Look(bold=True)),
        MarkColumn("rigxl use", 8, Look(number_format="0%")),
        MarkColumn("rigxl reason", 40, Look(wrap=True)),
    )
    marks = SheetMarks("Data", columns, (Block(1, 1, last_column, rows),), 0, {"FAIL": Look(fill="FFC7CE")})
    target = path.with_name("marked.xlsx")
    mark_book(path, target, [marks], [], limits=ROOMY)
    target.unlink()


def read_and_mark_all_rows(path: Path) -> None:
    book = read_book(path, ROOMY)
    last_row, last_column = book.sheets[0].rows[-1].number, max(book.sheets[0].rows[0].cells)
    del book
    _mark(path, last_row, last_column, 1)


def mark_a_hundred_rows(path: Path) -> None:
    rows, columns = map(int, path.stem.split("x"))
    _mark(path, rows + 1, columns, max(rows // 100, 1))


def mark_again_with_openpyxl(path: Path) -> None:
    import openpyxl

    book = openpyxl.load_workbook(path)
    sheet = book.worksheets[0]
    column = sheet.max_column + 1
    for row in range(2, sheet.max_row + 1):
        sheet.cell(row, column, "FAIL")
        sheet.cell(row, column + 1, 0.5)
        sheet.cell(row, column + 2, "over the limit")
    book.save(path.with_name("marked.xlsx"))


MEASURED: tuple[Callable[[Path], None], ...] = (
    inflate,
    expat_without_handlers,
    expat_with_empty_handlers,
    read,
    read_with_calamine,
    read_with_openpyxl,
    mark_a_hundred_rows,
    read_and_mark_all_rows,
    mark_again_with_openpyxl,
)


def main(rows: int, columns: int) -> None:
    """Measure everything and print a table."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{rows}x{columns}.xlsx"
        # in a process of its own, since a child's memory is counted from its parent's up
        subprocess.run([sys.executable, __file__, "--make", str(path)], check=True)
        print(f"{rows:,} rows by {columns} columns, {path.stat().st_size:,} bytes")
        found: dict[str, list[tuple[float, float]]] = {}
        for _ in range(ROUNDS):
            for measured in MEASURED:
                command = [sys.executable, __file__, "--one", measured.__name__, str(path)]
                said = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()
                found.setdefault(measured.__name__, []).append((float(said[0]), float(said[1])))
        for name, results in found.items():
            seconds = statistics.median(second for second, _ in results)
            megabytes = max(megabyte for _, megabyte in results)
            print(f"{name.replace('_', ' '):28} {seconds:8.2f} s {megabytes:8.0f} MB")


def _one(name: str, path: Path) -> None:
    """One measurement, in this process."""
    measured = next(measured for measured in MEASURED if measured.__name__ == name)
    start = time.perf_counter()
    measured(path)
    seconds = time.perf_counter() - start
    print(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--make"]:
        make(Path(sys.argv[2]), *map(int, Path(sys.argv[2]).stem.split("x")))
    elif sys.argv[1:2] == ["--one"]:
        _one(sys.argv[2], Path(sys.argv[3]))
    else:
        given = [int(argument) for argument in sys.argv[1:]]
        main(*(given + [100_000, 20][len(given) :]))
