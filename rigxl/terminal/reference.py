"""Rules, published tables and functions, as tables for people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from rigxl.terminal import console, csv_text
from rigxl.terminal.layout import put

if TYPE_CHECKING:
    from rigxl.functions import FunctionSpec
    from rigxl.items import Rule
    from rigxl.tables import Table


def rules(found: Mapping[str, tuple[Rule, tuple[str, ...]]]) -> None:
    """Every rule, as a table."""
    from rich.table import Table as Grid

    grid = Grid(show_lines=False)
    for heading in ("rule", "for", "meaning", "waiver", "source"):
        grid.add_column(heading, overflow="fold", no_wrap=heading == "rule")
    for name, (one, kinds) in sorted(found.items()):
        grid.add_row(name, ", ".join(kinds) or "every kind", one.meaning, one.waiver, one.source.cited)
    put(console(), grid, room=130, names=2, told=False)


def rule(found: tuple[Rule, tuple[str, ...]]) -> None:
    """One rule, explained."""
    one, kinds = found
    out = console()
    out.print(one.name)
    out.print(f"  meaning: {one.meaning}")
    out.print(f"  for:     {', '.join(kinds) or 'every kind'}")
    out.print(f"  waiver:  {one.waiver}")
    out.print(f"  source:  {one.source.cited}")


def tables(kind: str, found: Sequence[Table[Any]], as_csv: bool) -> None:
    """The published tables of a kind, as printed."""
    from rich.table import Table as Grid

    out = console()
    if not found:
        out.print(
            f"no published table of sizes is at hand for {kind}: the rating on the piece must be stated"
        )
    for one in found:
        headings = list(one.rows[0]._fields)
        cells = [["" if value is None else str(value) for value in row] for row in one.rows]
        if as_csv:
            csv_text(["table", "source", *headings], ([one.name, one.source.cited, *row] for row in cells))
            continue
        out.print(f"{kind}: {one.name}{f', grade {one.grade}' if one.grade else ''}")
        out.print(one.source.cited)
        grid = Grid()
        for heading in headings:
            grid.add_column(heading.replace("_", " "), justify="right")
        for row in cells:
            grid.add_row(*row)
        out.print(grid)


def functions(found: Mapping[str, FunctionSpec]) -> None:
    """Every worksheet function, as a table."""
    from rich.table import Table as Grid

    grid = Grid()
    for heading in ("function", "help", "example", "source"):
        grid.add_column(heading, overflow="fold")
    for one in found.values():
        grid.add_row(one.signature, one.help, f"{one.example_text} = {one.answer}", one.source)
    put(console(), grid, room=130, told=False)


def function(one: FunctionSpec) -> None:
    """One worksheet function, explained."""
    out = console()
    out.print(one.signature)
    out.print(f"  {one.help}")
    for argument in one.arguments:
        needed = (
            ""
            if argument.required
            else f", {argument.default} unless stated"
            if argument.default is not None
            else ", optional"
        )
        choices = f"; one of {', '.join(argument.choices)}" if argument.choices else ""
        out.print(f"  {argument.name} [{argument.unit}{needed}]: {argument.help}{choices}")
    out.print(f"  gives [{one.unit}]; {one.example_text} = {one.answer}")
    out.print(f"  refuses: {one.refuses}")
    out.print(f"  source: {one.source}")
