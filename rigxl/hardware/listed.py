"""Printed ratings and sizes as a cell asks for them: by the text of a size, in the unit wanted.

>>> where("5/8 in", ("1/2 in", "3/4 in")), where("16 in", ("1/2 in", "3/4 in"))
('it lies between 1/2 in and 3/4 in', 'it is over 3/4 in, the largest listed, so perhaps 16 mm is meant')
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

from rigxl.errors import NotRatedError, OutOfRangeError, UnknownSizeError, UnknownUnitError
from rigxl.mechanics.limits import positive
from rigxl.tables import FROM_MEMORY, Table
from rigxl.units import FORCE_UNITS, convert_load, read_size, show_force, unit_name

LARGER_THAN_ANY_MM = 100.0
"""An unlisted size over this in inches is more likely one in millimetres."""

AsUnit = Annotated[float, "as unit"]


def where(size: str, sizes: Sequence[str]) -> str:
    """Where a size lies among those that are listed, in words; empty for one that is no length."""
    found = read_size(size)
    lengths = {name: mm for name in sizes if (mm := read_size(name).mm) is not None}
    if found.mm is None or not lengths:
        return ""
    under = [name for name, mm in lengths.items() if mm < found.mm]
    over = [name for name, mm in lengths.items() if mm > found.mm]
    if under and over:
        return (
            f"it lies between {max(under, key=lengths.__getitem__)} and {min(over, key=lengths.__getitem__)}"
        )
    if over:
        return f"it is under {min(over, key=lengths.__getitem__)}, the smallest listed"
    largest = max(under, key=lengths.__getitem__)
    slip = found.name.endswith(" in") and found.mm > LARGER_THAN_ANY_MM
    meant = f", so perhaps {found.name.removesuffix(' in')} mm is meant" if slip else ""
    return f"it is over {largest}, the largest listed{meant}"


def row_of(table: Table[Any], size: str) -> Any:
    """The row of a table for the text of a size.

    Raises:
        UnknownSizeError: The page does not list it; the sentence says what lies on either side.
    """
    name = read_size(size).name
    row = table.get(name)
    if row is None:
        lies = where(name, table.sizes)
        raise UnknownSizeError(
            f"size '{size}' is not in {table.name}{lies and ': '}{lies}; "
            f"it lists {', '.join(table.sizes)} ({table.source.cited})"
        )
    return row


def rating(table: Table[Any], size: str, unit: str = "", share: float = 1.0, *, memory: str = "no") -> float:
    """The printed rating of a size, or a share of it, in the unit wanted; without one, as printed.

    Raises:
        NotRatedError: The table is only from memory, and ``memory`` is not yes.
    """
    row = row_of(table, size)
    if FROM_MEMORY in table.source.cited and memory != "yes":
        raise NotRatedError(
            f"ours for {table.size(row)} is {show_force(table.rating(row), table.rated_in)}, but "
            f"{FROM_MEMORY} ({table.source.title}): use the rated load marked on the piece"
        )
    printed = float(getattr(row, table.rated))
    return (convert_load(printed, table.rated_in, unit) if unit else printed) * share


def newtons(name: str, value: float, unit: str) -> float:
    """A load above zero given in a cell, in newtons."""
    found = unit_name(unit)
    if found not in FORCE_UNITS:
        raise UnknownUnitError(f"'{unit}' is not a unit of load: give one such as t, kN or lb")
    return positive(name, value) * FORCE_UNITS[found]


def smallest(table: Table[Any], needed: float, unit: str, *, memory: str = "no") -> str:
    """The smallest listed size with a rating of ``needed`` newtons or more.

    Raises:
        OutOfRangeError: No listed size is strong enough.
        NotRatedError: The table is only from memory, and ``memory`` is not yes.
    """
    if FROM_MEMORY in table.source.cited and memory != "yes":
        raise NotRatedError(
            f"{table.name} are {FROM_MEMORY} ({table.source.title}): choose by the marks on the pieces"
        )
    row = table.smallest(needed)
    if row is None:
        raise OutOfRangeError(
            f"no size of {table.name} is rated {show_force(needed, unit)} or more; "
            f"they go up to {show_force(max(map(table.rating, table.rows)), unit)} ({table.source.cited})"
        )
    return table.size(row)
