"""Design factors, by the published tables and example."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import InputError, NotRatedError, OutOfRangeError
from rigxl.functions import call


@pytest.mark.parametrize(
    ("gear", "tonnes", "printed"),
    [
        ("structure", 10, 5),
        ("structure", 10.1, 4),
        ("fitting", 5, 5),
        ("chain", 5, 4.5),
        ("wire rope", 5, 5),
        ("fibre rope", 5, 7),
        ("textile", 5, 6),
    ],
)
def test_canada(gear: str, tonnes: float, printed: float) -> None:
    """SOR/2007-128, Schedule 6."""
    assert call("DESIGNFACTOR", gear, "canada", tonnes, "t") == printed


@pytest.mark.parametrize(
    ("gear", "tonnes", "printed"),
    [
        ("wire rope", 10, 5),
        ("wire rope", 100, 1000 / 279.5),
        ("wire rope", 161, 3),
        ("fibre rope", 100, 1200 / 279.5),
        ("fibre rope", 200, 3.6),
    ],
)
def test_france(gear: str, tonnes: float, printed: float) -> None:
    """Division 214, Annexe 214-3.A.2: 5, 1000 / (0.885 P + 191), 3; fibre 1200 / (0.885 P + 191), 3.6."""
    assert call("DESIGNFACTOR", gear, "france", tonnes, "t") == pytest.approx(printed)


@pytest.mark.parametrize(
    ("gear", "printed"), [("wire rope", 5), ("chain", 4), ("textile", 7), ("fitting", 4)]
)
def test_europe(gear: str, printed: float) -> None:
    """France, arrêté du 18 décembre 1992, article 4."""
    assert call("DESIGNFACTOR", gear, "europe", 3, "t") == printed


def test_w45_wire_rope_sling_of_fifty_tonnes() -> None:
    """Division 214, Annexe 214-3.A.2, Table I: P = 50 t, 4.250797."""
    assert call("DESIGNFACTOR", "wire rope", "france", 50, "t") == pytest.approx(4.250797, rel=1e-4)


@given(st.sampled_from(["wire rope", "fibre rope"]), st.floats(10.1, 500), st.floats(10.1, 500))
def test_the_factor_falls_with_the_rating_and_no_lower_than_three(
    gear: str, one: float, other: float
) -> None:
    less, more = (call("DESIGNFACTOR", gear, "france", tonnes, "t") for tonnes in sorted((one, other)))
    assert isinstance(less, float | int)
    assert isinstance(more, float | int)
    # the printed bands meet to a quarter of a percent
    assert less * 1.0025 >= more >= 3 * (1 - 0.0025)


def test_refused() -> None:
    with pytest.raises(NotRatedError, match="by the diameter of a fibre rope up to 10 t"):
        call("DESIGNFACTOR", "fibre rope", "france", 8, "t")
    with pytest.raises(NotRatedError, match="no factor for a chain"):
        call("DESIGNFACTOR", "chain", "france", 8, "t")
    with pytest.raises(OutOfRangeError, match="rating is 0"):
        call("DESIGNFACTOR", "chain", "canada", 0, "t")
    with pytest.raises(InputError, match="canada, france, europe"):
        call("DESIGNFACTOR", "chain", "moon", 8, "t")
