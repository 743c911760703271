"""``rigxl addin desktop``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing


@click.command("desktop")
@click.option(
    "--out",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="The folder they go to.",
)
@click.option(
    "--python",
    metavar="FILE",
    help="The Python on the Windows machine that has rigxl and xlwings; the one that runs now unless given.",
)
@refusing
def command(folder: Path, python: str | None) -> None:
    """Write the VBA modules for Excel on Windows, and the settings that name the Python they call."""
    from rigxl.hosts.desktop import write

    for path in write(folder, python):
        click.echo(path)
    click.echo(
        "install them:  in Excel, Alt+F11, File, Import File: both .bas; rigxl.conf goes beside the workbook",
        err=True,
    )
