"""How a load is shared by legs, against printed examples and tables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import InputError, MissingInputError, NotRatedError, OutOfRangeError
from rigxl.mechanics import angles, legs

loads = st.floats(1, 1e8)
slanted = st.floats(1, 90)
lengths = st.floats(0.1, 1e4)


@pytest.mark.parametrize(
    ("load", "angle", "printed", "within"),
    [
        pytest.param(1000, 90, 500, 0.001, id="W02 FM 5-125 figure 3-9"),
        pytest.param(1000, 45, 707, 0.001, id="W03 FM 5-125 figure 3-9"),
        # printed rounded down
        pytest.param(1000, 15, 1930, 0.002, id="W05 FM 5-125 figure 3-9"),
        # asin(1/2): the angle at which each of two legs pulls as hard as the whole load
        pytest.param(1000, 30, 1000, 0.0001, id="W06 FM 5-125 figure 3-9, critical angle"),
        # the page rounds 577 to 575
        pytest.param(1000, 60, 575, 0.005, id="W15 FEMA Structural Collapse Technician 2000 p. SM4-19"),
    ],
)
def test_two_leg_examples(load: float, angle: float, printed: float, within: float) -> None:
    """Tension of each of two legs in pounds, as printed on the page that the case is named for."""
    assert legs.leg_tension(load, 2, angle) == pytest.approx(printed, rel=within)


@pytest.mark.parametrize(
    ("load", "leg", "rise", "printed"),
    [
        pytest.param(1800, 8, 6, 1200, id="W01 FM 5-125 p. 3-9"),
        pytest.param(15000, 16, 12, 10000, id="W32 BC Association for Crane Safety, rigging quiz"),
    ],
)
def test_two_leg_examples_by_length(load: float, leg: float, rise: float, printed: float) -> None:
    """Load in pounds, leg and rise in feet; the tension follows from leg over rise."""
    angle = angles.angle_from_length(leg, 2 * math.sqrt(leg**2 - rise**2))
    assert legs.leg_tension(load, 2, angle) == pytest.approx(printed, rel=0.0001)


def test_w38_load_effect_of_two_legs() -> None:
    """Michigan State University ORCBS rigging guide: 1000 lb, 30 degrees from vertical, 1154 lb in both."""
    both = 2 * legs.leg_tension(1000, 2, angles.from_vertical(30))
    assert both == pytest.approx(1154, rel=0.001)


FM_TABLE_3_5 = [
    ("1/4", 1096, (1899, 1552, 1096), (3798, 3105, 2192)),
    ("3/8", 2460, (4260, 3485, 2460), (8520, 6970, 4920)),
    ("1", 16800, (29100, 23750, 16800), (58200, 47500, 33600)),
    ("1 1/4", 26000, (45000, 36800, 26000), (90000, 73600, 52000)),
    ("2 1/4", 82900, (143500, 117400, 82900), (287000, 234800, 165800)),
    ("2 1/2", 101800, (176250, 144000, 101800), (352500, 288000, 203600)),
]


@pytest.mark.parametrize(("size", "single", "double", "quadruple"), FM_TABLE_3_5)
def test_a_bridle_at_its_printed_capacity_loads_each_leg_to_its_rating(
    size: str, single: float, double: tuple[float, ...], quadruple: tuple[float, ...]
) -> None:
    """US Army FM 5-125, 1995, table 3-5, p. 3-12, first, middle and last rows, in pounds.

    All four legs are counted; the page rounds to half a percent.
    """
    for angle, two, four in zip((60, 45, 30), double, quadruple, strict=True):
        assert legs.leg_tension(two, 2, angle) == pytest.approx(single, rel=0.005), size
        assert legs.leg_tension(four, 4, angle) == pytest.approx(single, rel=0.005), size


@pytest.mark.parametrize(
    ("rule", "counted"),
    [("two of four", [1, 2, 2, 2]), ("three of four", [1, 2, 3, 3]), ("all", [1, 2, 3, 4])],
)
def test_legs_that_count(rule: str, counted: list[int]) -> None:
    """NAVEDTRA 14080 p. 3-24 counts two of three or four, OSHA sling tables 1 and 2 three, FM 5-125 four."""
    assert [legs.carrying_legs(n, rule=rule) for n in (1, 2, 3, 4)] == counted


def test_the_user_states_how_many_carry() -> None:
    assert legs.carrying_legs(4, stated=3) == 3
    assert legs.carrying_legs(6, stated=4) == 4


def test_carrying_refused() -> None:
    with pytest.raises(MissingInputError, match="with 5 legs"):
        legs.carrying_legs(5)
    with pytest.raises(OutOfRangeError, match="more than the 2 legs"):
        legs.carrying_legs(2, stated=3)
    with pytest.raises(OutOfRangeError, match="carrying is 0"):
        legs.carrying_legs(4, stated=0)
    with pytest.raises(InputError, match="there are two of four, three of four, all"):
        legs.carrying_legs(4, rule="most")


@given(loads, st.integers(1, 8), slanted, slanted)
def test_a_steeper_leg_never_pulls_harder(load: float, carrying: int, one: float, other: float) -> None:
    flat, steep = sorted((one, other))
    assert legs.leg_tension(load, carrying, steep) <= legs.leg_tension(load, carrying, flat)


@given(loads, st.integers(1, 8), slanted)
def test_one_more_leg_never_pulls_harder(load: float, carrying: int, angle: float) -> None:
    assert legs.leg_tension(load, carrying + 1, angle) <= legs.leg_tension(load, carrying, angle)


@given(loads, st.integers(1, 8), slanted, st.floats(1e-3, 1e3))
def test_tension_comes_in_the_unit_of_the_load(load: float, carrying: int, angle: float, unit: float) -> None:
    tension = legs.leg_tension(load, carrying, angle)
    assert legs.leg_tension(load * unit, carrying, angle) == pytest.approx(tension * unit)


@given(loads, st.integers(1, 8), slanted)
def test_the_legs_hold_up_the_load(load: float, carrying: int, angle: float) -> None:
    upward = carrying * legs.leg_tension(load, carrying, angle) * math.sin(math.radians(angle))
    assert upward == pytest.approx(load)


@pytest.mark.parametrize(
    ("number", "leaning", "factor"),
    [
        (1, 0, 1.0),
        (2, 0, 1.4),
        (2, 45, 1.4),
        (2, 45.01, 1.0),
        (2, 60, 1.0),
        (3, 45, 2.1),
        (3, 60, 1.5),
        (4, 30, 2.1),
        (4, 50, 1.5),
    ],
)
def test_mode_factors(number: int, leaning: float, factor: float) -> None:
    """EN 818-4, EN 13414-1 and EN 1492-1, uniform load method: from memory, not read from the page."""
    assert legs.mode_factor(number, leaning) == factor


@given(st.sampled_from([2, 3]), st.floats(0, 60))
def test_a_mode_factor_never_promises_more_than_the_legs_hold(number: int, leaning: float) -> None:
    """Against plain statics: legs · cos(angle from vertical), three of four legs counted."""
    assert legs.mode_factor(number, leaning) <= number * math.cos(math.radians(leaning)) + 1e-12


@pytest.mark.parametrize(
    ("number", "leaning", "said"),
    [
        (2, 60.01, "60 is the most"),
        (4, 75, "60 is the most"),
        (5, 30, "1 to 4 legs"),
        (1, 30, "hang vertical"),
    ],
)
def test_mode_factor_not_rated(number: int, leaning: float, said: str) -> None:
    with pytest.raises(NotRatedError, match=said):
        legs.mode_factor(number, leaning)


def test_mode_factor_bands_do_not_flip_by_rounding() -> None:
    assert legs.mode_factor(2, 45 + 1e-10) == 1.4
    assert legs.mode_factor(2, 60 + 1e-10) == 1.0


def test_mode_leg_force_takes_the_angle_from_horizontal() -> None:
    assert legs.mode_leg_force(1400, 2, 60) == pytest.approx(1000)
    assert legs.mode_leg_force(1000, 2, 30) == pytest.approx(1000)
    with pytest.raises(NotRatedError, match="60 is the most"):
        legs.mode_leg_force(1000, 2, 29)


def test_w36_and_w37_lengths_that_do_not_fit_are_reported() -> None:
    """Virginia Modeling, Analysis and Simulation Center: 4000 lb, 2 and 10 ft, 3 ft high, legs of 4 and 14.

    The page prints 4444 and 3111 lb, but legs there are 3.606 and 10.440 ft.
    """
    with pytest.raises(OutOfRangeError, match=r"first leg length is 4, .* make it 3\.606"):
        legs.unequal_legs(4000, 2, 10, 3, 3, l1=4, l2=14)
    with pytest.raises(OutOfRangeError, match=r"second leg length is 14, .* make it 10\.44"):
        legs.unequal_legs(4000, 2, 10, 3, 3, l2=14)


def test_w36_and_w37_from_distances_alone() -> None:
    """The same example without its lengths, recomputed: 4006.2 and 2320.1 lb."""
    first, second = legs.unequal_legs(4000, 2, 10, 3, 3)
    assert first == pytest.approx(4006.2, abs=0.05)
    assert second == pytest.approx(2320.1, abs=0.05)


def test_lengths_rounded_by_a_tape_still_fit() -> None:
    assert legs.unequal_legs(4000, 2, 10, 3, 3, l1=3.6, l2=10.45) == legs.unequal_legs(4000, 2, 10, 3, 3)


@given(loads, lengths, lengths)
def test_unequal_legs_reduce_to_equal_ones(load: float, distance: float, height: float) -> None:
    first, second = legs.unequal_legs(load, distance, distance, height, height)
    plain = legs.leg_tension(load, 2, angles.angle_from_height(height, 2 * distance))
    assert first == pytest.approx(second)
    assert first == pytest.approx(plain)


@given(loads, lengths, lengths, lengths, lengths)
def test_unequal_legs_balance(load: float, d1: float, d2: float, h1: float, h2: float) -> None:
    first, second = legs.unequal_legs(load, d1, d2, h1, h2)
    l1, l2 = math.hypot(d1, h1), math.hypot(d2, h2)
    assert first * h1 / l1 + second * h2 / l2 == pytest.approx(load)
    assert first * d1 / l1 == pytest.approx(second * d2 / l2)


@pytest.mark.parametrize("where", range(5))
@pytest.mark.parametrize("value", [0, -1])
def test_unequal_legs_refuse_nothing_and_less(where: int, value: float) -> None:
    given_ = [1000.0, 3.0, 3.0, 4.0, 4.0]
    given_[where] = value
    with pytest.raises(OutOfRangeError, match="above 0"):
        legs.unequal_legs(*given_)
