"""``rigxl addin desktop``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing
from rigxl.commands.addin import out_option


@click.command("desktop", short_help="Write the VBA modules for Excel on Windows.")
@out_option
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
