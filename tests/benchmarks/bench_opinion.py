"""What the second opinion costs: ``rigxl check`` of a sheet with figures of its own, with it and without.

    python -m tests.benchmarks.bench_opinion [ROWS]

The rows are those of ``bench_check``, with native formulas for leg tension, derate, required capacity,
utilisation and verdict and the results that a spreadsheet program would store. All of them are right, so that
every word said of them is one too many. Measured is the time of the processor, whole processes in turn.
"""

from __future__ import annotations

import datetime as dt
import math
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

from rigxl.schedule.check import check_book
from rigxl.workbook.book import read_book
from tests.benchmarks.bench_check import ALLOWANCE, HEADINGS, WORKED, rows

NAMES = ("Leg tension (t)", "Derate", "Required WLL (t)", "Utilisation", "Result")
RUN = """
import sys
import rigxl.schedule.check as check
from rigxl.cli import main
from rigxl.schedule.opinion import Opinion
if sys.argv.pop() == "without":
    check.second_opinion = lambda *_: Opinion()
main()
"""


def write(path: Path, count: int) -> None:
    """The schedule with its own figures, formulas and results."""
    import xlsxwriter

    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet("Schedule")
    date = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.write_row(0, 0, (*HEADINGS, *NAMES))
    for row, values in enumerate(rows(count), start=1):
        for column, value in enumerate(values):
            if isinstance(value, dt.datetime):
                sheet.write_datetime(row, column, value, date)
            else:
                sheet.write(row, column, value)
        rated, load, basis, rigging, legs, angle, tilt = (values[at] for at in (8, 10, 11, 12, 13, 14, 16))
        tension = (load * ALLOWANCE[basis] + rigging) / (min(legs, 2) * math.sin(math.radians(angle)))
        derate = 1 if tilt <= 5 else 0.7
        required = tension / derate * 1.25
        results = (
            tension,
            derate,
            required,
            tension / (rated * derate),
            "PASS" if rated >= required else "FAIL",
        )
        for column, (formula, result) in enumerate(zip(WORKED, results, strict=True), start=len(values)):
            sheet.write_formula(row, column, formula.format(r=row + 1), None, result)
    book.close()


def spent(file: Path, how: str) -> float:
    """Seconds of the processor that a check takes as a whole process."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    arguments = [
        "check",
        str(file),
        "--set",
        "judged on=2026-11-25",
        "--out",
        str(file.with_name("marked.xlsx")),
    ]
    done = subprocess.run([sys.executable, "-c", RUN, *arguments, how], capture_output=True, check=False)
    assert done.returncode in (0, 1), done.stderr.decode()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """The best of five each, in turn."""
    count = int(sys.argv[1]) if sys.argv[1:] else 10_000
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "schedule.xlsx"
        write(file, count)
        opinion = check_book(read_book(file), overrides={"judged on": "2026-11-25"}).opinion
        figures = sum(one.compared for one in opinion.columns)
        print(f"{count} rows: {figures} figures worked out again, {len(opinion.remarks)} words too many")
        times = [(spent(file, "with"), spent(file, "without")) for _ in range(5)]
        with_it, without = (min(both) for both in zip(*times, strict=True))
        print(f"with {with_it:.2f} s, without {without:.2f} s: {with_it / without - 1:.1%} more")


if __name__ == "__main__":
    main()
