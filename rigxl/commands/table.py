"""``rigxl table``"""

from __future__ import annotations

import click

from rigxl.commands import refusing
from rigxl.errors import InputError


@click.command("table", short_help="Show the published sizes of a kind of hardware.")
@click.argument("kind", nargs=-1, required=True)
@click.option("--csv", "as_csv", is_flag=True, help="Print the rows as CSV.")
@refusing
def command(kind: tuple[str, ...], as_csv: bool) -> None:
    """Show the published sizes of a KIND of hardware, as printed, with their source."""
    from rigxl.hardware import kind_words, kinds
    from rigxl.terminal import reference

    asked = " ".join(kind).lower()
    name = kind_words().get(asked, asked)
    if name not in kinds():
        raise InputError(f"'{asked}' is not a kind of hardware: the kinds are {', '.join(kinds())}")
    reference.tables(name, kinds()[name].TABLES, as_csv)
