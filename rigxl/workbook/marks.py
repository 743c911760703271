"""What to write into a workbook, said in plain data: the marks beside its rows and whole new sheets.

Nothing here knows the file format (that is for the modules beside it) or rigging (that is for
the schedule, which makes these).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple, TypeAlias


class Look(NamedTuple):
    """How a cell or row is to look. Colours are RRGGBB; None leaves that part as it is."""

    fill: str | None = None
    ink: str | None = None
    bold: bool = False
    italic: bool = False
    border: bool = False
    wrap: bool = False
    size: float | None = None
    number_format: str | None = None
    centred: bool = False


class Link(NamedTuple):
    """A cell that jumps to another cell of the same workbook."""

    text: str
    sheet: str
    cell: str


Content: TypeAlias = str | float | bool | Link | None


class MarkColumn(NamedTuple):
    """One column we add: its heading, its width in characters and how its cells look."""

    heading: str
    width: float
    look: Look = Look()


class Block(NamedTuple):
    """One table of a sheet: where its headings stand, its own columns, and what to write in which row.

    ``heights`` says how high a row must be at least, in points, for what is written to be read.
    """

    header_row: int
    first_column: int
    last_column: int
    rows: dict[int, tuple[Content, ...]]
    heights: Mapping[int, float] = MappingProxyType({})


class SheetMarks(NamedTuple):
    """The columns to add to one sheet, shared by all of its blocks.

    ``rows_look`` maps a word of column ``word_column`` (counted from 0 in ``columns``) to the look of the
    whole row, from the table's first column to our last: one conditional format, lowest priority.
    """

    sheet: str
    columns: tuple[MarkColumn, ...]
    blocks: tuple[Block, ...]
    word_column: int
    rows_look: dict[str, Look]
    at: int | None = None


class NewCell(NamedTuple):
    """A cell of a new sheet."""

    content: Content
    look: Look = Look()


class NewSheet(NamedTuple):
    """A whole sheet of ours, added at the end; one of the same name and making is replaced."""

    name: str
    widths: tuple[float, ...]
    rows: tuple[tuple[NewCell, ...], ...]
    landscape: bool = True
    freeze_rows: int = 0
    wide_rows: frozenset[int] = frozenset()
    """Rows (from 1) whose first cell is merged across all columns."""
    heights: tuple[float | None, ...] = ()
    """The height of each row in points; None, or none given, leaves it to the program."""


class Outcome(NamedTuple):
    """What marking did: where the columns went, what a person should be told, which entries changed."""

    placed: dict[str, str]
    warnings: tuple[str, ...]
    changed: tuple[str, ...]
    separate: bool = False
    """True when the source could not be marked without loss and a report workbook was written instead."""


class NoPlaceError(Exception):
    """The workbook cannot take the marks without loss to what others put in it; says why."""
