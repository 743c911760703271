"""The rows that pass, gathered into lines of one kind, size, grade, type and rating; and those that do not.

A piece is counted once, on however many rows its tag stands. A row that fails or is held is never counted,
and blocks every line that it may belong to.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from rigxl.errors import InputError
from rigxl.items import PASS
from rigxl.order.lines import NotOrdered, Order, OrderLine, Wanted, count, pattern, tag_of, wanted
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.fields import FIELD
from rigxl.schedule.report import remedies, told


def gather(checked: Checked, spares: Fraction = Fraction(0)) -> Order:
    """The order of a schedule that was checked.

    Args:
        checked: The schedule.
        spares: How many spares for each piece, as a fraction; rounded up line by line.

    Raises:
        InputError: There is nothing that passes; the sentence says what there is instead.
    """
    _refuse_what_was_not_checked(checked)
    by_tag: dict[str, list[CheckedRow]] = defaultdict(list)
    for row in checked.rows:
        if name := tag_of(row):
            by_tag[name].append(row)
    lines: dict[Wanted, OrderLine] = {}
    left: list[tuple[CheckedRow, str, str]] = []
    for row in checked.rows:
        why, remedy = _why_not(row, by_tag[tag_of(row) or ""] if tag_of(row) else [row])
        if why:
            left.append((row, why, remedy))
        else:
            lines.setdefault(wanted(row), OrderLine(wanted(row))).rows.append(row)
    if not lines:
        raise InputError(_nothing_to_order(checked, left))
    ordered = sorted(lines.values(), key=_place)
    for number, line in enumerate(ordered, 1):
        line.number = number
        line.quantity = sum(pieces for _, pieces in line.pieces)
        line.spares = ceil(line.quantity * spares)
        line.questions = list(_questions(line))
    return Order(checked, spares, ordered, list(_blocking(left, ordered)))


def _place(line: OrderLine) -> tuple[str, float, float]:
    """Kind by kind and type by type, the smaller before the larger."""
    mm = line.item.size.mm if line.item.size else None
    return line.what.casefold(), mm or 0.0, line.wanted.rated or 0.0


def _refuse_what_was_not_checked(checked: Checked) -> None:
    name = checked.book.path.name
    if checked.rows:
        return
    if any("belongs to an order" in sheet.why for sheet in checked.understood.sheets):
        raise InputError(
            f"{name} is itself an order, so nothing in it was checked: name the schedule it is from"
        )
    raise InputError(
        f"nothing in {name} was checked, so nothing can be ordered: no row of a rigging schedule was found "
        f"in it ('rigxl columns {name}' shows what is understood)"
    )


def _nothing_to_order(checked: Checked, left: Sequence[tuple[CheckedRow, str, str]]) -> str:
    counts = ", ".join(f"{number} {word}" for word, number in checked.counts.items() if number)
    row, why, _ = left[0]
    uncalculated = [one for one, reason, _ in left if "never calculated" in reason]
    if uncalculated:
        return (
            f"{checked.book.path.name} was never calculated, so nothing in it passes ({counts}): "
            f"{len(uncalculated)} rows hold formulas without a result; open it in a spreadsheet program, "
            "recalculate and save"
        )
    first = " ".join(why.split("\n")[0].split())
    return (
        f"no row of {checked.book.path.name} can be ordered ({counts}); "
        f"the first, {row.sheet}!{row.row}, says: {first}"
    )


def _why_not(row: CheckedRow, same: Sequence[CheckedRow]) -> tuple[str, str]:
    """Why a row is not ordered, and what would do; empty when it is."""
    if row.verdict != PASS:
        return told(row.judged), remedies(row.judged)
    pieces = count(row)
    if isinstance(pieces, str):
        return f"it passes, but {pieces}", "the quantity, filled in"
    tag = row.judged.item.tag
    bad = next((one for one in same if one.verdict != PASS), None)
    if bad is not None:
        return (
            f"it passes, but the same piece, tag '{tag}', is {bad.verdict} in {bad.sheet}!{bad.row}",
            "a piece of its own for this row, or the other row put right",
        )
    for one in same:
        if one is not row and (differs := _differs(row, one)):
            return (
                f"it passes, but the tag '{tag}' also stands in {one.sheet}!{one.row}, "
                f"which differs in {differs}: one tag is one piece",
                "its own tag for each piece, or the same said of it on both rows",
            )
    return "", ""


def _differs(one: CheckedRow, other: CheckedRow) -> str:
    """What two rows of one tag differ in, in words; empty where they ask for the same."""
    names = ("kind", "size", "grade", "type", "rated load", "maker", "its own dimensions")
    pairs = zip(names, wanted(one), wanted(other), strict=True)
    found = [name for name, mine, theirs in pairs if mine != theirs]
    if count(one) != count(other):
        found.append("quantity")
    return " and ".join(found)


def _questions(line: OrderLine) -> Iterator[str]:
    """What nobody can order without, and the schedule does not say."""
    for name in line.kind.BOUGHT.settles:
        said = pattern(line.item) if name == "type" else getattr(line.item, name)
        if said in (None, ""):
            yield f"the {FIELD[name].plain} is not stated in the schedule"
    yield from line.kind.BOUGHT.asks


def _blocking(left: Sequence[tuple[CheckedRow, str, str]], lines: list[OrderLine]) -> Iterator[NotOrdered]:
    by_kind: dict[str, list[OrderLine]] = defaultdict(list)
    for line in lines:
        by_kind[line.wanted.kind].append(line)
        by_kind[""].append(line)
    for row, why, remedy in left:
        asked = wanted(row)
        blocks = [line for line in by_kind.get(asked.kind, ()) if asked.may_be(line.wanted)]
        for line in blocks:
            line.blockers.append(row)
        yield NotOrdered(row, why, remedy, blocks)
