"""``rigxl demo``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing
from rigxl.errors import InputError


@click.command("demo", short_help="Write the sample workbooks into a folder and check them.")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=Path("rigxl-demo"))
@refusing
def command(folder: Path) -> None:
    """Write the sample workbooks into FOLDER and check them."""
    from rigxl.batch import Options, run
    from rigxl.samples import write_all

    if folder.exists() and any(folder.iterdir()):
        raise InputError(f"the folder {folder} is not empty: name another")
    folder.mkdir(parents=True, exist_ok=True)
    run(tuple(write_all(folder)), Options(), "table")
    click.echo(f"Open the marked workbooks in {folder} to see the marks.", err=True)
