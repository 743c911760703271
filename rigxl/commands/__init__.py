"""One file a command, named as it is typed; what they share is here.

0: every row passes, is waived or is known. 1: something fails or is held. 2: it could not run.
Results go to stdout, talk to stderr. Whatever a command needs is imported when it runs.
"""

from __future__ import annotations

import importlib
import os
import pkgutil
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from rigxl.errors import InputError, RigxlError

if TYPE_CHECKING:
    from rigxl.batch import Options


class Folder(click.Group):
    """The commands in the files of a package, by their names; a folder in it is a group of its own.

    Args:
        package: The name of the package.
    """

    def __init__(self, *args: Any, package: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.package = package

    def list_commands(self, _: click.Context | None) -> list[str]:
        """The names, in alphabetical order."""
        home = importlib.import_module(self.package)
        return sorted(module.name for module in pkgutil.iter_modules(home.__path__))

    def get_command(self, ctx: click.Context | None, cmd_name: str) -> click.Command | None:
        """The command of a file, or None where there is no such file."""
        if cmd_name not in self.list_commands(ctx):
            return None
        found = importlib.import_module(f"{self.package}.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found


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


def judging_options(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say what a workbook is judged by; ``options_from`` takes what they give."""
    options = (
        click.option("--criteria", metavar="SET", help="The ready set to judge by: us, ontario or europe."),
        click.option(
            "--set",
            "settings",
            multiple=True,
            metavar="NAME=VALUE",
            help="Override one setting of the criteria.",
        ),
        map_option,
        click.option(
            "--ratings",
            type=click.Path(exists=True, dir_okay=False, path_type=Path),
            help="A file of your makers' own ratings (xlsx or csv), which govern over the published ones.",
        ),
        click.option(
            "--goods-in",
            type=click.Path(exists=True, dir_okay=False, path_type=Path),
            help="A filled-in goods-in list, as 'rigxl order' writes it, joined to the schedule by tag.",
        ),
        click.option(
            "--sheet", "sheets", multiple=True, metavar="NAME", help="Only this sheet; may be given again."
        ),
        click.option(
            "--untrusted", is_flag=True, help="Read in a child process with limits on memory and time."
        ),
        limits_option,
    )
    for option in reversed(options):
        command = option(command)
    return command


def options_from(asked: dict[str, Any], **more: Any) -> Options:
    """What ``judging_options`` gave, and what a command knows besides."""
    from rigxl.batch import Options

    names = ("criteria", "map_file", "ratings", "goods_in", "sheets", "untrusted")
    kept = {name: asked[name] for name in names}
    overrides, limits = pairs(asked["settings"], "--set"), pairs(asked["limit"], "--limit")
    return Options(overrides=overrides, limits=limits, **kept, **more)


overwrite_option = click.option("--overwrite", is_flag=True, help="Replace a file that is already there.")


def refuse_to_replace(target: Path, *, overwrite: bool) -> None:
    """Leave alone what stands where a file would be written, for somebody may have worked on it.

    Raises:
        InputError: There is a file, and nobody said to overwrite it.
    """
    if target.exists() and not overwrite:
        raise InputError(f"{target} is already there: name another file, or say --overwrite")
