"""One item, one verdict: PASS, FAIL, HOLD or WAIVED, with every reason.

PASS needs all of it known and good enough; FAIL is known and not good enough; whatever cannot be
judged is HOLD. WAIVED would fail, and somebody answers for every rule that it fails. Nothing unknown passes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from math import prod
from typing import Protocol

from rigxl.checks import arrival, force, headroom, inspection, marking, rating
from rigxl.checks.makers import MakersTable
from rigxl.criteria import Criteria
from rigxl.errors import RigxlError
from rigxl.firm import MAY_BE_WAIVED, NO_RATING, OVERLOAD
from rigxl.hardware import Kind, kinds
from rigxl.items import ADVICE, FAIL, HOLD, NOTE, PASS, WAIVED, Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import show_force, show_pair

RATED = Source("ASME B30.9, B30.26: the rated load shall not be exceeded", note=FROM_MEMORY)

KIND = Rule(
    "kind-not-known", "The kind of hardware must be known, and be one that rigxl can judge.", COMMON_PRACTICE
)
UNREADABLE = Rule("cell-unreadable", "A cell that is needed must hold one plain value.", COMMON_PRACTICE)
CAPACITY = Rule(
    "capacity", "The force may not exceed the rated load after derating for its use.", RATED, firm=OVERLOAD
)
MARGIN = Rule(
    "design-margin",
    "Required capacity = force ÷ derates × (1 + design margin).",
    COMMON_PRACTICE,
    firm=MAY_BE_WAIVED,
)
NOT_RATED = Rule("not-rated", "A use for which there is no rating does not pass.", RATED, firm=NO_RATING)

RULES = (KIND, UNREADABLE, CAPACITY, MARGIN, NOT_RATED)
RANKS = {FAIL: 0, HOLD: 1, WAIVED: 2, ADVICE: 3, NOTE: 4}
USES = frozenset({"kind", "quantity", "margin"}) | rating.USES | marking.USES | inspection.USES


@dataclass(slots=True)
class Judged:
    """An item with its verdict: forces and ratings in newtons, None where they cannot be known."""

    item: Item
    findings: list[Finding]
    force: float | None = None
    rated: float | None = None
    derate: float | None = None
    derates: tuple[Derate, ...] = ()
    margin: float | None = None

    @property
    def verdict(self) -> str:
        """PASS, FAIL, HOLD or WAIVED, by the findings; what has no utilisation never passes."""
        outcomes = {finding.outcome for finding in self.findings}
        if FAIL in outcomes:
            return FAIL
        if HOLD in outcomes or self.utilisation is None:
            return HOLD
        return WAIVED if WAIVED in outcomes else PASS

    @property
    def required(self) -> float | None:
        """Required capacity: force ÷ derates × (1 + margin), in newtons."""
        if self.force is None or not self.derate or self.margin is None:
            return None
        return self.force / self.derate * (1 + self.margin)

    @property
    def utilisation(self) -> float | None:
        """Force ÷ (rating × derates), a ratio."""
        if self.force is None or not self.derate or not self.rated:
            return None
        return self.force / (self.rated * self.derate)


class Placed(Protocol):
    """A judged row that knows where it and its cells stand."""

    @property
    def judged(self) -> Judged: ...

    @property
    def sheet(self) -> str: ...

    @property
    def row(self) -> int: ...

    @property
    def name(self) -> str: ...

    def cell_of(self, name: str) -> str: ...


def judge(item: Item, criteria: Criteria, makers: MakersTable | None = None) -> Judged:
    """The verdict on one item by the criteria.

    Args:
        item: The item; what is settled on the way is filled in.
        criteria: What it is judged by.
        makers: The user's own table of makers' ratings.
    """
    kind = kinds().get(item.kind or "")
    if kind is None:
        return _no_kind(item)
    try:
        return _judge(item, kind, criteria, makers)
    except RigxlError as error:
        return Judged(item, [NOT_RATED.holds(f"it cannot be worked out: {error}", "correct the row")])


def _judge(item: Item, kind: Kind, criteria: Criteria, makers: MakersTable | None) -> Judged:
    if item.position is None and "position" not in item.problems:
        item.position = kind.POSITION
    carried = force.carried(item, criteria)
    judged = Judged(item, carried.findings, force=carried.force)
    found = judged.findings
    found.extend(headroom.check(item, criteria))
    judged.rated, about_rating = rating.rated(item, kind, makers)
    found.extend(about_rating)
    found.extend(kind.check(item, criteria))
    _derate(judged, kind, criteria)
    judged.margin = item.margin if item.margin is not None else criteria.margin
    _capacity(judged, kind)
    found.extend(marking.check(item, criteria))
    found.extend(inspection.check(item, criteria))
    found.extend(arrival.check(item, criteria))
    if item.problems:
        needed = USES | force.uses(item) | headroom.uses(item) | kind.uses(item)
        sentences = dict.fromkeys(said for name, said in item.problems.items() if name in needed)
        found.extend(map(UNREADABLE.holds, sentences))
    if judged.utilisation is None and judged.verdict == HOLD and not _held(judged):
        found.append(NOT_RATED.holds("its force, rating or derate is not known", "fill in the row"))
    return judged


def _no_kind(item: Item) -> Judged:
    known = ", ".join(kinds())
    sentence = item.problems.get("kind") or (
        f"'{item.kind}' is not a kind rigxl can judge" if item.kind else "the kind of hardware is not stated"
    )
    return Judged(item, [KIND.holds(sentence, f"fill in one of: {known}")])


def _derate(judged: Judged, kind: Kind, criteria: Criteria) -> None:
    derates = kind.derates(judged.item, criteria)
    if derates is not None:
        judged.derates = derates
        judged.derate = prod(one.factor for one in derates)
    elif not any(finding.outcome in (FAIL, HOLD) for finding in judged.findings):
        judged.findings.append(NOT_RATED.holds("no rating is known for this use", "say how it is used"))


def _capacity(judged: Judged, kind: Kind) -> None:
    needed, spent = judged.required, judged.utilisation
    if needed is None or spent is None:
        return
    assert judged.rated is not None
    assert judged.derate is not None
    unit = judged.item.units.get("rated_load") or judged.item.units.get("load", "kN")
    worked = partial(_worked, judged, needed, spent, unit)
    if at_least(judged.rated, needed):
        judged.findings.append(MARGIN.notes(worked))
        return
    remedy = _remedy(judged, kind, needed, unit)
    if at_least(judged.rated * judged.derate, judged.force or 0):
        judged.findings.append(MARGIN.fails(f"the design margin is not in hand: {worked()}", remedy))
    else:
        judged.findings.append(CAPACITY.fails(f"overloaded: {worked()}", remedy))


def _worked(judged: Judged, needed: float, spent: float, unit: str) -> str:
    shown_rated, shown_needed = show_pair(judged.rated or 0, needed, unit)
    uses = "".join(f", {one.why} × {one.factor:.4g}" for one in judged.derates)
    return (
        f"force {show_force(judged.force or 0, unit)}{uses}, design margin {judged.margin:.0%}: "
        f"required {shown_needed}, rated {shown_rated}, utilisation {spent:.3g}"
    )


def _remedy(judged: Judged, kind: Kind, needed: float, unit: str) -> str:
    remedy = f"a rated load of {show_force(needed, unit)} or more"
    for table in rating.tables_for(judged.item, kind):
        row = table.smallest(needed)
        if row is not None:
            remedy += f", such as {table.size(row)} of {table.name} ({table.source.cited})"
            break
    assert judged.rated is not None
    assert judged.derate is not None
    assert judged.margin is not None
    most = judged.rated * judged.derate / (1 + judged.margin)
    return f"{remedy}; or a force of {show_force(most, unit)} at most on this one"


def _held(judged: Judged) -> bool:
    """Whether a finding says why the row is held."""
    return any(finding.outcome == HOLD for finding in judged.findings)


def reasons(judged: Judged) -> list[Finding]:
    """The findings a reader wants first: what fails, what holds, then advice, then how it was worked out."""
    return sorted(judged.findings, key=_rank)


def _rank(finding: Finding) -> int:
    return RANKS[finding.outcome]
