"""Headings that name no field for sure, and the words of headings: the second list to review and add to.

The first, of headings that do name a field, is :mod:`rigxl.schedule.spellings`.
"""

from __future__ import annotations

from collections.abc import Mapping

MORE_THAN_ONE: Mapping[str, tuple[str, ...]] = {
    "weight, mass, total weight, gross weight, gross load, total load, suspended load": ("load", "rigging"),
    "max load, load limit, allowable load, permitted load, design load": ("rated_load", "load"),
    "load capacity, lift capacity, crane capacity": ("rated_load",),
    "la, load angle, angle of load, lift angle": ("angle_deg", "loading_angle_deg"),
    "angle of inclination, inclination, leg inclination, sling inclination": (
        "angle_from_vertical",
        "angle_deg",
    ),
    "top angle, angle at hook, hook angle": ("included_angle", "loading_angle_deg"),
    "shackle angle, eye bolt angle, eyebolt angle": ("loading_angle_deg", "angle_deg"),
    "side load, side loading, side angle, side pull, angle off centreline, angle off centre line, off line, "
    "angle off line, off centre": ("loading_angle_deg",),
    "span, width, distance, centres": ("spread", "inside_width"),
    "no of slings, slings, no of parts, leg": ("legs",),
    "pin": ("pin", "type"),
    "opening": ("throat", "inside_width"),
    "link": ("bar", "kind"),
    "eye": ("hole", "inside_width", "kind"),
    "material": ("type", "grade"),
    "model, class": ("type", "grade"),
    "sling configuration, configuration, mode": ("hitch", "legs"),
    "rigging, sling, slings used, rigging used": ("kind", "rigging"),
    "assembly, rigging assembly, assembly no": ("lift", "tag"),
    "location": ("position",),
    "mark": ("tag", "marked"),
    "identification": ("tag", "marked"),
    "name, title": ("lift", "description"),
    "status, state": ("in_service", "condition"),
    "inspection": ("inspected", "condition"),
    "examination, thorough examination": ("inspected", "condition"),
    "date": ("inspected",),
    "broken wires, no of broken wires": ("broken_in_lay", "broken_in_strand"),
    "edges, sharp edges, corners": ("edge_protection",),
    "diameter ratio": ("bend_ratio",),
    "max angle, max sling angle": ("angle_deg", "rated_angle_deg"),
    "rated angle": ("rated_angle_deg", "rated_included_angle_deg"),
    "spacing, pitch": ("clip_spacing", "spread"),
    "engagement, engaged": ("full_thread", "seated"),
    "end type, end fitting, end fittings": ("ends", "type"),
    "wire rope, rope type": ("rope", "type"),
    "item weight, unit weight, sling weight, tare, tare weight": ("own_weight", "rigging", "load"),
    "height, hook height, hook elevation": ("height", "headroom"),
    "length, len, reach, overall length": ("leg_length", "bar_length"),
    "centre of gravity, cog, cg": ("load_centre",),
    "grip, grip range, range": ("grip_to", "grip_from"),
    "min load": ("least_load",),
    "lift title, lift description": ("lift", "description"),
}
"""Headings that could mean more than one thing: never taken, only proposed, best guess first."""

NOT_READ: Mapping[str, str] = {
    "a line number": "no, item no, line, line no, row, row no, seq, sequence, sl no, s no, sr no, si no",
    "a strength that is not the rated load": "ultimate load, ultimate strength",
    "a date that is not the last inspection": (
        "next inspection, next inspection date, inspection due, inspection due date, next inspection due, "
        "next examination, next examination due, expiry, expiry date, certificate expiry, certificate "
        "date, date of certificate, due date, date of manufacture, maker date, year, delivery date"
    ),
    "nothing a check reads": (
        "drawing, drawing no, dwg, dwg no, rev, revision, purchase order, po, po no, supplier, vendor, "
        "price, unit price, cost, total, total price, currency, part no, stock code, order no, cost code, "
        "project, client, site, crane, colour code, color code, owner, department, lead time, source, "
        "photo"
    ),
}
"""By what they are: headings that are understood and say nothing of an item."""

ABBREVIATIONS: Mapping[str, str] = {
    "no": "number, num, nr, nbr, №",
    "quantity": "qty, qnty, quant, qtty",
    "weight": "wt, wgt, wght",
    "diameter": "dia, diam, ø, ⌀",
    "max": "maximum",
    "min": "minimum",
    "nom": "nominal",
    "capacity": "cap, capy",
    "inspection": "insp, inspec",
    "inspected": "inspd",
    "certificate": "cert, certification, certif",
    "maker": "mfr, mfrs, mfg, mfgr, manuf, manufacturer, manufacturers, makers",
    "horizontal": "horiz, horizontally, hor",
    "vertical": "vert, vertically",
    "temperature": "temp",
    "description": "desc, descr, descrip, dscr",
    "position": "posn",
    "examination": "exam, examn",
    "equipment": "equip, eqpt, equipt",
    "assembly": "assy",
    "length": "lgth, lngth",
    "height": "ht, hgt",
    "angle": "ang",
    "included": "incl, inc",
    "centres": "centers, crs, ctrs",
    "spacing": "spacings",
    "reference": "refn",
    "required": "req, reqd, rqd",
    "calculated": "calc",
    "estimated": "est",
    "thread": "thd",
    "serial": "ser",
    "drawing": "drg",
    "percent": "pct",
    "centre": "center, ctr",
}
"""By the full word: its abbreviations and other spellings, as single words of a heading."""

GROUP_WORDS = (
    "certification, component, condition, data, description, details, dimensions, documents, duty, "
    "equipment, examination, fit, fit dimensions, gear, general, geometry, hardware, hardware schedule, "
    "hook, hooks, identification, in use, input, inputs, inspection, inspection and condition, item, item "
    "details, items, lift, lift data, lift details, lifting gear, marking, marking and papers, markings, "
    "markings and papers, other, papers, rating, ratings, remarks, rigging, rigging gear, rigging "
    "geometry, rigging hardware, schedule, selected item, selection, shackle, shackles, sling, sling "
    "geometry, slings, the lift, usage, use, which one"
)
"""Headings over a group of headings that add nothing to what those below say."""
