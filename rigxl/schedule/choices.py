"""The words that cells choose from, and what each means: the lists to review and add to."""

from __future__ import annotations


def _words(**spellings: str) -> dict[str, str]:
    """Every word, in its normal spelling, by what it means."""
    return {
        word.strip(): meaning.replace("_", " ")
        for meaning, said in spellings.items()
        for word in said.split(",")
    }


YES_NO = _words(
    yes="yes, y, true, x, ✓, ✔, ok, done, fitted, present, in place, both, full, fully",
    no="no, n, false, none, not fitted, missing, absent, not done, not present",
)
LEGIBLE = YES_NO | _words(
    yes="legible, clear, readable, marked",
    no="not marked, unmarked, no mark, no tag",
    illegible="illegible, not legible, unreadable, worn, worn off, worn away, faded, part legible",
)
BASES = _words(
    weighed="weighed, weighed load, measured, load cell, loadcell, scale, scales, weighbridge, weigh bridge, "
    "by load cell, by scale, weighed by load cell, certified, certified weight",
    calculated="calculated, calc, calculation, drawing, drawings, from drawing, from drawings, by drawing, "
    "calculated from drawings, model, from model, by calculation, engineered",
    estimated="estimated, est, estimate, guess, guessed, assumed, approx, approximate, by eye",
)
HITCHES = _words(
    vertical="vertical, straight, direct, vertical hitch, straight lift, straight pull, in line, inline",
    choker="choker, choke, choked, choker hitch, choke hitch, double wrap choker, double wrapped choker",
    basket="basket, basket hitch, double basket, double wrap basket, double wrapped basket, u",
)
PLANES = _words(
    in_plane="in plane, in the plane, in plane of eye, in the plane of the eye, in plane of bow, in, "
    "in line, along, parallel, yes, y",
    across="across, across the plane, across the eye, out of plane, out, off plane, perpendicular, "
    "transverse, sideways, no, n",
)
POSITIONS = _words(
    top="top, hook, crane hook, top hook, master, master link, main hook, collector, top of bridle, apex, "
    "at hook, on hook, at the hook, top shackle, head, above legs, load cell",
    leg="leg, legs, in leg, in the leg, on leg, sling leg, bridle leg, each leg, leg sling, leg shackle",
    device="device, below the hook, below hook, below the hook device, spreader, spreader bar, beam, "
    "lifting beam, lifting device, bth",
    drop="drop, drops, below device, below the device, under device, below beam, below the beam, "
    "below spreader, under spreader, under beam, drop leg, drop sling, lower sling",
    pick_point="pick point, pick points, pick, load end, at load, at the load, on load, on the load, "
    "attachment, attachment point, load attachment, lifting point, lift point, lug, load lug, bottom",
)
LAYS = _words(
    vertical="vertical, upright, on edge, standing, face vertical, v",
    horizontal="horizontal, flat, lying, lying flat, level, face horizontal, h",
)
RATED_LAYS = LAYS | _words(
    any="any, both, all, universal, any position, all positions, vertical and horizontal, "
    "horizontal and vertical, vertical or horizontal, horizontal or vertical",
)
SERVICES = _words(
    track_cables="track cable, track cables",
    guys="guy, guys, guy line, guy lines, guy rope, guy ropes, stay, stays",
    miscellaneous_hoisting_equipment="miscellaneous hoisting equipment, hoisting, hoisting equipment, "
    "hoist rope, hoist line",
    haulage_ropes="haulage, haulage rope, haulage ropes",
    derricks="derrick, derricks",
    small_electric_and_air_hoists="small electric and air hoists, electric hoist, air hoist, "
    "electric hoists, air hoists",
    slings="sling, slings, bridle, bridles, lifting sling",
)
SADDLES = _words(
    live="live, live end, on live end, live side, live part, live rope, long end, standing part",
    dead="dead, dead end, on dead end, dead side, short end, tail, tail end",
)
