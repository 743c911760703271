"""What every below-the-hook device must show, whatever its kind: it is engineered, weighed and proof tested.

>>> [found.rule.name for found in check(Item(engineered="DRG-114", own_weight=900.0, procedure=True))]
['rigging-without-device', 'device-proof-test']
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.criteria import Criteria
from rigxl.firm import MAY_BE_WAIVED, UNENGINEERED
from rigxl.hardware.proof_loads import US_FACTOR, US_PAGE
from rigxl.hardware.usage import says, words
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics import loads
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import show_force, show_pair

DESIGNED = Source("ASME BTH-1; ASME B30.20, design and marking", note=FROM_MEMORY)
MARKED = Source("ASME B30.20 Below-the-Hook Lifting Devices", place="marking", note=FROM_MEMORY)
WRITTEN = Source("ASME B30.20 Below-the-Hook Lifting Devices", place="operation", note=FROM_MEMORY)

ENGINEERED = Rule(
    "device-engineered",
    "A below-the-hook device is engineered, and carries its engineer's mark or drawing number.",
    DESIGNED,
    firm=UNENGINEERED,
)
OWN_WEIGHT = Rule(
    "device-own-weight", "A device's own weight must be known: what hangs above carries it too.", MARKED
)
PROOF = Rule(
    "device-proof-test",
    "A device is proof tested to 125 % of its rated load before it is used.",
    US_PAGE,
    firm=MAY_BE_WAIVED,
)
PROCEDURE = Rule(
    "device-procedure", "A device is used by its written operating procedure.", WRITTEN, firm=MAY_BE_WAIVED
)

IN_RIGGING = Rule(
    "rigging-without-device",
    "The rigging weight takes in the device, for what hangs above carries both.",
    COMMON_PRACTICE,
)

RULES = (ENGINEERED, OWN_WEIGHT, IN_RIGGING, PROOF, PROCEDURE)
USES = frozenset({"engineered", "own_weight", "rigging", "proof_load", "proof_tested", "procedure"})

DENIED = (
    "no", "none", "nil", "not", "without", "missing", "site made", "shop made", "home made", "homemade",
)  # fmt: skip
NOT_NAMED = frozenset({" yes ", " y ", " true ", " ok ", " done "})


def check(item: Item) -> Iterator[Finding]:
    """What is to be said of a device as such."""
    yield from _engineered(item)
    yield from _weight(item)
    yield from _proof(item)
    if item.procedure is False:
        yield PROCEDURE.fails(
            "it has no written operating procedure", "a procedure, at hand where it is used"
        )
    elif item.procedure is None and "procedure" not in item.problems:
        yield PROCEDURE.holds(
            "whether it has a written operating procedure is not stated",
            "fill in the written procedure: yes or no",
        )


def hook_load(item: Item, criteria: Criteria) -> float | None:
    """The load on whatever the device hangs from, its own weight included; None where it is not known."""
    if item.load is None or item.load <= 0:
        return None
    allowance = criteria.weight_allowance[item.weight_basis or "estimated"]
    rigging = max(item.rigging or 0.0, item.own_weight or 0.0)
    return loads.hook_load(item.load, allowance, rigging, criteria.dynamic_allowance)


def _engineered(item: Item) -> Iterator[Finding]:
    if item.engineered is None:
        if "engineered" not in item.problems:
            yield ENGINEERED.holds(
                "no engineer's mark and no drawing number is given",
                "fill in the engineer's mark or drawing number that stands on the device",
            )
        return
    said = words(item.engineered)
    if says(said, *DENIED):
        yield ENGINEERED.fails(
            f"its engineer's mark is recorded as '{item.engineered}': a device nobody engineered is not used",
            "a device designed by a qualified engineer, marked and proof tested",
        )
    elif said in NOT_NAMED:
        yield ENGINEERED.holds(
            f"'{item.engineered}' does not say which engineer's mark or drawing number it carries",
            "fill in the mark or number itself",
        )


def _weight(item: Item) -> Iterator[Finding]:
    if item.own_weight is None:
        if "own_weight" not in item.problems:
            yield OWN_WEIGHT.holds(
                "its own weight is not given", "fill in the own weight marked on the device"
            )
    elif "rigging" not in item.problems and not at_least(item.rigging or 0.0, item.own_weight):
        unit = item.units.get("own_weight", "kN")
        given = "not given" if item.rigging is None else f"given as {show_force(item.rigging, unit)}"
        yield IN_RIGGING.holds(
            f"it weighs {show_force(item.own_weight, unit)}, and the rigging weight is {given}",
            "fill in the weight of all that hangs below the hook besides the load, the device included",
        )


def _proof(item: Item) -> Iterator[Finding]:
    if item.proof_tested is False:
        yield PROOF.fails("it has not been proof tested", "a proof test to 125 % of its rated load")
        return
    if item.proof_load is None:
        if "proof_load" not in item.problems:
            yield PROOF.holds(
                "the load it was proof tested to is not given",
                "fill in the proof load on its test certificate, 125 % of the rated load or more",
            )
    elif item.rated_load is not None and not at_least(item.proof_load, US_FACTOR * item.rated_load):
        unit = item.units.get("rated_load") or item.units.get("proof_load", "kN")
        tested, wanted = show_pair(item.proof_load, US_FACTOR * item.rated_load, unit)
        yield PROOF.fails(
            f"it was proof tested to {tested}, and 125 % of its rated load is {wanted}",
            "a proof test to that load, or a rated load of 0.8 of its proof load",
        )
