"""What the rules of a kind say of an item, in a form that tests can compare."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rigxl.criteria import Criteria
from rigxl.hardware import kinds
from rigxl.items import FAIL, HOLD, Item

US = Criteria.ready("us")

Said = dict[str, str]
Judge = Callable[..., Said]


@pytest.fixture(scope="session")
def said() -> Judge:
    """Rule by outcome of all that fails or holds an item of a kind: ``said("hook", latch=True)``."""

    def ask(kind: str, criteria: Criteria = US, **fields: Any) -> Said:
        findings = list(kinds()[kind].check(Item(kind=kind, **fields), criteria))
        assert all(finding.sentence for finding in findings)
        assert all(finding.remedy for finding in findings if finding.outcome in (FAIL, HOLD))
        return {found.rule.name: found.outcome for found in findings if found.outcome in (FAIL, HOLD)}

    return ask


@pytest.fixture(scope="session")
def left() -> Callable[..., float | None]:
    """The product of an item's derates, or None where its use has no rating."""

    def ask(kind: str, criteria: Criteria = US, **fields: Any) -> float | None:
        derates = kinds()[kind].derates(Item(kind=kind, **fields), criteria)
        if derates is None:
            return None
        product = 1.0
        for one in derates:
            product *= one.factor
        return product

    return ask
