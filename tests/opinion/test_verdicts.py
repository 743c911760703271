"""The words of sheets: what is no verdict is none."""

from __future__ import annotations

import pytest

from rigxl.opinion.verdicts import verdict_in


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("PASS", "PASS"),
        ("O.K.", "PASS"),
        ("Ok ✓", None),
        ("✓", "PASS"),
        ("acceptable", "PASS"),
        ("Not acceptable", "FAIL"),
        ("not OK", "FAIL"),
        ("NG", "FAIL"),
        ("no", "FAIL"),
        ("CHECK", "HOLD"),
        ("?", "HOLD"),
        (True, "PASS"),
        (False, "FAIL"),
        ("J. Doe", None),
        ("passed by on 3 May", None),
        ("", None),
        ("ok" * 30, None),
    ],
)
def test_what_a_word_means(said: str | bool, meant: str | None) -> None:
    assert verdict_in(said) == meant
