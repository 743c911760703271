"""A step of a working, and what all steps are made with.

>>> in_units(9806.65, "t")
'1 t = 9.807 kN'
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rigxl.checks.judge import Judged
from rigxl.items import FAIL, HOLD, Item, Rule
from rigxl.tables import Source
from rigxl.units import show_force

NOT_KNOWN = "not known"


class Step(NamedTuple):
    """One line of a working.

    ``result`` is in N, degrees or a ratio by ``unit``, yes or no where there is none, and None where it is
    not known. ``reads`` are the fields of the item that it takes in, ``settings`` those of the criteria.
    """

    name: str
    formula: str
    numbers: str
    result: float | bool | None
    unit: str
    shown: str
    source: Source
    reads: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def load_unit(item: Item) -> str:
    """The unit the load is given in."""
    return item.units.get("load", "kN")


def rating_unit(item: Item) -> str:
    """The unit answers on capacity come in: the rating's own, else the load's."""
    return item.units.get("rated_load") or load_unit(item)


def in_units(newtons: float, *units: str) -> str:
    """A force in each of some units, and in kN."""
    return " = ".join(show_force(newtons, unit) for unit in dict.fromkeys((*units, "kN")))


def unknown(name: str, formula: str, source: Source, unit: str, why: Iterable[str]) -> Step:
    """A step whose result is not known, and why."""
    return Step(name, formula, "", None, unit, NOT_KNOWN, source, remarks=tuple(dict.fromkeys(why)))


def held_by(judged: Judged, rules: Iterable[Rule], fields: frozenset[str]) -> Iterator[str]:
    """What holds or fails an item by some rules, and what cannot be read in some fields."""
    names = {rule.name for rule in rules}
    for one in judged.findings:
        if one.outcome in (FAIL, HOLD) and one.rule.name in names:
            yield one.sentence
    yield from (said for field, said in judged.item.problems.items() if field in fields)


def agrees(ours: float, judged: float) -> None:
    """A working that does not come out at the number of the verdict must never be shown."""
    if not math.isclose(ours, judged, rel_tol=1e-12):
        raise RuntimeError(f"the working comes out at {ours!r} N and the verdict was made of {judged!r} N")
