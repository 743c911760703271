"""The command line: the folder ``commands`` is its list, and a command is imported when it is asked for."""

from __future__ import annotations

import click

from rigxl import __version__
from rigxl.commands import Folder

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


@click.group(cls=Folder, package="rigxl.commands", context_settings=CONTEXT)
@click.version_option(__version__, message="rigxl %(version)s")
def main() -> None:
    """Checks schedules of rigging hardware in office workbooks and marks the rows that fail.

    It does not replace the maker's instructions, the local code or a licensed engineer.
    """
