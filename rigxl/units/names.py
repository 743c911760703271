"""Unit names: what people write, which unit that is, and its factor.

Sources: NIST Special Publication 811 (2008), Appendix B, for the definitions: the pound is 0.45359237 kg,
the inch 25.4 mm and standard gravity 9.80665 m/s2, all exact. Every factor below is their exact product.

>>> unit_name("Tonnes")
't'
>>> unit_name("ton", Habits(ton="short"))
'short ton'
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from rigxl.errors import AmbiguousUnitError, UnknownUnitError
from rigxl.units.figures import UNDECLARED, Habits, tidy


class Unit(NamedTuple):
    """A unit with one meaning.

    Attributes:
        name: Canonical spelling.
        measure: What it measures: force, mass, length, torque, angle, temperature, ratio or count.
        factor: To N for a force, and for a mass under standard gravity; to mm, N·mm, degrees or 1 for
            the rest.
        spellings: Everything that people write for it, apart by commas.
    """

    name: str
    measure: str
    factor: Decimal
    spellings: str


class Several(NamedTuple):
    """A spelling with more than one meaning, and the names that a declared ton gives it."""

    could_be: str
    remedy: str
    by_habit: Mapping[str, str] = MappingProxyType({})


UNITS = (
    Unit("N", "force", Decimal("1"), "N, newton, newtons"),
    Unit("daN", "force", Decimal("10"), "daN, decanewton, decanewtons"),
    Unit("kN", "force", Decimal("1000"), "kN, kilonewton, kilonewtons"),
    Unit("MN", "force", Decimal("1000000"), "MN, meganewton, meganewtons"),
    Unit("kgf", "force", Decimal("9.80665"), "kgf, kg f, kp, kilogram force, kilopond, kiloponds"),
    Unit("tf", "force", Decimal("9806.65"), "tf, tonne force, tonnes force, metric ton force"),
    Unit("lbf", "force", Decimal("4.4482216152605"), "lbf, lb f, lbsf, pound force, pounds force"),
    Unit("kip", "force", Decimal("4448.2216152605"), "kip, kips, klb, klbs, klbf, kilopound, kilopounds"),
    Unit(
        "short ton-force",
        "force",
        Decimal("8896.443230521"),
        "short ton force, short tons force, US ton force",
    ),
    Unit(
        "long ton-force",
        "force",
        Decimal("9964.01641818352"),
        "long ton force, long tons force, UK ton force",
    ),
    Unit("g", "mass", Decimal("0.00980665"), "g, gram, grams, gramme, grammes"),
    Unit(
        "kg", "mass", Decimal("9.80665"), "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes"
    ),
    Unit(
        "t",
        "mass",
        Decimal("9806.65"),
        "t, te, tonne, tonnes, metric ton, metric tons, metric tonne, metric tonnes, ton metric, tons metric",
    ),
    Unit("oz", "mass", Decimal("0.27801385095378125"), "oz, ounce, ounces"),
    Unit("lb", "mass", Decimal("4.4482216152605"), "lb, lbs, lbm, pound, pounds"),
    Unit(
        "short ton",
        "mass",
        Decimal("8896.443230521"),
        "short ton, short tons, US ton, US tons, net ton, net tons, ton short, tons short, ton US, tons US",
    ),
    Unit(
        "long ton",
        "mass",
        Decimal("9964.01641818352"),
        "long ton, long tons, UK ton, UK tons, gross ton, gross tons, imperial ton, imperial tons, "
        "ton long, tons long, ton UK, tons UK",
    ),
    Unit("mm", "length", Decimal("1"), "mm, mms, millimetre, millimetres, millimeter, millimeters"),
    Unit("cm", "length", Decimal("10"), "cm, cms, centimetre, centimetres, centimeter, centimeters"),
    Unit("m", "length", Decimal("1000"), "m, metre, metres, meter, meters, mtr, mtrs"),
    Unit("in", "length", Decimal("25.4"), "in, ins, inch, inches, \", ''"),
    Unit("ft", "length", Decimal("304.8"), "ft, foot, feet, '"),
    Unit("yd", "length", Decimal("914.4"), "yd, yds, yard, yards"),
    Unit(
        "ft-in",
        "length",
        Decimal("304.8"),
        "ft in, ft/in, ft & in, feet inches, feet and inches, feet/inches",
    ),
    Unit(
        "N·m",
        "torque",
        Decimal("1000"),
        "N·m, N m, Nm, newton metre, newton metres, newton meter, newton meters",
    ),
    Unit(
        "ft·lb",
        "torque",
        Decimal("1355.8179483314004"),
        "ft·lb, ft lb, ft lbs, ft lbf, ftlb, ftlbs, lb·ft, lb ft, lbs ft, lbf ft, lbft, foot pound, "
        "foot pounds, pound foot, pound feet",
    ),
    Unit(
        "in·lb",
        "torque",
        Decimal("112.9848290276167"),
        "in·lb, inch pound, inch pounds, lb·in, lb in, lbf in, pound inch, pound inches",
    ),
    Unit("deg", "angle", Decimal("1"), "deg, degs, degree, degrees, °"),
    # 180/pi to 40 places; pi as in OEIS A000796.
    Unit(
        "rad", "angle", Decimal("57.2957795130823208767981548141051703324055"), "rad, rads, radian, radians"
    ),
    Unit(
        "degC",
        "temperature",
        Decimal("1"),
        "C, degC, deg C, degrees C, degree C, °C, ° C, celsius, degrees celsius",
    ),
    Unit(
        "degF",
        "temperature",
        Decimal("1"),
        "F, degF, deg F, degrees F, degree F, °F, ° F, fahrenheit, degrees fahrenheit",
    ),
    Unit("%", "ratio", Decimal("0.01"), "%, percent, per cent, pct"),
    Unit("1", "ratio", Decimal("1"), "1"),
    Unit(
        "count",
        "count",
        Decimal("1"),
        "count, no, nos, nr, off, leg, legs, part, parts, pc, pcs, piece, pieces, ea, each, qty, x",
    ),
)

# These mean something else, or nothing at all, in the other case: T is no tonne and mN no meganewton.
ONE_CASE = frozenset({"N", "MN", "t", "T", "tf", "Tf", "TF", "g", "C", "F"})

_SAY_WHICH = "write short ton, long ton or t, or state what ton means in the criteria"
_TON = Several(
    "short, long or metric tons", _SAY_WHICH, {"short": "short ton", "long": "long ton", "metric": "t"}
)
_TON_FORCE = Several(
    "short, long or metric tons-force",
    "write kN, lbf or tf, or state what ton means in the criteria",
    {"short": "short ton-force", "long": "long ton-force", "metric": "tf"},
)
_MT = Several(
    "metric tons or something else", "write t, or state in the criteria that ton is metric", {"metric": "t"}
)

SEVERAL: Mapping[str, Several] = {
    "T": _TON,
    "ton": _TON,
    "tons": _TON,
    "TF": _TON_FORCE,
    "Tf": _TON_FORCE,
    "tonf": _TON_FORCE,
    "tonsf": _TON_FORCE,
    "ton f": _TON_FORCE,
    "ton force": _TON_FORCE,
    "tons force": _TON_FORCE,
    "mt": _MT,
    "mton": _MT,
    "mtons": _MT,
    "k": Several("kip, kg or kN", "write kip, kg or kN"),
    "#": Several("pounds or an item number", "write lb"),
    "cwt": Several("a short or a long hundredweight", "write the weight in lb or kg"),
}


def _gather() -> tuple[dict[str, Unit | Several], dict[str, Unit | Several]]:
    as_written: dict[str, Unit | Several] = dict(SEVERAL)
    for unit in UNITS:
        as_written |= dict.fromkeys(unit.spellings.split(", "), unit)
    any_case = {key.casefold(): found for key, found in as_written.items() if key not in ONE_CASE}
    return as_written, any_case


_AS_WRITTEN, _ANY_CASE = _gather()
_BY_NAME = {unit.name: unit for unit in UNITS}
_LONGEST_UNIT = 40
_JOINED = re.compile(r"(?<=[A-Za-z])[-_](?=[A-Za-z])")

#: Canonical name of a force or mass unit to newtons; a mass counts under standard gravity.
FORCE_UNITS: Mapping[str, float] = MappingProxyType(
    {unit.name: float(unit.factor) for unit in UNITS if unit.measure in ("force", "mass")}
)
#: Canonical name of a torque unit to N·mm.
TORQUE_UNITS: Mapping[str, float] = MappingProxyType(
    {unit.name: float(unit.factor) for unit in UNITS if unit.measure == "torque"}
)
#: Canonical name of a length unit to millimetres.
LENGTH_UNITS: Mapping[str, float] = MappingProxyType(
    {unit.name: float(unit.factor) for unit in UNITS if unit.measure == "length" and unit.name != "ft-in"}
)


@lru_cache(maxsize=2048)
def _compact(text: str) -> str:
    """The spelling without brackets, dots, doubled spaces and hyphens between words."""
    plain = tidy(text).strip()
    if len(plain) > 1 and plain[0] in "([{" and plain[-1] in ")]}":
        plain = plain[1:-1]
    if plain.count("(") != plain.count(")"):
        return plain
    return " ".join(_JOINED.sub(" ", plain.replace(".", "")).replace("(", " ").replace(")", " ").split())


def look_up(text: str) -> Unit | Several | None:
    """What a spelling stands for; None when nobody defined it."""
    if len(text) > _LONGEST_UNIT:
        return None
    key = _compact(text)
    return _AS_WRITTEN.get(key) or _ANY_CASE.get(key.casefold())


@lru_cache(maxsize=2048)
def _settle(text: str, habits: Habits) -> Unit | Several | None:
    """What a spelling stands for once the declared ton has settled what it can."""
    found = look_up(text)
    name = found.by_habit.get(habits.ton or "") if isinstance(found, Several) else None
    return _BY_NAME[name] if name else found


def find_unit(text: str, habits: Habits = UNDECLARED, said: str | None = None) -> Unit:
    """The unit that a spelling stands for.

    Args:
        text: The spelling, such as ``lbs`` or ``(kN)``.
        habits: What the criteria say a ton is.
        said: The whole cell, for the sentence of a refusal.
    """
    found = _settle(text, habits) if len(text) <= _LONGEST_UNIT else None
    if isinstance(found, Unit):
        return found
    if found is None:
        raise UnknownUnitError(
            f"{text[:_LONGEST_UNIT]!r} is not a unit: write one such as t, kN, lb, mm, in or deg"
        )
    raise AmbiguousUnitError(f"{said or text!r} could be {found.could_be}: {found.remedy}")


def unit_name(text: str, habits: Habits = UNDECLARED) -> str:
    """Canonical spelling of a unit.

    Args:
        text: The unit as somebody wrote it.
        habits: What the criteria say a ton is.

    >>> unit_name("ton")
    Traceback (most recent call last):
        ...
    AmbiguousUnitError: ...
    """
    return find_unit(text, habits).name
