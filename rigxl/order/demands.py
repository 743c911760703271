"""What to demand with a line of an order: its marks, its papers, the standard it is to meet, and its mass."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from rigxl.checks.rating import listings
from rigxl.criteria import Criteria
from rigxl.criteria.ready import EUROPE
from rigxl.errors import InputError, NotRatedError, RigxlError
from rigxl.hardware.bought import MACHINERY
from rigxl.hardware.proof_loads import PROOF_RULES, RuleName, proof_load
from rigxl.order.lines import Order, OrderLine, unit_of
from rigxl.units import FORCE_UNITS, show_force, to_unit

PROOF_NAMES: tuple[str, ...] = get_args(RuleName)
SAME_RATING = 0.005
"""A rating rounded in another unit is the same within half a per cent."""


def proof_rule(text: str | None, criteria: Criteria) -> RuleName:
    """The rule of proof loads asked for; unless stated the French one by European practice, else the US one.

    Raises:
        InputError: There is no such rule.
    """
    if text is None:
        return "france" if criteria.title == EUROPE.title else "us"
    for name in get_args(RuleName):
        if name == text.strip().lower():
            found: RuleName = name
            return found
    raise InputError(f"there is no rule of proof loads '{text}': the rules are {', '.join(PROOF_NAMES)}")


def makers(line: OrderLine, order: Order) -> str:
    """Whose pieces: as the schedule names them, by the maker's own rating, and accepted by the criteria."""
    named = ", ".join(dict.fromkeys(row.judged.item.maker for row in line.rows if row.judged.item.maker))
    if line.wanted.maker:
        return f"only {named}: it is rated by that maker's own table"
    accepted = order.checked.criteria.chosen["accepted makers"].value
    if accepted:
        return f"{named} in the schedule; accepted: {', '.join(accepted)}"
    return f"{named} in the schedule" if named else "not named in the schedule"


def marks(line: OrderLine, order: Order) -> Iterator[str]:
    """The marks to ask for, the last one naming who says so."""
    bought = line.kind.BOUGHT
    if bought.rated:
        yield f"rated load (WLL): {line.rated}"
    yield "the maker's name or mark"
    if line.wanted.size:
        yield f"size: {line.wanted.size}"
    if line.item.grade:
        yield f"grade: {line.item.grade}"
    if bought.engineered:
        yield f"engineer's mark or drawing number: {line.item.engineered}"
    yield "its own number or batch, which its certificate names"
    yield from bought.marks
    if _european(order):
        yield f"CE mark ({MACHINERY.cited})"
    yield f"by {(bought.european if _european(order) else bought.source).cited}"


def papers(line: OrderLine, order: Order, rule: RuleName) -> Iterator[str]:
    """The papers to demand."""
    yield "the maker's certificate, naming each piece's number or batch, its size, grade and rated load"
    yield proof(line, rule)
    yield from line.kind.BOUGHT.papers
    if _european(order):
        yield f"EC declaration of conformity and instructions ({MACHINERY.cited})"
    yield "the maker's instructions for use and inspection"


def proof(line: OrderLine, rule: RuleName) -> str:
    """The proof test to demand, with its load where the rule names one for such gear."""
    gear, unit, source = line.kind.BOUGHT.gear, unit_of(line.item), PROOF_RULES[rule].source
    if gear is None or line.wanted.rated is None:
        return "no proof load is known here: what its standard or its engineer asks, on the certificate"
    try:
        load = proof_load(to_unit(line.wanted.rated, unit), unit, rule, gear)
    except NotRatedError:
        named = f"{source.title} names none for it"
        return f"a proof test as its own standard asks, its load on the certificate ({named})"
    except RigxlError as error:
        return f"no proof load is known here ({error}): what its standard asks, on the certificate"
    return f"a proof test to {show_force(load * FORCE_UNITS[unit], unit)}, each piece ({source.cited})"


def standard(line: OrderLine) -> str:
    """The standard it is to meet: the page that lists this size with this rating, or as the maker states."""
    if line.wanted.maker:
        return "as the maker states, by the maker's own table"
    if not line.kind.BOUGHT.listed or line.wanted.rated is None:
        return "as the maker states"
    listed = [
        one for one in listings(line.item, line.kind)
        if abs(one.newtons - line.wanted.rated) <= SAME_RATING * line.wanted.rated
    ]  # fmt: skip
    if listed:
        return "; ".join(
            dict.fromkeys(f"rated as {one.table.name}, {one.table.source.cited}" for one in listed)
        )
    return "as the maker states: no table at hand lists this size with this rating"


def mass_kg(line: OrderLine) -> float | None:
    """The mass of one piece in kg, from its own weight in the schedule; None where it is not known."""
    own = line.item.own_weight
    return None if own is None or "own_weight" not in line.kind.BOUGHT.own else to_unit(own, "kg")


def _european(order: Order) -> bool:
    return order.checked.criteria.title == EUROPE.title
