"""What a piece is rated for: sizes and grades that no table lists, and slips of unit."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.checks.rating import rated
from rigxl.hardware import kinds
from rigxl.items import HOLD, Item
from rigxl.units import read_size

TONNE = 9806.65
CHAIN: dict[str, Any] = {"kind": "sling", "type": "chain"}
ROPE: dict[str, Any] = {"kind": "sling", "type": "wire rope"}
SHACKLE: dict[str, Any] = {"kind": "shackle", "type": "bow"}


def held(**fields: Any) -> dict[str, tuple[str, str]]:
    """Sentence and remedy of what holds the rating, by rule."""
    item = Item(**fields)
    _, findings = rated(item, kinds()[item.kind or ""])
    return {found.rule.name: (found.sentence, found.remedy) for found in findings if found.outcome == HOLD}


@pytest.mark.parametrize(
    ("fields", "size", "lies"),
    [
        (ROPE, "15/16 in", "it lies between 7/8 in and 1 in"),
        (ROPE, "1/8 in", "it is under 1/4 in, the smallest listed"),
        (ROPE, "16 in", "it is over 2 1/2 in, the largest listed, so perhaps 16 mm is meant"),
        (CHAIN | {"grade": "80"}, "9 mm", "it lies between 8 mm and 3/8 in"),
    ],
)
def test_a_size_that_is_not_listed_says_what_lies_around_it(
    fields: dict[str, Any], size: str, lies: str
) -> None:
    """Nothing is read between two printed sizes; the sentence says where the size lies."""
    sentence, remedy = held(size=read_size(size), **fields)["size-not-listed"]
    assert lies in sentence
    assert remedy == "fill in the rated load marked on the piece, or a listed size"


@pytest.mark.parametrize("grade", ["70", "X", "grade 120"])
def test_a_grade_that_is_not_listed(grade: str) -> None:
    sentence, remedy = held(size=read_size("10 mm"), grade=grade, **CHAIN)["grade-not-listed"]
    assert sentence == f"no rated load is given, and grade '{grade}' is not listed; 80, 100, 8 are"
    assert "correct the grade" in remedy


def test_a_rope_of_another_grade_has_no_listed_rating() -> None:
    assert "grade-not-listed" in held(size=read_size("1 in"), grade="EIPS", **ROPE)


@pytest.mark.parametrize(
    ("fields", "size", "is_held"),
    [
        (CHAIN, "16 in", True),
        (CHAIN, "16 mm", False),
        (ROPE, "16 in", True),
        (ROPE, "16 mm", False),
        (ROPE, "5/8 mm", True),
        (ROPE, "3 1/2 in", False),
        (SHACKLE, "25 in", True),
        (SHACKLE, "25 mm", False),
        (SHACKLE, "4 in", False),
        ({"kind": "eye bolt"}, "M24", False),
        ({"kind": "link"}, "25 in", False),
    ],
)
def test_a_size_in_the_wrong_unit_is_held_even_with_a_rating(
    fields: dict[str, Any], size: str, is_held: bool
) -> None:
    """An inch is 25.4 mm, so a slip of unit lands far outside all sizes that are made."""
    found = held(size=read_size(size), rated_load=2 * TONNE, **fields)
    assert ("size-far-off" in found) == is_held
    if is_held:
        assert "go from" in found["size-far-off"][0]
        assert "unit" in found["size-far-off"][1]
