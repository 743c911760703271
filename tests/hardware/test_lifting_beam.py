"""Lifting beams: the figures for an enquiry, and that they pass nothing."""

from __future__ import annotations

from rigxl.hardware import lifting_beam
from rigxl.hardware.lifting_beam import BENDING
from rigxl.items import FAIL, HOLD, NOTE, PASS, Item
from tests.hardware.devices import BAR, ENGINEERED, LIFTED, US, verdict


def test_moment_and_shear_worked() -> None:
    """Handbook case, half the load at either end of span L from the middle: M = P·L/4, V = P/2.

    6.6 t is 64.724 kN; on 4 m 64.724 kN·m, and 32.362 kN or 3.3 t of shear.
    """
    item = Item(**ENGINEERED | LIFTED | BAR | {"position": "device"})
    (figure,) = (found for found in lifting_beam.check(item, US) if found.rule is BENDING)
    assert figure.outcome == NOTE
    assert "half of 6.6 t at either end of 4 m" in figure.sentence
    assert "bends the beam with 64.72 kN·m and shears it with 3.3 t" in figure.sentence


def test_figures_pass_nothing() -> None:
    assert verdict("lifting beam", BAR, engineered=None) == (HOLD, {"device-engineered"})


def test_no_figures_without_a_span() -> None:
    item = Item(**ENGINEERED | LIFTED)
    assert all(found.rule is not BENDING for found in lifting_beam.check(item, US))


def test_the_beam_itself() -> None:
    """Bent more than 0.5 in in 10 ft: DOE-STD-1090-96, 15.4.8."""
    assert verdict("lifting beam", BAR, angle_deg=None)[0] == PASS
    assert verdict("lifting beam", BAR, out_of_straight=17.0) == (FAIL, {"bar-bent"})
    assert verdict("lifting beam", BAR, spread=3000.0) == (HOLD, {"lower-slings-plumb"})
