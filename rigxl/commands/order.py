"""``rigxl order``"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, overwrite_option, refuse_to_replace, refusing
from rigxl.errors import InputError


@click.command("order", short_help="Write what to order of a schedule, and the goods-in list.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--spares", default="0%", metavar="PERCENT", help="Spares for each line, rounded up, such as 10%."
)
@click.option("--out", type=click.Path(path_type=Path), help="Where the order goes, if not NAME.order.xlsx.")
@click.option("--no-file", is_flag=True, help="Only show the lines; write no order.")
@overwrite_option
@click.option(
    "--proof", metavar="RULE", help="Whose proof loads to demand: us, canada, france (the European set's)."
)
@judging_options
@refusing
def command(
    file: Path,
    spares: str,
    out: Path | None,
    no_file: bool,
    overwrite: bool,
    proof: str | None,
    **asked: Any,
) -> None:
    """Check the schedule in FILE and write what to order of it, for purchasing, with a goods-in list.

    Only rows that pass are ordered. Exit code: 0 when every row is, 1 when some are not, 2 when there
    is no order.
    """
    from rigxl.batch import check_file
    from rigxl.criteria import Criteria
    from rigxl.order.demands import proof_rule
    from rigxl.order.gather import gather
    from rigxl.order.sheet import write_order
    from rigxl.order.spares import read_spares
    from rigxl.terminal import results

    share = read_spares(spares)
    proof_rule(proof, Criteria.ready())  # refused before any file is read
    if no_file and (out or overwrite):
        raise InputError("--no-file goes with neither --out nor --overwrite")
    target = out or file.with_name(f"{file.stem}.order.xlsx")
    if target.suffix.lower() != ".xlsx":
        raise InputError(f"--out {target}: an order is an .xlsx workbook, so name one")
    if target.exists() and not no_file:
        if file.exists() and target.samefile(file):
            raise InputError(f"{target} is the schedule itself: name another file for the order")
        refuse_to_replace(target, overwrite=overwrite)
    order = gather(check_file(file, options_from(asked)), share)
    if not no_file:
        write_order(order, target, proof_rule(proof, order.checked.criteria))
    results.order(order, None if no_file else target)
    sys.exit(0 if not order.not_ordered else 1)
