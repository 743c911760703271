"""What an inspection measured, against the original: whether it takes a piece out of service.

A finding is recognised by its words: throat, twist, wear, elongation, outer wire wear, broken wires.

>>> named("Hook throat opening"), named("broken wires in one strand of a lay"), named("visual")
('throat', 'strand', '')
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigxl.checks import condition
from rigxl.criteria import Criteria
from rigxl.firm import REMOVED
from rigxl.hardware.hook_wear import THROAT, THROAT_OLDER, TWIST, TWIST_OLDER
from rigxl.hardware.usage import called, says
from rigxl.hardware.wear import MOST_WORN, WEAR_PAGE
from rigxl.items import HOLD, Finding, Item, Measurement, Rule
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import COMMON_PRACTICE, Source
from rigxl.units import LENGTH_UNITS, show_length

STRETCH_PAGE = Source("Emergency Management Australia, Manual 8", place="s. 4.25, 3 % suggests overload")
STRETCH_OLDER_PAGE = Source("29 CFR 1919.25", place="chain stretched by more than 5 %")
WIRES_PAGE = Source("WAC 296-24-29425", place="(5)(a), 10 in one lay or 5 in one strand of it")
WIRE_WEAR_PAGE = Source("WAC 296-24-29425", place="(5)(b), a third of the original diameter")

WEAR = Rule(
    "wear",
    "Wear of more than 10 % of the original dimension takes a piece out of service.",
    WEAR_PAGE,
    firm=REMOVED,
)
STRETCH = Rule(
    "chain-stretch",
    "Chain stretched by more than 3 % of its original length is out of service.",
    STRETCH_PAGE,
    firm=REMOVED,
)
STRETCH_OLDER = Rule(
    "chain-stretch-older",
    "Chain stretched by more than 5 % of its original length is out of service.",
    STRETCH_OLDER_PAGE,
    firm=REMOVED,
)
WIRES = Rule(
    "broken-wires",
    "10 broken wires in one lay, or 5 in one strand of it, take a wire rope out of service.",
    WIRES_PAGE,
    firm=REMOVED,
)
WIRE_WEAR = Rule(
    "outer-wire-wear",
    "Outer wires worn by a third of their diameter take a rope out of service.",
    WIRE_WEAR_PAGE,
    firm=REMOVED,
)
MEASURED = Rule(
    "measured-against-original",
    "What an inspection measured is judged against the original dimension, so both must be known.",
    COMMON_PRACTICE,
)

RULES = (WEAR, STRETCH, STRETCH_OLDER, WIRES, WIRE_WEAR, MEASURED)
USES = frozenset({"wear", "finding", "original", "measured", "broken_in_lay", "broken_in_strand"})

KINDS = (
    ("strand", r"\bbroken wires?\b.*\bstrands?\b"),
    ("lay", r"\bbroken wires?\b.*\blay\b"),
    ("wires", r"\bbroken wires?\b"),
    ("wire wear", r"\b(outer|outside|individual) wires?\b|\bwire wear\b|\bwear of wires?\b"),
    ("throat", r"\b(throat|mouth|hook opening)\b"),
    ("twist", r"\btwist"),
    ("stretch", r"\b(elongat|stretch|pitch\b|gauge length)"),
    ("wear", r"\b(wear|worn|section|diameter|thickness|bowl|saddle|crown|bar|pin|bow|body|eye|shank|link)\b"),
)
NAMED = tuple((what, re.compile(pattern)) for what, pattern in KINDS)
COUNTS = ("lay", "strand", "wires")
MEASURABLE = re.compile(r"\b(twist\w*|stretch\w*|elongat\w*|worn|broken wires?)\b")
MOST = {"lay": 10, "strand": 5}
WHERE = {"lay": "in one lay", "strand": "in one strand of a lay"}
ANOTHER = "another piece, inspected and fit for use"


def named(said: str) -> str:
    """What a finding measures, by its words; empty where they name nothing that has a limit."""
    text = condition.plain(said)
    return next((what for what, pattern in NAMED if pattern.search(text)), "")


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of an item's wear, and of all that inspections measured of it."""
    if item.wear is not None and not at_most(item.wear, MOST_WORN):
        yield WEAR.fails(
            f"it is worn by {item.wear:.3g}, over 0.10 of the original dimension", "another piece"
        )
    if item.twist_deg and item.kind != "hook":
        yield from _twisted(item.twist_deg)
    if not (item.measurements or item.condition or item.broken_in_lay or item.broken_in_strand):
        return
    wires: dict[str, int] = {}
    _most(wires, "lay", item.broken_in_lay)
    _most(wires, "strand", item.broken_in_strand)
    for text in (item.condition, *(one.said for one in item.measurements)):
        for where, number in condition.counted(text) if text else ():
            _most(wires, where, number)
    for one in item.measurements:
        yield from _finding(one, item, criteria, wires)
    if wires:
        yield from _wires(wires)


def _finding(one: Measurement, item: Item, criteria: Criteria, wires: dict[str, int]) -> Iterator[Finding]:
    """One finding: in words alone, counted, or measured."""
    what = named(one.said)
    if one.original is None and one.measured is None:
        for found in condition.check(one.said):
            yield _without_dimensions(one, what) if what and found.outcome == HOLD else found
        return
    if condition.UNFIT.search(MEASURABLE.sub(" ", condition.plain(one.said))):
        yield from condition.check(one.said)
    if what in COUNTS and one.measured is not None:
        _most(wires, what, round(_as_written(one.measured, one.measured_unit)))
    elif what == "twist" and one.measured is not None:
        yield from _twist(one, _as_written(one.measured, one.measured_unit), item, criteria)
    elif what in ("", *COUNTS, "twist"):
        yield MEASURED.holds(
            f"{one.where}: '{one.said}' does not say what was measured"
            if not what
            else f"{one.where}: '{one.said}' comes without its number",
            "write one of: throat, twist, wear, elongation, outer wire wear, broken wires in a lay, "
            "broken wires in one strand; and what was measured",
        )
    else:
        yield from _dimension(one, what, item, criteria)


def _without_dimensions(one: Measurement, what: str) -> Finding:
    return MEASURED.holds(
        f"{one.where}: '{one.said}', and no dimension of the {what} is given",
        "fill in the original and the measured dimension",
    )


def _dimension(one: Measurement, what: str, item: Item, criteria: Criteria) -> Iterator[Finding]:
    """A dimension, by how far it is from the original."""
    trouble, remedy = _cannot_compare(one, what)
    if trouble:
        yield MEASURED.holds(f"{one.where}: {trouble}", remedy)
        return
    assert one.measured is not None
    if one.measured_unit == "%":
        share = one.measured
    else:
        assert one.original is not None
        share = one.measured / one.original - 1
        share = share if what in ("throat", "stretch") else -share
    if share < -1e-9:
        grown = "smaller" if what in ("throat", "stretch") else "greater"
        yield MEASURED.holds(
            f"{one.where}: the {what} measured {_pair(one)}, {grown} than the original",
            "look whether the two dimensions are swapped, and measure again",
        )
    elif what == "throat":
        yield from _throat(one, share, criteria)
    elif what == "stretch":
        yield from _stretch(one, share, item, criteria)
    elif what == "wear":
        if not at_most(share, MOST_WORN):
            yield WEAR.fails(f"{one.where}: {_worn(one, share)}, over 10 %", ANOTHER)
    elif at_least(share, 1 / 3):
        yield WIRE_WEAR.fails(f"{one.where}: its outer wires: {_worn(one, share)}, a third or more", ANOTHER)


def _cannot_compare(one: Measurement, what: str) -> tuple[str, str]:
    """Why the two dimensions cannot be compared, and what to fill in; empty where they can."""
    if one.measured is None:
        return f"the {what} has an original dimension and nothing measured", "fill in what was measured"
    if one.measured_unit == "%":
        return "", ""
    if one.original is None:
        return (
            f"the {what} measured {_pair(one)}, and its original dimension is not given",
            "fill in the original dimension, from the maker or from when the piece was new",
        )
    if not one.original > 0:
        return "its original dimension is 0", "fill in the original dimension"
    units = {_is_length(one.original_unit), _is_length(one.measured_unit)}
    if len(units) > 1 or (what == "throat" and units == {False}):
        return (
            f"the {what} measured {_pair(one)}, and not both have a unit of length",
            "write the unit, such as mm or in, in the headings",
        )
    return "", ""


def _throat(one: Measurement, share: float, criteria: Criteria) -> Iterator[Finding]:
    opened = f"{one.where}: its throat measured {_pair(one)}: opened by {_percent(share)}"
    if criteria.older_removal_rules:
        if not at_most(share, 0.15):
            yield THROAT_OLDER.fails(f"{opened}, over 15 %", "another hook")
    elif not at_most(share, 0.05):
        yield THROAT.fails(f"{opened}, over 5 %", "another hook")
    elif one.original is not None and not at_most(share * one.original, 6):
        yield THROAT.fails(
            f"{opened}, and by more than {show_length(6, one.measured_unit or 'mm')}", "another hook"
        )


def _twist(one: Measurement, degrees: float, item: Item, criteria: Criteria) -> Iterator[Finding]:
    if item.kind != "hook":
        yield from _twisted(degrees)
    elif criteria.older_removal_rules:
        if not at_most(degrees, 10):
            yield TWIST_OLDER.fails(f"{one.where}: it is twisted by {degrees:.3g}°, over 10°", ANOTHER)
    elif degrees > 0:
        yield TWIST.fails(f"{one.where}: it is twisted by {degrees:.3g}°, and no twist is allowed", ANOTHER)


def _twisted(degrees: float) -> Iterator[Finding]:
    """What is no hook may not be twisted at all."""
    if degrees > 0:
        yield condition.CONDITION.fails(f"it is twisted by {degrees:.3g}°, and no twist is allowed", ANOTHER)


def _stretch(one: Measurement, share: float, item: Item, criteria: Criteria) -> Iterator[Finding]:
    """Chain may stretch a little; anything else may not stretch at all."""
    stretched = f"{one.where}: its length measured {_pair(one)}: stretched by {_percent(share)}"
    if item.kind == "link" or says(called(item), "chain"):
        rule, most = (STRETCH_OLDER, 0.05) if criteria.older_removal_rules else (STRETCH, 0.03)
        if not at_most(share, most):
            yield rule.fails(f"{stretched}, over {_percent(most)}", ANOTHER)
    elif not at_most(share, 1e-9):
        yield condition.CONDITION.fails(f"{stretched}, and none is allowed", ANOTHER)


def _wires(wires: dict[str, int]) -> Iterator[Finding]:
    lay, strand, total = wires.get("lay"), wires.get("strand"), wires.get("wires", 0)
    over = [where for where, most in MOST.items() if wires.get(where, 0) >= most]
    for where in over:
        yield WIRES.fails(f"{wires[where]} broken wires {WHERE[where]}: {MOST[where]} are too many", ANOTHER)
    if over:
        return
    unclear = total if lay is None else lay
    if (strand is None and MOST["strand"] <= unclear) or (lay is None and MOST["lay"] <= total):
        yield WIRES.holds(
            f"{unclear} broken wires, and how many are in one lay and in one strand of it is not said",
            "fill in the broken wires in one lay, and in one strand of one lay",
        )


def _most(wires: dict[str, int], where: str, number: int | None) -> None:
    if number is not None:
        wires[where] = max(number, wires.get(where, 0))


def _as_written(value: float, unit: str) -> float:
    """A number that stood under a unit of length, as it was written: wires have no millimetres."""
    return value / LENGTH_UNITS[unit] if unit in LENGTH_UNITS else value


def _is_length(unit: str) -> bool:
    return unit in LENGTH_UNITS or unit == "ft-in"


def _percent(share: float) -> str:
    return f"{share * 100:.3g} %"


def _shown(value: float, unit: str) -> str:
    if _is_length(unit):
        return show_length(value, unit)
    return _percent(value) if unit == "%" else f"{value:.4g}"


def _pair(one: Measurement) -> str:
    """Both dimensions as a sentence names them."""
    measured = _shown(one.measured or 0, one.measured_unit)
    if one.original is None:
        return measured
    return f"{measured} against {_shown(one.original, one.original_unit)} when new"


def _worn(one: Measurement, share: float) -> str:
    return f"it measured {_pair(one)}: worn by {_percent(share)}"
