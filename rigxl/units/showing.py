"""Values back as text, and from one unit to another.

>>> show_force(102_969.825, "t")
'10.5 t'
>>> show_pair(49_037.17, 49_033.25, "t")
('5.0004 t', '5 t')
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal

from rigxl.errors import OutOfRangeError, UnknownUnitError
from rigxl.units.figures import EXACT, number
from rigxl.units.names import Unit, find_unit


def to_unit(newtons: float, unit: str) -> float:
    """A force in another unit; in a mass unit it is the mass that weighs so much.

    Args:
        newtons: The force, in N.
        unit: The unit wanted, such as ``t`` or ``lbf``.
    """
    return newtons / float(_force_unit(unit).factor)


def convert_load(value: float, from_unit: str, to_unit: str) -> float:
    """A load in another unit; mass and force are linked by standard gravity, 9.80665 m/s2.

    Args:
        value: The load.
        from_unit: Its unit, such as ``kN``; a bare ton is refused.
        to_unit: The unit wanted, such as ``lb``.

    >>> convert_load(1, "short ton", "lb")
    2000.0
    """
    start, end = _force_unit(from_unit), _force_unit(to_unit)
    exact = number(value)
    if exact < 0:
        raise OutOfRangeError(f"{value:g} is negative, and a load cannot be: give a load of 0 or more")
    return float(EXACT.divide(EXACT.multiply(exact, start.factor), end.factor))


def show_force(newtons: float, unit: str) -> str:
    """A force as text with four figures, or to the whole unit above a thousand.

    Args:
        newtons: The force, in N.
        unit: The unit to show it in.
    """
    return _show(_exact(newtons, _force_unit(unit)), _force_unit(unit).name, 4)


def show_length(mm: float, unit: str) -> str:
    """A length as text.

    Args:
        mm: The length, in mm.
        unit: The unit to show it in; ``ft-in`` gives feet and inches.

    >>> show_length(1676.4, "ft-in")
    '5\\'-6"'
    """
    found = find_unit(unit)
    if found.measure != "length":
        raise UnknownUnitError(f"{unit!r} is no unit of length: give one such as mm, m, in or ft-in")
    if found.name != "ft-in":
        return _show(_exact(mm, found), found.name, 4)
    sign = "-" if mm < 0 else ""
    inches = _exact(abs(mm), find_unit("in")).quantize(Decimal("0.01"), ROUND_HALF_EVEN, EXACT)
    return f"{sign}{inches // 12}'-{_trim(f'{inches % 12:f}')}\""


def show_torque(value: float, unit: str) -> str:
    """A torque as text.

    Args:
        value: The torque, in N·mm.
        unit: The unit to show it in, such as ``ft lb`` or ``N m``.

    >>> show_torque(90_000, "N m")
    '90 N·m'
    """
    found = find_unit(unit)
    if found.measure != "torque":
        raise UnknownUnitError(f"{unit!r} is no unit of torque: give one such as N m or ft lb")
    return _show(_exact(value, found), found.name, 4)


def show_pair(a: float, b: float, unit: str) -> tuple[str, str]:
    """Two forces as text, with enough figures to tell them apart when they differ.

    Args:
        a: One force, in N.
        b: The other, in N.
        unit: The unit to show both in.
    """
    found = _force_unit(unit)
    first, second = _exact(a, found), _exact(b, found)
    for figures in range(4, 40):
        shown = _show(first, found.name, figures), _show(second, found.name, figures)
        if first == second or shown[0] != shown[1]:
            return shown
    return shown


def _force_unit(unit: str) -> Unit:
    found = find_unit(unit)
    if found.measure not in ("force", "mass"):
        raise UnknownUnitError(f"{unit!r} is no unit of load: give one such as t, kg, lb, kN or lbf")
    return found


def _exact(value: float, unit: Unit) -> Decimal:
    exact = number(value)
    if exact.adjusted() > 20:
        raise OutOfRangeError(f"{value} cannot be shown in {unit.name}: give a plain number")
    return EXACT.divide(exact, unit.factor)


def _show(value: Decimal, unit: str, figures: int) -> str:
    value = EXACT.plus(value)
    places = max(figures - 1 - value.adjusted(), figures - 4) if value else 0
    rounded = value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN, EXACT)
    whole, _, rest = _trim(f"{rounded:f}").partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}".replace(",", " ")
    return f"{whole}{'.' if rest else ''}{rest} {unit}"


def _trim(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text
