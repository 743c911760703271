"""``rigxl addin``: one file a spreadsheet program."""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import Folder

out_option = click.option(
    "--out",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="The folder it goes to.",
)
"""The option that says where the files of an add-in go: here unless stated."""


@click.group(
    "addin",
    short_help="Write an add-in that brings the functions into spreadsheets.",
    cls=Folder,
    package="rigxl.commands.addin",
)
def command() -> None:
    """Write the add-in that brings the worksheet functions into a spreadsheet program."""
