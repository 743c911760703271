"""``rigxl calc``"""

from __future__ import annotations

import click

from rigxl.commands import refusing


@click.command(
    "calc", short_help="Work out a worksheet function.", context_settings={"ignore_unknown_options": True}
)
@click.argument("name")
@click.argument("arguments", nargs=-1, type=click.UNPROCESSED)
@refusing
def command(name: str, arguments: tuple[str, ...]) -> None:
    """Work out a worksheet function, such as: rigxl calc LEGTENSION 10000 2 60"""
    from rigxl.functions import call_text

    answer = call_text(name, *arguments)
    click.echo(f"{answer:.15g}" if isinstance(answer, float) else answer)
