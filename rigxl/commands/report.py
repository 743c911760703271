"""``rigxl report``"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from rigxl.commands import judging_options, options_from, refusing


@click.command("report", short_help="Write a report to be printed and signed.")
@click.argument("file", type=click.Path(path_type=Path))
@judging_options
@click.option("--pdf", "as_pdf", is_flag=True, help="Write a PDF beside the HTML page.")
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="The paper."
)
@click.option("--brief", is_flag=True, help="Leave out the working of each row; 'rigxl why' shows it.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Where the page goes: a file that ends in .html, or a folder.",
)
@refusing
def command(file: Path, as_pdf: bool, paper: str, brief: bool, out: Path | None, **asked: Any) -> None:
    """Write a report on FILE to be printed and signed, NAME.report.html, and with --pdf a PDF."""
    from rigxl.batch import check_file, limits_from
    from rigxl.report.page import page, target_for
    from rigxl.report.pdf import pdf
    from rigxl.workbook.pictures import pictures
    from rigxl.workbook.save import put

    target = target_for(file, out)
    options = options_from(asked)
    checked = check_file(file, options)
    found = [] if options.untrusted else pictures(file, checked.book.sha256, limits_from(options.limits))
    if options.untrusted:
        checked.said.append("read apart as untrusted: pictures were left out")
    html = page(checked, found, paper=paper, brief=brief)
    put(target, html.encode())
    click.echo(target)
    if as_pdf:
        put(target.with_suffix(".pdf"), pdf(html))
        click.echo(target.with_suffix(".pdf"))
    sys.exit(0 if checked.all_settled else 1)
