"""``rigxl waivers``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import limits_option, map_option, pairs, refusing


@click.command("waivers")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--criteria", default=None, metavar="SET", help="The ready set to judge by: us, ontario or europe."
)
@click.option(
    "--set", "settings", multiple=True, metavar="NAME=VALUE", help="Override one setting of the criteria."
)
@map_option
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@limits_option
@refusing
def command(
    file: Path,
    criteria: str | None,
    settings: tuple[str, ...],
    map_file: Path | None,
    as_json: bool,
    limit: tuple[str, ...],
) -> None:
    """List the waivers in the workbook FILE: what each covers, or why it covers nothing."""
    from rigxl import terminal
    from rigxl.batch import limits_from
    from rigxl.schedule.check import check_workbook
    from rigxl.schedule.map import read_mapping
    from rigxl.schedule.report import standing

    checked = check_workbook(
        file,
        criteria=criteria,
        overrides=pairs(settings, "--set"),
        mapping=read_mapping(map_file) if map_file else None,
        limits=limits_from(pairs(limit, "--limit")),
    )
    if as_json:
        terminal.json_text([standing(one) for one in checked.waivers])
    else:
        terminal.waivers(checked)
