"""``rigxl addin calc``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing
from rigxl.commands.addin import out_option
from rigxl.errors import InputError

EXISTING = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command("calc")
@out_option
@click.option(
    "--server",
    metavar="ADDRESS",
    help="A rigxl server that answers where LibreOffice cannot import rigxl itself, such as https://rigging.example.",
)
@click.option(
    "--token-file", type=EXISTING, help="The file the server's token is in; it is read at each call."
)
@click.option("--authority", type=EXISTING, help="The certificate (PEM) that vouches for the server.")
@refusing
def command(folder: Path, server: str | None, token_file: Path | None, authority: Path | None) -> None:
    """Write rigxl.oxt, the add-in for LibreOffice Calc.

    It calls the rigxl that wrote it, so it is for this machine, unless a server is named.
    """
    from rigxl.hosts.calc import IDENTIFIER, Remote, write

    if (token_file or authority) and not server:
        raise InputError("--token-file and --authority go with --server")
    (written,) = write(folder, Remote(server, token_file, authority) if server else None)
    click.echo(written)
    click.echo(f"install it:  unopkg add -f -s {written}\nremove it:   unopkg remove {IDENTIFIER}", err=True)
