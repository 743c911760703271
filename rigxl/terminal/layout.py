"""A table where the terminal has room for it, else a block of lines for each row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console, RenderableType
    from rich.table import Table as Grid
    from rich.text import Text

SHORT = 30
"""Characters of a cell that shares a line with others; a longer one gets lines of its own."""
ENDLESS = 100_000


def put(out: Console, grid: Grid, room: int, names: int = 1, told: bool = True) -> None:
    """Print a table, or its rows as blocks where it needs more width than there is.

    Args:
        room: Columns of the terminal from which on the table reads well.
        names: How many of its columns name the row; they make up the first line of its block.
        told: Whether the last column is sentences, which need no heading.
    """
    from rich.measure import Measurement

    unfolded = Measurement.get(out, out.options.update(width=ENDLESS), grid).maximum
    if out.width >= min(room, unfolded):
        out.print(grid)
        return
    if grid.title:
        out.print(grid.title)
    headings = [str(column.header) for column in grid.columns]
    for row in zip(*(column.cells for column in grid.columns), strict=True):
        for line, indent in _block(headings, [_text(cell) for cell in row], names, told):
            _indented(out, line, indent)
        out.print()


def _block(
    headings: Sequence[str], cells: Sequence[Text], names: int, told: bool
) -> Iterator[tuple[Text, int]]:
    """The lines of a row, each with its indent: its names, then the rest with their headings."""
    from rich.text import Text

    yield Text("  ").join(_one_line(cell) for cell in cells[:names] if cell.plain), 0
    end = len(cells) - told
    brief: list[Text] = []
    for heading, cell in zip(headings[names:end], cells[names:end], strict=True):
        if cell.plain and len(cell.plain) <= SHORT:
            brief.append(Text.assemble(f"{heading} ", _one_line(cell)))
            continue
        if brief:
            yield Text(", ").join(brief), 2
            brief = []
        if cell.plain:
            yield Text.assemble(f"{heading}: ", _one_line(cell)), 2
    if brief:
        yield Text(", ").join(brief), 2
    if told:
        yield from ((line, 2) for line in cells[-1].split("\n") if line.plain)


def _one_line(cell: Text) -> Text:
    from rich.text import Text

    return Text("; ").join(cell.split("\n"))


def _indented(out: Console, line: Text, indent: int) -> None:
    from rich.padding import Padding

    out.print(Padding(line, (0, 0, 0, indent), expand=False))


def _text(cell: RenderableType) -> Text:
    from rich.text import Text

    return cell.copy() if isinstance(cell, Text) else Text(str(cell))
