"""``rigxl functions``"""

from __future__ import annotations

import click

from rigxl.commands import refusing


@click.command("functions")
@click.argument("name", required=False)
@refusing
def command(name: str | None) -> None:
    """List the worksheet functions, or show the help of one by NAME."""
    from rigxl import terminal
    from rigxl.functions import FUNCTIONS, spec

    if name:
        terminal.function(spec(name))
    else:
        terminal.functions(FUNCTIONS)
