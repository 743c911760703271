"""What every kind asks for when it is bought, and what is looked at when it arrives."""

from __future__ import annotations

import pytest

from rigxl.hardware import clip_rope, hook, kinds, shackle_ratings
from rigxl.hardware.bought import CERTIFICATE, ENGINEERS_MARK, MAKER, RATED_LOAD, SIZE, looks
from rigxl.hardware.proof_loads import PROOF_RULES
from rigxl.items import Item
from rigxl.schedule.fields import FIELD
from rigxl.units import read_size

DEVICES = {
    "lifting basket", "beam clamp", "plate clamp", "lifting beam", "lifting magnet", "pallet fork",
    "spreader bar", "vacuum pad",
}  # fmt: skip


@pytest.mark.parametrize("name", kinds())
def test_every_kind_says_what_it_is_bought_by(name: str) -> None:
    """Marks by a source that says how far it goes, boxes of its own, and fields that a schedule has."""
    kind = kinds()[name]
    bought = kind.BOUGHT
    for source in (bought.source, bought.european):  # none of the standards on marks was read
        assert "from memory" in source.cited
    assert bought.marks or name in ("hook",)
    assert {*bought.own, *bought.settles} <= FIELD.keys()
    assert bought.fit
    assert bought.gear is None or any(bought.gear in rule.bands for rule in PROOF_RULES.values())
    assert bought.engineered == (name in DEVICES | {"pad eye"})
    assert (ENGINEERS_MARK in bought.looks) == bought.engineered
    found = looks(bought, Item(kind=name, size=read_size("3/4 in")))
    names = [one.name for one in found]
    assert len(set(names)) == len(names) >= 5
    assert all(one == one.lower().strip() for one in names)  # as they are compared when a list is read back
    assert all(one.ask.endswith(".") for one in found)
    assert {MAKER, CERTIFICATE, SIZE} <= set(found)
    assert (RATED_LOAD in found) == bought.rated
    assert bought.looks, "every kind has something of its own to look at"


def test_no_size_no_caliper() -> None:
    """A size that is a rating, or none, cannot be measured."""
    for size in (None, read_size("2 t")):
        assert SIZE not in looks(kinds()["shackle"].BOUGHT, Item(size=size))


def test_printed_dimensions() -> None:
    """Typed again: the pin of a 3/4 in shackle is 7/8 in (from memory), a 5 t dee is 44 mm wide (class code),
    a hook of 1 1/4 in metal opens 1 11/16 in (FM 5-125, Table 3-2)."""
    assert shackle_ratings.printed(shackle_ratings.GRADE_A.find("3/4 in")) == {"pin": 22.225}
    assert shackle_ratings.printed(shackle_ratings.DEE.find("5 t")) == {"inside_width": 44}
    assert hook.printed(hook.HOOKS.find("1 1/4 in")) == {"throat": pytest.approx(42.8625)}


@pytest.mark.parametrize(("ends", "clips", "pieces"), [(1, 5, 5), (2, 5, 10), (4, 5, 20), (12, None, 12)])
def test_clips_are_counted_by_ends(ends: int, clips: int | None, pieces: int) -> None:
    """Two ends of five clips are ten clips; without a number for each end the quantity is of clips."""
    assert clip_rope.clips_on(Item(quantity=ends, clip_count=clips)) == pieces


@pytest.mark.parametrize(
    ("ends", "clips", "says"),
    [(10, 5, "whether 10 are ends or clips"), (None, 5, "ends there are"), (None, None, "how many")],
)  # fmt: skip
def test_clips_that_cannot_be_counted(ends: int | None, clips: int | None, says: str) -> None:
    """Ten and five may be ten clips or ten ends."""
    found = clip_rope.clips_on(Item(quantity=ends, clip_count=clips))
    assert isinstance(found, str)
    assert says in found
