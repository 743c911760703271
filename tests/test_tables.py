"""Every table of every kind: a full source, sizes that occur once, ratings that rise with size."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from rigxl.hardware import kind_words, kinds
from rigxl.items import Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Table
from rigxl.units import FORCE_UNITS, read_size

TABLES = [(name, table) for name, kind in kinds().items() for table in kind.TABLES]
NAMES = [f"{name}: {table.name}" for name, table in TABLES]


@pytest.fixture(params=TABLES, ids=NAMES)
def table(request: pytest.FixtureRequest) -> Table[Any]:
    found: Table[Any] = request.param[1]
    return found


def test_source_is_full(table: Table[Any]) -> None:
    """Title and place, and an edition unless the table says that it comes from memory."""
    source = table.source
    assert source.title
    assert source.place
    assert source.edition or FROM_MEMORY in source.note


def test_sizes_occur_once(table: Table[Any]) -> None:
    assert table.rows
    assert len(set(table.sizes)) == len(table.sizes)


def test_every_size_is_spelt_as_schedules_are_read(table: Table[Any]) -> None:
    """A size nobody can type would never be found."""
    for row in table.rows:
        name = table.size(row)
        assert read_size(name).name == name
        assert table.find(name) is row
        if table.also:
            column, unit = table.also
            assert table.find(read_size(f"{getattr(row, column)} {unit}").name) is row


def test_ratings_rise_with_size(table: Table[Any]) -> None:
    """No printed table at hand has a larger size with a lower rating."""
    if not table.rated:
        return
    assert table.rated_in in FORCE_UNITS
    ratings = [table.rating(row) for row in table.rows]
    assert ratings[0] > 0
    assert all(small < large for small, large in pairwise(ratings))


def test_sizes_rise(table: Table[Any]) -> None:
    sizes = [read_size(size) for size in table.sizes]
    lengths = [size.mm for size in sizes if size.mm is not None]
    assert lengths == sorted(lengths)


def test_smallest_is_enough_and_no_larger_than_needed(table: Table[Any]) -> None:
    if not table.rated:
        return
    for row in table.rows:
        assert table.smallest(table.rating(row)) is row
    assert table.smallest(table.rating(table.rows[-1]) * 1.01) is None


@pytest.mark.parametrize("name", list(kinds()))
def test_kind_is_complete(name: str) -> None:
    """Words in lower case that name this kind alone, rules by different names with a source each."""
    kind = kinds()[name]
    assert name in kind.WORDS
    assert len(set(kind.WORDS)) == len(kind.WORDS)
    assert all(word == " ".join(word.lower().split()) for word in kind.WORDS)
    assert all(kind_words()[word] == name for word in kind.WORDS)
    rules = {rule.name for rule in kind.RULES}
    assert len(rules) == len(kind.RULES)
    for rule in kind.RULES:
        assert rule.meaning.endswith(".")
        assert rule.source == COMMON_PRACTICE or rule.source.title
    assert set(kind.tables(Item(kind=name))) <= set(kind.TABLES)
    assert kind.uses(Item(kind=name)) <= set(Item.__dataclass_fields__)


def test_a_rule_of_several_kinds_is_the_same_rule() -> None:
    seen: dict[str, Rule] = {}
    for kind in kinds().values():
        for rule in kind.RULES:
            assert seen.setdefault(rule.name, rule) == rule
