"""What changed, printed for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rigxl.changes.compare import Changed, Compared
from rigxl.changes.rows import Entry
from rigxl.changes.told import TABLES, Group, counted, groups, like, place, verdict, why
from rigxl.terminal import MOST_SHOWN, STYLES, console
from rigxl.terminal.layout import put

if TYPE_CHECKING:
    from rich.table import Table as Grid

MOST_ROWS_NAMED = 4


def show(compared: Compared, out_file: str | None = None) -> None:
    """Print both versions, what a person should be told, and what changed, in tables."""
    out = console()
    for word, checked in (("old", compared.old), ("new", compared.new)):
        counts = checked.counts
        waived = f", {counts['WAIVED']} waived" if checked.waivers else ""
        said = f"{counts['PASS']} pass, {counts['FAIL']} fail, {counts['HOLD']} held{waived}"
        out.print(f"{word}: {checked.book.path} ({said}; judged on {checked.criteria.judged_on})")
    for sentence in compared.said:
        out.print(sentence)
    found = groups(compared)
    if found:
        put(out, _changes(found[:MOST_SHOWN]), room=130, names=2)
        _more(len(found), "changes")
    for word, rows in (("added", compared.added), ("removed", compared.removed)):
        if rows:
            put(out, _alone(compared, word, rows[:MOST_SHOWN]), room=100, names=2)
            _more(len(rows), f"rows that were {word}")
    if compared.basis:
        put(out, _criteria(compared), room=110, told=False)
    out.print(counted(compared))
    if out_file:
        out.print(f"written to {out_file}")


def _more(count: int, what: str) -> None:
    if count > MOST_SHOWN:
        console().print(f"and {count - MOST_SHOWN} more {what}: --json and --out have them all")


def _grid(title: str, *headings: str) -> Grid:
    from rich.table import Table as Grid

    grid = Grid(show_lines=True, expand=False, title=title, title_justify="left")
    for heading in headings:
        grid.add_column(heading, overflow="fold")
    return grid


def _changes(found: Sequence[Group]) -> Grid:
    from rich.text import Text

    grid = _grid("changed", "item", "row", "what changed", "verdict", "why")
    for group in found:
        first = group.first
        names = [f"{_of(one.new)}{one.new.name}" for one in group.rows]
        rows = [_where(one) for one in group.rows]
        inputs = [f"{each.plain}: {each.old} → {each.new}" for each in first.inputs]
        style = STYLES.get(first.after or "", "") if first.verdict_changed else ""
        said = Text(verdict(first), style=style)
        grid.add_row(_some(names), _some(rows), "\n".join(inputs) or "–", said, "\n".join(why(first)))
    return grid


def _where(one: Changed) -> str:
    old, new = place(one.old), place(one.new)
    return new if old == new else f"{old} → {new}"


def _of(entry: Entry) -> str:
    return "" if entry.table == "items" else f"{TABLES[entry.table]}: "


def _some(texts: Sequence[str]) -> str:
    more = len(texts) - MOST_ROWS_NAMED
    return "\n".join(texts[:MOST_ROWS_NAMED]) + (f"\nand {more} more" if more > 0 else "")


def _alone(compared: Compared, word: str, rows: Sequence[Entry]) -> Grid:
    from rich.text import Text

    grid = _grid(word, "item", "row", "lift", "kind", "verdict", "note")
    for entry in rows:
        item = entry.line.item
        said = Text(entry.verdict or "–", style=STYLES.get(entry.verdict or "", ""))
        start = f"{_of(entry)}{entry.name}", place(entry), item.lift or "–", item.kind or "–"
        grid.add_row(*start, said, like(compared, entry))
    return grid


def _criteria(compared: Compared) -> Grid:
    grid = _grid("criteria, waivers, goods in", "what", "old", "new", "old chosen by", "new chosen by")
    for one in compared.basis:
        grid.add_row(*one)
    return grid
