"""One item, one verdict: what passes, what fails, and that nothing unknown passes."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.checks.judge import judge, reasons
from rigxl.criteria import Criteria
from rigxl.hardware import kinds
from rigxl.hardware.usage import grade_of
from rigxl.items import FAIL, HOLD, PASS, Item
from rigxl.units import read_force, read_size

TODAY = dt.date(2026, 11, 25)
US = Criteria.ready("us").on(TODAY)


def good(**changes: Any) -> Item:
    """A leg shackle with all that is needed, at a utilisation of 0.71."""
    item = Item(
        kind="shackle",
        tag="S1",
        type="bow, screw pin",
        size=read_size("3/4 in"),
        position="leg",
        load=read_force("5 t").value,
        weight_basis="weighed",
        rigging=read_force("0.1 t").value,
        legs=2,
        angle_deg=60.0,
        rated_load=read_force("4.75 short ton").value,
        maker="Halden Forge",
        marked="yes",
        inspected=dt.date(2026, 6, 1),
        units={"load": "t", "rated_load": "short ton", "rigging": "t"},
    )
    return dataclasses.replace(item, **changes)


def rules(item: Item, criteria: Criteria = US) -> tuple[str, set[str]]:
    judged = judge(item, criteria)
    return judged.verdict, {one.rule.name for one in judged.findings if one.outcome in (FAIL, HOLD)}


def test_a_good_row_passes_with_its_working_shown() -> None:
    """(5 t × 1.05 + 0.1 t) ÷ (2 sin 60°) = 3.089 t; ÷ 4.309 t (4.75 short tons) = 0.717."""
    judged = judge(good(), US)
    assert judged.verdict == PASS
    assert judged.force == pytest.approx(5.35 / (2 * 0.8660254) * 9806.65, rel=1e-6)
    assert judged.utilisation == pytest.approx(3.0888 / 4.30913, rel=1e-4)
    assert judged.required == pytest.approx(3.0888 * 1.25 * 9806.65, rel=1e-4)
    assert any("utilisation 0.717" in one.sentence for one in reasons(judged))


@pytest.mark.parametrize(
    ("changes", "verdict", "rule"),
    [
        ({"rated_load": read_force("3 t").value}, FAIL, "capacity"),
        ({"rated_load": read_force("3.5 t").value}, FAIL, "design-margin"),
        ({"loading_angle_deg": 45.0, "plane": "in plane"}, FAIL, "capacity"),
        ({"loading_angle_deg": 10.0, "plane": "in plane", "type": "round pin"}, FAIL, "round-pin-off-line"),
        ({"loading_angle_deg": 91.0, "plane": "in plane"}, FAIL, "shackle-over-90"),
        ({"own_pin": False}, FAIL, "own-pin"),
        ({"angle_deg": 29.5, "load": read_force("2 t").value}, FAIL, "least-angle"),
        ({"marked": "no"}, HOLD, "rated-load-mark"),
        ({"marked": None}, HOLD, "rated-load-mark"),
        ({"marked": "illegible"}, FAIL, "rated-load-mark"),
        ({"maker": None}, HOLD, "maker-not-known"),
        ({"maker": "none"}, HOLD, "maker-not-known"),
        ({"maker": "Yes"}, HOLD, "maker-not-known"),
        ({"maker": "various"}, HOLD, "maker-not-known"),
        ({"maker": "4.75"}, HOLD, "maker-not-known"),
        ({"remarks": "pin bent, see photo"}, HOLD, "remark-of-a-defect"),
        ({"remarks": "cracked, not to be used"}, HOLD, "remark-of-a-defect"),
        ({"remarks": "Quarantined"}, HOLD, "remark-of-a-defect"),
        ({"description": "Shackle, do not use"}, HOLD, "remark-of-a-defect"),
        ({"type": "bow, screw pin, bent"}, HOLD, "remark-of-a-defect"),
        ({"angle_deg": 1e-9}, HOLD, "not-rated"),
        ({"inspected": None}, HOLD, "inspection-not-known"),
        ({"inspected": dt.date(2025, 11, 24)}, FAIL, "inspection-overdue"),
        ({"inspected": dt.date(2026, 11, 26)}, HOLD, "inspection-not-known"),
        ({"in_service": False}, FAIL, "out-of-service"),
        ({"condition": "bent pin"}, FAIL, "condition"),
        ({"condition": "hmm"}, HOLD, "condition-unclear"),
        ({"condition": "not cracked but pitted"}, HOLD, "condition-unclear"),
        ({"condition": "not fit for use"}, FAIL, "condition"),
        ({"condition": "no cracks, but rejected"}, FAIL, "condition"),
        ({"condition": "bent pin, no cracks"}, HOLD, "condition-unclear"),
        ({"wear": 0.11}, FAIL, "wear"),
        ({"kind": None}, HOLD, "kind-not-known"),
        ({"kind": "wheelbarrow"}, HOLD, "kind-not-known"),
        ({"load": None}, HOLD, "load-not-known"),
        ({"legs": None}, HOLD, "legs-not-known"),
        ({"angle_deg": None}, HOLD, "angle-not-known"),
        ({"position": None}, HOLD, "position-not-known"),
        ({"rated_load": None, "size": None}, HOLD, "rating-not-known"),
        ({"rated_load": None}, HOLD, "rating-not-known"),
        ({"rated_load": None, "size": read_size("13/16 in")}, HOLD, "size-not-listed"),
        ({"rated_load": read_force("4.75 t").value}, HOLD, "rating-over-table"),
        ({"problems": {"load": "S!C3: '5 ton' could be two things"}, "load": None}, HOLD, "cell-unreadable"),
        ({"problems": {"quantity": "S!F3: 0 pieces"}}, HOLD, "cell-unreadable"),
        ({"problems": {"loading_angle_deg": "S!D3: 'TBC' is not known"}}, HOLD, "cell-unreadable"),
    ],
)
def test_each_rule_decides(changes: dict[str, Any], verdict: str, rule: str) -> None:
    """One thing wrong with a good row, the rule that says so, and what would pass."""
    assert rules(good(**changes)) == (verdict, {rule})
    if rule != "cell-unreadable":
        decided = [one for one in judge(good(**changes), US).findings if one.outcome == verdict]
        assert all(one.remedy for one in decided)


@pytest.mark.parametrize(
    "said", ["OK", "no cracks", "no defects found", "in good condition", "no cracks or wear seen"]
)
def test_conditions_that_say_fit(said: str) -> None:
    """Plain words for fit for use."""
    assert rules(good(condition=said)) == (PASS, set())


@pytest.mark.parametrize(
    "said", ["no cracks", "check for bent pins before use", "hard hats to be worn", "weld lugs as drawn"]
)
def test_remarks_that_speak_of_no_defect(said: str) -> None:
    """A remark may name a defect that is not there."""
    assert rules(good(remarks=said)) == (PASS, set())


def test_a_problem_in_a_field_that_does_not_matter_does_not_hold() -> None:
    """A choke angle of n/a says nothing about a shackle."""
    assert rules(good(problems={"choke_angle_deg": "S!K3: 'n/a' is not known"}))[0] == PASS


def test_a_row_carries_all_of_its_reasons() -> None:
    """Not only the first."""
    verdict, found = rules(good(marked="no", maker=None, rated_load=read_force("1 t").value))
    assert (verdict, found) == (FAIL, {"rated-load-mark", "maker-not-known", "capacity"})


def test_what_would_pass_names_the_smallest_size_and_the_most_force() -> None:
    """Needs 3.86 t: of RR-C-271 Grade A (from memory) 3/4 in with 4.75 short tons is the smallest."""
    judged = judge(good(rated_load=read_force("2 t").value, size=read_size("1/2 in")), US)
    remedy = next(one.remedy for one in judged.findings if one.rule.name == "capacity")
    assert "3/4 in" in remedy
    assert "1.6 t" in remedy or "1.764 short ton" in remedy


def test_accepted_makers_and_required_certificate() -> None:
    """The user's own list, and the European set's certificate."""
    listed = US.override({"accepted makers": "Halden Forge; Oster Chain"}, "the test")
    assert rules(good(), listed)[0] == PASS
    assert rules(good(maker="halden  forge"), listed)[0] == PASS
    assert rules(good(maker="Haldon Forge"), listed) == (HOLD, {"maker-not-accepted"})
    europe = Criteria.ready("europe").on(TODAY)
    light = read_force("3 t").value
    assert rules(good(load=light), europe) == (HOLD, {"certificate-missing"})
    assert rules(good(load=light, certificate="C-17"), europe)[0] == PASS


NEEDED = ("kind", "position", "load", "legs", "angle_deg", "rated_load", "maker", "marked", "inspected")


@given(st.sets(st.sampled_from(NEEDED), min_size=1))
def test_nothing_unknown_passes(missing: set[str]) -> None:
    """Whatever is taken away from a good row, it does not pass."""
    assert judge(good(**dict.fromkeys(missing)), US).verdict != PASS


@given(st.floats(0.1, 20), st.floats(0.1, 12), st.floats(0, 2), st.floats(0, 2))
def test_more_margin_never_turns_fail_into_pass(
    load_t: float, wll_t: float, margin: float, more: float
) -> None:
    """Nor does a greater load."""
    changes = {"load": load_t * 9806.65, "rated_load": wll_t * 9806.65, "size": None}
    before = judge(good(**changes, margin=margin), US).verdict
    after = judge(good(**changes, margin=margin + more), US).verdict
    assert not (before == FAIL and after == PASS)


@given(st.floats(0.5, 8), st.sampled_from(["t", "kg", "lb", "kN", "lbf", "short ton", "kip"]))
def test_a_unit_change_never_changes_a_verdict(wll_t: float, unit: str) -> None:
    """The same rating said in another unit, to twelve figures."""
    from rigxl.units import convert_load

    plain = good(rated_load=read_force(f"{wll_t:.6f} t").value, size=None)
    said = read_force(f"{convert_load(float(f'{wll_t:.6f}'), 't', unit):.12f} {unit}")
    assert judge(plain, US).verdict == judge(good(rated_load=said.value, size=None), US).verdict


@given(st.floats(30, 89), st.floats(0, 45))
def test_a_steeper_leg_never_pulls_harder(angle_deg: float, steeper: float) -> None:
    """Force falls as the angle from the horizontal grows."""
    flat = judge(good(angle_deg=angle_deg), US).force
    steep = judge(good(angle_deg=min(90.0, angle_deg + steeper)), US).force
    assert flat is not None
    assert steep is not None
    assert steep <= flat * (1 + 1e-12)


def test_every_kind_answers_to_the_same_names() -> None:
    """The folder is the list."""
    assert {"shackle", "hook", "sling", "link", "eye bolt"} <= set(kinds())
    for kind in kinds().values():
        assert kind.WORDS
        assert kind.RULES
        assert len({rule.name for rule in kind.RULES}) == len(kind.RULES)


@pytest.mark.parametrize(
    ("text", "plain"), [("Grade 80", "80"), ("G100", "100"), ("Gr. 8", "80"), ("B", "B")]
)
def test_grades(text: str, plain: str) -> None:
    """Grade 8 of the European standards is grade 80."""
    assert grade_of(text) == plain
