"""What the commands print: tables for people through rich, JSON and CSV for machines."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console

STYLES = {"PASS": "green", "FAIL": "bold red", "HOLD": "italic yellow", "WAIVED": "bold italic cyan"}
WIDE = 160
"""Columns when stdout is no terminal: a file or a pipe has room."""
MOST_SHOWN = 100
"""Rows a person reads in a terminal."""


def console() -> Console:
    """The console for results, wide where it is no terminal."""
    from rich.console import Console

    return Console(width=None if sys.stdout.isatty() else WIDE, highlight=False, emoji=False, markup=False)


def progress(workbooks: Sequence[Path]) -> Iterator[Path]:
    """The workbooks one by one, with a progress bar on stderr where there are several and somebody looks."""
    if len(workbooks) < 3 or not sys.stderr.isatty():
        yield from workbooks
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(workbooks, "checking", console=Console(stderr=True), transient=True)


def json_text(data: object) -> None:
    """Data as JSON on stdout; in ASCII where stdout is not UTF-8."""
    ascii_only = (sys.stdout.encoding or "").lower().replace("-", "") != "utf8"
    json.dump(data, sys.stdout, ensure_ascii=ascii_only, indent=1, default=str)
    sys.stdout.write("\n")


def csv_text(headings: Sequence[str], rows: Iterable[Sequence[Any]]) -> None:
    """Rows as CSV on stdout; text that a spreadsheet would take for a formula is escaped."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(headings)
    for row in rows:
        writer.writerow([escaped(value) for value in row])


def escaped(value: Any) -> Any:
    """Text that begins like a formula gets an apostrophe before it; numbers stay numbers.

    >>> escaped("=1+1"), escaped(-5), escaped("-5 t")
    ("'=1+1", -5, "'-5 t")
    """
    return f"'{value}" if isinstance(value, str) and value[:1] in tuple("=+-@\t\r\n") and value else value
