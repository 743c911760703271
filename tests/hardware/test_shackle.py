"""Shackles: the printed ratings, the bands of side loading, and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.criteria import Criteria
from rigxl.errors import NotRatedError, OutOfRangeError
from rigxl.hardware import shackle
from rigxl.items import Item
from rigxl.units import read_size

# NIST SP 811 (2008): 2000 lb of 0.45359237 kg under 9.80665 m/s2.
SHORT_TON = 8896.443230521
TONNE = 9806.65

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]
INTERPOLATED = Criteria.ready("us").override({"derates between steps": "interpolated"}, "this test")


@pytest.mark.parametrize(
    ("size", "pin", "short_tons"),
    [
        ("1/4", "5/16", 0.5),
        ("3/8", "7/16", 1),
        ("5/8", "3/4", 3.25),
        ("3/4", "7/8", 4.75),
        ("1", "1 1/8", 8.5),
        ("2", "2 1/4", 35),
    ],
)
def test_published_regular_strength(size: str, pin: str, short_tons: float) -> None:
    """RR-C-271, Type IVA, Grade A, size, pin and rating; from memory, not read from the page."""
    row = shackle.GRADE_A.find(f"{size} in")
    assert row.pin_diameter == pin
    assert shackle.GRADE_A.rating(row) == pytest.approx(short_tons * SHORT_TON, rel=1e-12)


@pytest.mark.parametrize(("size", "short_tons"), [("1/2", 1.4), ("7/8", 4.3), ("1 1/4", 8.2), ("2", 21.2)])
def test_published_older_rule(size: str, short_tons: float) -> None:
    """29 CFR 1926.251 Table H-19, before 2011; from memory, not read from the page."""
    row = shackle.OLDER.find(f"{size} in")
    assert shackle.OLDER.rating(row) == pytest.approx(short_tons * SHORT_TON, rel=1e-12)


@pytest.mark.parametrize(
    ("swl", "printed"),
    [
        ("1", (20, 44, 13, 15, 11, 12)),
        ("8", (56, 123, 37, 42, 29, 33)),
        ("40", (125, 275, 83, 94, 65, 74)),
    ],
)
def test_published_dees(swl: str, printed: tuple[float, ...]) -> None:
    """Classification society code for lifting appliances, Table 8.5.1: SWL, a, b, d1 and d2 twice."""
    row = shackle.DEE.find(f"{swl} t")
    assert tuple(row[1:7]) == printed
    assert shackle.DEE.rating(row) == pytest.approx(float(swl) * TONNE)


@pytest.mark.parametrize(
    ("angle", "share"),
    [(0, 1.0), (5, 1.0), (5.01, 0.7), (6, 0.7), (45, 0.7), (45.01, 0.5), (46, 0.5), (90, 0.5)],
)
def test_bands(angle: float, share: float) -> None:
    """Bands of WAC 296-155-33905, Figure 17; percentages of ASME B30.26, from memory.

    A fraction of a degree over a band's edge takes the worse band.
    """
    assert shackle.derate(angle, "screw") == share


@pytest.mark.parametrize(("angle", "pin"), [(90.1, "bolt"), (180, "screw"), (5.1, "round"), (45, "round")])
def test_no_rating(angle: float, pin: str) -> None:
    """Over 90 degrees by WAC 296-155-33905; a round pin off its axis by B30.26, from memory."""
    with pytest.raises(NotRatedError, match="no rating"):
        shackle.derate(angle, pin)  # type: ignore[arg-type]


def test_negative_angle_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="angle"):
        shackle.derate(-1, "screw")


@given(st.floats(0, 90), st.floats(0, 90))
def test_derate_never_rises_with_the_angle(one: float, other: float) -> None:
    near, far = sorted((one, other))
    assert 0 < shackle.derate(far, "bolt") <= shackle.derate(near, "bolt") <= 1


@given(st.floats(0, 90), st.floats(0, 90))
def test_interpolated_derate_never_rises_either(one: float, other: float) -> None:
    near, far = sorted((one, other))
    shares = []
    for angle in (near, far):
        item = Item(type="bolt type bow", loading_angle_deg=angle, plane="in plane")
        derates = shackle.derates(item, INTERPOLATED)
        assert derates is not None
        shares.append(derates[0].factor if derates else 1.0)
    assert 0.5 <= shares[1] <= shares[0] <= 1


def test_interpolated_at_the_printed_angles(left: Left) -> None:
    """0° 100 %, 45° 70 %, 90° 50 %: ASME B30.26, from memory."""
    use = {"type": "screw pin bow", "plane": "in plane"}
    found = [left("shackle", INTERPOLATED, loading_angle_deg=angle, **use) for angle in (0, 45, 90)]
    assert found == pytest.approx([1.0, 0.7, 0.5])


@pytest.mark.parametrize(
    ("text", "pin", "shape"),
    [
        ("Screw pin anchor shackle", "screw", "bow"),
        ("bolt type bow", "bolt", "bow"),
        ("Round-pin chain shackle", "round", "dee"),
        ("D-shackle, safety pin", "bolt", "dee"),
        ("shackle", None, None),
        ("screw pin or bolt type", None, None),
        ("shackle for round sling", None, None),
        ("bow shackle on chain sling", None, "bow"),
    ],
)
def test_what_the_words_say(text: str, pin: str | None, shape: str | None) -> None:
    item = Item(description=text)
    assert (shackle.pin_type(item), shackle.shape(item)) == (pin, shape)


TOP = {"position": "top", "legs": 2, "type": "screw pin bow"}
OFF = {"loading_angle_deg": 30, "type": "screw pin bow", "plane": "in plane"}


@pytest.mark.parametrize(
    ("fields", "expected", "share"),
    [
        ({"position": "leg"}, {}, 1.0),
        (OFF, {}, 0.7),
        (OFF | {"loading_angle_deg": 91}, {"shackle-over-90": "FAIL"}, None),
        (OFF | {"plane": "across"}, {"shackle-across-bow": "FAIL"}, None),
        (OFF | {"plane": None}, {"shackle-across-bow": "HOLD"}, 0.7),
        (OFF | {"type": "round pin bow"}, {"round-pin-off-line": "FAIL"}, None),
        (OFF | {"type": "bow"}, {"pin-type": "HOLD"}, 0.7),
        (OFF | {"loading_angle_deg": -1}, {"shackle-angle": "HOLD"}, None),
        (TOP | {"angle_deg": 60}, {}, 1.0),
        (TOP | {"angle_deg": 30}, {}, 1.0),
        (TOP | {"angle_deg": 29.9}, {"bow-spread": "FAIL"}, None),
        (TOP, {"bow-spread": "HOLD"}, 1.0),
        (TOP | {"angle_deg": 60, "legs": None}, {"legs-at-top": "HOLD"}, 1.0),
        (TOP | {"angle_deg": 60, "legs": 1}, {}, 1.0),
        (TOP | {"angle_deg": 60, "type": "screw pin dee"}, {"dee-collects-legs": "FAIL"}, None),
        (TOP | {"angle_deg": 60, "type": "screw pin"}, {"bow-or-dee": "HOLD"}, 1.0),
        (TOP | {"angle_deg": 60, "type": "round pin bow"}, {"round-pin-off-line": "FAIL"}, None),
        ({"own_pin": False}, {"own-pin": "FAIL"}, 1.0),
        ({"pin": 25.4, "hole": 28.575}, {}, 1.0),
        ({"pin": 25.4, "hole": 28.6}, {"hole-fit": "FAIL"}, 1.0),
        ({"pin": 50.0, "hole": 55.0}, {}, 1.0),
        ({"pin": 25.4, "hole": 25.0}, {"hole-fit": "FAIL"}, 1.0),
        ({"bar": 40.0, "inside_width": 38.0}, {"bow-fit": "FAIL"}, 1.0),
        ({"sling_width": 90.0, "inside_width": 82.0}, {"bow-fit": "FAIL"}, 1.0),
    ],
)
def test_rules(
    said: Ask, left: Left, fields: dict[str, object], expected: dict[str, str], share: float | None
) -> None:
    """Legs in a bow up to 120° between them, dees and round pins in line: ASME B30.26, from memory."""
    assert said("shackle", **fields) == expected
    assert left("shackle", **fields) == share


def test_lengths_are_told_apart() -> None:
    """A pin a hair too thick is still told from its hole."""
    item = Item(pin=25.4001, hole=25.4, units={"pin": "in"})
    (finding,) = (one for one in shackle.check(item, Criteria.ready("us")) if one.rule.name == "hole-fit")
    assert "25.4001 mm" in finding.sentence
    assert "25.4 mm" in finding.sentence


@pytest.mark.parametrize(
    ("size", "grade", "kind", "tables"),
    [
        ("3/4 in", None, "bow", ("regular strength shackles", "shackles of the older rule")),
        ("3/4 in", "A", "bow", ("regular strength shackles",)),
    ],
)
def test_tables_for_an_item(size: str, grade: str | None, kind: str, tables: tuple[str, ...]) -> None:
    item = Item(size=read_size(size), grade=grade, type=kind)
    assert tuple(table.name for table in shackle.tables(item)) == tables
