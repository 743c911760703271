"""``rigxl waivers``"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing


@click.command("waivers", short_help="List the waivers in a workbook and what each covers.")
@click.argument("file", type=click.Path(path_type=Path))
@judging_options
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@refusing
def command(file: Path, as_json: bool, **asked: Any) -> None:
    """List the waivers in the workbook FILE: what each covers, or why it covers nothing."""
    from rigxl import terminal
    from rigxl.batch import check_file
    from rigxl.schedule.report import standing
    from rigxl.terminal import results

    checked = check_file(file, options_from(asked))
    if as_json:
        terminal.json_text([standing(one) for one in checked.waivers])
    else:
        results.waivers(checked)
