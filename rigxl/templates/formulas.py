"""The formulas of the blank schedule, for programs without the add-in.

They cover what a cell can cover honestly: the force at the top, in a leg and at a pick point; shackles,
hooks, links and vertical slings; marks and inspection. Anything else says CHECK. No text, blank or error
ever becomes a PASS: text is greater than any number in a spreadsheet, so every comparison is behind a count
of its numbers.

>>> lift_formulas(str, "A6:K6")["leg_tension"][:21]
'=IF(COUNTA(A6:K6)=0,"'
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from rigxl.checks.rating import ROUNDING

At = Callable[[str], str]
"""The cell of a column, by the column's name."""

Maker = Callable[[At, str], Mapping[str, str]]
"""The formulas of one row, by name, from its cells and the range that is filled in."""


def safe(formula: str) -> str:
    """CHECK in place of any error."""
    return f'IFERROR({formula},"CHECK")'


def is_number(cell: str) -> str:
    """A number and no yes or no: LibreOffice counts TRUE as a number."""
    return f"AND(ISNUMBER({cell}),NOT(ISLOGICAL({cell})))"


def one_of(cell: str, *words: str, blank: bool = True) -> str:
    """The cell says one of the words; blank counts too unless said otherwise."""
    parts = [f'{cell}="{word}"' for word in words]
    return f"OR({','.join(([f'ISBLANK({cell})'] if blank else []) + parts)})"


def whole(cell: str) -> str:
    """A whole number of 1 or more."""
    return f"AND({is_number(cell)},{cell}>=1,{cell}=INT({cell}))"


def listed(cell: str, name: str) -> str:
    """Whether a named list holds the cell's text, compared whole and without wildcards."""
    return f"SUMPRODUCT(--({name}={cell}))=1"


def lift_formulas(at: At, row: str) -> Mapping[str, str]:
    """The worked columns of one lift, by name.

    Args:
        at: The cell of a column by its name.
        row: The cells that are filled in.
    """
    load, basis, rigging = at("load"), at("weight_basis"), at("rigging")
    legs, carrying, stated = at("legs"), at("carrying"), at("angle_deg")
    length, spread, height = at("leg_length"), at("spread"), at("height")
    by_lengths, angle = at("lengths_angle"), at("angle")
    lengths = f"{stated}:{height}"
    # one by one: over a range LibreOffice's ISLOGICAL sees nothing
    logical = ",".join(f"ISLOGICAL({cell})" for cell in (stated, length, spread, height))
    positive = f'AND(COUNT({lengths})=COUNTA({lengths}),NOT(OR({logical})),COUNTIF({lengths},"<=0")=0)'
    half, leg, rise = f"{spread}*spread_mm/2", f"{length}*leg_length_mm", f"{height}*height_mm"
    by_leg = f"IF({leg}>{half},DEGREES(ATAN2({half},SQRT(({leg}-{half})*({leg}+{half})))),NA())"
    allowance = (
        f"IF(ISBLANK({basis}),estimated_used,"
        + "".join(f'IF({basis}="{word}",{word}_used,' for word in ("weighed", "calculated", "estimated"))
        + "NA()))))"
    )
    sine = f"SIN(RADIANS({angle}))"
    mode = (
        f'IF(OR({legs}>4,ROUND({angle},9)<30),"CHECK",'
        f"IF(ROUND({angle},9)>=45,IF({legs}=2,1.4,2.1),IF({legs}=2,1,1.5)))"
    )
    by_criteria = (
        f"IF(AND(mode_factors_used,{legs}>1),{mode},"
        f"CHOOSE({legs},1,2,legs_of_three_used,legs_of_four_used)*{sine})"
    )
    as_stated = f'IF(AND({whole(carrying)},{carrying}<={legs}),{carrying}*{sine},"CHECK")'
    agreed = f'IF(ROUND(ABS({stated}-{by_lengths}),9)>2,"CHECK",MIN({stated},{by_lengths}))'
    taken = (
        f'IF(ISNUMBER({stated}),IF({stated}>90,"CHECK",IF(ISNUMBER({by_lengths}),{agreed},'
        f'IF({by_lengths}="",{stated},"CHECK"))),'
        f'IF(ISNUMBER({by_lengths}),{by_lengths},IF(AND({by_lengths}="",{legs}=1),90,"CHECK")))'
    )
    upright = f"AND({legs}=1,ROUND({angle},9)>=85)"
    known_load = (
        f"AND({is_number(load)},{load}>0,OR(ISBLANK({rigging}),AND({is_number(rigging)},{rigging}>=0)))"
    )
    hook_load = f"({load}*load_n*{allowance}+{rigging}*rigging_n)*dynamic_allowance_used/hook_load_n"
    filled = f"COUNTA({row})=0"
    return {
        "lengths_angle": f'=IF(COUNTA({length}:{height})=0,"",'
        + safe(
            f'IF({positive},IF(ISBLANK({spread}),"",IF(ISNUMBER({length}),{by_leg},'
            f'IF(ISNUMBER({height}),DEGREES(ATAN2({half},{rise})),""))),"CHECK")'
        )
        + ")",
        "angle": f'=IF({filled},"",' + safe(f'IF({positive},{taken},"CHECK")') + ")",
        "angle_check": f'=IF({angle}="","",IF(COUNT({angle})<1,"CHECK",'
        + safe(f'IF(OR({upright},ROUND({angle},9)>=least_angle_used),"OK","FAIL")')
        + "))",
        "hook_load": f'=IF({filled},"",' + safe(f'IF({known_load},{hook_load},"CHECK")') + ")",
        "share": f'=IF({filled},"",'
        + safe(
            f"IF(AND({whole(legs)},ISNUMBER({angle})),"
            f'IF(ISBLANK({carrying}),{by_criteria},{as_stated}),"CHECK")'
        )
        + ")",
        "leg_tension": f'=IF({filled},"",IF(COUNT({at("hook_load")},{at("share")})<2,"CHECK",'
        + safe(f"{at('hook_load')}*hook_load_n/{at('share')}/leg_tension_n")
        + "))",
    }


def hardware_formulas(at: At, row: str) -> Mapping[str, str]:
    """The worked columns of one item, by name.

    Args:
        at: The cell of a column by its name.
        row: The cells that are filled in.
    """
    lift, kind, position, rated = at("lift"), at("kind"), at("position"), at("rated_load")
    line, force, use, derate = at("line"), at("force"), at("use"), at("derate")
    required, strength = at("required"), at("strength")
    marks, inspection = at("marks"), at("inspection")

    def of_lift(name: str) -> str:
        return f"INDEX(lift_{name},{line})"

    def when_filled(formula: str) -> str:
        return f'=IF({line}="","",{safe(formula)})'

    tilt, straight = at("loading_angle_deg"), one_of(at("hitch"), "vertical")
    # a lift with drops under a device has picks at the end of the drops, not of these legs
    others = "".join(f'*(item_position<>"{word}")' for word in ("top", "leg", "device", "pick point"))
    drops = f"SUMPRODUCT((TRIM(item_lift)=TRIM({lift})){others})>0"
    in_leg = f"{of_lift('leg_tension')}*leg_tension_n"
    carried = (
        f'IF({position}="top",{of_lift("hook_load")}*hook_load_n,IF({position}="leg",{in_leg},'
        f'IF({position}="pick point",IF({drops},NA(),{in_leg}),NA())))'
    )
    yes_or_no = ("edge_protection", "seated", "full_thread", "secured", "latch", "own_pin")
    readable = ",".join(
        (
            f"ISNUMBER({force})",
            f"OR(ISBLANK({at('grade')}),{_given(at('grade'))})",
            f"ISNUMBER({of_lift('share')})",
            _enough(at, of_lift),
            f"OR(ISBLANK({tilt}),AND({is_number(tilt)},{tilt}>=0,{tilt}<=180))",
            f"OR(ISBLANK({at('size')}),{listed(at('size'), 'size_list')})",
            *(one_of(at(name), "yes", "no") for name in yes_or_no),
        )
    )
    padded = one_of(at("edge_protection"), "yes")
    # ten diameters of the thickest rope in the list of sizes, 2 in, must be clear
    long_enough = f"OR(ISBLANK({of_lift('leg_length')}),{of_lift('leg_length')}*leg_length_mm>=508)"
    made = f'IF({at("type")}="chain",{one_of(at("grade"), "8", "80", "10", "100")},{long_enough})'
    slung = f'AND({at("hitch")}="vertical",{padded},{made},{listed(at("type"), "sling_types")})'
    uses = (
        f'IF(NOT(AND({readable})),"CHECK",IF({kind}="shackle",{_shackle(at, of_lift)},'
        f'IF({kind}="hook",{_hook(at, of_lift)},IF({kind}="link",{_link(at, of_lift)},'
        f'IF(AND({kind}="sling",{slung}),"OK","CHECK")))))'
    )
    shares = (
        f'IF(AND({kind}="shackle",interpolated_used),IF({tilt}<=45,1-0.3*{tilt}/45,0.7-0.2*({tilt}-45)/45),'
        f'IF({kind}="shackle",IF(ROUND({tilt},9)<=5,1,IF(ROUND({tilt},9)<=45,0.7,0.5)),1))'
    )
    named = f'IF({kind}="sling",{at("type")},{kind})&" "&{at("size")}'
    published = f"SUMPRODUCT((published_for={named})*published_n)"
    over_table = f"AND({published}>0,{rated}*rated_load_n>{published}*{ROUNDING})"
    angle_check = of_lift("angle_check")
    same_lift = f"(TRIM(lift_names)=TRIM({lift}))"
    return {
        "line": f'=IF(COUNTA({row})=0,"",'
        + safe(
            f"IF(AND(LEN(TRIM({lift}))>0,SUMPRODUCT(--{same_lift})=1),"
            f'SUMPRODUCT({same_lift}*(ROW(lift_names)-MIN(ROW(lift_names))+1)),"CHECK")'
        )
        + ")",
        "force": when_filled(
            f'IF(AND(ISNUMBER({line}),{straight},{listed(kind, "kind_list")}),{carried}/force_n,"CHECK")'
        ),
        "use": when_filled(uses),
        "derate": when_filled(f'IF({use}="OK",{shares},"CHECK")'),
        "required": when_filled(
            f'IF(COUNT({force},{derate})<2,"CHECK",{force}*force_n/{derate}*(1+margin_used)/required_n)'
        ),
        "utilisation": when_filled(
            f'IF(OR(COUNT({force},{derate},{rated})<3,ISLOGICAL({rated})),"CHECK",'
            f"{force}*force_n/({rated}*rated_load_n*{derate}))"
        ),
        "strength": when_filled(
            f'IF(COUNT({force})<1,"CHECK",IF(OR({use}="FAIL",{angle_check}="FAIL"),"FAIL",'
            f'IF(OR({use}<>"OK",{angle_check}<>"OK",COUNT({required},{rated})<2,ISLOGICAL({rated})),"CHECK",'
            f'IF(OR({rated}<=0,{over_table}),"CHECK",'
            f'IF(ROUND({required}*required_n/({rated}*rated_load_n),9)<=1,"PASS","FAIL")))))'
        ),
        "marks": when_filled(_marks(at)),
        "inspection": when_filled(_inspection(at)),
        "verdict": when_filled(
            f'IF({listed(kind, "kind_list")},{_worst(strength, marks, inspection, at("condition"))},"CHECK")'
        ),
    }


def _enough(at: At, of_lift: At) -> str:
    """The pieces of this kind and position come out even on the legs, or their number is not given."""
    position = at("position")
    alike = (
        f"(TRIM(item_lift)=TRIM({at('lift')}))*(item_position={position})*(item_kind={at('kind')})"
        '*(item_hitch<>"basket")'
    )
    numbers = f"SUMPRODUCT({alike},--ISNUMBER(item_quantity))"
    given = f"SUMPRODUCT({alike},1-ISBLANK(item_quantity))"
    pieces, legs = f"SUMPRODUCT({alike},item_quantity)", of_lift("legs")
    even = f'AND({pieces}>={legs},OR({position}="pick point",MOD({pieces},{legs})=0))'
    return f'OR({position}="top",IF({numbers}<{given},FALSE,IF({given}<SUMPRODUCT({alike}),TRUE,{even})))'


def _worst(strength: str, marks: str, inspection: str, condition: str) -> str:
    return (
        f'IF(OR({strength}="FAIL",{marks}="FAIL",{inspection}="FAIL",{condition}="unfit for use"),"FAIL",'
        f'IF(AND({strength}="PASS",{marks}="OK",{inspection}="OK",{one_of(condition, "fit for use")}),'
        '"PASS","CHECK"))'
    )


def _shackle(at: At, of_lift: At) -> str:
    tilt, plane, pattern = f"ROUND({at('loading_angle_deg')},9)", at("plane"), at("type")
    round_pin, dee = f'LEFT({pattern},5)="round"', f'RIGHT({pattern},3)="dee"'
    collects = f'AND({at("position")}="top",{of_lift("legs")}>1)'
    forbidden = (
        f'OR({at("own_pin")}="no",AND({tilt}>5,OR({tilt}>90,{plane}="across",{round_pin})),'
        f"AND({collects},OR({dee},{round_pin},ROUND({of_lift('angle')},9)<30)))"
    )
    known = f"AND({listed(pattern, 'shackle_types')},{one_of(plane, 'in plane', 'across')})"
    return (
        f'IF(NOT({known}),"CHECK",IF({forbidden},"FAIL",IF(AND({tilt}>5,{plane}<>"in plane"),"CHECK","OK")))'
    )


HOOKS_BY_CHECK = ("slip", "grab", "sorting", "foundry", "duplex", "horn", "sister", "double")
"""Hooks with rules of their own, which only the check knows."""


def _hook(at: At, of_lift: At) -> str:
    tilt, latch, pattern = f"ROUND({at('loading_angle_deg')},9)", at("latch"), at("type")
    collects = f'AND({at("position")}="top",{of_lift("legs")}>1)'
    forbidden = f'OR({latch}="no",{tilt}>5,AND({collects},ROUND({of_lift("angle")},9)<45))'
    own_rules = ",".join(f'ISNUMBER(SEARCH("{word}",{pattern}))' for word in HOOKS_BY_CHECK)
    return f'IF({forbidden},"FAIL",IF(AND({latch}="yes",NOT(OR({own_rules}))),"OK","CHECK"))'


def _link(at: At, of_lift: At) -> str:
    tilt, rated_for = f"ROUND({at('loading_angle_deg')},9)", at("rated_included_angle_deg")
    collects = f'AND({at("position")}="top",{of_lift("legs")}>1)'
    included = f"ROUND(180-2*{of_lift('angle')},9)"
    by_maker = (
        f"IF(AND({is_number(rated_for)},{rated_for}>=0,{rated_for}<=180),"
        f'IF({included}>MIN({rated_for},120),"FAIL","OK"),"CHECK")'
    )
    return (
        f'IF(OR({tilt}>5,AND({collects},{included}>120)),"FAIL",IF({collects},'
        f'IF(ISBLANK({rated_for}),IF({included}>60,"CHECK","OK"),{by_maker}),"OK"))'
    )


def _given(cell: str) -> str:
    """The cell says something, and not that nobody knows."""
    return f"AND(ISTEXT({cell}),LEN(TRIM({cell}))>0,SUMPRODUCT(--(not_known_words=TRIM({cell})))=0)"


def _alone(cell: str, name: str) -> str:
    """The cell says nothing, or what no other row says: whether two may say the same is for the check."""
    return f"OR(ISBLANK({cell}),SUMPRODUCT(--(TRIM({name})=TRIM({cell})))=1)"


def _marks(at: At) -> str:
    marked, maker_marked, maker = at("marked"), at("maker_marked"), at("maker")
    on_list = f'ISNUMBER(FIND(","&LOWER(TRIM({maker}))&",",accepted_makers_used))'
    accepted = f'OR(accepted_makers_used="any",AND(ISERROR(FIND(",",{maker})),{on_list}))'
    paper, tag = at("certificate"), at("tag")
    numbered = f"SUMPRODUCT(--ISNUMBER(FIND({{0,1,2,3,4,5,6,7,8,9}},{paper})))>0"
    certified = f"OR(NOT(certificate_used),AND({_given(paper)},{numbered}))"
    own = f"{_alone(tag, 'item_tag')},{_alone(paper, 'item_certificate')}"
    good = f'AND({marked}="yes",{one_of(maker_marked, "yes")},{_given(maker)},{accepted},{certified},{own})'
    return f'IF(OR({marked}="illegible",{maker_marked}="illegible"),"FAIL",IF({good},"OK","CHECK"))'


def _inspection(at: At) -> str:
    day = at("inspected")
    months = "INT(inspection_interval_used)"
    # the second DATE is the last of the month, so that 31 August and six months make 28 February
    due = (
        f"MIN(DATE(YEAR({day}),MONTH({day})+{months},DAY({day})),DATE(YEAR({day}),MONTH({day})+{months}+1,0))"
    )
    # 36526 is 1 January 2000: what comes before is hardly a date
    return (
        f'IF({is_number(day)},IF(OR({day}<36526,{day}>judged_on_used),"CHECK",'
        f'IF({due}<judged_on_used,"FAIL","OK")),"CHECK")'
    )
