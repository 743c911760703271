"""Pallet forks: load centre as the maker states, the load secured (common practice, no source)."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.items import FAIL, HOLD, PASS
from tests.hardware.devices import verdict

FORK: dict[str, Any] = {"secured": True, "load_centre": 500.0, "rated_load_centre": 600.0}


@pytest.mark.parametrize(
    ("changes", "word", "rules"),
    [
        ({"load_centre": 600.0}, PASS, set()),
        ({"load_centre": 601.0}, FAIL, {"fork-load-centre"}),
        ({"load_centre": None}, HOLD, {"fork-load-centre"}),
        ({"rated_load_centre": None}, HOLD, {"fork-load-centre"}),
        ({"secured": False}, FAIL, {"fork-load-secured"}),
        ({"secured": None}, HOLD, {"fork-load-secured"}),
    ],
)
def test_rules(changes: dict[str, Any], word: str, rules: set[str]) -> None:
    assert verdict("pallet fork", FORK, changes) == (word, rules)
