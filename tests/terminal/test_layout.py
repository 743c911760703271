"""Tables in narrow terminals: a block for each row in their place, nothing left out, no word broken."""

from __future__ import annotations

import io
import re

import pytest
from rich.console import Console
from rich.table import Table as Grid

from rigxl.terminal.layout import put

LONG = (
    "the design margin is not in hand: force 5.247 short ton, required 6.558 short ton, rated 6.5 short ton"
)
ROWS = (("Schedule!7", "FB-03", "6.5 t", "", LONG), ("Schedule!8", "FB-04\nFB-05", "8.4 t", "tag\nsize", ""))


def shown(width: int, told: bool = True) -> str:
    grid = Grid(show_lines=True)
    for heading in ("row", "item", "rated", "what changed", "why"):
        grid.add_column(heading, overflow="fold")
    for row in ROWS:
        grid.add_row(*row)
    out = Console(file=io.StringIO(), width=width, markup=False, emoji=False)
    put(out, grid, room=90, names=2, told=told)
    assert isinstance(out.file, io.StringIO)
    return out.file.getvalue()


@pytest.mark.parametrize("width", [40, 60, 80, 89])
def test_blocks(width: int) -> None:
    """Every word of the table once and whole, on lines that fit."""
    text = shown(width)
    assert "│" not in text
    assert max(len(line.rstrip()) for line in text.splitlines()) <= width
    words = " ".join(" ".join(row) for row in ROWS).split()
    assert [word for word in words if not re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text)] == []


def test_a_block() -> None:
    """Its names, what is brief on one line with its headings, then the sentences."""
    first, second = shown(80).rstrip().split("\n\n")
    assert first.split("\n")[:2] == ["Schedule!7  FB-03", "  rated 6.5 t"]
    assert second.split("\n") == ["Schedule!8  FB-04; FB-05", "  rated 8.4 t, what changed tag; size"]


def test_a_last_column_that_is_no_sentence_keeps_its_heading() -> None:
    assert f"why: {LONG[:40]}" in shown(80, told=False)


@pytest.mark.parametrize("width", [90, 160])
def test_the_table_where_there_is_room(width: int) -> None:
    assert "│ FB-03" in shown(width)
    assert "┃ why" in shown(width)
