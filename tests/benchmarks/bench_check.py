"""``rigxl check`` as a whole process, beside LibreOffice recalculating and saving the same schedule.

    python -m tests.benchmarks.bench_check [ROWS …]

Every row has its own load, rating and angle. The peer's workbook has the same inputs and native formulas
for leg tension, derate, required capacity, utilisation and verdict, and is recalculated on load. Needs
XlsxWriter; the peer is left out, with a word, where soffice is not installed.
"""

from __future__ import annotations

import compileall
import datetime as dt
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import rigxl

HEADINGS = (
    "Lift", "Tag", "Description", "Kind", "Position", "Qty", "Size", "Type", "WLL (t)", "Maker", "Load (t)",
    "Weight basis", "Rigging weight (t)", "Legs", "Sling angle (deg)", "Hitch", "Loading angle (deg)",
    "Plane", "Rating marked", "Maker mark", "Certificate no.", "Last inspection", "Inspected by", "Condition",
    "Remarks",
)  # fmt: skip
SIZES = (
    ("5/8 in", 2.9),
    ("3/4 in", 4.3),
    ("7/8 in", 5.8),
    ("1 in", 7.7),
    ("1 1/8 in", 8.6),
    ("1 1/4 in", 10.8),
)
ALLOWANCE = {"weighed": 1.05, "calculated": 1.10, "estimated": 1.20}
WORKED = (
    '=(K{r}*IF(L{r}="weighed",1.05,IF(L{r}="calculated",1.1,1.2))+M{r})/(MIN(N{r},2)*SIN(RADIANS(O{r})))',
    "=IF(Q{r}<=5,1,IF(Q{r}<=45,0.7,IF(Q{r}<=90,0.5,0)))",
    "=Z{r}/AA{r}*1.25",
    "=Z{r}/(I{r}*AA{r})",
    '=IF(COUNT(AB{r},I{r})<2,"CHECK",IF(AND(ROUND(I{r}-AB{r},9)>=0,O{r}>=30),"PASS","FAIL"))',
)
ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"><item
oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item></oor:items>
"""


def rows(count: int) -> Iterator[tuple[Any, ...]]:
    """Invented leg shackles: four in five good for their load, the rest not."""
    chance = random.Random(7)
    for number in range(count):
        size, most = chance.choice(SIZES)
        rated = round(most * chance.uniform(0.8, 1), 2)
        basis = chance.choice(tuple(ALLOWANCE))
        legs = chance.choice((2, 4))
        load = round(rated * chance.uniform(0.2, 1.1), 2)
        yield (
            f"Lift {number}", f"T{number:06d}", "bow shackle on a leg", "shackle", "leg",
            legs * chance.randint(1, 2), size, "bow, screw pin", rated,
            chance.choice(("Halden", "Oster", "Brandt")), load, basis,
            round(chance.uniform(0, 0.1), 2), legs, chance.randint(45, 85), "vertical",
            chance.choice((0, 0, 0, 0, 10)), "in plane", "yes", "yes", f"C-{number}",
            dt.datetime(2026, chance.randint(1, 10), 5), "A. Person", "ok", f"remark {number}",
        )  # fmt: skip


def write(path: Path, count: int, formulas: Sequence[str] = ()) -> None:
    """The schedule as a workbook, with native formulas on the right where asked for."""
    import xlsxwriter

    book = xlsxwriter.Workbook(path)  # texts shared, as spreadsheet programs write them
    sheet = book.add_worksheet("Schedule")
    date = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.write_row(0, 0, HEADINGS)
    for row, values in enumerate(rows(count), start=1):
        for column, value in enumerate(values):
            if isinstance(value, dt.datetime):
                sheet.write_datetime(row, column, value, date)
            else:
                sheet.write(row, column, value)
        for column, formula in enumerate(formulas, start=len(values)):
            sheet.write_formula(row, column, formula.format(r=row + 1))
    book.close()


def timed(command: Sequence[str | Path], good: tuple[int, ...] = (0,)) -> float:
    """Seconds a command takes as a whole process."""
    begun = time.perf_counter()
    done = subprocess.run([str(part) for part in command], capture_output=True, check=False)
    assert done.returncode in good, done.stderr.decode()
    return time.perf_counter() - begun


def best_of(times: int, command: Sequence[str | Path], good: tuple[int, ...] = (0,)) -> float:
    """The quickest of several runs: what else the machine did is in the others."""
    return min(timed(command, good) for _ in range(times))


def peer(file: Path, folder: Path) -> list[str | Path] | None:
    """The command that recalculates and saves with LibreOffice; None where it is not installed."""
    soffice = shutil.which("soffice")
    if soffice is None:
        return None
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(ALWAYS_RECALCULATE, encoding="utf-8")
    out = folder / "recalculated"
    here = f"-env:UserInstallation={profile.as_uri()}"
    return [soffice, here, "--headless", "--convert-to", "xlsx", "--outdir", out, file]


def measure(count: int, folder: Path) -> None:
    """One size: both programs on the same rows."""
    ours, theirs = folder / f"schedule{count}.xlsx", folder / f"native{count}.xlsx"
    write(ours, count)
    write(theirs, count, WORKED)
    times = 3 if count <= 10_000 else 1
    check = [sys.executable, "-m", "rigxl", "check", ours, "--set", "judged on=2026-11-25"]
    spent = best_of(times, check, (0, 1))
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    line = f"{count:>8} rows: rigxl check {spent:6.2f} s, peak {most:4.0f} MB"
    recalculate = peer(theirs, folder)
    if recalculate is None:
        print(f"{line}; no soffice here to compare with")
        return
    beside = best_of(times, recalculate)
    print(f"{line}; LibreOffice {beside:6.2f} s; {beside / spent:.1f} times faster")
    phases(ours)


def phases(file: Path) -> None:
    """Where the time goes, in one process."""
    from rigxl.schedule.check import check_book
    from rigxl.schedule.mark import mark_checked
    from rigxl.workbook.book import read_book

    marks = [time.perf_counter()]
    book = read_book(file)
    marks.append(time.perf_counter())
    checked = check_book(book, overrides={"judged on": "2026-11-25"})
    marks.append(time.perf_counter())
    mark_checked(checked, file.with_name("phases.xlsx"))
    marks.append(time.perf_counter())
    read, check, mark = (later - earlier for earlier, later in pairwise(marks))
    print(f"              of which read {read:.2f}, check {check:.2f}, mark {mark:.2f}; {checked.counts}")


def start_up() -> None:
    """``rigxl --help`` beside Python with the argument library alone."""
    bare = best_of(10, [sys.executable, "-c", "import click"])
    ours = best_of(10, [sys.executable, "-m", "rigxl", "--help"])
    beside = f"python -c 'import click' {bare * 1000:.0f} ms"
    print(f"rigxl --help {ours * 1000:.0f} ms; {beside}; {ours / bare:.2f} times")


def main() -> None:
    """Measure at each size given, or at 10,000 and 100,000."""
    compileall.compile_dir(Path(rigxl.__file__).parent, quiet=1)  # as pip does when it installs
    start_up()
    with tempfile.TemporaryDirectory() as folder:
        for count in map(int, sys.argv[1:] or ("10000", "100000")):
            measure(count, Path(folder))


if __name__ == "__main__":
    main()
