"""Every rule a row can be judged by, gathered from the checks and the kinds that declare them."""

from __future__ import annotations

from functools import cache

from rigxl.checks import (
    arrival,
    assembly,
    condition,
    force,
    headroom,
    inspection,
    judge,
    makers,
    marking,
    rating,
    removal,
    traceability,
    waivers,
)
from rigxl.errors import InputError
from rigxl.hardware import kinds
from rigxl.items import Rule
from rigxl.opinion import rules as second_opinion


@cache
def gathered() -> dict[str, tuple[Rule, tuple[str, ...]]]:
    """Every rule by name, with the kinds it is for; none listed means every kind."""
    found: dict[str, tuple[Rule, tuple[str, ...]]] = {}
    for shared in (
        force,
        headroom,
        rating,
        judge,
        marking,
        inspection,
        condition,
        removal,
        makers,
        traceability,
        arrival,
        assembly,
        waivers,
        second_opinion,
    ):
        found.update({rule.name: (rule, ()) for rule in shared.RULES})
    for name, kind in kinds().items():
        for rule in kind.RULES:
            _, others = found.get(rule.name, (rule, ()))
            found[rule.name] = (rule, (*others, name))
    return found


def find(name: str) -> tuple[Rule, tuple[str, ...]]:
    """One rule by its name.

    Raises:
        InputError: There is no such rule; the sentence offers near names.
    """
    found = gathered().get(name.strip().lower())
    if found is None:
        from difflib import get_close_matches

        near = get_close_matches(name.lower(), gathered(), n=3, cutoff=0.4)
        offered = f": did you mean {', '.join(near)}?" if near else "; 'rigxl rules' lists them"
        raise InputError(f"there is no rule '{name}'{offered}")
    return found
