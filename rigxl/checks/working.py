"""How the numbers of one item came about: step by step, through the functions that judged it.

Nothing is worked out a second way: each result is the one the verdict was made of, and a working
that does not come out at it is a bug and raises. Figures are shown with four digits; nothing is rounded in
between.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.checks import force, rating
from rigxl.checks.force import LEG_LIKE, Share, Weights
from rigxl.checks.judge import CAPACITY, MARGIN, NOT_RATED, Judged
from rigxl.checks.makers import BY_MAKER, OWN_TABLE, TAKEN
from rigxl.checks.steps import Step, agrees, held_by, in_units, load_unit, rating_unit, unknown
from rigxl.criteria import Criteria
from rigxl.errors import RigxlError
from rigxl.hardware import Kind, kinds
from rigxl.items import Derate, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import show_force, show_length, show_pair

STATED = Source("as stated in the row")
PIECE = Source("as stated in the row: the mark on the piece governs")
GRAVITY = Source("NIST SP 811", "2008", "appendix B: standard gravity 9.80665 m/s², exact by definition")
MODES = Source("EN 818-4, EN 13414-1 and EN 1492-1, mode factors", note=FROM_MEMORY)
STATICS = Source("plain statics")

LISTED_BY = (
    "size",
    "grade",
    "type",
    "rope",
    "rope_diameter",
    "breaking_strength",
    "service",
    "design_factor",
)
"""What a published rating may be looked up by."""
LEG_FORCE = {"leg": "leg tension", "pick point": "pull on the pick point", "drop": "force in the drop"}


def working(judged: Judged, criteria: Criteria) -> tuple[Step, ...]:
    """The working of a judged item, from the load to its utilisation; empty where its kind is not known.

    Args:
        judged: The item with its verdict.
        criteria: What it was judged by.
    """
    kind = kinds().get(judged.item.kind or "")
    if kind is None:
        return ()
    steps: list[Step] = []
    try:
        steps.extend(_angle(judged))
        steps.extend(_force(judged, criteria))
        steps.append(_rated(judged, kind))
        steps.extend(_derates(judged, kind))
        steps.extend(_capacity(judged))
    except RigxlError as error:
        steps.append(unknown("the rest", "cannot be worked out", STATICS, "", [str(error)]))
    return tuple(steps)


def _angle(judged: Judged) -> Iterator[Step]:
    """The sling angle, where lengths give it and a number of this row depends on it."""
    item = judged.item
    if item.angle_deg is None or not (
        item.position in LEG_LIKE or any("angle_deg" in one.reads for one in judged.derates)
    ):
        return
    try:
        given = force.lengths_angle(item)
    except RigxlError:
        return
    if given is None or item.spread is None:
        return
    half = f"({show_length(item.spread, item.units.get('spread', 'mm'))} ÷ 2)"
    if item.leg_length is not None:
        formula, reads = "arccos((spread ÷ 2) ÷ leg length)", ("spread", "leg_length")
        leg = show_length(item.leg_length, item.units.get("leg_length", "mm"))
        numbers = f"arccos({half} ÷ {leg})"
    else:
        formula, reads = "arctan(height ÷ (spread ÷ 2))", ("spread", "height")
        height = show_length(item.height or 0, item.units.get("height", "mm"))
        numbers = f"arctan({height} ÷ {half})"
    shown = f"{given:.4g}° from the horizontal"
    yield Step("sling angle of the lengths", formula, numbers, given, "deg", shown, force.GEOMETRY, reads)
    if item.angle_deg < given:
        lower = f"{item.angle_deg:.4g}°"
        yield Step(
            "sling angle", "the lower of the one stated and the one of the lengths",
            f"{lower} and {given:.4g}°", item.angle_deg, "deg", lower, COMMON_PRACTICE, ("angle_deg",),
        )  # fmt: skip


def _force(judged: Judged, criteria: Criteria) -> Iterator[Step]:
    item = judged.item
    weights = force.weights_of(item, criteria)
    at = _named(item, weights)
    why = list(held_by(judged, (*force.RULES, NOT_RATED), force.uses(item)))
    if weights is None:
        formula = "(load × weight allowance + rigging weight) × dynamic allowance"
        yield unknown(at, formula, force.ALLOWANCES.source, "N", why)
        return
    yield from _hook_load(item, weights, at)
    name = LEG_FORCE.get(item.position or "", "force on the item")
    if judged.force is None:
        yield unknown(name, "by its position, the legs and their angle", force.GEOMETRY, "N", why)
        return
    at_hook = weights.at_hook
    if item.position not in LEG_LIKE:
        agrees(at_hook, judged.force)
        yield Step(
            name, at, show_force(at_hook, load_unit(item)), at_hook, "N",
            in_units(at_hook, load_unit(item), rating_unit(item)), STATICS, ("position",),
            remarks=(f"hung as {item.position}, it carries all of it",),
        )  # fmt: skip
        return
    share = force.leg_share(item, criteria, [])
    assert share is not None
    result = share.force(at_hook)
    agrees(result, judged.force)
    if share.mode_factor is None:
        yield _carrying(item, share, criteria)
    yield from _shared(item, share, at, name, at_hook, result)


def _named(item: Item, weights: Weights | None) -> str:
    """What the load at the hook is to this item, which need not carry all of the rigging."""
    if item.hung_above:
        return "load below the device"
    return "load on the device" if weights is not None and weights.own else "hook load"


def _hook_load(item: Item, weights: Weights, name: str) -> Iterator[Step]:
    unit = load_unit(item)
    load, rigging, own = (show_force(one, unit) for one in (weights.load, weights.rigging, weights.own))
    by_gravity = "load" in item.by_gravity
    yield Step(
        "load", "mass × g, g = 9.80665 m/s²" if by_gravity else "as stated", load, weights.load, "N",
        in_units(weights.load, unit), GRAVITY if by_gravity else STATED, ("load",),
    )  # fmt: skip
    allowed = weights.load * weights.allowance
    taken = () if item.weight_basis else ("how the weight was found is not stated: taken as estimated",)
    yield Step(
        "load with its allowance", "load × weight allowance", f"{load} × {weights.allowance:g}",
        allowed, "N", in_units(allowed, unit), force.ALLOWANCES.source, ("load", "weight_basis"),
        (weights.basis,), taken,
    )  # fmt: skip
    hangs = show_force(weights.rigging - weights.own, unit)
    if weights.own:
        which = "the device above" if item.hung_above else "the device itself"
        yield Step(
            "rigging weight", f"rigging weight − own weight of {which}", f"{rigging} − {own}",
            weights.rigging - weights.own, "N", in_units(weights.rigging - weights.own, unit), STATICS,
            ("rigging", "own_weight"),
        )  # fmt: skip
    none = () if item.rigging is not None else ("no rigging weight is given: taken as 0",)
    yield Step(
        name,
        "(load with its allowance + rigging weight) × dynamic allowance",
        f"({show_force(allowed, unit)} + {hangs}) × {weights.dynamic:g}", weights.at_hook, "N",
        in_units(weights.at_hook, unit), force.ALLOWANCES.source, ("rigging",), ("dynamic allowance",), none,
    )  # fmt: skip


def _shared(item: Item, share: Share, at: str, name: str, at_hook: float, result: float) -> Iterator[Step]:
    unit = load_unit(item)
    hook, shown = show_force(at_hook, unit), in_units(result, unit, rating_unit(item))
    if share.mode_factor is not None:
        leaning = 90 - (share.angle_deg or 0)
        yield Step(
            "mode factor", "by the number of legs and their angle from the vertical",
            f"{item.legs} legs at {leaning:.3g}° from the vertical", share.mode_factor, "1",
            f"{share.mode_factor:g}", MODES, ("legs", "angle_deg"), ("leg sharing",),
        )  # fmt: skip
        numbers = f"{hook} ÷ {share.mode_factor:g}"
        yield Step(name, f"{at} ÷ mode factor", numbers, result, "N", shown, MODES, ("position",))
        return
    if share.angle_deg is None:
        each = f"{hook} ÷ {share.carrying}"
        yield Step("share of one sling", f"{at} ÷ slings", each, result, "N", shown, STATICS)
        return
    plumb = () if item.angle_deg is not None else ("no sling angle is given: taken as plumb, 90°",)
    yield Step(
        name, f"{at} ÷ (legs that carry × sin(sling angle))",
        f"{hook} ÷ ({share.carrying} × sin({share.angle_deg:.4g}°))", result, "N", shown, force.GEOMETRY,
        ("position", "angle_deg"), remarks=plumb,
    )  # fmt: skip


def _carrying(item: Item, share: Share, criteria: Criteria) -> Step:
    settings: tuple[str, ...] = ()
    source, said = STATICS, "all of them"
    if item.carrying:
        said = "as stated"
    elif item.legs in (3, 4):
        settings = ("legs of three" if item.legs == 3 else "legs of four",)
        source, said = criteria.origin(settings[0]), "by the criteria"
    return Step(
        "legs that carry", said, f"{share.carrying} of {item.legs}", float(share.carrying), "1",
        str(share.carrying), source, ("legs", "carrying"), settings,
    )  # fmt: skip


def _rated(judged: Judged, kind: Kind) -> Step:
    item, unit = judged.item, rating_unit(judged.item)
    told = tuple(one.sentence for one in judged.findings if one.rule.name == BY_MAKER.name)
    why = list(held_by(judged, (*rating.RULES, BY_MAKER, NOT_RATED), rating.USES))
    if judged.rated is None:
        return unknown("rated load", "as marked on the piece, or as published", PIECE, "N", why)
    shown = in_units(judged.rated, unit)
    if item.rated_load is not None:
        source = OWN_TABLE if told else PIECE
        formula = "by the maker's own table" if any(said.startswith(TAKEN) for said in told) else "as stated"
        return Step(
            "rated load", formula, show_force(judged.rated, unit), judged.rated, "N", shown, source,
            ("rated_load",), remarks=tuple(dict.fromkeys((*told, *why))),
        )  # fmt: skip
    listed = rating.published(item, kind)
    assert listed is not None
    agrees(listed.newtons, judged.rated)
    table = listed.table
    used = kind.uses(item) | rating.USES
    reads = tuple(name for name in LISTED_BY if name in used and getattr(item, name) is not None)
    return Step(
        "rated load", f"as published: {table.name}", f"{item.size and item.size.name}: {listed.printed}",
        judged.rated, "N", in_units(judged.rated, table.rated_in, unit), table.source, reads,
        remarks=("no rated load is given in the row",),
    )  # fmt: skip


def _derates(judged: Judged, kind: Kind) -> Iterator[Step]:
    if judged.derate is None:
        why = held_by(judged, (*kind.RULES, NOT_RATED), kind.uses(judged.item))
        yield unknown("derate", "what this use leaves of the rated load", COMMON_PRACTICE, "1", why)
        return
    for one in judged.derates:
        yield Step(
            f"derate: {one.why}", one.formula or "the value printed for it", _substituted(one, judged.item),
            one.factor, "1", f"{one.factor:.4g}", one.source, one.reads,
        )  # fmt: skip
    together = f"{judged.derate:.4g}"
    if not judged.derates:
        yield Step("derate", "nothing is taken off for this use", "", judged.derate, "1", together, STATICS)
    elif len(judged.derates) > 1:
        numbers = " × ".join(f"{one.factor:.4g}" for one in judged.derates)
        yield Step("derates together", "each × the next", numbers, judged.derate, "1", together, STATICS)


def _substituted(derate: Derate, item: Item) -> str:
    if "θ" not in derate.formula:
        return f"{derate.factor:.4g}"
    return derate.formula.replace("θ", f"{item.angle_deg:.4g}°")


def _capacity(judged: Judged) -> Iterator[Step]:
    item, unit = judged.item, rating_unit(judged.item)
    needed, spent = judged.required, judged.utilisation
    formula = "force ÷ derates × (1 + design margin)"
    if needed is None or judged.force is None or judged.derate is None or judged.margin is None:
        yield unknown("required capacity", formula, MARGIN.source, "N", ("force or derate is not known",))
    else:
        numbers = f"{show_force(judged.force, unit)} ÷ {judged.derate:.4g} × (1 + {judged.margin:g})"
        own = item.margin is not None
        yield Step(
            "required capacity", formula, numbers, needed, "N", in_units(needed, unit), MARGIN.source,
            ("margin",) if own else (), () if own else ("margin",),
        )  # fmt: skip
    formula = "force ÷ (rated load × derates)"
    if spent is None or judged.force is None or judged.rated is None or judged.derate is None:
        why = ("force, derate or rated load is not known",)
        yield unknown("utilisation", formula, CAPACITY.source, "1", why)
        return
    carried, rated, derate = show_force(judged.force, unit), show_force(judged.rated, unit), judged.derate
    numbers = f"{carried} ÷ ({rated} × {derate:.4g})"
    shown = f"{spent:.4g} = {spent * 100:.4g} %"
    yield Step("utilisation", formula, numbers, spent, "1", shown, CAPACITY.source)
    left = "" if derate == 1 else f"{rated} × {derate:.4g} = "
    yield _compared(CAPACITY, "rated load × derates ≥ force", left, judged.rated * derate, judged.force, unit)
    if needed is not None:
        yield _compared(MARGIN, "rated load ≥ required capacity", "", judged.rated, needed, unit)


def _compared(rule: Rule, formula: str, worked: str, has: float, needs: float, unit: str) -> Step:
    """Whether what there is reaches what is needed, by the rule that asks for it."""
    holds = at_least(has, needs)
    first, second = show_pair(has, needs, unit)
    numbers = f"{worked}{first} {'≥' if holds else '<'} {second}"
    return Step(rule.name, formula, numbers, holds, "", "yes" if holds else "no", rule.source)
