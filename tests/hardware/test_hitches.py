"""Hitches, against printed tables of sling capacity."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import InputError, MissingInputError, NotRatedError, OutOfRangeError
from rigxl.functions import call
from rigxl.hardware import hitches
from rigxl.hardware.hitches import sling_capacity

MATERIALS = st.sampled_from(["wire rope", "chain", "web", "round"])
HITCHES = st.sampled_from(["vertical", "choker", "basket"])


@pytest.mark.parametrize(
    ("size", "single", "double", "quadruple"),
    [
        ("1/4", 1096, (1899, 1552, 1096), (3798, 3105, 2192)),
        ("1", 16800, (29100, 23750, 16800), (58200, 47500, 33600)),
        ("2 1/2", 101800, (176250, 144000, 101800), (352500, 288000, 203600)),
    ],
)
def test_wire_rope_slings(
    size: str, single: float, double: tuple[float, ...], quadruple: tuple[float, ...]
) -> None:
    """US Army FM 5-125, 1995, table 3-5, p. 3-12, first, middle and last row in pounds.

    All four legs are counted; the page rounds to half a percent.
    """
    for angle, two, four in zip((60, 45, 30), double, quadruple, strict=True):
        assert sling_capacity(single, "vertical", 2, angle) == pytest.approx(two, rel=0.005), size
        assert sling_capacity(single, "vertical", 4, angle, 4) == pytest.approx(four, rel=0.005), size


@pytest.mark.parametrize(
    ("table", "single", "double", "triple"),
    [
        ("1, 7/32", 2100, (3600, 3000, 2100), (5500, 4400, 3200)),
        ("1, 5/8", 18100, (31300, 25600, 18100), (47000, 38400, 27100)),
        ("1, 1 1/4", 72300, (125200, 102200, 72300), (187800, 153400, 108400)),
        ("2, 7/32", 2700, (4700, 3800, 2700), (7000, 5700, 4000)),
        ("2, 3/8", 8800, (15200, 12400, 8800), (22900, 18700, 13200)),
    ],
)
def test_alloy_chain_slings(
    table: str, single: float, double: tuple[float, ...], triple: tuple[float, ...]
) -> None:
    """OSHA Guidance on Safe Sling Use, tables 1 and 2, in pounds; triple and quadruple both count three legs.

    The page rounds to 100 lb, single ratings too, so a product may be a few pounds more than 50 off.
    """
    for angle, two, three in zip((60, 45, 30), double, triple, strict=True):
        chain = {"angle": angle, "material": "chain"}
        assert sling_capacity(single, "vertical", 2, **chain) == pytest.approx(two, abs=60), table
        assert sling_capacity(single, "vertical", 3, carrying=3, **chain) == pytest.approx(three, abs=60)
        assert sling_capacity(single, "vertical", 4, carrying=3, **chain) == pytest.approx(three, abs=60)


@pytest.mark.parametrize(
    ("size", "single", "choker", "double"),
    [
        ("7/32", 2100, 1700, (2900, 2400, 1700)),
        ("5/16", 4500, 3600, (6200, 5100, 3600)),
        ("3/8", 7100, 5700, (9800, 8000, 5700)),
    ],
)
def test_alloy_chain_chokers(size: str, single: float, choker: float, double: tuple[float, ...]) -> None:
    """OSHA Guidance on Safe Sling Use, table 3 by the vertical ratings of table 1, in pounds, to 100 lb."""
    assert sling_capacity(single, "choker", 1, 90, material="chain") == pytest.approx(choker, abs=50), size
    for angle, two in zip((60, 45, 30), double, strict=True):
        assert sling_capacity(single, "choker", 2, angle, material="chain") == pytest.approx(two, abs=50)


def test_w34_wire_rope_choker() -> None:
    """BC Association for Crane Safety, rigging practice quiz: 16,627 lb choked is 12,470 lb."""
    assert sling_capacity(16627, "choker", 1, 90) == pytest.approx(12470, rel=0.0001)


def test_w35_vertical_pair() -> None:
    """BC Association for Crane Safety, rigging practice quiz: twice 6,220 lb; its 12,400 is a slip."""
    assert sling_capacity(6220, "vertical", 2, 90) == 12440


def test_baskets() -> None:
    """NAVEDTRA 14080, p. 3-24: single basket, vertical legs, V · 2; double V · 4 · H / L, here 6 / 8."""
    assert sling_capacity(10, "basket", 1, 90) == 20
    slanted = hitches.hitch_factor("wire rope", "basket", None, 48.59037789)
    assert 2 * 10 * slanted == pytest.approx(10 * 4 * 6 / 8)


def test_three_and_four_legs_count_as_two() -> None:
    """NAVEDTRA 14080, p. 3-24: the formula of two legs, V · H / L · 2, also for three and four."""
    two = sling_capacity(10, "vertical", 2, 45)
    assert [sling_capacity(10, "vertical", n, 45) for n in (3, 4)] == [two, two]


@pytest.mark.parametrize(
    ("angle", "factor"),
    [
        (180, 1.00),
        (120, 1.00),
        (119.9, 0.87),
        (90, 0.87),
        (89.5, 0.74),
        (60, 0.74),
        (59.5, 0.62),
        (30, 0.62),
        (29.5, 0.49),
        (0, 0.49),
    ],
)
def test_angle_of_choke(angle: float, factor: float) -> None:
    """ASME B30.9, wire rope, angle of choke: from memory, not read from the page.

    A fraction of a degree between two bands takes the worse.
    """
    assert hitches.choke_factor(angle) == factor


def test_a_band_does_not_flip_by_rounding() -> None:
    assert hitches.choke_factor(120 - 1e-9) == 1.00


@given(st.floats(0, 180), st.floats(0, 180))
def test_a_tighter_choke_never_carries_more(one: float, other: float) -> None:
    tight, open_ = sorted((one, other))
    assert hitches.choke_factor(tight) <= hitches.choke_factor(open_)


@given(MATERIALS, HITCHES, st.integers(1, 4), st.floats(30, 90), st.floats(30, 90))
def test_a_flatter_sling_never_carries_more(
    material: hitches.Material, hitch: hitches.Hitch, number: int, one: float, other: float
) -> None:
    flat, steep = sorted((one, other))
    flatter = sling_capacity(10, hitch, number, flat, material=material)
    assert flatter <= sling_capacity(10, hitch, number, steep, material=material)


@given(MATERIALS, HITCHES, st.integers(1, 3), st.floats(30, 90))
def test_one_leg_more_never_carries_less(
    material: hitches.Material, hitch: hitches.Hitch, number: int, angle: float
) -> None:
    fewer = sling_capacity(10, hitch, number, angle, material=material)
    assert fewer <= sling_capacity(10, hitch, number + 1, angle, material=material)


def test_only_a_choker_looks_at_the_angle_of_choke() -> None:
    assert sling_capacity(10, "basket", 1, 90, choke_angle=45) == 20


@pytest.mark.parametrize("material", ["chain", "web", "round"])
def test_no_table_of_choke_for_others_than_wire_rope(material: hitches.Material) -> None:
    assert sling_capacity(10, "choker", 1, 90, choke_angle=120, material=material) == 8
    with pytest.raises(NotRatedError, match="maker's own"):
        sling_capacity(10, "choker", 1, 90, choke_angle=119, material=material)


def test_nothing_is_rated_below_thirty_degrees() -> None:
    """ASME B30.9, from memory."""
    assert sling_capacity(10, "vertical", 2, 30) == 10
    with pytest.raises(NotRatedError, match="30 degrees is the least"):
        sling_capacity(10, "vertical", 2, 29.9)


def test_refused() -> None:
    with pytest.raises(OutOfRangeError, match="rating is 0"):
        sling_capacity(0, "vertical", 2, 60)
    with pytest.raises(OutOfRangeError, match="sling angle is 95"):
        sling_capacity(10, "vertical", 2, 95)
    with pytest.raises(OutOfRangeError, match="0 to 180"):
        sling_capacity(10, "choker", 1, 90, choke_angle=181)
    with pytest.raises(MissingInputError, match="carrying"):
        sling_capacity(10, "vertical", 5, 60)
    with pytest.raises(InputError, match="vertical, choker or basket"):
        hitches.hitch_factor("chain", "bridle")
    with pytest.raises(InputError, match="rope, chain, web, round"):
        hitches.hitch_factor("hemp", "vertical")


@given(MATERIALS, HITCHES, st.floats(30, 90), st.floats(120, 180))
def test_a_hitch_never_adds_but_for_the_two_legs_of_a_basket(
    material: hitches.Material, hitch: hitches.Hitch, angle: float, choke: float
) -> None:
    factor = hitches.hitch_factor_in_cell(hitch, angle, choke, material)
    assert 0 < factor <= (2 if hitch == "basket" else 1)


def test_factors_in_a_cell() -> None:
    """NAVEDTRA 14080, p. 3-24: choker 0.75, single basket 2; the angle of choke from memory of ASME B30.9."""
    assert call("HITCHFACTOR", "vertical", 30) == 0.5
    assert call("HITCHFACTOR", "choker", 90) == 0.75
    assert call("HITCHFACTOR", "basket", 90) == 2
    assert call("HITCHFACTOR", "choker", 90, 119) == pytest.approx(0.75 * 0.87)
    assert call("CHOKEANGLEFACTOR", 59) == 0.62
    with pytest.raises(OutOfRangeError, match="0 to 180"):
        call("CHOKEANGLEFACTOR", 181)
