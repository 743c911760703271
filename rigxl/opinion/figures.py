"""The figures that schedules work out for themselves, and each as rigxl works it out from the same row.

Some headings mean one thing in one office and another in the next. Such a figure has more than one answer,
the first of which is ours; a sheet agrees with any of them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from rigxl.checks import force
from rigxl.checks.judge import UNREADABLE, Judged
from rigxl.criteria import Criteria
from rigxl.errors import RigxlError
from rigxl.items import FAIL, PASS, Item
from rigxl.mechanics import loads
from rigxl.mechanics.limits import at_least


class Case(NamedTuple):
    """One row as judged, and what it was judged by."""

    judged: Judged
    criteria: Criteria

    @property
    def item(self) -> Item:
        return self.judged.item

    @property
    def allowance(self) -> float:
        """The allowance on the load's weight."""
        return self.criteria.weight_allowance[self.item.weight_basis or "estimated"]

    @property
    def hook_load(self) -> float | None:
        """All that hangs on the hook, in newtons."""
        item = self.item
        if item.load is None or not force.BY_LOAD.isdisjoint(item.problems):
            return None
        dynamic = self.criteria.dynamic_allowance
        try:
            return loads.hook_load(item.load, self.allowance, item.rigging or 0.0, dynamic)
        except RigxlError:
            return None

    @property
    def force(self) -> float | None:
        """What the item carries, in newtons; None where a cell it hangs on could not be read."""
        item = self.item
        if item.problems and not force.uses(item).isdisjoint(item.problems):
            return None
        return self.judged.force

    @property
    def readable(self) -> bool:
        """Whether every cell could be read that the row is judged by."""
        return not self.item.problems or all(one.rule is not UNREADABLE for one in self.judged.findings)

    @property
    def carrying(self) -> int | None:
        """How many legs are counted as carrying."""
        item = self.item
        if item.legs is None or "carrying" in item.problems:
            return None
        return item.carrying or self.criteria.carrying.get(item.legs)

    @property
    def slope(self) -> float | None:
        """The sling angle from the horizontal, in degrees; a single leg without one hangs plumb."""
        item = self.item
        if item.angle_deg is None and item.legs == 1 and "angle_deg" not in item.problems:
            return 90.0
        return item.angle_deg

    @property
    def in_legs(self) -> bool:
        """Whether the item carries what a leg carries."""
        return self.item.position in force.LEG_LIKE


def of_lift(item: Item, criteria: Criteria) -> Case:
    """A line of a table of lifts, as one of its legs would have it."""
    leg = replace(item, position="leg", problems=dict(item.problems), hitch=None)
    try:
        carried = force.carried(leg, criteria)
    except RigxlError:
        return Case(Judged(leg, []), criteria)
    return Case(Judged(leg, carried.findings, force=carried.force), criteria)


Answers = tuple[float, ...]


def _hook_load(case: Case) -> Answers:
    return _known(case.hook_load)


def _tension(case: Case) -> Answers:
    """As judged; by the sine, where mode factors or a basket make another figure of it."""
    if not case.in_legs:
        return _known(_by_sine(case), case.force)
    if case.item.hitch == "basket":
        by_sine = _by_sine(case)
        return _known(case.force, by_sine, by_sine and by_sine / 2)
    if case.criteria.mode_factors and case.force is not None:
        return _known(case.force, _by_sine(case))
    return _known(case.force)


def _by_sine(case: Case) -> float | None:
    hook, carrying, slope = case.hook_load, case.carrying, case.slope
    if hook is None or not carrying or slope is None:
        return None
    return hook / carrying / math.sin(math.radians(slope))


def _share(case: Case) -> Answers:
    hook, carrying = case.hook_load, case.carrying
    return _known(hook / carrying if hook is not None and carrying else None)


def _over_tension(case: Case) -> Answers:
    hook, tension = case.hook_load, case.force
    return _known(hook / tension if hook is not None and tension else None)


def _force(case: Case) -> Answers:
    return _known(case.force)


def _angle_factor(case: Case) -> Answers:
    return _known(case.slope and 1 / math.sin(math.radians(case.slope)))


def _either_angle_factor(case: Case) -> Answers:
    return _known(*(_angle_factor(case)), case.slope and math.sin(math.radians(case.slope)))


def _slope(case: Case) -> Answers:
    return _known(case.slope)


def _by_lengths(case: Case) -> Answers:
    try:
        return _known(force.lengths_angle(case.item))
    except RigxlError:
        return ()


def _derate(case: Case) -> Answers:
    return _known(case.judged.derate if case.readable else None)


def _derated(case: Case) -> Answers:
    rated, derate = case.judged.rated, case.judged.derate
    return _known(rated * derate if rated and derate and case.readable else None)


def _required(case: Case) -> Answers:
    return _known(case.judged.required if case.readable else None)


def _utilisation(case: Case) -> Answers:
    return _known(case.judged.utilisation if case.readable else None)


def _known(*answers: float | None) -> Answers:
    return tuple(one for one in answers if one is not None)


class Figure(NamedTuple):
    """A figure that a column may hold: what it is called, how its cells are read, and ours."""

    plain: str
    read: str
    answers: Callable[[Case], Answers]


FIGURES: Mapping[str, Figure] = {
    "lengths_angle": Figure("the sling angle by the lengths", "angle", _by_lengths),
    "sling_angle": Figure("the sling angle", "angle", _slope),
    "load_angle_factor": Figure("the load angle factor", "ratio", _angle_factor),
    "angle_factor": Figure("the angle factor", "ratio", _either_angle_factor),
    "hook_load": Figure("the hook load", "force", _hook_load),
    "over_tension": Figure("the hook load over the leg tension", "ratio", _over_tension),
    "share": Figure("the share of the load", "force", _share),
    "leg_tension": Figure("the leg tension", "force", _tension),
    "force": Figure("the force", "force", _force),
    "derate": Figure("the derate", "ratio", _derate),
    "derated": Figure("the derated capacity", "force", _derated),
    "required": Figure("the required capacity", "force", _required),
    "utilisation": Figure("the utilisation", "ratio", _utilisation),
}
"""By name, in the order in which one follows from another."""


def _row(case: Case) -> str | None:
    return case.judged.verdict


def _strength(case: Case) -> str | None:
    """FAIL where the rating falls short; what else fails a row, a sheet may count to its strength too."""
    judged = case.judged
    if judged.required is None or judged.rated is None or not case.readable:
        return None
    if not at_least(judged.rated, judged.required):
        return FAIL
    return PASS if judged.verdict == PASS else None


def _angle(case: Case) -> str | None:
    slope = case.slope
    if slope is None:
        return None
    if (case.item.legs or 1) < 2 and at_least(slope, 85):
        return PASS
    return PASS if at_least(slope, case.criteria.least_angle_deg) else FAIL


class Check(NamedTuple):
    """A verdict that a column may hold: what it is called, and ours; None where we have none."""

    plain: str
    ours: Callable[[Case], str | None]


CHECKS: Mapping[str, Check] = {
    "angle_check": Check("the check of the sling angle", _angle),
    "strength": Check("the check of the strength", _strength),
    "verdict": Check("the row", _row),
}
"""By name: the verdict on the row, and verdicts on a part of it."""
