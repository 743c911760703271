"""``rigxl columns``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import limits_option, map_option, pairs, refusing


@click.command("columns", short_help="Show what is understood of each sheet of a workbook.")
@click.argument("file", type=click.Path(path_type=Path))
@map_option
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@limits_option
@refusing
def command(file: Path, map_file: Path | None, as_json: bool, limit: tuple[str, ...]) -> None:
    """Show what is understood of each sheet of FILE, before anything is checked."""
    from rigxl import terminal
    from rigxl.batch import limits_from
    from rigxl.schedule.columns import describe
    from rigxl.schedule.map import read_mapping, understand
    from rigxl.terminal import books
    from rigxl.workbook.book import read_book

    book = read_book(file, limits_from(pairs(limit, "--limit")))
    described = describe(understand(book, read_mapping(map_file) if map_file else None))
    if as_json:
        terminal.json_text(described)
    else:
        books.columns(file, described)
