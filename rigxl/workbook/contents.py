"""What a workbook says, as plain data that can be sent between processes."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from pathlib import Path

from rigxl.workbook.values import Area, Row, TableArea, Value


@dataclass(frozen=True)
class Sheet:
    """One worksheet: the rows that hold something, ascending, with their true numbers."""

    name: str
    state: str
    rows: list[Row]
    merges: tuple[Area, ...] = ()
    tables: tuple[TableArea, ...] = ()
    filtered: bool = False
    protected: bool = False
    hidden_columns: frozenset[int] = frozenset()

    def cell(self, row: int, column: int) -> Value:
        """What a cell holds; None when it is blank."""
        at = bisect_left(self.rows, row, key=lambda row: row.number)
        if at == len(self.rows) or self.rows[at].number != row:
            return None
        return self.rows[at].cells.get(column)


@dataclass(frozen=True)
class Book:
    """A workbook as it was read; ``sha256`` is of the file's bytes.

    ``names`` are the defined names; one that belongs to a single sheet is keyed ``Sheet!name``.
    """

    path: Path
    sha256: str
    kind: str
    date_1904: bool
    sheets: tuple[Sheet, ...]
    names: dict[str, str] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()
