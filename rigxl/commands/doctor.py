"""``rigxl doctor``"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from rigxl.commands import limits_option, pairs, refusing


@click.command("doctor", short_help="Tell what is in a workbook, and whether it can be marked.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@limits_option
@refusing
def command(file: Path, as_json: bool, limit: tuple[str, ...]) -> None:
    """Tell what is in the workbook FILE, whether it can be marked, and why not."""
    from dataclasses import asdict

    from rigxl import terminal
    from rigxl.batch import limits_from
    from rigxl.terminal import books
    from rigxl.workbook.doctor import examine

    found = examine(file, limits_from(pairs(limit, "--limit")))
    if as_json:
        terminal.json_text({**asdict(found), "markable": found.markable})
    else:
        books.doctor(found)
    if found.refused:
        sys.exit(2)
