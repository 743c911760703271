"""What an inspection found, in words: fit for use, not fit, or not clear.

>>> [found.outcome for found in check("bent pin")], [found.outcome for found in check("no defects")]
(['FAIL'], [])
"""

from __future__ import annotations

import re
from functools import lru_cache

from rigxl.firm import REMOVED
from rigxl.items import Finding, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

REMOVAL = Source("ASME B30.26 Rigging Hardware: removal criteria", note=FROM_MEMORY)
TAGGED = Source("ASME B30.9 Slings: identification, removal criteria", note=FROM_MEMORY)

CONDITION = Rule(
    "condition",
    "Cracks, bends, heat, unauthorised welding and the like take a piece out of service.",
    REMOVAL,
    firm=REMOVED,
)
CONDITION_UNCLEAR = Rule(
    "condition-unclear", "What an inspection found must say whether the piece is fit for use.", REMOVAL
)
NO_TAG = Rule("no-tag", "A sling without a legible tag or mark is out of service.", TAGGED, firm=REMOVED)

REMARK = Rule(
    "remark-of-a-defect",
    "A remark that speaks of a defect is settled before a piece passes.",
    COMMON_PRACTICE,
    firm=REMOVED,
)

RULES = (CONDITION, CONDITION_UNCLEAR, NO_TAG, REMARK)

_DEFECT = (
    r"(?:crack\w*|nick\w*|goug\w*|bent|bend\w*|twist\w*|stretch\w*|deform\w*|pit(?:s|ted|ting)?|corro\w*|"
    r"heat\w*|burn\w*|weld\w*|spatter|kink\w*|bird ?cag\w*|cut|cuts|torn|tear|broken|fray\w*|abra\w*|"
    r"worn|damag\w*|distort\w*|elongat\w*|illegible|substitut\w*|missing)"
)
FIT = re.compile(
    r"ok(ay)?|(in )?(very )?good( condition)?|excellent|sound|fit( for use)?|serviceable|satisfactory|"
    r"pass(ed)?|accept(ed|able)?|new|as new|none|nil|(remains? |left )?in service|"
    rf"(no|nil|without|free (of|from)) (visible |apparent )?(defects?|findings?|faults?|wear|{_DEFECT})"
    rf"( (or|and|nor) (no )?(wear|{_DEFECT}))*( (found|seen|noted|visible))?"
)
REFUSED = re.compile(
    r"\b(not (fit|ok|okay|serviceable|sound|safe|acceptable)|no good|do not use|unfit|unserviceable|unsafe|"
    r"reject\w*|fail\w*|scrap\w*|condemn\w*|out of service|from service|withdrawn|quarantined?)\b"
)
UNFIT = re.compile(rf"\b{_DEFECT}\b")
REMARKED = re.compile(
    r"\b(crack(s|ed)?|bent|damaged?|deform\w*|twisted|stretched|corroded|kink(s|ed)?|bird ?cag\w*|frayed|"
    r"torn|broken|worn|gouged?|illegible|substituted?|distort\w*|not to be used|tag missing|missing tag)\b"
)
NOT_OF_A_DEFECT = re.compile(
    r"\b(no|not|nil|without|free|if|when|check\w*|inspect\w*|look\w*|avoid|prevent|protect\w*|against|be|"
    r"remove|replac\w*|because)\b"
)
"""Words that, before a defect, say that it is not there, or only might be."""
CLAUSES = re.compile(r"[.,;:()/\n]+| - ")
DENIED = re.compile(r"\b(no|not|nil|without|free)\b")
TAGLESS = re.compile(r"(no|without) (legible )?(id |identification |sling )?(tag|label|mark|marking)s?")
COUNTED = re.compile(
    r"\b(\d+) broken wires? (?:in|per) (?:a |one |each |the )?(?:rope )?(lay|strand)"
    r"(?: (?:in|of) (?:a|one) lay)?\b"
)
"""Broken wires that are counted: their number decides, not the word."""


def plain(text: str) -> str:
    """A text in lower case without its marks."""
    return " ".join(re.sub(r"[^\w ]", " ", text.lower()).split())


@lru_cache(maxsize=4096)
def counted(text: str) -> tuple[tuple[str, int], ...]:
    """The broken wires a text counts, by where.

    >>> counted("4 broken wires in one lay; 2 broken wires in one strand of one lay")
    (('lay', 4), ('strand', 2))
    """
    return tuple((where, int(number)) for number, where in COUNTED.findall(plain(text)))


@lru_cache(maxsize=4096)
def check(text: str) -> tuple[Finding, ...]:
    """What a recorded condition says; broken wires that it counts are left to whoever judges numbers."""
    whole = plain(text)
    said = " ".join(COUNTED.sub(" ", whole).split())
    if FIT.fullmatch(said) or (not said and said != whole):
        return ()
    recorded = f"its condition is recorded as '{text}'"
    if TAGLESS.fullmatch(said):
        return (NO_TAG.fails(recorded, "a piece with a legible tag"),)
    if REFUSED.search(said) or (UNFIT.search(said) and not DENIED.search(said)):
        return (CONDITION.fails(recorded, "another piece, inspected and fit for use"),)
    return (
        CONDITION_UNCLEAR.holds(
            f"{recorded}, which does not say whether it is fit for use",
            "fill in 'fit for use', or what was found",
        ),
    )


@lru_cache(maxsize=4096)
def remarked(text: str, where: str = "remark") -> tuple[Finding, ...]:
    """What a remark or a description gives away: it is no inspection, so a defect in it holds the piece.

    >>> [found.outcome for found in remarked("Bent pin, see photo")], remarked("check for bent pins")
    (['HOLD'], ())
    """
    for clause in map(plain, CLAUSES.split(text)):
        defect = REMARKED.search(clause)
        denied = defect and NOT_OF_A_DEFECT.search(clause[: defect.start()])
        if (defect and not denied) or REFUSED.search(clause):
            return (
                REMARK.holds(
                    f"a {where} says '{text}'",
                    f"fill in the condition: fit for use, or what was found; and mend the {where}",
                ),
            )
    return ()
