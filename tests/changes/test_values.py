"""The same quantity in another unit is no change; a figure that moved is, however little."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigxl.changes.values import Unread, same, shown
from tests.changes.books import Row, between, shackle, told


def in_unit(heading: str, other: str, value: object) -> Row:
    """The shackle with one column under another heading."""
    return {
        other if name == heading else name: value if name == heading else was
        for name, was in shackle().items()
    }


@pytest.mark.parametrize(
    ("heading", "other", "value"),
    [
        ("Load (t)", "Load (kg)", 4000),
        ("Load (t)", "Load (lb)", 8818.490487395103),  # NIST SP 811: 1 lb = 0.45359237 kg, exact
        ("Load (t)", "Load (kN)", 39.2266),  # 9.80665 m/s², exact
        ("Load (t)", "Weight of load", "4,000 kg"),
        ("Sling angle (deg)", "Angle from vertical (deg)", 30),
        ("Sling angle (deg)", "Included angle (deg)", 60),
        ("Size", "Nominal size", '0.75"'),
        ("Type", "Pattern", "Screw  Pin BOW"),
        ("Last inspection", "Date of last inspection", "4 May 2026"),
        ("Rating marked", "WLL legible", "Y"),
    ],
)
def test_another_way_of_saying_the_same_is_no_change(
    tmp_path: Path, heading: str, other: str, value: object
) -> None:
    """Unit, heading, case and spacing."""
    found = between(tmp_path, [shackle()], [in_unit(heading, other, value)])
    assert told(found) == []
    assert found.nothing


def test_rounding_in_another_unit_is_no_change_and_is_said(tmp_path: Path) -> None:
    """4 t is 8818.49 lb: 8818 is that, rounded to the pound; 8817 and 8800 are other loads."""
    found = between(tmp_path, [shackle()], [in_unit("Load (t)", "Load (lb)", 8818)])
    assert found.nothing
    assert any("rounded, taken as the same" in said and "8818 lb" in said for said in found.said)
    for pounds in (8817, 8800):
        found = between(tmp_path, [shackle()], [in_unit("Load (t)", "Load (lb)", pounds)])
        assert [one[1:3] for one in told(found)] == [("load", "4 t")]


def test_a_coarse_figure_in_another_unit_is_a_change(tmp_path: Path) -> None:
    """39 kN is 4 t to the kN, and 0.6 % less: more than rounding may take off."""
    found = between(tmp_path, [shackle()], [in_unit("Load (t)", "Load (kN)", 39)])
    assert [(one[1], one[2]) for one in told(found)] == [("load", "4 t")]


def test_both_values_are_in_the_units_of_their_sheets(tmp_path: Path) -> None:
    """And the new one in the old unit beside it, to be compared."""
    found = between(tmp_path, [shackle()], [in_unit("Load (t)", "Load (lb)", 10000)])
    assert told(found) == [("S-101", "load", "4 t", "10 000 lb (4.5359237 t)")]


def test_in_one_unit_the_least_difference_is_a_change(tmp_path: Path) -> None:
    """A thousandth is not rounded away."""
    found = between(tmp_path, [shackle(load=4.0)], [shackle(load=4.001)])
    assert told(found) == [("S-101", "load", "4 t", "4.001 t")]


def test_what_cannot_be_read_is_compared_as_it_stands(tmp_path: Path) -> None:
    """The same words are no change; other words are, and neither is taken for a value."""
    assert between(tmp_path, [shackle(load="12 ton")], [shackle(load=" 12  TON")]).nothing
    found = between(tmp_path, [shackle(load="12 ton")], [shackle(load="13 ton")])
    assert told(found) == [("S-101", "load", "'12 ton' (cannot be used)", "'13 ton' (cannot be used)")]


def test_a_formula_that_was_never_calculated_is_not_its_placeholder(tmp_path: Path) -> None:
    """No result was stored: it is compared as the formula it is."""
    assert between(tmp_path, [shackle(load="=2+2")], [shackle(load="=2+2")]).nothing
    found = between(tmp_path, [shackle(load=4)], [shackle(load="=2+2")])
    assert told(found) == [("S-101", "load", "4 t", "'=2+2, never calculated' (cannot be used)")]


def test_blanks_are_dashes(tmp_path: Path) -> None:
    """Filled in and emptied."""
    found = between(tmp_path, [shackle(maker=None)], [shackle(size=None)])
    assert told(found) == [("S-101", "size", "3/4 in", "–"), ("S-101", "maker", "–", "Quernby Forge")]


def test_shown() -> None:
    """Each kind of value as people write it."""
    assert shown("spread", 1676.4, "ft-in") == "5'-6\""
    assert shown("temperature", 60.0, "degF") == "140 °F"
    assert shown("carrying", -1) == "all"
    assert shown("latch", False) == "no"
    assert shown("torque", 90_000.0, "N·m") == "90 N·m"
    assert shown("load", Unread(("a", "b"))) == "'a' and 'b' (cannot be used)"
    assert same("tag", "A / B", "b / a")
    assert not same("type", "A / B", "b / a")
