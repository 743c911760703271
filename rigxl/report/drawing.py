"""A sketch of a lift from the side, to scale where its lengths are known: hook, legs, bar, picks, load.

>>> "<svg" in drawn(Shape(2, 60.0, 4000.0), Labels(load="10 t"))
True
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from html import escape
from typing import NamedTuple

from rigxl.report.shape import BARS, Shape
from rigxl.units import show_length

WIDE, MIDDLE, HOOK = 400, 185, 50
ACROSS, DOWN = 210.0, 140.0
"""The most room there is for the legs, across and down."""
LINE, DROP, BOX, BAR, HOLDER = 90.0, 36.0, 40.0, 9.0, 24.0
"""Heights of what is never to scale: a single line, plumb slings, the load, a bar, a device that holds it."""
NARROWEST = 45.0
"""Half the width of a load that its weight can be written into."""


class Labels(NamedTuple):
    """What is written into a sketch; empty where it is not known."""

    load: str = ""
    hook: str = ""
    leg: str = ""
    unit: str = "m"
    """The unit of lengths."""


class Place(NamedTuple):
    """Where things stand in the drawing: half the width, the foot of the legs, the top of the load."""

    half: float
    foot: float
    top: float


def drawn(shape: Shape, labels: Labels) -> str:
    """The sketch as SVG, every text in it escaped."""
    place = _placed(shape)
    high = place.top + BOX + (40 if shape.spread is not None else 6)
    title = f"<title>{escape(caption(shape, labels))}</title>"
    body = "".join(_parts(shape, labels, place))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {_n(high)}" role="img" '
        f'font-family="sans-serif" font-size="12" fill="none" stroke="#000" stroke-width="1.5">'
        f"{title}{_hook()}{_text(MIDDLE + 20, 22, labels.hook)}{body}</svg>"
    )


def caption(shape: Shape, labels: Labels) -> str:
    """What the sketch shows, and how far it is to scale."""
    if shape.angle_deg is None:
        below = f" to a {shape.device}" if shape.device else ""
        return f"One line{below}; not to scale."
    which = f"Two of the {shape.legs} legs" if shape.legs > 2 else "Legs"
    which = f"Top legs of a {shape.device}" if shape.device else which
    told = f"{which} at {shape.angle_deg:.4g}° from the horizontal"
    if shape.spread is None:
        return f"{told}: the angle is true; lengths are not given and not to scale."
    rise = show_length(shape.spread / 2 * math.tan(math.radians(shape.angle_deg)), labels.unit)
    ends, but = ("bar", " but for the slings below it") if shape.device else ("picks", "")
    across = show_length(shape.spread, labels.unit)
    return f"{told}, {across} across, the hook {rise} above the {ends}: to scale{but}."


def _placed(shape: Shape) -> Place:
    barred = shape.device in BARS
    if shape.angle_deg is None:
        foot = HOOK + (LINE / 2 if barred else LINE)
        half = ACROSS / 2 if barred else 60.0
    else:
        slope = math.tan(math.radians(shape.angle_deg))
        half = min(ACROSS / 2, (DOWN - DROP if barred else DOWN) / slope)
        foot = HOOK + half * slope
    below = BAR + DROP if barred else HOLDER if shape.device else 0.0
    return Place(half, foot, foot + below)


def _parts(shape: Shape, labels: Labels, place: Place) -> Iterator[str]:
    half, foot, top = place
    wide = max(half + 14, NARROWEST)
    yield _rect(wide, top, BOX, "#eee")
    yield _text(MIDDLE, top + BOX / 2 + 4, labels.load, "middle")
    if shape.angle_deg is None:
        yield _line(MIDDLE, HOOK, MIDDLE, foot)
        if not shape.device:
            yield _pick(MIDDLE, foot) + _text(MIDDLE + 10, HOOK + LINE / 2, labels.leg)
    else:
        yield from _legs(shape.angle_deg, place, "" if shape.device else labels.leg)
    ends = (MIDDLE - half, MIDDLE + half)
    if shape.device in BARS:
        yield _rect(half + 6, foot, BAR, "#ccc")
        yield from (_line(x, foot + BAR, x, top) + _pick(x, top) for x in ends)
        yield _text(MIDDLE, foot + 27, shape.device, "middle")
    elif shape.device:
        yield _rect(80, foot, HOLDER, "#ccc") + _text(MIDDLE, foot + 16, shape.device, "middle")
    elif shape.angle_deg is not None:
        yield from (_pick(x, foot) for x in ends)
    if shape.spread is not None:
        yield _across(half, top + BOX + 14, show_length(shape.spread, labels.unit))


def _legs(angle_deg: float, place: Place, said: str) -> Iterator[str]:
    half, foot, _ = place
    left, right = MIDDLE - half, MIDDLE + half
    yield _line(MIDDLE, HOOK, left, foot) + _line(MIDDLE, HOOK, right, foot)
    radius = min(30.0, half * 0.8)
    turn = math.radians(angle_deg)
    end_x, end_y = left + radius * math.cos(turn), foot - radius * math.sin(turn)
    arc = f"M{_n(left + radius)} {_n(foot)} A{_n(radius)} {_n(radius)} 0 0 0 {_n(end_x)} {_n(end_y)}"
    yield f'<path d="{arc}" stroke-width="1"/>'
    yield _text(left - 10, foot - 8, f"{angle_deg:.4g}°", "end")
    yield _text((MIDDLE + right) / 2 + 12, (HOOK + foot) / 2, said)


def _hook() -> str:
    return f'<path d="M{MIDDLE} 6 V{HOOK - 18} a9 9 0 1 1 -9 9" stroke-width="3"/>'


def _pick(x: float, y: float) -> str:
    return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="4" fill="#fff"/>'


def _across(half: float, y: float, said: str) -> str:
    """A dimension line."""
    left, right = MIDDLE - half, MIDDLE + half
    ticks = "".join(_line(x, y - 5, x, y + 5, "1") for x in (left, right))
    return f"{_line(left, y, right, y, '1')}{ticks}{_text(MIDDLE, y + 16, said, 'middle')}"


def _line(x1: float, y1: float, x2: float, y2: float, wide: str = "1.5") -> str:
    return f'<path d="M{_n(x1)} {_n(y1)} L{_n(x2)} {_n(y2)}" stroke-width="{wide}"/>'


def _rect(half: float, y: float, high: float, fill: str) -> str:
    across = f'x="{_n(MIDDLE - half)}" width="{_n(2 * half)}"'
    return f'<rect {across} y="{_n(y)}" height="{_n(high)}" fill="{fill}"/>'


def _text(x: float, y: float, said: str, anchor: str = "start") -> str:
    if not said:
        return ""
    place = f'x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}"'
    return f'<text {place} fill="#000" stroke="none">{escape(said)}</text>'


def _n(value: float) -> str:
    return f"{value:.1f}"
