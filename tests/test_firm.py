"""Which rules may be waived: few, and each that may fail a row says so itself."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path

from rigxl import firm
from rigxl.items import Rule
from rigxl.rules import gathered

PACKAGE = Path(firm.__file__).parent
REASONS = {value for name, value in vars(firm).items() if name.isupper() and value}
HANDED_ON = {
    "hook-fit", "link-fit", "bow-fit", "link-along", "swivel-along", "turnbuckle-along", "load-cell-along",
    "hook-tip-load", "sling-heat-wire-rope", "sling-heat-chain", "sling-heat-textile", "sling-heat-fibre",
    "chain-stretch", "chain-stretch-older", "shackle-over-90", "shackle-across-bow",
}  # fmt: skip
"""Rules that fail rows where their name is an argument or a variable, not a constant of the module."""

MAY_BE_WAIVED = {
    "clear-rope", "design-margin", "device-procedure", "device-proof-test", "hook-latch",
    "inspection-overdue", "least-angle",
}  # fmt: skip


def failing() -> set[str]:
    """The rules whose constants stand before ``.fails(`` somewhere in the package."""
    found = set()
    for folder in ("checks", "hardware"):
        for path in (PACKAGE / folder).glob("*.py"):
            module = importlib.import_module(f"rigxl.{folder}.{path.stem}")
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Attribute) and node.attr == "fails":
                    said = ast.unparse(node.value)
                    rule = getattr(module, said, None) if said.isidentifier() else None
                    if said.startswith("condition."):
                        rule = getattr(module.condition, said.partition(".")[2])
                    if isinstance(rule, Rule):
                        found.add(rule.name)
                    else:
                        assert said in ("rule", "limits.rule", "self"), f"{path}: {said}"
    return found | HANDED_ON


def test_a_rule_that_fails_rows_says_whether_it_may_be_waived() -> None:
    """What only holds or advises says nothing, and is never waived."""
    rules = {name: rule for name, (rule, _) in gathered().items()}
    assert len(failing()) > 60
    silent = {name for name in failing() if rules[name].firm == firm.FIND_OUT}
    assert silent == set()


def test_which_rules_may_be_waived() -> None:
    """Practice, not strength: the piece is sound, traced, rated for this use and not overloaded."""
    assert {name for name, (rule, _) in gathered().items() if not rule.firm} == MAY_BE_WAIVED


def test_what_no_waiver_covers_and_why() -> None:
    """Overload, out of service, counterfeits and devices without an engineer, each with its own reason."""
    said = {name: rule.firm for name, (rule, _) in gathered().items()}
    assert said["capacity"] == firm.OVERLOAD
    assert said["out-of-service"] == said["hook-throat"] == said["broken-wires"] == firm.REMOVED
    assert said["maker-not-known"] == said["own-pin"] == said["same-serial"] == firm.UNTRACED
    assert said["device-engineered"] == said["pad-eye-engineered"] == firm.UNENGINEERED
    assert said["cell-unreadable"] == said["rating-not-known"] == firm.FIND_OUT
    assert set(said.values()) <= REASONS | {firm.MAY_BE_WAIVED}
