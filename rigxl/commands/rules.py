"""``rigxl rules``"""

from __future__ import annotations

import click

from rigxl.commands import refusing


@click.command("rules", short_help="List every rule with its source, or explain one.")
@click.argument("name", required=False)
@refusing
def command(name: str | None) -> None:
    """List every rule with its meaning and source, or explain one by NAME."""
    from rigxl.rules import find, gathered
    from rigxl.terminal import reference

    if name:
        reference.rule(find(name))
    else:
        reference.rules(gathered())
