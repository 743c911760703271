"""Wire rope clips: three printed pages, the strictest by default, and never on a sling."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.checks.judge import judge
from rigxl.criteria import Criteria
from rigxl.errors import OutOfRangeError, UnknownSizeError, UnknownUnitError
from rigxl.hardware import clip_rope, clip_tables, wire_rope_clip
from rigxl.hardware.clip_functions import clip_count, clip_spacing, clip_torque, clip_turnback
from rigxl.items import FAIL, HOLD, PASS, Item
from rigxl.units import read_length, read_size, read_torque

# NIST SP 811 (2008): 2000 lb of 0.45359237 kg under 9.80665 m/s2.
SHORT_TON = 8896.443230521
US = Criteria.ready("us").override({"judged on": "2026-11-20"}, "this test")

Ask = Callable[..., dict[str, str]]
Left = Callable[..., float | None]


@pytest.mark.parametrize(
    ("rope", "forged", "other", "inches", "centimetres"),
    [("1/2", 3, 4, 3, 7.6), ("7/8", 4, 5, 5.25, 13.3), ("1 1/2", 7, 8, 9, 22.9)],
)
def test_published_regulation(rope: str, forged: int, other: int, inches: float, centimetres: float) -> None:
    """29 CFR 1918 Appendix II, Table 1: clips of drop forged steel, of other material, spacing."""
    row = clip_tables.REGULATION.find(f"{rope} in")
    assert row[1:] == (forged, other, inches, centimetres)
    assert clip_count(f"{rope} in", "other material") == other
    assert clip_count(f"{rope} in", page="29 cfr 1918") == forged
    assert clip_spacing(f"{rope} in") == inches
    # the page rounds to a millimetre
    assert clip_spacing(f"{rope} in", "cm") == pytest.approx(centimetres, abs=0.051)


@pytest.mark.parametrize(
    ("rope", "clip", "clips", "inches", "millimetres", "torque"),
    [
        ("5/16", "3/8", 3, 2, 50, 25),
        ("3/4", "3/4", 4, 4.5, 114, 100),
        ("7/8", "1", 5, 5.25, 133, 165),
        ("1 3/4", "1 3/4", 6, 10.5, 267, 560),
    ],
)
def test_published_manual(
    rope: str, clip: str, clips: int, inches: float, millimetres: int, torque: int
) -> None:
    """US Army FM 5-125, 1995, Table 2-3, p. 2-36: clip size, number, spacing, torque in ft lb."""
    row = clip_tables.FIELD_MANUAL.find(f"{rope} in")
    assert row[1:] == (clip, clips, inches, millimetres, torque)
    assert clip_count(f"{rope} in", page="fm 5-125") == clips
    assert clip_spacing(f"{rope} in") == inches
    assert clip_torque(f"{rope} in", page="fm 5-125") == torque


@pytest.mark.parametrize(
    ("rope", "clips", "turnback", "torque"),
    [("1/2", 3, 11.5, 65), ("1", 5, 26, 225), ("1 3/8", 7, 44, 360), ("2", 8, 71, 750)],
)
def test_published_california(rope: str, clips: int, turnback: float, torque: int) -> None:
    """California Code of Regulations, Title 8, section 8497, Table 1: clips, turnback in inches, torque."""
    assert clip_tables.TUNNEL.find(f"{rope} in")[1:] == (clips, turnback, torque)
    assert clip_count(f"{rope} in", page="california") == clips
    assert clip_turnback(f"{rope} in", clips) == turnback
    assert clip_torque(f"{rope} in", page="california") == torque


def test_the_greater_torque_is_the_default() -> None:
    """1/2 in 40 and 65, 1 3/8 in 375 and 360 ft lb: FM 5-125, Table 2-3, and California section 8497."""
    assert [clip_torque(rope) for rope in ("1/2 in", "1 3/8 in")] == [65, 375]


@pytest.mark.parametrize(
    ("rope", "iron", "traction", "plow", "improved", "extra"),
    [
        ("1/4", 1.4, 2.6, 2.39, 2.74, None),
        ("7/8", 10.6, 20.2, 28, 32.2, 39.8),
        ("1", 13.7, 26, 36.4, 4.18, 51.7),
        ("2", None, None, 139, 160, 198),
    ],
)
def test_published_rope(rope: str, iron: Any, traction: Any, plow: Any, improved: Any, extra: Any) -> None:
    """US Army FM 5-125, 1995, Table 1-2, p. 1-10: strength of 6x19 rope in short tons, as printed."""
    assert clip_tables.ROPES.find(f"{rope} in")[2:] == (iron, traction, plow, improved, extra)


def test_published_factors() -> None:
    """US Army FM 5-125, 1995, Table 1-3, p. 1-11."""
    assert [clip_tables.FACTORS[name] for name in ("track cables", "guys", "derricks", "slings")] == [
        3.2,
        3.5,
        6,
        8,
    ]


@pytest.mark.parametrize(
    ("rope", "clips"), [("1/2 in", 4), ("1 1/4 in", 6), ("1 1/2 in", 7), ("1 3/4 in", 7)]
)
def test_the_strictest_page_is_the_default(rope: str, clips: int) -> None:
    """Where the three pages differ: 1/2 in 3, 4, 3; 1 1/4 in 6, 5; 1 1/2 in 7, 7; 1 3/4 in 6, 7."""
    assert clip_count(rope) == clips


def test_the_rule_of_thumb_is_not_enough() -> None:
    """US Navy NAVEDTRA 14026, p. 1-8: 3D + 1 gives 4 clips for 1 in rope; the regulation asks for more."""
    assert clip_count("1 in") > 3 * 1 + 1


def test_more_clips_need_more_turnback() -> None:
    """California section 8497, note to Table 1: the turnback grows in proportion."""
    assert clip_turnback("3/4 in", 6) == pytest.approx(18 * 6 / 4)
    # as many clips as the strictest page asks: 4 for 1/2 in, where this page asks 3
    assert clip_turnback("1/2 in") == pytest.approx(11.5 * 4 / 3)
    with pytest.raises(OutOfRangeError, match="needs 4"):
        clip_turnback("3/4 in", 3)


@pytest.mark.parametrize(
    ("rope", "says"),
    [
        ("16 in", "perhaps 16 mm is meant"),
        ("16 mm", "between 5/8 in and 3/4 in"),
        ("9/16 in", "between 1/2 in and 5/8 in"),
        ("2 1/4 in", "over 2 in"),
        ("5 t", "not the diameter"),
    ],
)
def test_a_rope_that_no_page_lists_is_refused(rope: str, says: str) -> None:
    with pytest.raises(UnknownSizeError, match=says):
        clip_count(rope)


def test_a_page_that_does_not_list_the_rope_is_refused() -> None:
    with pytest.raises(UnknownSizeError, match="between 1/2 in and 3/4 in"):
        clip_count("5/8 in", page="fm 5-125")
    with pytest.raises(UnknownSizeError, match="turnback is listed for a rope of 7/8 in"):
        clip_turnback("7/8 in")
    with pytest.raises(UnknownSizeError, match="torque"):
        clip_torque("1/4 in")
    with pytest.raises(UnknownSizeError, match="perhaps 12 mm is meant"):
        clip_spacing("12 in")
    with pytest.raises(UnknownUnitError, match="not a unit for this"):
        clip_spacing("1/2 in", "kN")


@given(st.floats(1, 50.8))
def test_spacing_is_never_under_six_diameters(mm: float) -> None:
    """29 CFR 1918 Appendix II, Table 1: spacing is six rope diameters."""
    least = clip_tables.spacing(mm)
    assert least is not None
    assert least.value >= 6 * mm


@given(st.sampled_from(clip_tables.TUNNEL.sizes), st.integers(1, 12), st.integers(1, 12))
def test_turnback_never_falls_with_more_clips(rope: str, one: int, other: int) -> None:
    mm = read_size(rope).mm or 0
    few, many = (clip_tables.turnback(mm, clips) for clips in sorted((one, other)))
    assert few is not None
    assert many is not None
    assert few.value <= many.value


@pytest.mark.parametrize(
    ("rope", "column"),
    [
        ("6x19 IPS", "improved_plow_short_ton"),
        ("6 x 19 improved plough steel, IWRC", "improved_plow_short_ton"),
        ("6x19 extra improved plow steel", "extra_improved_short_ton"),
        ("6x19 XIP", "extra_improved_short_ton"),
        ("6x19 plow steel", "plow_short_ton"),
        ("6x19 iron", "iron_short_ton"),
        ("6x19 double extra improved plow steel", None),
        ("6x19 EEIPS", None),
        ("6x37 IPS", None),
        ("IPS", None),
        ("6x19", None),
        (None, None),
    ],
)
def test_grade_of_rope(rope: str | None, column: str | None) -> None:
    assert clip_rope.grade_of_rope(Item(rope=rope)) == column


GOOD: dict[str, Any] = {
    "position": "top",
    "type": "drop forged U-bolt",
    "size": read_size("1/2 in"),
    "rope": "6x19 improved plow steel",
    "service": "guys",
    "clip_count": 4,
    "clip_spacing": read_length("3 in").value,
    "turnback": read_length("15.5 in").value,
    "saddle": "live",
    "torque": read_torque("65 ft lb").value,
}


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, {}),
        ({"clip_count": 3}, {"clip-count": FAIL}),
        ({"clip_count": None}, {"clip-count": HOLD}),
        ({"clip_spacing": 76.1}, {"clip-spacing": FAIL}),
        ({"clip_spacing": None}, {"clip-spacing": HOLD}),
        ({"turnback": 389.4}, {"clip-turnback": FAIL}),
        ({"clip_count": 5}, {"clip-turnback": FAIL}),
        ({"turnback": None}, {"clip-turnback": HOLD}),
        ({"saddle": "dead"}, {"clip-saddle": FAIL}),
        ({"saddle": None}, {"clip-saddle": HOLD}),
        ({"torque": read_torque("64 ft lb").value}, {"clip-torque": FAIL}),
        ({"torque": None}, {"clip-torque": HOLD}),
        ({"stated_torque": read_torque("70 ft lb").value}, {"torque": FAIL}),
        ({"type": "malleable"}, {}),
        ({"type": "malleable", "clip_count": 3}, {"clip-count": FAIL}),
        ({"type": "U-bolt"}, {"clip-pattern": HOLD}),
        ({"type": "double saddle"}, {"clip-pattern": HOLD}),
        ({"type": "drop forged, end to end"}, {"clip-count": FAIL}),
        ({"service": "slings"}, {"clips-not-for-slings": FAIL}),
        ({"position": "leg"}, {"clips-not-for-slings": FAIL}),
        ({"position": "pick point"}, {"clips-not-for-slings": FAIL}),
        ({"type": "drop forged clips of a bridle"}, {"clips-not-for-slings": FAIL}),
        ({"service": None}, {"clip-service": HOLD}),
        ({"service": "towing"}, {"clip-service": HOLD}),
        ({"design_factor": 3.4}, {"clip-rope-factor": FAIL}),
        ({"design_factor": 5}, {}),
        ({"rope": None}, {"clip-rope": HOLD}),
        ({"rope": "8x19 seale"}, {"clip-rope": HOLD}),
        ({"rope": None, "breaking_strength": 9e4}, {}),
        ({"rope": None, "rated_load": 2e4}, {}),
        ({"rope_diameter": read_length("7/16 in").value, "rated_load": 2e4}, {}),
        ({"rope_diameter": read_length("5/8 in").value, "rated_load": 2e4, "turnback": 500.0,
          "clip_spacing": 96.0, "torque": read_torque("95 ft lb").value}, {"clip-size": FAIL}),
        ({"size": None, "rope": None}, {"clip-size": HOLD}),
    ],
)  # fmt: skip
def test_rules(said: Ask, fields: dict[str, Any], expected: dict[str, str]) -> None:
    """Not on slings: 29 CFR 1926.251(c)(4)(iii); saddle on the live rope: common practice, no source."""
    assert said("wire rope clip", **(GOOD | fields)) == expected


def test_a_rope_between_two_sizes_is_held(said: Ask) -> None:
    """A turnback long enough for 3/4 in is enough; number of clips and torque are nobody's to guess."""
    fields = GOOD | {
        "size": read_size("16 mm"),
        "breaking_strength": 1e5,
        "clip_spacing": 96.0,
        "turnback": 460.0,
    }
    assert said("wire rope clip", **fields) == {"clip-count": HOLD, "clip-torque": HOLD}
    assert said("wire rope clip", **(fields | {"turnback": 450.0}))["clip-turnback"] == HOLD


def test_a_diameter_in_the_wrong_unit_is_held() -> None:
    item = Item(**(GOOD | {"size": read_size("16 in")}))
    held = [one.sentence for one in wire_rope_clip.check(item, US) if one.outcome == HOLD]
    assert any("perhaps 16 mm is meant" in sentence for sentence in held)


@pytest.mark.parametrize(("rules", "clips"), [("fm 5-125", 4), ("california", 3), ("29 cfr 1918", 3)])
def test_another_page_can_be_chosen(said: Ask, rules: str, clips: int) -> None:
    criteria = US.override({"clip rules": rules}, "this test")
    assert said("wire rope clip", criteria, **(GOOD | {"clip_count": clips})) == {}
    assert said("wire rope clip", criteria, **(GOOD | {"clip_count": clips - 1})) == {"clip-count": FAIL}


def test_the_pages_that_differ_are_shown() -> None:
    (counted,) = (one for one in wire_rope_clip.check(Item(**GOOD), US) if one.rule.name == "clip-count")
    assert "29 cfr 1918: 3, fm 5-125: 4, california: 3" in counted.sentence


@pytest.mark.parametrize(
    ("fields", "share"),
    [({}, 0.8), ({"service": "slings"}, None), ({"position": "drop"}, None)],
)
def test_clips_hold_four_fifths(left: Left, fields: dict[str, Any], share: float | None) -> None:
    """FEMA US&R Module 4 and US Army TM 5-3810-305-10, Table 4: 80 %."""
    assert left("wire rope clip", **(GOOD | fields)) == share


def test_ninety_per_cent_can_be_chosen(left: Left) -> None:
    """US Army FM 5-125, 1995, p. 2-37: 90 %."""
    criteria = US.override({"clip efficiency": "90 %"}, "this test")
    assert left("wire rope clip", criteria, **GOOD) == 0.9


PAPERS: dict[str, Any] = {
    "kind": "wire rope clip", "load": 1e4, "weight_basis": "weighed", "rigging": 0.0, "legs": 1,
    "marked": "yes", "maker": "Orlin Rope Works",
    "inspected": US.judged_on, "condition": "fit for use",
}  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "rated"),
    [
        # FM 5-125: 10.7 short tons of 1/2 in improved plow steel, a factor of 3.5 for guys
        ({}, 10.7 * SHORT_TON / 3.5),
        ({"service": "derricks"}, 10.7 * SHORT_TON / 6),
        ({"design_factor": 5}, 10.7 * SHORT_TON / 5),
        ({"breaking_strength": 90_000.0}, 90_000 / 3.5),
        ({"rated_load": 25_000.0}, 25_000),
        ({"rope": "6x19 IPS", "size": read_size("1 in")}, None),
        ({"design_factor": 0.0}, None),
    ],
)
def test_a_terminated_rope_has_a_rating(fields: dict[str, Any], rated: float | None) -> None:
    judged = judge(Item(**(GOOD | PAPERS | fields)), US)
    assert judged.rated == (None if rated is None else pytest.approx(rated))
    assert judged.derate == 0.8


def test_a_good_eye_passes_and_a_misprint_does_not() -> None:
    """FM 5-125 prints 4.18 short tons for 1 in improved plow steel, among 36.4 and 51.7: held, not used."""
    assert judge(Item(**(GOOD | PAPERS)), US).verdict == PASS
    fields = {
        "size": read_size("1 in"), "clip_count": 5, "clip_spacing": 152.4, "turnback": 661.0,
        "torque": read_torque("225 ft lb").value,
    }  # fmt: skip
    judged = judge(Item(**(GOOD | PAPERS | fields)), US)
    assert judged.verdict == HOLD
    assert any("can be relied on" in one.sentence for one in judged.findings if one.outcome == HOLD)


def test_a_clip_on_a_smaller_rope_gets_the_rating_of_the_rope() -> None:
    """FM 5-125, Table 2-3: 1/2 in clips on 7/16 in rope, whose strength the copy at hand does not list."""
    item = Item(**(GOOD | {"rope_diameter": read_length("7/16 in").value}))
    assert wire_rope_clip.tables(item) == ()


def test_an_unreadable_cell_is_left_to_its_own_hold(said: Ask) -> None:
    names = ("service", "rope", "saddle", "torque", "clip_count", "clip_spacing", "turnback")
    blank = dict.fromkeys(names)
    problems = {name: f"{name} cannot be read" for name in blank}
    assert said("wire rope clip", problems=problems, **(GOOD | blank)) == {}
    assert problems.keys() <= wire_rope_clip.uses(Item())
