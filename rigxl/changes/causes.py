"""Why a verdict changed: by its inputs, by what it takes from others, by waivers, criteria, the day or rigxl.

What did it is found by trying: each value is put back and the row judged again, each version is checked by
the criteria of the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cached_property
from typing import TypeAlias

import rigxl
from rigxl.changes.compare import Cause, Changed, Compared, Outcome, outcome
from rigxl.changes.decisive import TOGETHER, decisive, plain_name
from rigxl.changes.nearby import Nearby
from rigxl.changes.rows import Place, place_of
from rigxl.checks import assembly, traceability
from rigxl.criteria import Criteria
from rigxl.schedule.check import Checked, CheckedRow

Again: TypeAlias = Callable[[Checked, Criteria], Checked]
"""Checks a version once more, by other criteria than those on its own sheet."""
ACROSS = frozenset(rule.name for rule in (*assembly.RULES, *traceability.RULES))
"""The rules that judge a row by others."""

KEYS = frozenset({"lift", "tag", "serial"})
"""What a row takes values of other rows by."""


def explain(compared: Compared, again: Again) -> None:
    """Add to every row whose verdict or reasons changed why they did, in place.

    Args:
        compared: The two versions.
        again: Checks one of them by given criteria; asked only where criteria and verdicts changed.
    """
    why = _Why(compared, again)
    for one in compared.changed:
        if one.verdict_changed or one.new_reasons:
            one.causes = list(why.of(one))


class _Why:
    """What is asked for several rows, found once: what changed near each, the checks by other criteria."""

    def __init__(self, compared: Compared, again: Again) -> None:
        self.compared = compared
        self.again = again
        self.nearby = Nearby(compared)

    def of(self, one: Changed) -> Iterator[Cause]:
        """The causes of one change."""
        before, after = one.old.checked, one.new.checked
        assert before
        assert after
        if one.before != one.old.verdict:
            yield self._by_rigxl(one)
        old, new = outcome(before), outcome(after)
        if old == new:
            return
        waiver = self._by_waiver(before, after)
        if waiver:
            yield waiver
            if old[1] | old[2] == new[1] | new[2]:
                return
        inputs, settings = True, False
        if self.compared.settings:
            new_by_old = self._new_by_old.get(place_of(one.new.line))
            old_by_new = self._old_by_new.get(place_of(one.old.line))
            inputs = old not in (new_by_old, None) or new not in (old_by_new, None)
            settings = new not in (new_by_old, None) or old not in (old_by_new, None)
            if not inputs and not settings:
                inputs = settings = True  # either would have done it alone
        if inputs:
            yield from self._by_inputs(one, before, after)
        if settings:
            yield from self._by_settings(one, new)

    def _by_rigxl(self, one: Changed) -> Cause:
        marked = self.compared.earlier.by
        why = (
            "rigxl has changed since, or the row was edited or checked with other options"
            if marked and marked != f"rigxl {rigxl.__version__}"
            else "the row was edited after it was marked, or checked with other options"
        )
        by = f" (by {marked})" if marked else ""
        return Cause(
            "rigxl",
            f"the mark in the old version says {one.before}{by}, and worked out again it is "
            f"{one.old.verdict}: {why}",
        )

    def _by_waiver(self, before: CheckedRow, after: CheckedRow) -> Cause | None:
        """A waiver that was written, changed or taken out, where it is what covers the row or did."""
        rules = set(before.waived) ^ set(after.waived)
        names = {f"waiver of {rule} for " for rule in rules}
        said = [each for each in self.compared.waivers if any(map(each.name.startswith, names))]
        if not said:
            return None
        told = "; ".join(f"{each.name}: {each.new} in place of {each.old}" for each in said)
        return Cause("waiver", told)

    def _by_inputs(self, one: Changed, before: CheckedRow, after: CheckedRow) -> Iterator[Cause]:
        old, new = self.compared.old, self.compared.new
        names = decisive(before.judged.item, after.judged.item, new.criteria, old.makers, new.makers)
        cells = {each.new_cell for each in one.inputs} | {each.old_cell for each in one.inputs}
        fields = one.rounded | {each.field for each in one.inputs}
        own, taken = [], []
        across = bool((set(before.rules) ^ set(after.rules)) & ACROSS)
        for name in names:
            where = after.line.cells.get(name) or before.line.cells.get(name)
            if name in fields or {before.cell_of(name), after.cell_of(name)} & cells:
                own.append(plain_name(name))
            elif name in before.judged.item.problems or name in after.judged.item.problems:
                across = True  # as where the rows of a lift no longer agree
            elif where or name in TOGETHER:  # else it follows from another value, as a position from a kind
                taken.append(plain_name(name) + (f" ({where})" if where else ""))
                across = across or (bool(where) and where not in self.nearby.cells)
        if own:
            yield Cause("inputs", f"its own {', '.join(own)}")
        keys = [each.plain for each in one.inputs if each.field in KEYS]
        if taken and keys:
            yield Cause("inputs", f"its own {', '.join(keys)}, by which it takes {', '.join(taken)}")
        elif taken:
            yield Cause("taken", f"what it takes from other rows: {', '.join(taken)}")
        if across or not (own or taken):
            yield self.nearby.cause(one)

    def _by_settings(self, one: Changed, new: Outcome) -> Iterator[Cause]:
        """The settings without which the verdict would be another; all of them where none does it alone."""
        place = place_of(one.new.line)
        names = [name for name, by_one in self._each_put_back.items() if by_one.get(place) not in (new, None)]
        if "judged on" in names:
            day = next(each for each in self.compared.settings if each.name == "judged on")
            yield Cause("date", f"the day it is judged on, {day.new} in place of {day.old}")
        others = [each for each in self.compared.settings if each.name in names and each.name != "judged on"]
        if not names:
            others = self.compared.settings
        if others:
            said = ", ".join(f"{each.name} {each.new} in place of {each.old}" for each in others)
            yield Cause("criteria", f"the criteria: {said}")

    @cached_property
    def _new_by_old(self) -> dict[Place, Outcome]:
        return self._checked(self.compared.new, self.compared.old.criteria)

    @cached_property
    def _old_by_new(self) -> dict[Place, Outcome]:
        return self._checked(self.compared.old, self.compared.new.criteria)

    @cached_property
    def _each_put_back(self) -> dict[str, dict[Place, Outcome]]:
        """By setting, the new version by the new criteria with that one setting as it was."""
        old, new = self.compared.old.criteria, self.compared.new.criteria
        return {
            each.name: self._checked(
                self.compared.new, replace(new, chosen={**new.chosen, each.name: old.chosen[each.name]})
            )
            for each in self.compared.settings
        }

    def _checked(self, version: Checked, criteria: Criteria) -> dict[Place, Outcome]:
        return {place_of(row.line): outcome(row) for row in self.again(version, criteria).rows}
