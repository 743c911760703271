"""Larger sizes: strong enough, known not to fit, or to be measured; never a fit that nobody knows."""

from __future__ import annotations

from typing import Any

from rigxl.order.substitutes import substitutes
from tests.order.schedules import DEVICE, ROW, order

LISTED = ROW | {"Rated load (t)": "6.5 short ton", "Quantity": 1}
MEASURE = (
    "fit not known: measure the pin in its hole, the bow in what it hangs from, and what hangs in the bow."
)


def said(*rows: dict[str, Any], kind: str = "shackle") -> list[str]:
    """What is said of the first line of a kind."""
    found = order(*rows)
    return list(substitutes(next(line for line in found.lines if line.wanted.kind == kind), found))


def test_larger_shackles_are_from_memory_and_to_be_measured() -> None:
    """RR-C-271, from memory: after 7/8 in come 1 in 8.5, 1 1/8 in 9.5, 1 1/4 in 12 short tons."""
    assert said(LISTED) == [
        "1 in, listed at 8.5 short ton (from memory: only if it is marked so): strong enough.",
        "1 1/8 in, listed at 9.5 short ton (from memory: only if it is marked so): strong enough.",
        "1 1/4 in, listed at 12 short ton (from memory: only if it is marked so): strong enough.",
        f"Before any of these: {MEASURE}",
    ]


def test_a_pin_that_does_not_go_through() -> None:
    """From memory, 1 in has a pin of 1 1/8 in, 28.575 mm, and 1 1/8 in one of 1 1/4 in; the hole is 30 mm."""
    one, two, *_ = said(LISTED | {"Pin diameter (mm)": 28, "Hole diameter (mm)": 30})
    assert "strong enough; its pin of 28.58 mm, from memory, goes through the hole of 30 mm" in one
    assert "1 1/8 in" in two
    assert "would not fit: the shackle pin is 31.75 mm and the hole 30 mm: it does not go through" in two


def test_a_pin_that_does_not_fit_the_row_below() -> None:
    """The hole stands on the pad eye that hangs next in the lift."""
    lug = ROW | {
        "Tag": "P-1", "Kind": "pad eye", "Position": "top", "Size": None, "Type": "welded",
        "Rated load (t)": 6, "Engineer's mark": "DRG-7", "Hole diameter (mm)": 28, "Loading angle (deg)": 0,
        "Lift": "Both", "Quantity": 1,
    }  # fmt: skip
    one, *_ = said(LISTED | {"Lift": "Both", "Pin diameter (mm)": 25}, lug)
    assert (
        "1 in, listed at 8.5 short ton (from memory: only if it is marked so): would not fit: the pin is"
        in one
    )


def test_a_size_the_page_does_not_list_so() -> None:
    """A shackle of 5.8 t is on no page: its maker's next size is asked for, never a smaller rating."""
    assert said(ROW) == [f"None listed: one of this type that its maker marks 5.8 t or more; {MEASURE}"]


def test_a_rope_sling_by_a_page_that_was_read() -> None:
    """FM 5-125, Table 3-5: after 3/8 in, 2,460 lb, come 7/16 in 3,560 lb, 9/16 in and 5/8 in."""
    sling = ROW | {"Tag": "W-1", "Kind": "sling", "Position": "leg", "Hitch": "vertical", "Type": "wire rope"}
    found = said(sling | {"Size": "3/8 in", "Rated load (t)": "2460 lb", "Load (t)": 0.5}, kind="sling")
    assert found[0] == "7/16 in, listed at 3560 lb: strong enough."
    assert found[-1].startswith("Before any of these: fit not known: measure its eyes")


def test_no_other_size_of_what_is_engineered() -> None:
    """Another spreader bar is another design."""
    assert said(DEVICE, kind="spreader bar") == [
        "No other size: it is as its engineer drew it: another one is a new design."
    ]


def test_the_largest_size() -> None:
    """Nothing is listed above 2 in, 35 short tons."""
    assert said(LISTED | {"Size": "2 in", "Rated load (t)": "35 short ton"}) == [
        f"None listed: one of this type that its maker marks 35 short ton or more; {MEASURE}"
    ]
