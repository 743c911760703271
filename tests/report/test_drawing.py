"""Sketches: angles and lengths measured on the drawing itself, and when none is made."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from rigxl.checks.force import ANGLES_DIFFER
from rigxl.checks.judge import Judged
from rigxl.items import Item
from rigxl.report.drawing import Labels, caption, drawn
from rigxl.report.shape import Shape, shape_of
from rigxl.schedule.check import CheckedRow

SVG = "{http://www.w3.org/2000/svg}"


def lines(svg: str) -> list[tuple[float, ...]]:
    """The straight lines of a drawing: x and y of both ends."""
    paths = (path.get("d", "") for path in ElementTree.fromstring(svg).iter(f"{SVG}path"))
    found = (re.fullmatch(r"M([\d.]+) ([\d.]+) L([\d.]+) ([\d.]+)", path) for path in paths)
    return [tuple(float(number) for number in one.groups()) for one in found if one]


@pytest.mark.parametrize("angle", [30.0, 45.0, 60.0, 75.0, 84.0])
@pytest.mark.parametrize("device", ["", "spreader bar"])
def test_legs_hang_at_their_angle(angle: float, device: str) -> None:
    """Measured with the drawing's own coordinates: rise over run is the tangent of the angle."""
    left, right = lines(drawn(Shape(2, angle, 4000.0, device), Labels()))[:2]
    for x1, y1, x2, y2 in (left, right):
        # coordinates are rounded to 0.1, on legs of 60 and more
        assert math.degrees(math.atan2(y2 - y1, abs(x2 - x1))) == pytest.approx(angle, abs=0.25)
    assert left[0] - left[2] == pytest.approx(right[2] - right[0], abs=0.2)


@pytest.mark.parametrize(("spread", "angle", "height"), [(4000.0, 60.0, "3.464 m"), (6000.0, 45.0, "3 m")])
def test_the_caption_says_the_scale(spread: float, angle: float, height: str) -> None:
    """Height of the hook over the picks: half the spread times the tangent."""
    said = caption(Shape(2, angle, spread), Labels(unit="m"))
    assert f"the hook {height} above the picks: to scale" in said


def test_the_dimension_line_is_as_long_as_the_picks_are_apart() -> None:
    left, right, *rest = lines(drawn(Shape(2, 50.0, 3000.0), Labels()))
    across = next(one for one in rest if one[1] == one[3])
    assert across[2] - across[0] == pytest.approx(right[2] - left[2], abs=0.2)


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        (Shape(4, 60.0), "Two of the 4 legs at 60° from the horizontal: the angle is true; lengths are"),
        (Shape(1), "One line; not to scale."),
        (Shape(1, device="plate clamp"), "One line to a plate clamp; not to scale."),
        (Shape(2, 60.0, 3000.0, "spreader bar"), "to scale but for the slings below it."),
    ],
)  # fmt: skip
def test_what_is_not_to_scale_says_so(shape: Shape, said: str) -> None:
    svg = drawn(shape, Labels())
    assert said in caption(shape, Labels())
    assert ElementTree.fromstring(svg).findtext(f"{SVG}title") == caption(shape, Labels())


def test_text_in_a_drawing_is_escaped() -> None:
    svg = drawn(Shape(1, device="<script>alert(1)</script>"), Labels(load='"><img src=x>', hook="a & b"))
    assert {element.tag.removeprefix(SVG) for element in ElementTree.fromstring(svg).iter()} == {
        "svg", "title", "path", "rect", "text",
    }  # fmt: skip


def row(**given: object) -> CheckedRow:
    return CheckedRow(None, Judged(Item(**given), []))  # type: ignore[arg-type]


SLING = {"kind": "sling", "position": "leg", "legs": 4, "angle_deg": 60.0}


@pytest.mark.parametrize(
    ("rows", "shape"),
    [
        ([row(**SLING)], Shape(4, 60.0)),
        ([row(**SLING, spread=2000.0), row(kind="shackle", position="leg", legs=2)], Shape(4, 60.0, 2000.0)),
        ([row(kind="hook", position="top", legs=1), row(kind="sling", position="leg", legs=1)], Shape(1)),
        (
            [row(kind="spreader bar", position="device", legs=2, angle_deg=60.0, bar_length=3000.0)],
            Shape(2, 60.0, 3000.0, "spreader bar"),
        ),
        (
            [row(kind="lifting beam", position="device", legs=1, spread=3000.0)],
            Shape(1, None, 3000.0, "lifting beam"),
        ),
        ([row(kind="plate clamp", position="device", legs=1)], Shape(1, device="plate clamp")),
    ],
)
def test_the_shape_of_a_lift(rows: list[CheckedRow], shape: Shape) -> None:
    """The slings tell of the legs, whatever the links between them state."""
    assert shape_of(rows) == shape


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ([row(**SLING), row(**SLING | {"angle_deg": 45.0})], "its rows differ on the angle"),
        ([row(**SLING), row(**SLING | {"legs": 2})], "its rows differ on the legs"),
        ([row(**SLING, spread=1.0), row(**SLING, spread=2.0)], "its rows differ on the spread"),
        ([row(kind="sling", position="leg", legs=2)], "the sling angle is not known"),
        ([row(kind="sling", position="leg", angle_deg=60.0)], "the number of legs is not known"),
        ([row(**SLING, problems={"angle_deg": "it is 45/60"})], "the sling angle is not known"),
        ([row(kind="sling", position="leg", legs=1, angle_deg=60.0)], "one leg hangs at an angle"),
        ([row(kind="pallet fork", position="device")] * 2, "several devices hang in it"),
    ],
)  # fmt: skip
def test_no_sketch_where_rows_leave_it_open(rows: list[CheckedRow], why: str) -> None:
    assert shape_of(rows) == why


def test_no_sketch_where_angle_and_lengths_differ() -> None:
    one = row(**SLING)
    one.judged.findings.append(ANGLES_DIFFER.holds("they differ"))
    assert shape_of([one]) == "a stated angle and the lengths beside it differ"
