"""``rigxl functions``"""

from __future__ import annotations

import click

from rigxl.commands import refusing


@click.command("functions", short_help="List the worksheet functions, or show the help of one.")
@click.argument("name", required=False)
@refusing
def command(name: str | None) -> None:
    """List the worksheet functions, or show the help of one by NAME."""
    from rigxl.functions import FUNCTIONS, spec
    from rigxl.terminal import reference

    if name:
        reference.function(spec(name))
    else:
        reference.functions(FUNCTIONS)
