"""What belongs to a lift, shared among its rows: from a table of lifts, or from the one row that says it.

The load, how it is known and the rigging are one for the whole lift: where two cells disagree on them,
every row of the lift is held until it is settled. Legs, angle and lengths that a row states are its own
and contradict nobody; only blanks are filled, and only with what all that say it agree on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from operator import attrgetter
from typing import Any, TypeAlias

from rigxl.schedule.cells import ALL_LEGS
from rigxl.schedule.fields import FIELD, FREE, OF_THE_LIFT
from rigxl.schedule.line import Line
from rigxl.units import show_force, show_length

WEIGHTS = ("load", "weight_basis", "rigging")
"""What is one for a whole lift; the rest is geometry, which the drops under a device have of their own."""

GEOMETRY = tuple(name for name in OF_THE_LIFT if name not in WEIGHTS)
OWN = FREE | {
    "lift",
    "quantity",
    "kind",
    "size",
    "position",
    "type",
    "grade",
    "maker",
    "hitch",
    "certificate",
}
"""What a table of lifts may hold that is not said of each of its items."""

Taken: TypeAlias = dict[int, dict[tuple[str, int], list[str]]]
"""By line, the fields it took from which row of which sheet."""

_given = attrgetter(*OF_THE_LIFT)


def lift_key(name: str) -> str:
    """A lift's name as it is compared: case and spacing do not count."""
    return " ".join(name.casefold().split())


def join(lines: Iterable[Line], lifts: Iterable[Line]) -> list[list[Line]]:
    """Fill in what a row leaves to its lift, in place; the rows of each lift, in order.

    Lifts of one name on two sheets are two.

    Args:
        lines: The rows of hardware.
        lifts: The rows of tables of lifts.
    """
    tables: dict[str, list[Line]] = {}
    for lift in lifts:
        if lift.item.lift:
            tables.setdefault(lift_key(lift.item.lift), []).append(lift)
    groups: dict[tuple[str, str], list[Line]] = {}
    uneven: set[tuple[str, str]] = set()
    keys: dict[str, str] = {}
    for line in lines:
        name = line.item.lift
        if name is None:
            if line.listing.role == "hardware" and "lift" not in line.item.problems:
                _hold(
                    line,
                    f"{line.cell_of('lift')} names no lift, so its load is not known: write it on every row",
                )
            continue
        key = (line.sheet, keys.get(name) or keys.setdefault(name, lift_key(name)))
        group = groups.get(key)
        if group is None:
            groups[key] = [line]
        else:
            if _given(line.item) != _given(group[0].item):
                uneven.add(key)
            group.append(line)
        if line.item.problems or line.listing.role == "hardware":
            uneven.add(key)
    for key in uneven:
        _share(groups[key], tables.get(key[1], ()))
    return list(groups.values())


def _share(group: list[Line], tables: Iterable[Line]) -> None:
    """Share a lift's values among its rows and with those of its line in a table of lifts."""
    joined = [line for line in group if line.listing.role == "hardware"]
    entries = [line for line in tables if line.sheet == group[0].sheet] or list(tables) if joined else []
    if joined and len(entries) != 1:
        for line in joined:
            _hold(line, _not_one(line, entries))
        entries = []
    drops = [line for line in group if line.item.position == "drop"]
    if drops:
        drops += [line for line in group if line.item.position == "pick point"]
    low = {id(line) for line in drops}
    main = [line for line in group if id(line) not in low]
    taken: Taken = {}
    for name in WEIGHTS:
        _settle(name, entries + group, taken)
    for name in GEOMETRY:
        _fill(name, entries + main, taken)
        _fill(name, drops, taken)
    for entry in entries:
        _extras(entry, group, taken)
    for line in group:
        line.notes += tuple(
            f"{', '.join(FIELD[name].plain for name in names)}: taken from row {row} of sheet '{sheet}'"
            for (sheet, row), names in taken.get(id(line), {}).items()
        )


def _not_one(line: Line, entries: list[Line]) -> str:
    where, name = line.cell_of("lift"), line.item.lift
    if not entries:
        return f"{where}: lift '{name}' is not in the table of lifts: add it there or correct its name"
    rows = " and ".join(entry.cell_of("lift") for entry in entries)
    return f"{where}: lift '{name}' is more than once in the table of lifts ({rows}): keep one of them"


def _hold(line: Line, sentence: str) -> None:
    """Hold a row whose lift is not known: under its load too, which every force is worked out from."""
    line.item.problems["lift"] = sentence
    if line.item.load is None:
        line.item.problems.setdefault("load", sentence)


def _settle(name: str, group: list[Line], taken: Taken) -> None:
    """One value of a lift for all rows of a group, or a sentence on each row why there is none."""
    giving = [line for line in group if getattr(line.item, name) is not None]
    if sentence := _disagreement(name, giving):
        for line in group:
            setattr(line.item, name, None)
            line.item.problems.setdefault(name, sentence)
    else:
        _fill(name, group, taken)


def _fill(name: str, group: list[Line], taken: Taken) -> None:
    """What the rows of a group leave blank, from those that say it; a sentence where these do not agree."""
    giving = [line for line in group if getattr(line.item, name) is not None]
    lacking = [line for line in group if getattr(line.item, name) is None]
    if not lacking:
        return
    wrong = next((line.item.problems[name] for line in lacking if name in line.item.problems), "")
    if sentence := wrong or _disagreement(name, giving):
        for line in lacking:
            line.item.problems.setdefault(name, sentence)
    elif giving:
        for line in lacking:
            _take(name, giving[0], line, taken)


def _take(name: str, source: Line, line: Line, taken: Taken) -> None:
    """Take one value from another row, and keep which."""
    item, other = line.item, source.item
    setattr(item, name, getattr(other, name))
    if name in other.units:
        item.units[name] = other.units[name]
    if name in other.by_gravity:
        item.by_gravity |= {name}
    line.cells.move(name, source.cell_of(name))
    taken.setdefault(id(line), {}).setdefault((source.sheet, source.row), []).append(name)


def _extras(entry: Line, group: list[Line], taken: Taken) -> None:
    """What else a table of lifts says, such as a temperature, for rows that do not say it themselves."""
    for name in entry.cells:
        if name in OWN or name in OF_THE_LIFT:
            continue
        for line in group:
            if getattr(line.item, name) is None and name not in line.item.problems:
                if name in entry.item.problems:
                    line.item.problems[name] = entry.item.problems[name]
                elif getattr(entry.item, name) is not None:
                    _take(name, entry, line, taken)


def _differ(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return not math.isclose(one, other, rel_tol=1e-9)
    return bool(one != other)


def _disagreement(name: str, giving: list[Line]) -> str:
    """The sentence on two rows that differ; empty where all agree."""
    if not giving:
        return ""
    first = giving[0]
    value = getattr(first.item, name)
    other = next((line for line in giving if _differ(getattr(line.item, name), value)), None)
    if other is None:
        return ""
    return (
        f"{first.cell_of(name)} and {other.cell_of(name)} differ on the {FIELD[name].plain} of lift "
        f"'{first.item.lift}' ({_shown(name, first)} and {_shown(name, other)}): settle which is right"
    )


def _shown(name: str, line: Line) -> str:
    value, unit, read = getattr(line.item, name), line.item.units.get(name), FIELD[name].read
    if read == "force":
        return show_force(value, unit or "kN")
    if read == "length":
        return show_length(value, unit or "mm")
    if value == ALL_LEGS:
        return "all"
    return f"{value:.6g}°" if read == "angle" else str(value)
