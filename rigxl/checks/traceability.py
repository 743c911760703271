"""Whether every piece is itself: no tag, serial number or certificate that stands for more than it can.

These are findings across rows, so they come after every row was judged.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeAlias

from rigxl.checks.inspection import OUT_OF_SERVICE
from rigxl.checks.judge import Placed
from rigxl.checks.marking import LOOK
from rigxl.criteria import Criteria
from rigxl.firm import UNTRACED
from rigxl.items import Item, Rule
from rigxl.tables import COMMON_PRACTICE

SAME_TAG = Rule("same-tag", "A tag stands for one piece, so it cannot stand on two rows.", COMMON_PRACTICE)
SAME_SERIAL = Rule(
    "same-serial",
    "A maker gives a serial number once: two pieces with one number are suspect.",
    COMMON_PRACTICE,
    firm=UNTRACED,
)
SERIAL_COUNT = Rule("serial-count", "Every piece has a serial number of its own.", COMMON_PRACTICE)
CERTIFICATE_COVERS = Rule(
    "certificate-covers",
    "A certificate covers the pieces it names, and no piece of another kind, size, maker or batch.",
    COMMON_PRACTICE,
)

RULES = (SAME_TAG, SAME_SERIAL, SERIAL_COUNT, CERTIFICATE_COVERS)

SEVERAL = re.compile(r"[,;&\n]| and ")
RANGE = re.compile(r"(\D*)(\d+) ?(?:to|\.\.|…|–) ?(\D*)(\d+)")
DIGIT = re.compile(r"\d")
NAMES_A_PIECE = re.compile(r"(?=.*\d)(?=.*[^\W\d_])|\d{4,}")
"""A tag that can tell one piece from another: neither a line's number nor a word such as Shackle."""
LINE_NUMBER = re.compile(r"\W*\d{1,3}\W*")
"""A tag that is the number of a line: it stands on another piece once rows move."""


Key: TypeAlias = str | tuple[str, str]


class _Seen(dict[Key, Placed]):
    """The first row of each tag, serial number or certificate; and all rows of those that come again."""

    def __init__(self) -> None:
        super().__init__()
        self.again: dict[Key, list[Placed]] = {}

    def add(self, key: Key, row: Placed) -> None:
        first = self.setdefault(key, row)
        if first is not row:
            self.again.setdefault(key, [first]).append(row)


def check(rows: Iterable[Placed], criteria: Criteria) -> None:
    """Add to each row what the others say against it."""
    tags, serials, certificates = _Seen(), _Seen(), _Seen()
    for row in rows:
        item = row.judged.item
        if item.tag and NAMES_A_PIECE.match(item.tag):
            tags.add(item.tag.casefold(), row)
        if item.serial:
            _serial_count(row, item.serial, item.quantity)
            serials.add((item.serial.casefold(), key(item.maker)), row)
        if item.certificate:
            name = item.certificate.casefold()
            certificates.add(name, row)
            if item.pieces_covered is not None:
                certificates.again.setdefault(name, [row])
    for same in tags.again.values():
        _out_of_service(same)
        _same_tag(same, criteria)
    for same in serials.again.values():
        _out_of_service(same)
        _same(SAME_SERIAL, "serial", same, LOOK)
    for same in certificates.again.values():
        if DIGIT.search(same[0].judged.item.certificate or ""):
            _certificate(same)


def how_many(serial: str) -> int:
    """How many serial numbers a cell holds: a list, or a range written with 'to'.

    >>> how_many("A-101"), how_many("A101, A102 and A103"), how_many("A101 to A104")
    (1, 3, 4)
    """
    count = 0
    for part in SEVERAL.split(serial):
        found = RANGE.fullmatch(part.strip())
        if found and found[3] in ("", found[1]) and int(found[4]) > int(found[2]):
            count += int(found[4]) - int(found[2]) + 1
        else:
            count += bool(part.strip())
    return count


def _serial_count(row: Placed, serial: str, quantity: int | None) -> None:
    if quantity is None or quantity < 2:
        return
    count = how_many(serial)
    if count != quantity:
        numbers = "one serial number" if count == 1 else f"{count} serial numbers"
        row.judged.findings.append(
            SERIAL_COUNT.holds(
                f"{row.cell_of('serial')} gives {numbers} for {quantity} pieces ({row.cell_of('quantity')})",
                "give each piece its own row, or all the serial numbers: 'A1, A2' or 'A1 to A4'",
            )
        )


def _out_of_service(same: list[Placed]) -> None:
    """What is out of service on one row is so on every row of the piece."""
    out = next((row for row in same if row.judged.item.in_service is False), None)
    for row in same if out else ():
        if out and row.judged.item.in_service is not False:
            row.judged.findings.append(
                OUT_OF_SERVICE.fails(
                    f"the same piece is out of service by {out.cell_of('in_service')}",
                    "another piece, inspected and fit for use",
                )
            )


def _same_tag(same: list[Placed], criteria: Criteria) -> None:
    """One piece in several lifts is allowed where the criteria say so, and nothing else about it differs."""
    if criteria.shared_between_lifts:
        lifts = {key(row.judged.item.lift) for row in same}
        if (
            len(lifts) == len(same)
            and "" not in lifts
            and len({_looks(row.judged.item) for row in same}) == 1
        ):
            return
    _same(
        SAME_TAG,
        "tag",
        same,
        "give each piece its own tag; one piece may serve several lifts in turn, if all its "
        "rows say the same of it and 'shared pieces' in the criteria is 'between lifts'",
    )


def _same(rule: Rule, name: str, same: list[Placed], remedy: str) -> None:
    what = "tag" if name == "tag" else "serial number"
    for number, row in enumerate(same):
        other = same[0] if number else same[1]
        more = f" and {len(same) - 2} more" if len(same) > 2 else ""
        said = getattr(row.judged.item, name)
        row.judged.findings.append(
            rule.holds(
                f"the {what} '{said}' of {row.cell_of(name)} also stands in {other.cell_of(name)}{more}",
                remedy,
            )
        )


def _certificate(same: list[Placed]) -> None:
    """Whether one certificate may cover all the rows that claim it."""
    stated = [row.judged.item.pieces_covered for row in same]
    covers = {number for number in stated if number is not None}
    claimed = sum(row.judged.item.quantity or 1 for row in same)
    if len(covers) > 1:
        _hold_all(
            same, f"is said to cover {' and '.join(map(str, sorted(covers)))} pieces", "settle which is right"
        )
    elif covers:
        (most,) = covers
        if claimed > most:
            _hold_all(
                same,
                f"covers {most} and is claimed by {claimed} pieces",
                "fill in each piece's own certificate, and how many pieces it covers",
            )
    else:
        _one_batch(same)


def _one_batch(same: list[Placed]) -> None:
    """Without a number of pieces, a certificate is for one kind, size, maker and batch."""
    first = same[0]
    against: set[int] = set()
    for row in same[1:]:
        differs = _differs(first.judged.item, row.judged.item)
        if not differs:
            continue
        for one, other in ((first, row), (row, first)):
            if id(one) not in against:
                against.add(id(one))
                _hold(one, f"is claimed in {other.cell_of('certificate')} for another {differs}")


def _differs(one: Item, other: Item) -> str:
    """What two pieces differ in, where both say it; empty where nothing tells them apart."""
    pairs = {
        "kind": (one.kind, other.kind),
        "size": (one.size and one.size.name, other.size and other.size.name),
        "maker": (key(one.maker), key(other.maker)),
        "batch": (key(one.batch), key(other.batch)),
    }
    return " and ".join(name for name, (mine, theirs) in pairs.items() if mine and theirs and mine != theirs)


def _hold_all(same: list[Placed], what: str, remedy: str) -> None:
    for row in same:
        _hold(row, what, remedy)


def _hold(row: Placed, what: str, remedy: str = "") -> None:
    row.judged.findings.append(
        CERTIFICATE_COVERS.holds(
            f"the certificate '{row.judged.item.certificate}' of {row.cell_of('certificate')} {what}",
            remedy or f"fill in the right certificate, or how many pieces it covers; {LOOK}",
        )
    )


def _looks(item: Item) -> tuple[object, ...]:
    """What must be the same on every row of one piece."""
    size = item.size and item.size.name
    found = (item.inspected, item.in_service, item.condition, item.wear, item.throat_growth, item.twist_deg)
    return (item.kind, size, key(item.maker), item.rated_load, item.quantity, *found)


def key(name: str | None) -> str:
    """A tag or name as it is compared: case and spacing do not count."""
    return " ".join(name.casefold().split()) if name else ""
