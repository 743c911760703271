"""``rigxl respell``"""

from __future__ import annotations

from pathlib import Path

import click

from rigxl.commands import limits_option, overwrite_option, pairs, refuse_to_replace, refusing
from rigxl.errors import InputError


@click.command("respell", short_help="Spell our functions in a workbook as another program does.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--to",
    "host",
    required=True,
    type=click.Choice(["excel", "desktop", "calc"]),
    help="Where the functions come from: the Office add-in, the desktop add-in, or LibreOffice Calc.",
)
@click.option("--out", type=click.Path(path_type=Path), help="The file to write, if not NAME.HOST.xlsx.")
@click.option(
    "--in-place", is_flag=True, help="Change the workbook itself; the original is kept as a backup."
)
@overwrite_option
@limits_option
@refusing
def command(
    file: Path, host: str, out: Path | None, in_place: bool, overwrite: bool, limit: tuple[str, ...]
) -> None:
    """Spell rigxl's functions in FILE as another program spells them; nothing else changes.

    Each program has its own name for the function of an add-in, and shows #NAME? for any other.
    """
    from rigxl.batch import limits_from
    from rigxl.formulas.respell import respell

    if in_place and out:
        raise InputError("--in-place goes without --out")
    target = file if in_place else out or file.with_name(f"{file.stem}.{host}{file.suffix}")
    if not in_place:
        refuse_to_replace(target, overwrite=overwrite)
    done = respell(file, target, host, limits=limits_from(pairs(limit, "--limit")), in_place=in_place)
    for said in done.left:
        click.echo(said)
    if not done.calls:
        click.echo(f"{file}: nothing to respell, so nothing was written")
        return
    calls = "1 call" if done.calls == 1 else f"{done.calls} calls"
    click.echo(f"{target}: {calls} respelt in {done.formulas} formulas; recalculate it where the add-in is")
