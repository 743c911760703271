"""One value of a row: as it is compared, and as the sheet shows it.

>>> shown("rated_load", 41187.93, "t"), shown("angle_deg", 60.0), shown("margin", 0.25)
('4.2 t', '60°', '25 %')
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Hashable
from decimal import Decimal
from functools import lru_cache
from typing import Any, NamedTuple

from rigxl.schedule.cells import ALL_LEGS, as_text
from rigxl.schedule.fields import FIELD, JOINED
from rigxl.units import Size, show_length
from rigxl.units.names import find_unit
from rigxl.workbook.values import Formula, Value

SAME = 1e-9
"""Two figures so near each other are one, written in two units."""
ROUNDING = 0.005
"""Half a per cent, as one quantity is rounded when it is written in another unit."""


class Unread(NamedTuple):
    """Cells that cannot be used, as they stand."""

    texts: tuple[str, ...]


@lru_cache(maxsize=16384)
def plain(text: str) -> str:
    """A text as it is compared: case and spacing do not count."""
    return " ".join(text.casefold().split())


def raw(cell: Value) -> str:
    """A cell as it stands; of a formula its result, or the formula where that must not be used."""
    if isinstance(cell, Formula):
        if not cell.calculated:
            return f"{cell.text}, {'not to be used' if cell.doubt else 'never calculated'}"
        cell = cell.result
    return "" if cell is None else as_text(cell)


def compared(field: str, value: Any) -> Hashable:
    """A value so that equal ones are equal in any unit, order of columns, case and spacing."""
    if isinstance(value, Unread):
        return "unread", tuple(sorted(map(plain, value.texts)))
    if isinstance(value, str):
        return frozenset(plain(part) for part in value.split(" / ")) if field in JOINED else plain(value)
    if isinstance(value, Size):
        return value.name if value.mm is None or value.name.startswith("M") else f"{value.mm:.9g} mm"
    return float(f"{value:.12g}") if isinstance(value, float) else value


def coarse(field: str, value: Any) -> Hashable:
    """As ``compared``, but figures to three digits, so that what was rounded in another unit looks alike."""
    return float(f"{value:.3g}") if isinstance(value, float) else compared(field, value)


def same(field: str, one: Any, other: Any) -> bool:
    """Whether two values are one, but for what a conversion of units leaves in the last digit."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=SAME, abs_tol=SAME)
    return compared(field, one) == compared(field, other)


def rounded(field: str, one: Any, unit: str, other: Any, other_unit: str) -> float | None:
    """By what share the second figure differs, if it is the first one, rounded as it is written."""
    if not (isinstance(one, float) and isinstance(other, float)) or unit == other_unit:
        return None
    if not (unit and other_unit) or FIELD[field].read == "temperature":
        return None
    step = _half_step(other, other_unit)
    apart = abs(one - other)
    return apart / abs(one) if apart <= min(step * (1 + SAME), ROUNDING * abs(one)) else None


def shown(field: str, value: Any, unit: str = "") -> str:
    """A value as the sheet has it, in the sheet's own unit; a dash for a blank.

    Args:
        field: Which field it is of.
        value: As an item holds it.
        unit: The unit it was given in, where it has one.
    """
    if value is None:
        return "–"
    if isinstance(value, Unread):
        return " and ".join(f"'{text}'" for text in value.texts) + " (cannot be used)"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Size):
        return value.name
    if isinstance(value, dt.date):
        return value.isoformat()
    if value == ALL_LEGS and field == "carrying":
        return "all"
    if not isinstance(value, float):
        return str(value)
    if unit:
        return _measured(value, unit)
    if FIELD[field].read == "angle":
        return f"{_figure(value)}°"
    return f"{_figure(value * 100)} %" if FIELD[field].is_share else _figure(value)


def _measured(value: float, unit: str) -> str:
    if unit == "ft-in":
        return show_length(value, unit)
    name = {"degC": "°C", "degF": "°F", "deg": "°", "1": ""}.get(unit, unit)
    figure = _figure(value * 9 / 5 + 32 if unit == "degF" else _in_unit(value, unit))
    return f"{figure}{name}" if name == "°" else f"{figure} {name}".rstrip()


def _in_unit(value: float, unit: str) -> float:
    return value / float(find_unit(unit).factor)


def _half_step(value: float, unit: str) -> float:
    """Half of the last digit that a quantity is written with, in the unit we think in."""
    if unit == "ft-in":
        return 0.0
    exponent = Decimal(_plain_figure(_in_unit(value, unit))).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent * float(find_unit(unit).factor)


def _plain_figure(value: float) -> str:
    """Ten digits and no exponent: what people type, without what a conversion leaves behind."""
    return f"{Decimal(f'{value:.10g}'):f}"


def _figure(value: float) -> str:
    whole, _, rest = _plain_figure(value).partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}".replace(",", " ")
    return f"{whole}.{rest}" if rest else whole
