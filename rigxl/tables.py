"""Published values and where they were printed.

A table's rows are NamedTuples whose columns stand as printed, in the printed units; the unit is the end
of the column's name, so a rating column ``wll_lb`` holds pounds. Nothing is interpolated between rows.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import cached_property, lru_cache
from operator import itemgetter
from typing import Generic, NamedTuple, TypeVar

from rigxl.errors import UnknownSizeError
from rigxl.units import FORCE_UNITS

FROM_MEMORY = "from memory"
PRACTICE = "common practice, no source"


class Source(NamedTuple):
    """Where a figure was printed, and in ``note`` how far it can be trusted."""

    title: str
    edition: str = ""
    place: str = ""
    note: str = ""

    @property
    def cited(self) -> str:
        """The source on one line.

        >>> Source("A manual", "1995", "p. 3", FROM_MEMORY).cited
        'A manual, 1995, p. 3 (from memory)'
        """
        return _cited(self)


@lru_cache(maxsize=4096)
def _cited(source: Source) -> str:
    line = ", ".join(part for part in (source.title, source.edition, source.place) if part)
    return f"{line} ({source.note})" if source.note else line


COMMON_PRACTICE = Source(PRACTICE)

ROW = TypeVar("ROW", bound=tuple[object, ...])


class Table(Generic[ROW]):
    """A printed table of rated sizes.

    Args:
        name: What the table lists, in the plural, such as ``screw pin shackles``.
        source: Where it was printed.
        rows: One NamedTuple a printed line, its first column the size as printed.
        rated: The column that holds the rating; its name ends in the unit. Empty for tables without ratings.
        size_unit: ``in`` or ``mm`` when the printed size is a bare number, empty when it is a full name.
        also: A second column by which people name the size, and its unit, such as ``("size_mm", "mm")``.
        grade: The grade of material all rows are for, as printed.
    """

    def __init__(
        self,
        name: str,
        source: Source,
        rows: tuple[ROW, ...],
        *,
        rated: str = "",
        size_unit: str = "",
        also: tuple[str, str] | None = None,
        grade: str = "",
    ) -> None:
        self.name = name
        self.source = source
        self.rows = rows
        self.rated = rated
        self.size_unit = size_unit
        self.also = also
        self.grade = grade

    @cached_property
    def _by_size(self) -> dict[str, ROW]:
        listed = {self.size(row): row for row in self.rows}
        if self.also:
            column, unit = self.also
            for row in self.rows:
                listed.setdefault(f"{getattr(row, column)} {unit}", row)
        return listed

    @cached_property
    def _by_rating(self) -> list[tuple[float, ROW]]:
        return sorted(((self.rating(row), row) for row in self.rows), key=itemgetter(0))

    @cached_property
    def _factor(self) -> float:
        return FORCE_UNITS[self.rated_in]

    @property
    def rated_in(self) -> str:
        """The printed unit of the ratings, such as ``lb`` or ``short ton``."""
        return self.rated.partition("_")[2].replace("_", " ")

    def size(self, row: ROW) -> str:
        """The full name of a row's size, such as ``3/4 in``."""
        return f"{row[0]} {self.size_unit}".strip()

    @property
    def sizes(self) -> tuple[str, ...]:
        """Every size, in printed order."""
        return tuple(map(self.size, self.rows))

    def get(self, size: str) -> ROW | None:
        """The row of a size by its full name, or None."""
        return self._by_size.get(size)

    def find(self, size: str) -> ROW:
        """The row of a size by its full name.

        Raises:
            UnknownSizeError: The page does not list it; the sentence says what it lists.
        """
        row = self._by_size.get(size)
        if row is None:
            raise UnknownSizeError(
                f"size '{size}' is not in {self.name}; it lists {', '.join(self.sizes)} ({self.source.cited})"
            )
        return row

    def rating(self, row: ROW) -> float:
        """The rating of a row in newtons, as printed and nothing more."""
        return float(getattr(row, self.rated)) * self._factor

    def smallest(self, needed: float) -> ROW | None:
        """The row of the lowest rating that is at least ``needed`` newtons, or None when none is."""
        at = bisect_left(self._by_rating, needed * (1 - 1e-9), key=itemgetter(0))
        return self._by_rating[at][1] if at < len(self._by_rating) else None
