"""``rigxl check``"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from rigxl.commands import limits_option, map_option, pairs, refusing
from rigxl.errors import InputError


@click.command("check")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE… | FOLDER")
@click.option(
    "--criteria", default=None, metavar="SET", help="The ready set to judge by: us, ontario or europe."
)
@click.option(
    "--set", "settings", multiple=True, metavar="NAME=VALUE", help="Override one setting of the criteria."
)
@map_option
@click.option(
    "--ratings",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A file of your makers' own ratings (xlsx or csv), which govern over the published ones.",
)
@click.option("--sheet", "sheets", multiple=True, metavar="NAME", help="Only this sheet; may be given again.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the findings as CSV.")
@click.option("--no-marks", is_flag=True, help="Check only; write no marked workbook.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Where the marked workbook goes: a file, or a folder."
)
@click.option("--in-place", is_flag=True, help="Mark the workbook itself; the original is kept as a backup.")
@click.option("--marks-at", metavar="COLUMN", help="The column where our marks begin, such as Z.")
@click.option("--untrusted", is_flag=True, help="Read in a child process with limits on memory and time.")
@limits_option
@refusing
def command(
    paths: tuple[Path, ...],
    criteria: str | None,
    settings: tuple[str, ...],
    map_file: Path | None,
    ratings: Path | None,
    sheets: tuple[str, ...],
    as_json: bool,
    as_csv: bool,
    no_marks: bool,
    out: Path | None,
    in_place: bool,
    marks_at: str | None,
    untrusted: bool,
    limit: tuple[str, ...],
) -> None:
    """Check every schedule in FILE or FOLDER and write NAME.marked.xlsx beside it."""
    from rigxl.batch import Options, run

    if as_json and as_csv:
        raise InputError("--json and --csv: choose one")
    if in_place and (out or no_marks):
        raise InputError("--in-place goes with neither --out nor --no-marks")
    options = Options(
        criteria=criteria,
        overrides=pairs(settings, "--set"),
        map_file=map_file,
        ratings=ratings,
        sheets=sheets,
        mark=not no_marks,
        out=out,
        in_place=in_place,
        marks_at=marks_at,
        untrusted=untrusted,
        limits=pairs(limit, "--limit"),
    )
    form = "json" if as_json else "csv" if as_csv else "table"
    sys.exit(run(paths, options, form))
