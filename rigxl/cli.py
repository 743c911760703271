"""The command line: arguments in, exit codes out.

0: every row passes. 1: something fails or is held. 2: it could not run.
Results go to stdout, talk to stderr. Whatever a command needs is imported when it runs.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any, NoReturn

import click

from rigxl import __version__
from rigxl.errors import InputError, RigxlError

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


def refuse(sentence: str) -> NoReturn:
    """Say why it could not run, and end with 2."""
    click.echo(f"rigxl: {sentence}", err=True)
    sys.exit(2)


def refusing(command: Callable[..., None]) -> Callable[..., None]:
    """A refusal is one line; a traceback means a bug of ours."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> None:
        try:
            command(*args, **kwargs)
        except RigxlError as error:
            refuse(str(error))
        except BrokenPipeError:  # whoever read our output has seen enough, as head does
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(1)
        except OSError as error:
            refuse(f"{error.filename or 'a file'}: {error.strerror or error}")

    return run


def pairs(texts: tuple[str, ...], option: str) -> dict[str, str]:
    """NAME=VALUE arguments as a mapping."""
    found = {}
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals:
            raise InputError(f"{option} {text}: write NAME=VALUE, such as {option} margin=0.3")
        found[name.strip()] = value.strip()
    return found


def limits_option(command: Callable[..., None]) -> Callable[..., None]:
    """The option that sets the limits of what is read."""
    return click.option(
        "--limit",
        multiple=True,
        metavar="NAME=NUMBER",
        help="Raise or lower a limit of what is read, such as file_bytes=50000000 or seconds=60.",
    )(command)


def map_option(command: Callable[..., None]) -> Callable[..., None]:
    """The option that says which column is which field."""
    return click.option(
        "--map",
        "map_file",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help="A file that says which column is which field, where headings do not (see 'rigxl columns').",
    )(command)


@click.group(context_settings=CONTEXT)
@click.version_option(__version__, message="rigxl %(version)s")
def main() -> None:
    """Checks schedules of rigging hardware in office workbooks and marks the rows that fail.

    It does not replace the maker's instructions, the local code or a licensed engineer.
    """


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE… | FOLDER")
@click.option(
    "--criteria", default=None, metavar="SET", help="The ready set to judge by: us, ontario or europe."
)
@click.option(
    "--set", "settings", multiple=True, metavar="NAME=VALUE", help="Override one setting of the criteria."
)
@map_option
@click.option(
    "--ratings",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A file of your makers' own ratings (xlsx or csv), which govern over the published ones.",
)
@click.option("--sheet", "sheets", multiple=True, metavar="NAME", help="Only this sheet; may be given again.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@click.option("--csv", "as_csv", is_flag=True, help="Print the findings as CSV.")
@click.option("--no-marks", is_flag=True, help="Check only; write no marked workbook.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Where the marked workbook goes: a file, or a folder."
)
@click.option("--in-place", is_flag=True, help="Mark the workbook itself; the original is kept as a backup.")
@click.option("--marks-at", metavar="COLUMN", help="The column where our marks begin, such as Z.")
@click.option("--untrusted", is_flag=True, help="Read in a child process with limits on memory and time.")
@limits_option
@refusing
def check(
    paths: tuple[Path, ...],
    criteria: str | None,
    settings: tuple[str, ...],
    map_file: Path | None,
    ratings: Path | None,
    sheets: tuple[str, ...],
    as_json: bool,
    as_csv: bool,
    no_marks: bool,
    out: Path | None,
    in_place: bool,
    marks_at: str | None,
    untrusted: bool,
    limit: tuple[str, ...],
) -> None:
    """Check every schedule in FILE or FOLDER and write NAME.marked.xlsx beside it."""
    from rigxl.batch import Options, run

    if as_json and as_csv:
        raise InputError("--json and --csv: choose one")
    if in_place and (out or no_marks):
        raise InputError("--in-place goes with neither --out nor --no-marks")
    options = Options(
        criteria=criteria,
        overrides=pairs(settings, "--set"),
        map_file=map_file,
        ratings=ratings,
        sheets=sheets,
        mark=not no_marks,
        out=out,
        in_place=in_place,
        marks_at=marks_at,
        untrusted=untrusted,
        limits=pairs(limit, "--limit"),
    )
    form = "json" if as_json else "csv" if as_csv else "table"
    sys.exit(run(paths, options, form))


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@map_option
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@limits_option
@refusing
def columns(file: Path, map_file: Path | None, as_json: bool, limit: tuple[str, ...]) -> None:
    """Show what is understood of each sheet of FILE, before anything is checked."""
    from rigxl import terminal
    from rigxl.batch import limits_from
    from rigxl.schedule.columns import describe
    from rigxl.schedule.map import read_mapping, understand
    from rigxl.workbook.book import read_book

    book = read_book(file, limits_from(pairs(limit, "--limit")))
    described = describe(understand(book, read_mapping(map_file) if map_file else None))
    if as_json:
        terminal.json_text(described)
    else:
        terminal.columns(file, described)


@main.command()
@click.argument("name", required=False)
@refusing
def rules(name: str | None) -> None:
    """List every rule with its meaning and source, or explain one by NAME."""
    from rigxl import terminal
    from rigxl.rules import find, gathered

    if name:
        terminal.rule(find(name))
    else:
        terminal.rules(gathered())


@main.command()
@click.argument("kind", nargs=-1, required=True)
@click.option("--csv", "as_csv", is_flag=True, help="Print the rows as CSV.")
@refusing
def table(kind: tuple[str, ...], as_csv: bool) -> None:
    """Show the published sizes of a KIND of hardware, as printed, with their source."""
    from rigxl import terminal
    from rigxl.hardware import kind_words, kinds

    asked = " ".join(kind).lower()
    name = kind_words().get(asked, asked)
    if name not in kinds():
        raise InputError(f"'{asked}' is not a kind of hardware: the kinds are {', '.join(kinds())}")
    terminal.tables(name, kinds()[name].TABLES, as_csv)


@main.command(context_settings={"ignore_unknown_options": True})
@click.argument("name")
@click.argument("arguments", nargs=-1, type=click.UNPROCESSED)
@refusing
def calc(name: str, arguments: tuple[str, ...]) -> None:
    """Work out a worksheet function, such as: rigxl calc LEGTENSION 10000 2 60"""
    from rigxl.functions import call_text

    answer = call_text(name, *arguments)
    click.echo(f"{answer:.15g}" if isinstance(answer, float) else answer)


@main.command()
@click.argument("name", required=False)
@refusing
def functions(name: str | None) -> None:
    """List the worksheet functions, or show the help of one by NAME."""
    from rigxl import terminal
    from rigxl.functions import FUNCTIONS, spec

    if name:
        terminal.function(spec(name))
    else:
        terminal.functions(FUNCTIONS)


@main.command()
@click.argument("file", type=click.Path(path_type=Path), default=Path("rigging-schedule.xlsx"))
@click.option("--criteria", default=None, metavar="SET", help="The ready set its criteria sheet starts from.")
@refusing
def template(file: Path, criteria: str | None) -> None:
    """Write a blank schedule to FILE, with drop-downs, units and working formulas."""
    from rigxl.criteria import Criteria
    from rigxl.templates import write_blank

    if file.exists():
        raise InputError(f"{file} is already there: name another file")
    write_blank(file, Criteria.ready(criteria) if criteria else None)
    click.echo(f"{file}: a blank schedule", err=True)


@main.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=Path("rigxl-demo"))
@refusing
def demo(folder: Path) -> None:
    """Write the sample workbooks into FOLDER and check them."""
    from rigxl.batch import Options, run
    from rigxl.samples import write_all

    if folder.exists() and any(folder.iterdir()):
        raise InputError(f"the folder {folder} is not empty: name another")
    folder.mkdir(parents=True, exist_ok=True)
    run(tuple(write_all(folder)), Options(), "table")
    click.echo(f"Open the marked workbooks in {folder} to see the marks.", err=True)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@limits_option
@refusing
def doctor(file: Path, as_json: bool, limit: tuple[str, ...]) -> None:
    """Tell what is in the workbook FILE, whether it can be marked, and why not."""
    from dataclasses import asdict

    from rigxl import terminal
    from rigxl.batch import limits_from
    from rigxl.workbook.doctor import examine

    found = examine(file, limits_from(pairs(limit, "--limit")))
    if as_json:
        terminal.json_text({**asdict(found), "markable": found.markable})
    else:
        terminal.doctor(found)
    if found.refused:
        sys.exit(2)
