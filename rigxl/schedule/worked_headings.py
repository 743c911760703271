"""Headings of columns in which a sheet works something out itself: the third list to review and add to.

What stands there is never taken: it is worked out again, and the sheet's own figure held against it.
"""

from __future__ import annotations

from collections.abc import Mapping

RESULT = "a result, which is worked out again and not taken from the sheet"

WORKED = "worked:"
"""How a heading of our own template begins when its column holds formulas."""

FIGURES: Mapping[str, str] = {
    "lengths_angle": "angle by lengths, angle from lengths, sling angle by lengths, sling angle from lengths",
    "sling_angle": (
        "sling angle taken, calculated angle, calculated sling angle, sling angle calculated, angle "
        "calculated, resulting angle, resulting sling angle"
    ),
    "load_angle_factor": (
        "load angle factor, laf, load factor for angle, tension factor, sling tension factor, angle tension "
        "factor"
    ),
    "angle_factor": "angle factor, sling angle factor, sine factor, angle multiplier",
    "hook_load": (
        "hook load, total hook load, gross hook load, load on hook, load at hook, total load on hook, load "
        "at the hook, load on the hook, total lifted load, total lifted weight"
    ),
    "over_tension": "hook load over leg tension",
    "share": (
        "share, load share, share of load, share of the load, share per leg, vertical load per leg, vertical "
        "share, vertical share per leg, vertical component, vertical component per leg"
    ),
    "leg_tension": (
        "leg tension, sling tension, tension, leg load, load per leg, load in leg, sling load, tension per "
        "leg, tension in leg, tension in sling, sling leg tension, tension in each leg, tension per sling, "
        "sling force, leg force, force per leg, force in leg, actual tension, max leg tension, max sling "
        "tension"
    ),
    "force": (
        "force, load on item, force on item, load in item, force in item, item load, item force, applied "
        "load, applied force, working force, actual force, load carried, force carried"
    ),
    "derate": (
        "derate, derating, derating factor, derate factor, total derate, total derating, combined derate, "
        "reduction factor, capacity reduction, capacity factor"
    ),
    "derated": (
        "reduced wll, derated wll, derated capacity, reduced capacity, derated rated load, adjusted wll, "
        "adjusted capacity, effective wll, effective capacity, wll after derating, capacity after derating, "
        "reduced swl, derated swl"
    ),
    "required": (
        "required wll, required capacity, capacity required, wll required, swl required, required swl, "
        "required rating, rating required, min wll required, min required wll, required rated load, "
        "needed capacity, capacity needed, wll needed"
    ),
    "utilisation": (
        "utilisation, utilization, unity check, uc, capacity used, percent capacity, percent of capacity, "
        "percent of wll, percent wll, utilisation ratio, utilization ratio, utilisation factor, utilization "
        "factor, percent used, percent utilisation, percent utilization, unity ratio, use of capacity"
    ),
    "angle_check": "angle check, angle ok, sling angle check, sling angle ok",
    "strength": (
        "worked strength, strength check, strength ok, capacity check, capacity ok, wll check, wll ok, swl "
        "check, swl ok, load check, rating check, utilisation check, utilization check"
    ),
    "verdict": (
        "result, verdict, pass fail, pass or fail, acceptable, check, overall result, overall verdict, "
        "overall check, item check, item ok, ok, ok or not ok, suitable, adequate, acceptance"
    ),
}
"""By the name of the figure or verdict: what its column may be headed."""
