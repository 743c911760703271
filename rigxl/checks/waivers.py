"""Waivers: a rule that a row fails, and somebody who answers for it until a day.

A waiver covers one rule on one item or one lift. It changes no number, covers nothing that is not known, and
nothing that a firm rule says; a row that fails another rule as well stays FAIL. They come after all other
findings, for they look at what was found.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from rigxl.checks.inspection import months_after
from rigxl.checks.judge import Placed
from rigxl.checks.traceability import LINE_NUMBER, key
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, WAIVED, Finding, Item, Rule, Waiver
from rigxl.tables import COMMON_PRACTICE

LAPSED = Rule("waiver-lapsed", "A waiver covers nothing after its last day.", COMMON_PRACTICE)
UNUSED = Rule(
    "waiver-unused",
    "A waiver that covers nothing is taken out, lest it cover something later.",
    COMMON_PRACTICE,
)
OUTGROWN = Rule(
    "waiver-outgrown",
    "A waiver that says how much use it holds up to covers nothing above it.",
    COMMON_PRACTICE,
)
TOO_BROAD = Rule(
    "waiver-too-broad",
    "A waiver is for one rule, on one item or one lift, and for a year at most.",
    COMMON_PRACTICE,
)
REFUSED = Rule(
    "waiver-refused",
    "A waiver says its rule, its item or lift, why, who and until when, and covers no firm rule.",
    COMMON_PRACTICE,
)

RULES = (LAPSED, UNUSED, OUTGROWN, TOO_BROAD, REFUSED)

IN_FORCE, NOT_CHECKED = "in force", "not checked"
EVERYTHING = frozenset(
    {"all", "any", "every", "everything", "each", "whole schedule", "the whole schedule", "schedule"}
    | {
        "all rows",
        "all items",
        "all lifts",
        "all rules",
        "every row",
        "every item",
        "every lift",
        "every rule",
    }
)
LONGEST_MONTHS = 12


@dataclass(slots=True)
class Standing:
    """What became of one waiver: the rows it covers, or the finding that says why it covers none."""

    waiver: Waiver
    finding: Finding | None = None
    rows: list[Placed] = field(default_factory=list)

    @property
    def state(self) -> str:
        """In force, lapsed, unused, outgrown, too broad or refused; not checked where its sheet was not."""
        if self.finding is not None:
            return self.finding.rule.name.removeprefix("waiver-").replace("-", " ")
        return IN_FORCE if self.rows else NOT_CHECKED

    @property
    def says(self) -> str:
        """Why it covers nothing; empty where it is in force."""
        return self.finding.sentence if self.finding else ""


class Candidate(NamedTuple):
    """An item of the schedule, its sheet, and its judged row unless that sheet was left out of the check."""

    item: Item
    sheet: str
    row: Placed | None


def apply(
    waivers: Sequence[Waiver],
    candidates: Iterable[Candidate],
    rules: Mapping[str, Rule],
    criteria: Criteria,
) -> list[Standing]:
    """Cover what is waived, in place; what became of each waiver.

    Args:
        waivers: The lines of the waivers, in order.
        candidates: Every item of the workbook.
        rules: Every rule by its name.
        criteria: What the rows were judged by; its day is the one waivers lapse by.
    """
    standings = []
    index = _Index(candidates)
    for waiver in waivers:
        standing = Standing(waiver, _against(waiver, rules, criteria))
        meant, trouble = index.meant(waiver)
        rows = [one.row for one in meant if one.row is not None]
        if standing.finding is None and trouble:
            standing.finding = REFUSED.advises(f"{waiver.where}: {trouble}")
        if standing.finding is not None:
            _tell(standing.finding, waiver, rows)
        elif rows:
            _cover(standing, rows)
        standings.append(standing)
    return standings


def _against(waiver: Waiver, rules: Mapping[str, Rule], criteria: Criteria) -> Finding | None:
    """What speaks against a waiver itself, whatever it is for."""
    where = waiver.where
    if {key(waiver.item), key(waiver.lift)} & EVERYTHING or "*" in waiver.item + waiver.lift:
        return TOO_BROAD.advises(f"{where} is for the whole schedule: name one item or one lift")
    if key(waiver.rule) in EVERYTHING or "*" in waiver.rule:
        return TOO_BROAD.advises(f"{where} waives every rule: name one rule, as the reasons name it")
    if waiver.trouble:
        return REFUSED.advises(f"{where}: {waiver.trouble}")
    rule = rules[waiver.rule]
    if rule.firm:
        return REFUSED.advises(f"{where}: no waiver covers {rule.name}: {rule.firm}")
    day = criteria.judged_on
    assert waiver.until is not None
    if waiver.until < day:
        return LAPSED.advises(
            f"{where}: the waiver of {rule.name} for {_whom(waiver)} by {waiver.who} lapsed on {waiver.until}"
        )
    last = months_after(day, LONGEST_MONTHS)
    if waiver.until > last:
        return TOO_BROAD.advises(
            f"{where} runs until {waiver.until}, over a year from {day}: write {last} at the latest"
        )
    return None


class _Index:
    """The items of a workbook by tag, serial number and lift."""

    def __init__(self, candidates: Iterable[Candidate]) -> None:
        self.named: dict[str, list[Candidate]] = {}
        self.of_lift: dict[str, list[Candidate]] = {}
        for one in candidates:
            for name in dict.fromkeys(_names(one.item)):
                self.named.setdefault(name, []).append(one)
            self.of_lift.setdefault(key(one.item.lift), []).append(one)

    def meant(self, waiver: Waiver) -> tuple[list[Candidate], str]:
        """The items a waiver is for, or why it cannot be said which they are."""
        lift, name = key(waiver.lift), key(waiver.item)
        if lift and lift not in self.of_lift:
            return [], f"no row is of a lift '{waiver.lift}'"
        if not name:
            return self._one_lift(lift, waiver.lift) if lift else ([], "")
        named = [one for one in self.named.get(name, ()) if not lift or key(one.item.lift) == lift]
        also = [] if lift else self.of_lift.get(name, [])
        if named and also:
            return (
                [],
                f"'{waiver.item}' is the tag of an item and the name of a lift: fill in the other column",
            )
        if len(named) > 1:
            advice = "give each its own tag" if lift else "name the lift as well"
            return [], (
                f"{len(named)} rows have the tag or serial number '{waiver.item}': {advice}, "
                "for a waiver is for one item"
            )
        if not named and not also:
            within = f" in lift '{waiver.lift}'" if lift else ""
            return [], f"no row{within} has the tag or serial number '{waiver.item}'"
        if not named:
            return self._one_lift(name, waiver.item)
        if LINE_NUMBER.fullmatch(name) and key(named[0].item.serial) != name:
            return [], (
                f"'{waiver.item}' is the number of a line, which moves on to another piece when rows do: "
                "name the item by a tag or serial number of its own"
            )
        return named, ""

    def _one_lift(self, lift: str, said: str) -> tuple[list[Candidate], str]:
        """The items of the one lift of a name; lifts of one name on two sheets are two."""
        found = self.of_lift[lift]
        sheets = list(dict.fromkeys(f"'{one.sheet}'" for one in found))
        if len(sheets) > 1:
            return [], f"sheets {' and '.join(sheets)} each have a lift '{said}': give each its own name"
        return found, ""


def _names(item: Item) -> Iterator[str]:
    """What a row goes by: its tag, each part of a tag of several columns, its serial number."""
    if item.tag:
        yield key(item.tag)
        yield from map(key, item.tag.split(" / "))
    if item.serial:
        yield key(item.serial)


def _cover(standing: Standing, rows: Sequence[Placed]) -> None:
    """Cover what the rows fail by the waiver's rule; say on each row and of the waiver where it does not."""
    waiver, against = standing.waiver, []
    for row in rows:
        findings = row.judged.findings
        places = [place for place, one in enumerate(findings) if one.rule.name == waiver.rule]
        failing = [place for place in places if findings[place].outcome == FAIL]
        trouble = _cannot_cover(waiver, row) if failing else _nothing_fails(waiver, findings, places)
        if trouble is None:
            standing.rows.append(row)
            for place in failing:
                findings[place] = findings[place]._replace(outcome=WAIVED, waiver=waiver)
            continue
        against.append(trouble)
        if any(findings[place].outcome in (FAIL, HOLD) for place in places):
            findings.append(trouble)
    if not standing.rows:
        standing.finding = min(against, key=lambda finding: finding.rule is UNUSED)


def _cannot_cover(waiver: Waiver, row: Placed) -> Finding | None:
    used = row.judged.utilisation
    if used is None:
        return REFUSED.advises(
            f"{waiver.where}: {_whom(waiver)} has no capacity that could be worked out, "
            "and what is not known is not waived"
        )
    if waiver.most is not None and used > waiver.most:
        return OUTGROWN.advises(
            f"{waiver.where} holds up to {waiver.most * 100:.3g} % of what {_whom(waiver)} may carry, "
            f"and {used * 100:.3g} % is used"
        )
    return None


def _nothing_fails(waiver: Waiver, findings: Sequence[Finding], places: Sequence[int]) -> Finding:
    what = f"{waiver.where}: the waiver of {waiver.rule} for {_whom(waiver)}"
    found = [findings[place] for place in places]
    other = next((one.waiver for one in found if one.waiver is not None), None)
    if other is not None:
        return UNUSED.advises(f"{what} covers what {other.where} covers already: keep one of them")
    if any(one.outcome == HOLD for one in found):
        return UNUSED.advises(
            f"{what} covers nothing, for it is held: what is not known is found out, not waived"
        )
    return UNUSED.advises(f"{what} covers nothing, for nothing fails by that rule: take it out")


def _tell(finding: Finding, waiver: Waiver, rows: Sequence[Placed]) -> None:
    """Say on each row that fails or is held by a waiver's rule why the waiver does not cover it."""
    for row in rows:
        if any(one.rule.name == waiver.rule and one.outcome in (FAIL, HOLD) for one in row.judged.findings):
            row.judged.findings.append(finding)


def _whom(waiver: Waiver) -> str:
    return " of ".join(filter(None, (waiver.item, waiver.lift)))
