"""Which larger listed size would also do for a line, which would not fit, and what is not known.

Each larger size is put into every row of the line and judged as that row was, with the rows right above and
below it in its lift. A fit is never taken for granted: what no page and no row gives is to be measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from rigxl.checks import assembly
from rigxl.checks.judge import Judged, judge
from rigxl.checks.rating import tables_for
from rigxl.hardware.fit import HOLE_FIT
from rigxl.hardware.hook import THROAT_FIT
from rigxl.hardware.link import LINK_FIT
from rigxl.hardware.shackle import BOW_FIT
from rigxl.hardware.sling import SLING_FIT
from rigxl.items import FAIL, HOLD, Finding, Item
from rigxl.order.lines import Order, OrderLine, unit_of
from rigxl.schedule.check import CheckedRow
from rigxl.tables import FROM_MEMORY, Table
from rigxl.units import read_size, show_force, show_length

STRONG_ENOUGH = "strong enough"
MOST = 3
"""Larger sizes that are shown."""
WITH_SIZE = ("pin", "inside_width", "throat", "bar", "hole", "sling_width", "rope_diameter")
"""The dimensions of a piece that are others in another size."""
FITS = frozenset({HOLE_FIT, THROAT_FIT, BOW_FIT, LINK_FIT, SLING_FIT, assembly.OVER_PIN})


class Larger(NamedTuple):
    """A larger size of a page."""

    table: Table[Any]
    row: Any

    @property
    def size(self) -> str:
        """Its name, as printed."""
        return self.table.size(self.row)

    @property
    def from_memory(self) -> bool:
        """Whether its page was not read."""
        return FROM_MEMORY in self.table.source.cited


def substitutes(line: OrderLine, order: Order) -> Iterator[str]:
    """A sentence on each larger size, or one on why there is none."""
    bought = line.kind.BOUGHT
    if bought.only_size:
        yield f"No other size: {bought.only_size}."
        return
    needed = show_force(line.wanted.rated or 0.0, unit_of(line.item))
    measure = f"fit not known: measure {bought.fit}"
    if line.wanted.maker:
        yield f"None listed: one that the maker's own table rates {needed} or more; {measure}."
        return
    found = list(larger(line)) if bought.listed else []
    if not found:
        yield f"None listed: one of this type that its maker marks {needed} or more; {measure}."
        return
    told = [_told(one, line, order) for one in found[:MOST]]
    yield from told
    if any(STRONG_ENOUGH in said for said in told):
        yield f"Before any of these: {measure}."


def larger(line: OrderLine) -> Iterator[Larger]:
    """The listed sizes of higher rating in the one page that lists this line's own size with its rating."""
    mm, rated = line.item.size and line.item.size.mm, line.wanted.rated
    if line.item.size is None or rated is None:
        return
    for table in tables_for(line.item, line.kind):
        own = table.get(line.item.size.name)
        if own is None or abs(table.rating(own) - rated) > 0.005 * rated:
            continue
        rows = sorted((row for row in table.rows if table.rating(row) > rated), key=table.rating)
        for row in rows:
            other = read_size(table.size(row)).mm
            if mm is None or other is None or other > mm:
                yield Larger(table, row)
        return


def _told(one: Larger, line: OrderLine, order: Order) -> str:
    unit = one.table.rated_in
    name = f"{one.size}, listed at {show_force(one.table.rating(one.row), unit)}"
    if one.from_memory:
        name += f" ({FROM_MEMORY}: only if it is marked so)"
    against = [finding for row in line.rows for finding in _against(one, row, line, order)]
    misfit = next((finding for finding in against if finding.rule in FITS), None)
    if misfit is not None:
        return f"{name}: would not fit: {misfit.sentence}."
    if against:
        return f"{name}: would not do: {against[0].sentence}."
    compared = list(dict.fromkeys(said for row in line.rows for said in _compared(one, row, line, order)))
    return f"{name}: {STRONG_ENOUGH}{''.join(f'; {said}' for said in compared)}."


def _against(one: Larger, row: CheckedRow, line: OrderLine, order: Order) -> Iterator[Finding]:
    """What fails or holds a row with the larger size in its place."""
    placed = _instead(row, judge(_enlarged(row.judged.item, one, line), order.checked.criteria))
    found = list(placed.judged.findings)
    for above, below in _pairs(row, placed, order):
        found += assembly.fits(above, below)
    return (one for one in found if one.outcome in (FAIL, HOLD))


def _enlarged(item: Item, one: Larger, line: OrderLine) -> Item:
    """The item in the larger size: dimensions that change with it are those of the page, or not known."""
    changed: dict[str, Any] = dict.fromkeys(set(WITH_SIZE) & set(line.kind.BOUGHT.own))
    changed |= line.kind.BOUGHT.printed(one.row)
    unit = one.table.rated_in
    return replace(
        item,
        **changed,
        size=read_size(one.size),
        rated_load=one.table.rating(one.row),
        units={**item.units, "rated_load": unit},
        problems=dict(item.problems),
    )


def _pairs(row: CheckedRow, placed: CheckedRow, order: Order) -> Iterator[tuple[CheckedRow, CheckedRow]]:
    """The row, in its larger size, with the rows right above and below it in its lift."""
    lift, at = order.places.get(id(row), ([row], 0))
    if at > 0:
        yield _bare(lift[at - 1]), placed
    if at + 1 < len(lift):
        yield placed, _bare(lift[at + 1])


def _bare(row: CheckedRow) -> CheckedRow:
    return _instead(row, Judged(row.judged.item, []))


def _instead(row: CheckedRow, judged: Judged) -> CheckedRow:
    """The row in its place, judged otherwise."""
    return CheckedRow(row.line, judged)


def _compared(one: Larger, row: CheckedRow, line: OrderLine, order: Order) -> Iterator[str]:
    """What of its fit is known and in order: a pin that goes through its hole."""
    item = _enlarged(row.judged.item, one, line)
    if item.pin is None or row.judged.item.kind != "shackle":
        return
    placed = _instead(row, Judged(item, []))
    holes = [item.hole] + [
        other.judged.item.hole
        for pair in _pairs(row, placed, order)
        for other in pair
        if other.line is not row.line and other.judged.item.kind in assembly.HOLED and item.hole is None
    ]
    for hole in holes:
        if hole is not None:
            unit = row.judged.item.units.get("pin", "mm")
            pin = f"{show_length(item.pin, unit)}{f', {FROM_MEMORY},' if one.from_memory else ''}"
            yield f"its pin of {pin} goes through the hole of {show_length(hole, unit)}"
