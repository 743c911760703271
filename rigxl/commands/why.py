"""``rigxl why``"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing

READABLE = 110
"""Characters of a line that a person still reads with ease."""


@click.command("why", short_help="Show the working of one row, line by line.")
@click.argument("file", type=click.Path(path_type=Path))
@click.argument("row", metavar="ROW")
@judging_options
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@refusing
def command(file: Path, row: str, as_json: bool, **asked: Any) -> None:
    """Show the working of one ROW of FILE, line by line: 'Sheet!12', a cell of it, or an item's tag."""
    from rigxl import terminal
    from rigxl.batch import check_file
    from rigxl.report.explain import document, explain
    from rigxl.report.lines import told
    from rigxl.report.target import find

    checked = check_file(file, options_from(asked))
    explained = explain(checked, find(checked, row))
    if as_json:
        terminal.json_text(document(checked, explained))
        return
    out = terminal.console()
    for line in told(explained, min(out.width, READABLE)):
        out.print(line, soft_wrap=True)
