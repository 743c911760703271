"""``rigxl check``"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing
from rigxl.errors import InputError


def _print_schema(context: click.Context, _: click.Parameter, is_asked: bool) -> None:
    if is_asked:
        from rigxl.machines.document import schema

        click.echo(schema(), nl=False)
        context.exit()


@click.command("check", short_help="Check every schedule and write a marked copy.")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE… | FOLDER")
@judging_options
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the findings as CSV.")
@click.option("--sarif", "as_sarif", is_flag=True, help="Print the findings as SARIF 2.1.0.")
@click.option("--junit", "as_junit", is_flag=True, help="Print the findings as JUnit XML.")
@click.option(
    "--schema",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_schema,
    help="Print the JSON Schema of what --json prints, and check nothing.",
)
@click.option(
    "--baseline",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Only what this baseline does not know fails; what it knows and is gone is shown.",
)
@click.option(
    "--write-baseline",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write what fails or is held now as a baseline.",
)
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
    as_sarif: bool,
    as_junit: bool,
    baseline: Path | None,
    write_baseline: Path | None,
    no_marks: bool,
    out: Path | None,
    in_place: bool,
    marks_at: str | None,
    **asked: Any,
) -> None:
    """Check every schedule in FILE or FOLDER and write NAME.marked.xlsx beside it.

    Exit code: 0 every row passes, is waived, or is known from the baseline; 1 something fails or is held;
    2 it could not run.
    """
    from rigxl.batch import run

    forms = {"json": as_json, "csv": as_csv, "sarif": as_sarif, "junit": as_junit}
    chosen = [form for form, is_chosen in forms.items() if is_chosen]
    if len(chosen) > 1:
        raise InputError(f"{' and '.join(f'--{form}' for form in chosen)}: choose one")
    if baseline and write_baseline:
        raise InputError("--baseline and --write-baseline: choose one")
    if (baseline or write_baseline) and asked["sheets"]:
        raise InputError("a baseline is of whole workbooks: leave --sheet out")
    if in_place and (out or no_marks):
        raise InputError("--in-place goes with neither --out nor --no-marks")
    options = options_from(
        asked,
        mark=not no_marks,
        out=out,
        in_place=in_place,
        marks_at=marks_at,
        baseline=baseline,
        write_baseline=write_baseline,
    )
    sys.exit(run(paths, options, chosen[0] if chosen else "table"))
