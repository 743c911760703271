"""Marked, traceable to a maker the user accepts, and with the papers the criteria ask for."""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.criteria import Criteria
from rigxl.firm import UNTRACED
from rigxl.items import Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

MARKS = Source("ASME B30.26 Rigging Hardware: identification, removal criteria", note=FROM_MEMORY)

RATED_LOAD = Rule(
    "rated-load-mark", "The rated load must stand on the piece, and be legible.", MARKS, firm=UNTRACED
)
MAKER = Rule(
    "maker-not-known",
    "Every piece must be traceable to its maker; counterfeits are common.",
    MARKS,
    firm=UNTRACED,
)
MAKER_MARK = Rule(
    "maker-mark", "The maker's name or mark must stand on the piece, and be legible.", MARKS, firm=UNTRACED
)
NOT_ACCEPTED = Rule(
    "maker-not-accepted",
    "The maker must be on the user's list of accepted makers.",
    COMMON_PRACTICE,
    firm=UNTRACED,
)
CERTIFICATE = Rule(
    "certificate-missing", "A certificate number where the criteria ask for one.", COMMON_PRACTICE
)

LOOK = (
    "look on the body for the maker's raised mark, the size, the grade and the rated load, on the pin for "
    "the same maker, and for the piece's own number on its certificate"
)
"""What to look for against counterfeits."""

NOBODY = frozenset(
    {
        "y", "yes", "n", "no", "x", "true", "false", "ok", "none", "nil", "no name", "no maker", "unbranded",
        "unmarked", "not marked", "not stated", "various", "mixed", "generic", "any", "equal", "or equal",
        "by others", "not applicable",
    }
)  # fmt: skip
"""What stands where a maker should, and names none."""

RULES = (RATED_LOAD, MAKER, MAKER_MARK, NOT_ACCEPTED, CERTIFICATE)
USES = frozenset({"marked", "maker_marked", "maker", "certificate"})


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What is to be said of an item's marks, maker and papers."""
    required = criteria.required_marks
    if "rated load" in required:
        if item.marked is None:
            if "marked" not in item.problems:
                yield RATED_LOAD.holds(
                    "whether the rated load is marked on the piece is not stated",
                    "look at the piece, and fill in whether it is marked: yes or no",
                )
        elif item.marked == "illegible":
            yield RATED_LOAD.fails(
                "the rated load on the piece is illegible: it is out of service",
                "a piece with a legible mark",
            )
        elif item.marked == "no":
            yield RATED_LOAD.holds(
                "no rated load is marked on the piece: it may be a counterfeit",
                f"a piece with its rated load marked by the maker; {LOOK}",
            )
    if "maker" in required:
        yield from _maker(item, criteria)
    if "certificate" in required and "certificate" not in item.problems:
        if item.certificate is None:
            yield CERTIFICATE.holds("no certificate number is given", "fill in the certificate number")
        elif not any(mark.isdigit() for mark in item.certificate):
            yield CERTIFICATE.holds(
                f"'{item.certificate}' is not the number of a certificate", "fill in the certificate number"
            )


def _maker(item: Item, criteria: Criteria) -> Iterator[Finding]:
    if item.maker is not None and not _names(item.maker):
        yield MAKER.holds(
            f"'{item.maker}' is not the name of a maker: it cannot be traced, and counterfeits are common",
            f"fill in the maker whose mark stands on the piece; {LOOK}",
        )
    elif item.maker is None:
        if "maker" not in item.problems:
            yield MAKER.holds(
                "no maker is given: it cannot be traced, and counterfeits are common",
                f"fill in the maker whose mark stands on the piece; {LOOK}",
            )
    elif criteria.accepted_makers and " ".join(item.maker.lower().split()) not in criteria.accepted_makers:
        yield NOT_ACCEPTED.holds(
            f"the maker '{item.maker}' is not on the list of accepted makers",
            f"a piece by an accepted maker, or the maker added to the list by whoever answers for it; {LOOK}",
        )
    if item.maker_marked == "illegible":
        yield MAKER_MARK.fails(
            "the maker's mark on the piece is illegible: it is out of service", "a piece with a legible mark"
        )
    elif item.maker_marked == "no":
        yield MAKER_MARK.holds(
            "no maker's mark stands on the piece: it may be a counterfeit",
            f"a piece with the maker's name or mark on it; {LOOK}",
        )


def _names(maker: str) -> bool:
    """Whether a text could be the name of a maker."""
    return any(mark.isalpha() for mark in maker) and " ".join(maker.lower().split()) not in NOBODY
