"""``rigxl settle``"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from rigxl.commands import limits_option, overwrite_option, pairs, refuse_to_replace, refusing


@click.command("settle", short_help="Replace our functions by values, for people without them.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="The file to write, if not NAME.settled.xlsx.")
@overwrite_option
@limits_option
@refusing
def command(file: Path, out: Path | None, overwrite: bool, limit: tuple[str, ...]) -> None:
    """Write a copy of FILE for people without an add-in: rigxl's functions replaced by their values.

    Each formula is kept in a note on its cell, or on a sheet of its own. Exit code: 0 when none is left,
    1 when some had to stay, 2 when it could not run.
    """
    from rigxl.batch import limits_from
    from rigxl.formulas.settle import settle
    from rigxl.terminal import results

    target = out or file.with_name(f"{file.stem}.settled{file.suffix}")
    refuse_to_replace(target, overwrite=overwrite)
    outcome = settle(file, target, limits=limits_from(pairs(limit, "--limit")))
    results.settled(outcome, file, target)
    sys.exit(1 if outcome.left else 0)
