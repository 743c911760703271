"""``rigxl check``"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing
from rigxl.errors import InputError


@click.command("check")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE… | FOLDER")
@judging_options
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the findings as CSV.")
@click.option("--no-marks", is_flag=True, help="Check only; write no marked workbook.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Where the marked workbook goes: a file, or a folder."
)
@click.option("--in-place", is_flag=True, help="Mark the workbook itself; the original is kept as a backup.")
@click.option("--marks-at", metavar="COLUMN", help="The column where our marks begin, such as Z.")
@refusing
def command(
    paths: tuple[Path, ...],
    as_json: bool,
    as_csv: bool,
    no_marks: bool,
    out: Path | None,
    in_place: bool,
    marks_at: str | None,
    **asked: Any,
) -> None:
    """Check every schedule in FILE or FOLDER and write NAME.marked.xlsx beside it."""
    from rigxl.batch import run

    if as_json and as_csv:
        raise InputError("--json and --csv: choose one")
    if in_place and (out or no_marks):
        raise InputError("--in-place goes with neither --out nor --no-marks")
    options = options_from(asked, mark=not no_marks, out=out, in_place=in_place, marks_at=marks_at)
    form = "json" if as_json else "csv" if as_csv else "table"
    sys.exit(run(paths, options, form))
