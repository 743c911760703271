"""What every below-the-hook device must show, whatever its kind."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.checks.force import carried
from rigxl.checks.judge import judge
from rigxl.hardware import device, kinds
from rigxl.items import FAIL, HOLD, PASS, Item
from tests.hardware.devices import BAR, ENGINEERED, LIFTED, PLATE, SHEET, TONNE, US, verdict

USED: dict[str, dict[str, Any]] = {
    "spreader bar": BAR,
    "lifting beam": BAR,
    "plate clamp": PLATE,
    "beam clamp": {"thickness": 150.0, "grip_from": 75.0, "grip_to": 200.0},
    "lifting magnet": SHEET,
    "vacuum pad": SHEET,
    "pallet fork": {"secured": True, "load_centre": 500.0, "rated_load_centre": 600.0},
    "lifting basket": {"secured": True},
}
DEVICES = pytest.mark.parametrize("kind", list(USED))


@DEVICES
def test_a_device_as_it_should_be_passes(kind: str) -> None:
    assert verdict(kind, USED[kind]) == (PASS, set())


@DEVICES
@pytest.mark.parametrize(
    ("field", "rule"),
    [
        ("engineered", "device-engineered"),
        ("own_weight", "device-own-weight"),
        ("rigging", "rigging-without-device"),
        ("proof_load", "device-proof-test"),
        ("procedure", "device-procedure"),
        ("rated_load", "rating-not-known"),
        ("marked", "rated-load-mark"),
        ("inspected", "inspection-not-known"),
    ],
)
def test_what_is_missing_is_held(kind: str, field: str, rule: str) -> None:
    """Marks, own weight and procedure: ASME B30.20, from memory; proof test: 29 CFR 1926.251(a)(4)."""
    assert verdict(kind, USED[kind], {field: None}) == (HOLD, {rule})


@DEVICES
@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"engineered": "none"}, "device-engineered"),
        ({"engineered": "Not engineered"}, "device-engineered"),
        ({"engineered": "shop-made"}, "device-engineered"),
        ({"proof_tested": False}, "device-proof-test"),
        ({"proof_load": 12.49 * TONNE}, "device-proof-test"),
        ({"procedure": False}, "device-procedure"),
        ({"marked": "illegible"}, "rated-load-mark"),
    ],
)
def test_what_is_known_to_be_bad_fails(kind: str, changes: dict[str, Any], rule: str) -> None:
    """125 % of the rated load: 29 CFR 1926.251(a)(4)."""
    assert verdict(kind, USED[kind], changes) == (FAIL, {rule})


@DEVICES
def test_every_field_a_device_reads_holds_it_when_it_cannot_be_read(kind: str) -> None:
    judging = kinds()[kind]
    for name in judging.uses(Item(kind=kind)) - {"type"}:
        problem = {name: f"G7: the {name} cannot be read"}
        word, rules = verdict(kind, USED[kind], {name: None, "problems": problem, "position": "device"})
        assert word == HOLD, name
        assert "cell-unreadable" in rules


@pytest.mark.parametrize("said", ["yes", "Y", "done"])
def test_an_engineers_mark_is_named(said: str) -> None:
    assert verdict("lifting basket", {"secured": True, "engineered": said}) == (HOLD, {"device-engineered"})


def test_proof_tested_without_the_load_says_too_little() -> None:
    word, rules = verdict("lifting basket", {"secured": True, "proof_tested": True, "proof_load": None})
    assert (word, rules) == (HOLD, {"device-proof-test"})


def test_the_proof_test_names_both_loads() -> None:
    item = Item(**ENGINEERED | {"proof_load": 11 * TONNE})
    (found,) = device.check(item)
    assert "proof tested to 11 t, and 125 % of its rated load is 12.5 t" in found.sentence


def test_a_device_carries_what_is_below_and_what_hangs_above_carries_the_device() -> None:
    """(6 t × 1.05 + 1.2 t) at the hook; 0.9 t less on the device, which is its own weight.

    Hook load = (load × weight allowance + rigging) × dynamic allowance: common practice, no source.
    """
    for position, tonnes in (("top", 7.5), ("device", 6.6)):
        item = Item(position=position, **ENGINEERED | LIFTED)
        result = carried(item, US)
        assert result.force == pytest.approx(tonnes * TONNE)
        told = next(found.sentence for found in result.findings if found.rule.name == "hook-load")
        assert ("0.9 t its own weight" in told) == (position == "device")


def test_rigging_lighter_than_the_device_is_held_and_nothing_taken_off() -> None:
    item = Item(kind="lifting basket", **ENGINEERED | LIFTED | {"secured": True, "rigging": 0.5 * TONNE})
    judged = judge(item, US)
    assert judged.verdict == HOLD
    assert judged.force == pytest.approx(6.8 * TONNE)
    (held,) = (found for found in judged.findings if found.outcome == HOLD)
    assert "weighs 0.9 t, and the rigging weight is given as 0.5 t" in held.sentence


def test_overloaded() -> None:
    """6.6 t on it with 25 % in hand asks for 8.25 t."""
    assert verdict("spreader bar", BAR, rated_load=8.3 * TONNE) == (PASS, set())
    assert verdict("spreader bar", BAR, rated_load=8.2 * TONNE) == (FAIL, {"design-margin"})
    assert verdict("spreader bar", BAR, rated_load=6.5 * TONNE) == (FAIL, {"capacity"})
