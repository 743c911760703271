"""``rigxl opinion``"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing


@click.command("opinion", short_help="Show where a sheet's own figures do not agree.")
@click.argument("file", type=click.Path(path_type=Path))
@judging_options
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@refusing
def command(file: Path, as_json: bool, **asked: Any) -> None:
    """Show where figures that FILE works out itself do not agree with what they work out at.

    Exit code: 0 nothing to say, 1 something to look at, 2 it could not run.
    """
    from rigxl import terminal
    from rigxl.batch import check_file
    from rigxl.terminal import results

    checked = check_file(file, options_from(asked))
    if as_json:
        terminal.json_text({"file": str(file), **checked.opinion.data(whole=True)})
    else:
        results.opinion(checked)
    sys.exit(1 if checked.opinion.remarks else 0)
