"""``rigxl addin``: one file a spreadsheet program."""

from __future__ import annotations

import click

from rigxl.commands import Folder


@click.group("addin", cls=Folder, package="rigxl.commands.addin")
def command() -> None:
    """Write the add-in that brings the worksheet functions into a spreadsheet program."""
