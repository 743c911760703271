"""The command line: the folder ``commands`` is its list, and a command is imported when it is asked for."""

from __future__ import annotations

import importlib
import pkgutil

import click

from rigxl import __version__, commands

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


class Commands(click.Group):
    """Every file of ``rigxl.commands``, by its name."""

    def list_commands(self, _: click.Context | None) -> list[str]:
        """The names, in alphabetical order."""
        return sorted(module.name for module in pkgutil.iter_modules(commands.__path__))

    def get_command(self, ctx: click.Context | None, cmd_name: str) -> click.Command | None:
        """The command of a file, or None where there is no such file."""
        if cmd_name not in self.list_commands(ctx):
            return None
        found = importlib.import_module(f"{commands.__name__}.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found


@click.group(cls=Commands, context_settings=CONTEXT)
@click.version_option(__version__, message="rigxl %(version)s")
def main() -> None:
    """Checks schedules of rigging hardware in office workbooks and marks the rows that fail.

    It does not replace the maker's instructions, the local code or a licensed engineer.
    """
