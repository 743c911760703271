"""``rigxl changes``"""

from __future__ import annotations

import gc
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing
from rigxl.errors import InputError


@click.command("changes", short_help="Tell what changed between two versions of a schedule.")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@judging_options
@click.option(
    "--old-map",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="As --map, for OLD alone where its columns are others.",
)
@click.option(
    "--old-on",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="The day OLD is judged on where it does not say; the day it was marked, or today, unless stated.",
)
@click.option("--json", "as_json", is_flag=True, help="Print what changed as JSON.")
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), help="Write what changed into a new .xlsx too."
)
@refusing
def command(
    old: Path,
    new: Path,
    old_map: Path | None,
    old_on: datetime | None,
    as_json: bool,
    out: Path | None,
    **asked: Any,
) -> None:
    """Tell what changed from the workbook OLD to NEW, and which verdicts changed because of it.

    Rows are found by tag, serial number and content: order, formatting, other headings and other units are
    no change. Both versions are judged by the options. Exit code: 0 nothing changed, 1 something did, 2 it
    could not run.
    """
    from rigxl import terminal
    from rigxl.changes.data import document
    from rigxl.changes.printed import show
    from rigxl.changes.versions import compare_workbooks

    if out is not None and (out.exists() or out.suffix.lower() != ".xlsx"):
        why = "is already there: name another file" if out.exists() else "must end in .xlsx"
        raise InputError(f"--out {out} {why}")
    gc.disable()  # as in a check: many small things and no cycles
    day = old_on.date() if old_on else None
    compared = compare_workbooks(old, new, options_from(asked), old_map=old_map, old_day=day)
    if out is not None:
        from rigxl.changes.sheet import write

        write(compared, out)
    if as_json:
        terminal.json_text(document(compared))
    else:
        show(compared, str(out) if out else None)
    sys.exit(0 if compared.nothing else 1)
