"""Ends of wire rope slings: printed efficiencies, and where they count."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import InputError, NotRatedError
from rigxl.functions import call
from rigxl.hardware import sling
from rigxl.hardware.sling_ends import CALLED, TERMINALS
from rigxl.items import Item
from rigxl.units import read_size
from tests.hardware.devices import US

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]
ROPE: dict[str, Any] = {"type": "wire rope", "hitch": "vertical", "size": read_size("3/4 in")}


@pytest.mark.parametrize(
    ("ends", "size", "core", "percent"),
    [
        ("poured socket", "3/4 in", "fibre", 100),
        ("swaged socket", "1 1/2 in", "steel", 95),
        ("sleeve", "1 in", "steel", 95),
        ("sleeve", "3/8 in", "fibre", 92.5),
        ("hand splice", "1/2 in", "steel", 86),
        ("wedge socket", "3/4 in", "steel", 75),
        ("clips", "3/4 in", "steel", 80),
    ],
)
def test_published(ends: str, size: str, core: str, percent: float) -> None:
    """US Army TM 5-3810-305-10, Table 4; of a wedge socket's 75 to 95 the least."""
    assert call("TERMINATIONEFFICIENCY", ends, size, core) == pytest.approx(percent / 100)


@pytest.mark.parametrize(
    ("ends", "size", "core"),
    [
        ("swaged socket", "3/4 in", "fibre"),
        ("sleeve", "1 1/8 in", "steel"),
        ("hand splice", "5/8 in", "steel"),
        ("sleeve", "2 t", "steel"),
    ],
)
def test_no_figure_is_printed(ends: str, size: str, core: str) -> None:
    with pytest.raises(NotRatedError, match="no efficiency is printed"):
        call("TERMINATIONEFFICIENCY", ends, size, core)


def test_refused() -> None:
    with pytest.raises(InputError, match="must be one of poured socket"):
        call("TERMINATIONEFFICIENCY", "knot", "3/4 in", "steel")


@pytest.mark.parametrize(
    ("words", "size", "expected", "share"),
    [
        ("", "3/4 in", {}, 1.0),
        ("poured sockets", "3/4 in", {}, 1.0),
        ("flemish eyes, IWRC", "3/4 in", {}, 0.95),
        ("mechanical splice, fibre core", "3/4 in", {}, 0.925),
        # the core is not stated: the lower of the two printed
        ("mechanical splice", "3/4 in", {}, 0.925),
        ("mechanical splice, IWRC", "1 1/8 in", {"sling-ends": "HOLD"}, None),
        ("hand tucked", "1/2 in", {}, 0.86),
        ("hand tucked", "5/8 in", {"sling-ends": "HOLD"}, None),
        ("swaged socket", "3/4 in", {"sling-ends": "HOLD"}, None),
        ("swaged socket, IWRC", "3/4 in", {}, 0.95),
    ],
)
def test_ends_count_where_the_rating_is_from_a_table(
    said: Ask, left: Left, words: str, size: str, expected: dict[str, str], share: float | None
) -> None:
    rope = ROPE | {"size": read_size(size), "description": words, "grade": "IPS"}
    assert said("sling", **rope) == expected
    assert left("sling", **rope) == (None if share is None else pytest.approx(share))


def test_a_rated_load_has_the_ends_in_it(left: Left) -> None:
    assert left("sling", **ROPE, description="hand tucked", rated_load=50e3) == 1.0


def test_ends_in_their_own_column(left: Left) -> None:
    assert left("sling", **ROPE, ends="poured", grade="IPS") == 1.0
    assert left("sling", **ROPE, ends="ferrule", grade="IPS") == pytest.approx(0.925)


@given(
    st.sampled_from([phrase for phrases in CALLED.values() for phrase in phrases]),
    st.sampled_from(["IWRC", "fibre core", ""]),
    st.sampled_from(["3/8 in", "1/2 in", "1 in", "2 in"]),
)
def test_ends_never_add(phrase: str, core: str, size: str) -> None:
    item = Item(type="wire rope", hitch="vertical", size=read_size(size), description=f"{phrase}, {core}")
    derates = sling.derates(item, US)
    assert derates is None or math.prod(one.factor for one in derates) <= 1
    assert all(row.percent <= 100 for row in TERMINALS)
