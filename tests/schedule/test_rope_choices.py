"""What a cell may say of a rope's service and of the side its clips sit on, as the rules know it."""

from __future__ import annotations

import pytest

from rigxl.hardware.clip_tables import FACTORS
from rigxl.schedule.cells import Reader
from rigxl.schedule.choices import SADDLES, SERVICES
from rigxl.schedule.fields import FIELD
from rigxl.units import Habits


def test_every_service_has_its_factor() -> None:
    """US Army FM 5-125, 1995, Table 1-3, p. 1-11, lists seven services."""
    assert set(SERVICES.values()) == set(FACTORS)
    assert set(SADDLES.values()) == {"live", "dead"}


@pytest.mark.parametrize(
    ("field", "cell", "value"),
    [
        ("service", "Guy line", "guys"),
        ("service", "air hoist", "small electric and air hoists"),
        ("service", "Bridle", "slings"),
        ("saddle", "on live end", "live"),
        ("saddle", "Dead end", "dead"),
    ],
)
def test_as_people_type_them(field: str, cell: str, value: str) -> None:
    assert Reader(FIELD[field], None, Habits()).read(cell).value == value


def test_anything_else_is_refused_with_the_choices() -> None:
    told = Reader(FIELD["service"], None, Habits()).read("towing").told
    assert told is not None
    assert "write one of track cables, guys" in told.problem
