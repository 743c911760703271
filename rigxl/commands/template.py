"""``rigxl template``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import refusing
from rigxl.errors import InputError


@click.command("template", short_help="Write a blank schedule.")
@click.argument("file", type=click.Path(path_type=Path), default=Path("rigging-schedule.xlsx"))
@click.option("--criteria", default=None, metavar="SET", help="The ready set its criteria sheet starts from.")
@refusing
def command(file: Path, criteria: str | None) -> None:
    """Write a blank schedule to FILE, with drop-downs, units and working formulas."""
    from rigxl.criteria import Criteria
    from rigxl.templates import write_blank

    if file.exists():
        raise InputError(f"{file} is already there: name another file")
    write_blank(file, Criteria.ready(criteria) if criteria else None)
    click.echo(f"{file}: a blank schedule", err=True)
