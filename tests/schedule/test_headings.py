"""Headings: every listed spelling names its one field, and nothing else is taken for one."""

from __future__ import annotations

from collections import defaultdict

import pytest

from rigxl.items import Item
from rigxl.opinion.figures import CHECKS
from rigxl.opinion.figures import FIGURES as WORKED_OUT
from rigxl.schedule import other_headings, spellings, worked_headings
from rigxl.schedule.fields import FIELD, FIELDS, FILLED
from rigxl.schedule.headings import field_named, hear, plain, propose

LISTED = [
    (spelling.strip(), name) for name, said in spellings.SPELLINGS.items() for spelling in said.split(",")
]
DOUBTFUL = [
    (spelling.strip(), fields)
    for said, fields in other_headings.MORE_THAN_ONE.items()
    for spelling in said.split(",")
]
NOT_FROM_CELLS = {
    "problems",
    "units",
    "by_gravity",
    "measurements",
    "arrivals",
    "hung_above",
    "gathered_below",
}
WORKED = [
    (spelling.strip(), name) for name, said in worked_headings.FIGURES.items() for spelling in said.split(",")
]
NOT_READ = [spelling.strip() for said in other_headings.NOT_READ.values() for spelling in said.split(",")]


def test_every_field_of_an_item_can_be_filled_and_has_spellings() -> None:
    """No field is out of a sheet's reach but those that say how it was read, and what other rows say."""
    assert set(Item.__dataclass_fields__) - NOT_FROM_CELLS == FILLED
    assert set(spellings.SPELLINGS) == set(FIELD)


def test_no_spelling_has_two_meanings() -> None:
    """Over all the lists together, a plain form stands for one thing."""
    meanings = defaultdict(set)
    for spelling, name in LISTED:
        meanings[plain(spelling)].add(name)
    for spelling, fields in DOUBTFUL:
        meanings[plain(spelling)].add(fields)
    for spelling in NOT_READ:
        meanings[plain(spelling)].add("not read")
    for spelling, name in WORKED:
        meanings[plain(spelling)].add(f"worked: {name}")
    assert {spelling: said for spelling, said in meanings.items() if len(said) > 1} == {}


def test_every_listed_spelling_names_its_field() -> None:
    """As listed, in capitals, and in brackets, dots and line breaks as people type them."""
    for spelling, name in LISTED:
        for typed in (spelling, spelling.upper(), spelling.title(), f" {spelling.replace(' ', chr(10))} :"):
            assert hear(typed).field == name, typed


def test_every_listed_spelling_keeps_its_field_with_a_unit() -> None:
    """A unit in brackets is split off and kept."""
    unit = {"force": "kN", "length": "mm", "angle": "deg", "temperature": "°C", "torque": "Nm"}
    for spelling, name in LISTED:
        if FIELD[name].read in unit:
            heard = hear(f"{spelling} ({unit[FIELD[name].read]})")
            assert (heard.field, heard.unit) == (name, unit[FIELD[name].read]), spelling


def test_our_own_titles_name_their_fields() -> None:
    assert [hear(field.title).field for field in FIELDS] == [field.name for field in FIELDS]


def test_doubtful_headings_are_never_taken() -> None:
    """They are proposed, with a sentence that says what they could be."""
    for spelling, fields in DOUBTFUL:
        heard = hear(spelling)
        assert (heard.field, heard.proposals) == (None, fields), spelling
        assert heard.why.startswith("could be ")


def test_headings_that_say_nothing_of_an_item() -> None:
    for spelling in NOT_READ:
        heard = hear(spelling)
        assert heard.field is None, spelling
        assert heard.why, spelling
        assert not heard.proposals, spelling


def test_headings_of_what_a_sheet_works_out_itself() -> None:
    """Each names one figure or verdict that we work out too, keeps its unit, and gives no field."""
    assert set(worked_headings.FIGURES) == set(WORKED_OUT) | set(CHECKS)
    for spelling, name in WORKED:
        for typed in (spelling, spelling.upper(), f"Worked: {spelling}"):
            heard = hear(typed)
            assert (heard.worked, heard.field) == (name, None), typed
            assert heard.why, typed
    assert hear("Leg tension (kN)").unit == "kN"
    assert hear("Worked: leg tension (kN)").unit == "kN"
    assert hear("Worked: inspection").worked == ""


@pytest.mark.parametrize(
    ("heading", "field", "unit"),
    [
        ("W.L.L. (t)", "rated_load", "t"),
        ("SWL\n[tonnes]", "rated_load", "tonnes"),
        ("Rated cap., kN", "rated_load", "kN"),
        ("WLL/SWL (kg)", "rated_load", "kg"),
        ("Wt. of load (kg)", "load", "kg"),
        ("No. of Leg(s)", "legs", None),
        ("# of legs", "legs", None),
        ("QTY", "quantity", None),
        ("No. off", "quantity", None),
        ("Dia. mm", "size", "mm"),
        ("Mfr.", "maker", None),
        ("Manufacturer's name", "maker", None),
        ("Cert. No.", "certificate", None),
        ("Certificate №", "certificate", None),
        ("Last insp.", "inspected", None),
        ("Date of last thorough examination", "inspected", None),
        ("Sling angle", "angle_deg", None),
        ("Angle (°)", "angle_deg", "°"),
        ("Angle to the horizontal (deg)", "angle_deg", "deg"),
        ("Sling angle (from vertical)", "angle_from_vertical", None),
        ("Angle (deg from vertical)", "angle_from_vertical", None),
        ("Incl. angle", "included_angle", None),
        ("Angle between legs", "included_angle", None),
        ("Side load angle (deg)", "loading_angle_deg", "deg"),
        ("Loading angle", "loading_angle_deg", None),
        ("Latch fitted? (Y/N)", "latch", None),
        ("Pick centers (ft)", "spread", "ft"),
        ("Pick centres (m)", "spread", "m"),
        ("D/d", "bend_ratio", None),
        ("Wear %", "wear", "%"),
        ("Pin (mm)", "pin", "mm"),
    ],
)
def test_as_people_type_them(heading: str, field: str, unit: str | None) -> None:
    """Spellings seen in schedules: common practice, no source."""
    heard = hear(heading)
    assert (heard.field, heard.unit) == (field, unit)


@pytest.mark.parametrize(
    "heading",
    [
        "Hook load (kN)",
        "Leg tension",
        "Next inspection due",
        "Utilization",
        "Worked: force (kN)",
    ],
)
def test_near_misses_that_would_be_dangerous_are_known_not_to_be_read(heading: str) -> None:
    heard = hear(heading)
    assert heard.field is None
    assert heard.why


def test_accents_do_not_count() -> None:
    assert plain("Température") == "temperature"


def test_what_looks_alike_is_proposed_and_not_taken() -> None:
    assert hear("Raetd load (t)").field is None
    assert propose("Raetd load (t)") == ("rated_load",)
    assert "inspected" in propose("Lst inspection date")
    assert propose("Torque of the moon") == ()


@pytest.mark.parametrize("text", ["rated_load", "Rated load", "rated load (t)", "WLL", "wll"])
def test_a_person_may_name_a_field_in_any_of_its_spellings(text: str) -> None:
    assert field_named(text) == "rated_load"


def test_a_person_may_not_name_a_doubtful_field() -> None:
    assert field_named("Weight") is None
