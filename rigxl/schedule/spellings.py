"""What the trade calls its columns, in words: the lists to review and add to.

Spellings are apart by commas. Case, accents, punctuation, plain abbreviations and units need no spellings
of their own: :mod:`rigxl.schedule.headings` takes them out of the way.
"""

from __future__ import annotations

from collections.abc import Mapping

SPELLINGS: Mapping[str, str] = {
    # which one
    "lift": (
        "lift, lift no, lift name, lift id, lift ref, lift reference, lifting operation, lift operation, "
        "lift plan no, lift plan ref"
    ),
    "tag": (
        "tag, tag no, tag id, id, id no, asset no, asset id, asset tag, id mark, equipment no, "
        "equipment id, plant no, fleet no, mark no, piece mark, piece no, unique id, unique no, "
        "identification no, item id, item tag, item ref, item code, ref, ref no, reference, "
        "reference no"
    ),
    "serial": ("serial no, serial, s/n, sn, serial id, maker serial no, serial no of item, piece serial no"),
    "description": (
        "description, item description, item, details, item name, equipment description, hardware "
        "description, gear description, component description, description of item, item details, "
        "description of equipment, description of gear, product description"
    ),
    "kind": (
        "kind, kind of item, kind of hardware, item type, type of item, hardware, hardware type, type of "
        "hardware, equipment, equipment type, type of equipment, component, component type, gear, gear "
        "type, type of gear, rigging item, rigging hardware, rigging gear, rigging equipment, rigging "
        "component, lifting gear, lifting equipment, lifting accessory, accessory, accessory type, lifting "
        "tackle, tackle, fitting, fitting type, category, item category, rigging type"
    ),
    "position": (
        "position, pos, position in rigging, rigging position, position in assembly, position in the "
        "rigging, position in lift, where used, used at, used as, place, place in rigging"
    ),
    "quantity": (
        "quantity, quantity required, quantity reqd, required quantity, quantity needed, quantity per "
        "lift, quantity each, no off, no required, no of items, no of pieces, no of pcs, quantity ea, "
        "quantity pcs, quantity no, nos, pcs, pieces, count, off, how many"
    ),
    "size": (
        "size, nominal size, nom size, item size, size of item, nominal diameter, nom diameter, diameter, "
        "size diameter, diameter size, chain size, chain diameter, body diameter, body size, bow diameter, "
        "stock size, stock diameter, shackle size, hook size, sling size, sling diameter, eye bolt size, "
        "eyebolt size, thread size, thread diameter, thread, shank size, shank diameter, trade size, "
        "hardware size, turnbuckle size, link size, clip size"
    ),
    "grade": (
        "grade, material grade, grade of material, steel grade, grade of steel, chain grade, alloy grade, "
        "property class, strength class"
    ),
    "type": (
        "type, pattern, pin type, type of pin, shackle type, type of shackle, hook type, type of hook, "
        "sling type, type of sling, eye bolt type, eyebolt type, sling material, sling construction, "
        "construction, style, subtype, sub type, shape, variant"
    ),
    "rated_load": (
        "rated load, wll, working load limit, working load, swl, safe working load, safe load, rated "
        "capacity, capacity, rating, load rating, rated wll, rated swl, wll each, wll per item, wll of "
        "item, item wll, wll per piece, max wll, max working load, max swl, max safe working load, max "
        "rated load, wll swl, swl wll, wll or swl, capacity wll, wll capacity, wll rating, sling wll, "
        "shackle wll, hook wll, sling capacity, shackle capacity, hook capacity, item capacity, rated "
        "lifting capacity, lifting capacity, vertical wll, wll vertical, vertical capacity, vertical "
        "rating, wll per leg, single leg wll, working load limit wll, safe working load swl, rated working "
        "load, stated wll"
    ),
    "maker": "maker, maker name, name of maker, make, made by, brand",
    # the lift it hangs in
    "load": (
        "load, load weight, weight of load, weight of the load, lift weight, lifted weight, lifted load, "
        "weight lifted, load lifted, weight to be lifted, load to be lifted, load to lift, weight to lift, "
        "load mass, mass of load, net load, net load weight, net weight of load, object weight, module "
        "weight, piece weight, payload, lift load, actual load, static load, load on lift, max load weight"
    ),
    "weight_basis": (
        "weight basis, basis of weight, basis, load basis, weight from, weight source, source of weight, "
        "weight method, weight determined by, weight determination, weight known by, weight known from, "
        "how weighed, how weight known, weight status, weight type, weight certainty, weighed or "
        "calculated, weighed calculated estimated, weighed calculated or estimated, load weight basis, "
        "weight by"
    ),
    "rigging": (
        "rigging weight, weight of rigging, rigging and device weight, rigging load, rigging mass, weight "
        "of rigging and device, weight of rigging and devices, tackle weight, weight of tackle, gear "
        "weight, weight of gear, lifting gear weight, weight of lifting gear, below hook weight, below the "
        "hook weight, weight below hook, weight below the hook, accessories weight, weight of accessories, "
        "rigging self weight, rigging own weight, rigging equipment weight, rigging hardware weight"
    ),
    "legs": (
        "legs, no of legs, leg count, sling legs, no of sling legs, no legs, legs no, legs in sling, legs "
        "in use total, total legs, leg no total"
    ),
    "carrying": (
        "carrying, legs carrying, carrying legs, no of legs carrying, no of carrying legs, legs carrying "
        "load, legs carrying the load, load bearing legs, load carrying legs, no of load bearing legs, "
        "effective legs, legs effective, no of effective legs, legs sharing load, legs sharing, loaded "
        "legs, legs loaded, legs taking load, legs counted, legs in effect"
    ),
    "angle_deg": (
        "angle, sling angle, leg angle, angle of sling, angle of leg, bridle angle, angle from horizontal, "
        "angle to horizontal, angle with horizontal, angle above horizontal, horizontal angle, angle "
        "horizontal, sling angle from horizontal, sling angle to horizontal, sling angle horizontal, "
        "horizontal sling angle, sling horizontal angle, leg angle from horizontal, leg angle to "
        "horizontal, min sling angle, angle of sling from horizontal, angle of sling to horizontal, sling "
        "angle with horizontal, angle off horizontal"
    ),
    "angle_from_vertical": (
        "angle from vertical, angle to vertical, angle with vertical, angle off vertical, vertical angle, "
        "angle vertical, sling angle from vertical, sling angle to vertical, sling angle vertical, "
        "vertical sling angle, leg angle from vertical, leg angle to vertical, angle of sling from "
        "vertical, angle of sling to vertical, inclination from vertical, inclination to vertical, sling "
        "angle with vertical, angle from plumb, angle off plumb, sling angle off vertical, leg angle "
        "vertical"
    ),
    "included_angle": (
        "included angle, angle included, included sling angle, sling included angle, sling angle included, "
        "angle between legs, angle between slings, angle between sling legs, apex angle, included leg "
        "angle, included angle between legs, included angle of legs, included angle of sling, included "
        "angle at hook, angle between the legs, leg included angle"
    ),
    "leg_length": (
        "leg length, length of leg, length of legs, length of each leg, sling length, length of sling, "
        "sling leg length, effective length, effective working length, ewl, sling effective length, leg "
        "effective length, sling reach, leg reach, bridle length, bridle leg length, length per leg"
    ),
    "spread": (
        "spread, spread of picks, pick spread, pick spacing, pick point spacing, pick point spread, "
        "spacing of picks, spacing of pick points, distance between picks, distance between pick points, "
        "lifting point spacing, lift point spacing, distance between lifting points, distance between lift "
        "points, lifting point centres, lift point centres, pick centres, pick point centres, lug spacing, "
        "lug centres, distance between lugs, spread of legs, leg spread, sling spread, attachment spacing, "
        "attachment centres, distance between attachments, padeye spacing, pad eye spacing, padeye centres"
    ),
    "height": (
        "height of hook above picks, hook height above picks, height hook above picks, height above picks, "
        "height of hook above pick points, hook height above pick points, height picks to hook, height "
        "from picks to hook, height of bridle, bridle height, sling height, rigging height, vertical "
        "height of sling, vertical height of bridle, height pick to hook, height hook to picks"
    ),
    "headroom": (
        "headroom, available headroom, headroom available, clear height, available height, height "
        "available, height available above picks"
    ),
    # how it is used
    "hitch": (
        "hitch, hitch type, type of hitch, sling hitch, hitch used, method of slinging, slinging method, "
        "sling method, hitch method, method of hitch, sling arrangement"
    ),
    "choke_angle_deg": (
        "angle of choke, choke angle, choker angle, angle of choker, choker hitch angle, angle at choke"
    ),
    "bend_ratio": (
        "d/d, d/d ratio, d:d, d:d ratio, bend ratio, bending ratio, basket d/d, ratio d/d, bend radius "
        "ratio, bend d/d, d to d ratio"
    ),
    "loading_angle_deg": (
        "loading angle, angle of loading, side load angle, side loading angle, angle of side load, angle "
        "of side loading, angle off axis, off axis angle, angle from axis, angle to axis, load angle off "
        "axis, load angle from axis, loading angle off axis, loading angle from axis, shackle loading "
        "angle, hook loading angle, angle from shank, angle to shank, angle off shank, angle of pull, pull "
        "angle, side pull angle, angle of load to axis, angle of load from axis, shackle side load angle, "
        "angle to item axis"
    ),
    "plane": (
        "plane of loading, loading plane, plane of load, load plane, plane, plane of pull, in plane, in "
        "plane of eye, load in plane, in plane or across, in or out of plane, in plane of loading"
    ),
    "rated_included_angle_deg": (
        "rated included angle, included angle rated, rated at included angle, max included angle, maker "
        "included angle, max angle between legs, rated angle between legs, max rated included angle, "
        "allowed included angle, permitted included angle"
    ),
    "rated_angle_deg": (
        "rated up to an angle of, rated up to angle, max rated angle, max loading angle, max angle of "
        "loading, rated loading angle, maker angle range, angle range, rated angle range, max angle from "
        "axis, max pull angle, max angle of pull"
    ),
    "turns_under_load": (
        "turns under load, rotates under load, turning under load, turns in use, rotating load, may turn, "
        "can turn, may rotate, load may turn, load may rotate, rotation under load"
    ),
    "temperature": (
        "temperature, working temperature, service temperature, operating temperature, ambient "
        "temperature, temperature in use, use temperature, sling temperature, load temperature, contact "
        "temperature, temperature of load, work temperature, temperature at use"
    ),
    "margin": (
        "design margin, margin, safety margin, required margin, margin required, wanted margin, margin "
        "wanted, oversize margin"
    ),
    "edge_protection": (
        "edge protection, edges protected, edge protected, corner protection, edge protectors, edge "
        "protector, corner protectors, corner pads, edge guards, softeners, softener, corner softeners, "
        "packing, edge protection fitted, edge protection used, sharp edges protected, edge packing, edge "
        "softeners"
    ),
    "seated": (
        "seated, fully seated, shoulder seated, pin seated, pin fully seated, shoulder fully seated, "
        "shoulder flush, fully engaged, pin fully engaged, eye bolt seated, eyebolt seated, screwed home"
    ),
    "latch": (
        "latch, safety latch, hook latch, hook safety latch, latch fitted, latch present, latch ok, latch "
        "working, latch in place, latch works, has latch, safety catch, hook catch, latch operational"
    ),
    "secured": (
        "secured, moused, mousing, pin secured, pin moused, pin mousing, moused or locked, moused locked, "
        "locked, pin locked, secured against turning, secured against rotation, locked against turning, "
        "locked against rotation, lock wired, lockwired, locking, moused secured, pin secured moused"
    ),
    "ends": (
        "ends, turnbuckle ends, end fittings of turnbuckle, end combination, end types, both ends, end "
        "configuration"
    ),
    "full_thread": (
        "full thread engagement, full thread, thread fully engaged, threads fully engaged, fully threaded, "
        "full engagement, full engagement of thread"
    ),
    "thread_engagement": (
        "thread engagement, engaged thread, engaged length, thread engagement length, length of thread "
        "engagement, length of engagement, engagement length, depth of thread, thread depth, engaged "
        "thread length"
    ),
    "torque": (
        "torque applied, applied torque, torque, tightening torque applied, torqued to, torque as fitted, "
        "fitted torque, measured torque, actual torque"
    ),
    "stated_torque": (
        "torque stated, stated torque, maker torque, torque required, required torque, specified torque, "
        "recommended torque, torque specified, torque by maker"
    ),
    "engineered": (
        "engineer's mark, engineer mark, engineered, engineered by, engineer drawing, engineering drawing, "
        "drawing of device, device drawing no, engineer stamp, engineer seal"
    ),
    # rope and clips
    "rope": (
        "rope, rope construction, rope class, rope grade and construction, wire rope construction, rope "
        "grade, rope core, rope and core"
    ),
    "rope_diameter": (
        "rope diameter, rope size, wire rope diameter, wire rope size, diameter of rope, diameter of wire "
        "rope"
    ),
    "breaking_strength": (
        "breaking strength, breaking load, minimum breaking load, min breaking load, minimum breaking "
        "strength, min breaking strength, minimum breaking force, min breaking force, breaking force, mbl, "
        "mbs, mbf, nominal strength, rope breaking strength, rope breaking load, catalogue breaking "
        "strength"
    ),
    "service": "rope service, service, service of rope, rope duty, rope used as, rope use",
    "design_factor": (
        "design factor, safety factor, factor of safety, sf, fos, df, fs, coefficient of utilisation"
    ),
    "clip_count": (
        "clips, no of clips, no clips, clip count, clips per end, no of clips per end, clips fitted, clips "
        "each end, number of clips fitted, no of rope clips, no of grips, rope grips"
    ),
    "clip_spacing": (
        "clip spacing, spacing of clips, clip pitch, distance between clips, clip centres, spacing between "
        "clips, grip spacing"
    ),
    "turnback": (
        "turnback, turn back, turnback length, turn back length, length of turnback, length turned back, "
        "amount of rope turned back, rope turned back, tail length"
    ),
    "saddle": (
        "saddle on, saddle, saddles, saddle side, clip saddle, saddles on, saddle on live end, saddles on "
        "live end, saddle position, clip saddles"
    ),
    "clear_length": (
        "clear length, free length, clear length of rope, free length of rope, clear length between "
        "fittings, clear rope"
    ),
    "own_weight": (
        "own weight, self weight, device weight, weight of device, own weight of device, device own "
        "weight, device self weight, beam weight, spreader weight, weight of beam, weight of spreader, bar "
        "weight"
    ),
    "proof_load": (
        "proof load, test load, proof test load, load tested to, proof tested to, proof load applied"
    ),
    "proof_tested": (
        "proof tested, load tested, proof test, proof test done, load test done, tested to proof load"
    ),
    "procedure": (
        "written procedure, procedure, operating procedure, written operating procedure, operating "
        "instructions, instructions at hand"
    ),
    "bar_length": (
        "bar length, length of bar, spreader length, spreader bar length, length of spreader, beam length, "
        "length of beam, lifting beam length"
    ),
    "thickness": (
        "thickness, plate thickness, thickness of plate, thickness gripped, load thickness, material "
        "thickness, thickness of load, flange width, width of flange, beam flange width"
    ),
    "grip_from": "grip from, min grip, min thickness, least thickness, jaw from, smallest grip, least grip",
    "grip_to": "grip to, max grip, max thickness, greatest thickness, jaw to, largest grip, greatest grip",
    "least_load": (
        "least load, min rated load, min wll, minimum load rating, least rated load, min load of clamp"
    ),
    "pieces": (
        "pieces gripped, pieces lifted at once, plates gripped, pieces at once, no of plates, plates at "
        "once, no of pieces gripped"
    ),
    "lay": (
        "load lies, lay, lay of load, load orientation, plate orientation, orientation, orientation of "
        "load, orientation of plate"
    ),
    "rated_lay": (
        "rated for a load that lies, rated lay, rated orientation, orientation rated, rated for orientation"
    ),
    "surface": (
        "surface, surface condition, load surface, plate surface, surface of load, condition of surface"
    ),
    "rated_surface": "rated for a surface, rated surface, surface rated, rated for surface",
    "rated_temperature": (
        "rated temperature, max rated temperature, temperature rated, max temperature of device, rated max "
        "temperature"
    ),
    "load_centre": "load centre, load centre distance, centre of load, distance to load centre",
    "rated_load_centre": "rated load centre, load centre rated, rated load centre distance",
    # fit
    "pin": (
        "pin diameter, pin size, shackle pin diameter, shackle pin size, diameter of pin, diameter of "
        "shackle pin"
    ),
    "hole": (
        "hole, hole diameter, hole size, pin hole, pin hole diameter, diameter of hole, lug hole, lug hole "
        "diameter, eye hole diameter, padeye hole, padeye hole diameter, pad eye hole, pad eye hole "
        "diameter, diameter of pin hole, attachment hole diameter"
    ),
    "throat": (
        "throat, throat opening, hook throat, hook throat opening, hook opening, throat width, throat "
        "size, mouth opening, opening of throat, hook mouth opening"
    ),
    "bar": (
        "bar diameter, bar, link bar, link bar diameter, bar thickness, bar size, link diameter, link bar "
        "thickness, mating bar diameter, mating part thickness, diameter of bar, diameter of link bar"
    ),
    "inside_width": (
        "inside width, internal width, inner width, width inside, width inside bow, bow width, bow inside "
        "width, jaw width, jaw opening, width between jaws, inside width of bow, shackle inside width, "
        "inside width at pin, gap, jaw gap"
    ),
    "sling_width": (
        "sling width, web width, webbing width, width of sling, width of web, strap width, belt width, web "
        "sling width, width of webbing"
    ),
    # marking and papers
    "marked": (
        "rating marked, rated load marked, wll marked, swl marked, capacity marked, marked, marking, "
        "markings, marked with wll, marked with swl, marked with rated load, marking legible, markings "
        "legible, legible, legible marking, rating legible, wll legible, swl legible, tag legible, id tag "
        "legible, tagged, tag fitted, wll marked and legible, marked and legible, rated load legible"
    ),
    "maker_marked": (
        "maker marked, maker mark, makers mark, maker name marked, maker mark legible, maker legible, "
        "maker identified, maker mark present, maker id marked, maker name legible, maker marking"
    ),
    "own_pin": (
        "own pin, pin own, original pin, pin original, genuine pin, correct pin, matching pin, pin "
        "matches, own pin fitted, original pin fitted, correct pin fitted"
    ),
    "certificate": (
        "certificate, certificate no, certificate ref, certificate reference, certificate id, test "
        "certificate, test certificate no, test certificate ref, certificate of test, proof test "
        "certificate, proof test certificate no, certificate of conformity, conformity certificate, coc, "
        "coc no, declaration of conformity"
    ),
    "pieces_covered": (
        "pieces covered, pieces on certificate, quantity covered, certificate covers, pieces "
        "covered by certificate, no of pieces covered, certificate quantity, quantity on "
        "certificate, items covered"
    ),
    "batch": (
        "batch, batch no, batch id, batch code, lot, lot no, heat no, heat code, heat, cast no, "
        "traceability code, traceability no, batch or heat no, heat or batch no, batch lot no"
    ),
    # inspection
    "inspected": (
        "last inspection, inspected, inspection date, date of inspection, date inspected, last inspected, "
        "last inspection date, date of last inspection, date last inspected, inspected on, last "
        "examination, last examination date, examination date, date of examination, date of last "
        "examination, last examined, date examined, date last examined, last thorough examination, "
        "thorough examination date, date of thorough examination, date of last thorough examination, "
        "periodic inspection, periodic inspection date, last periodic inspection, annual inspection, "
        "annual inspection date, last annual inspection, date of last periodic inspection"
    ),
    "inspected_by": (
        "inspected by, inspector, inspector name, name of inspector, examined by, competent person, "
        "inspecting person, last inspected by, inspection by, inspection done by, by, by whom"
    ),
    "in_service": (
        "in service, serviceable, fit for use, fit for service, usable, available for use, service status, "
        "ok to use, fit for purpose, in use"
    ),
    "condition": (
        "condition, condition found, finding, findings, inspection finding, inspection findings, inspection "
        "result, result of inspection, visual condition, condition on inspection, inspection condition"
    ),
    "defects": (
        "defects, defect, damage, defects found, damage found, observed defects, defects observed, visible "
        "defects, visible damage, defects or damage, damage or defects"
    ),
    "wear": (
        "wear, amount of wear, max wear, section wear, wear of section, pin wear, wear measured, worn, "
        "loss of section, loss of diameter, reduction of diameter, reduction in diameter, diameter loss, "
        "diameter reduction, wear percent"
    ),
    "throat_growth": (
        "throat growth, throat increase, throat opening growth, throat opening increase, throat opened, "
        "throat opened by, hook throat growth, hook throat increase, increase in throat, increase of "
        "throat opening, increase in throat opening, hook opening increase, throat stretch, throat growth "
        "percent"
    ),
    "twist_deg": "twist, hook twist, twist angle, angle of twist, twist out of plane, hook twist angle",
    "out_of_straight": (
        "out of straight, bend, bow, sweep, bow of bar, bend of bar, straightness, out of straightness"
    ),
    "finding": (
        "kind of finding, finding type, type of finding, finding kind, what was measured, what "
        "measured, point measured, feature measured, measured "
        "feature, measuring point, inspected feature, dimension checked, kind of measurement, type "
        "of measurement"
    ),
    "original": (
        "original dimension, original, original size, original value, dimension when new, dimension "
        "new, new dimension, as new, as new dimension, original measurement, nominal dimension, "
        "original opening, original throat, original throat opening"
    ),
    "measured": (
        "measured dimension, measured, measured size, measured value, dimension found, actual "
        "dimension, present dimension, current dimension, as found, as measured, dimension as "
        "found, measured opening, measured throat, measured throat opening, dimension now, value "
        "found"
    ),
    "broken_in_lay": (
        "broken wires in a lay, broken wires in one lay, broken wires per lay, broken wires in lay, "
        "broken wires lay"
    ),
    "broken_in_strand": (
        "broken wires in a strand, broken wires in one strand, broken wires per strand, broken "
        "wires in strand, broken wires strand, broken wires in one strand of one lay"
    ),
    "remarks": (
        "remarks, remark, comments, comment, notes, note, observations, additional notes, general remarks, "
        "additional remarks, other remarks, other notes"
    ),
}
"""By field: the headings that name it."""
