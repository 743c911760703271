"""``rigxl addin office``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing
from rigxl.commands.addin import out_option


@click.command("office")
@click.option(
    "--origin",
    required=True,
    metavar="ORIGIN",
    help="Where the rigxl server answers over TLS, such as https://localhost:8765.",
)
@out_option
@refusing
def command(origin: str, folder: Path) -> None:
    """Write the Office add-in, for Excel on any platform.

    The server serves the same files; only the manifest has to be installed.
    """
    from rigxl.hosts.office import FOLDER, MANIFEST, write

    for path in write(folder, origin):
        click.echo(path)
    click.echo(
        f"install it:  in Excel, Insert, Add-ins, Upload My Add-in: {folder / FOLDER / MANIFEST}", err=True
    )
