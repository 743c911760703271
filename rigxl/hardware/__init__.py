"""The kinds of hardware, one file each: this folder is the list.

A module here that has a ``KIND`` is a kind. Every kind answers to the same few names:

- ``KIND``: its name; ``WORDS``: what a schedule may call it, singular, in lower case
- ``POSITION``: where it hangs when a schedule does not say, or None where that must be said
- ``TABLES``: its published sizes; ``RULES``: the rules it judges by
- ``BOUGHT``: what is asked for when it is bought, and what is looked at when it arrives
- ``tables(item)``: those of its tables that are for this item
- ``uses(item)``: the fields it would read for this item
- ``derates(item, criteria)``: what this use leaves of the rating, or None where there is no rating for it
- ``check(item, criteria)``: what its rules say of one line of a schedule
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Protocol, cast

from rigxl.criteria import Criteria
from rigxl.hardware.bought import Bought
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.tables import Table


class Kind(Protocol):
    """What every kind's module offers."""

    KIND: str
    WORDS: tuple[str, ...]
    POSITION: str | None
    TABLES: tuple[Table[Any], ...]
    RULES: tuple[Rule, ...]
    BOUGHT: Bought

    def tables(self, item: Item) -> tuple[Table[Any], ...]: ...

    def uses(self, item: Item) -> frozenset[str]: ...

    def derates(self, item: Item, criteria: Criteria) -> tuple[Derate, ...] | None: ...

    def check(self, item: Item, criteria: Criteria) -> Iterator[Finding]: ...


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by name, in the order of the folder."""
    modules = (
        importlib.import_module(f"{__name__}.{found.name}") for found in pkgutil.iter_modules(__path__)
    )
    return {module.KIND: cast(Kind, module) for module in modules if hasattr(module, "KIND")}


@cache
def kind_words() -> Mapping[str, str]:
    """Which kind each word or phrase names; the longest phrase that occurs is the one meant."""
    named = {word: name for name, module in kinds().items() for word in module.WORDS}
    return dict(sorted(named.items(), key=lambda pair: -len(pair[0])))
