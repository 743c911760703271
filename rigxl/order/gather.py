"""The rows that pass, gathered into lines of one kind, size, grade, type and rating; and those that do not.

A piece is counted once, on however many rows its tag stands. A row that fails or is held is never counted,
and blocks every line that it may belong to.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import Any, NamedTuple

from rigxl.checks.traceability import NAMES_A_PIECE, key
from rigxl.errors import InputError
from rigxl.hardware import Kind, kinds
from rigxl.hardware.usage import grade_of, words
from rigxl.items import PASS, Item
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.fields import FIELD
from rigxl.schedule.report import remedies, told
from rigxl.units import show_force, show_length, show_torque

ORDER, SETTLE, BLOCKED = "ORDER", "SETTLE FIRST", "BLOCKED"
BY_MAKER = "rating-by-makers-table"


class Wanted(NamedTuple):
    """What one line is: two rows that differ in any of it are two lines. None is not stated."""

    kind: str
    size: str | None
    grade: str | None
    pattern: tuple[str, ...] | None
    rated: float | None
    maker: str | None
    own: tuple[Any, ...]

    def may_be(self, line: Wanted) -> bool:
        """Whether it may be the same as a line: something is the same, and nothing stated differs."""
        same_kind = self.kind == line.kind
        if self.kind and not same_kind:
            return False
        pairs = list(zip(self[1:-1], line[1:-1], strict=True))
        told = (self.size, self.rated, self.pattern) if same_kind else self._agrees(line)
        pairs += zip(self.own, line.own, strict=True) if same_kind else ()
        return any(told) and all(one is None or two is None or one == two for one, two in pairs)

    def _agrees(self, line: Wanted) -> tuple[bool, bool]:
        """Whether the size and the rating are stated and the same."""
        return (
            self.size is not None and self.size == line.size,
            self.rated is not None and self.rated == line.rated,
        )


@dataclass
class OrderLine:
    """One line of an order."""

    wanted: Wanted
    rows: list[CheckedRow] = field(default_factory=list)
    number: int = 0
    quantity: int = 0
    spares: int = 0
    blockers: list[CheckedRow] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)

    @property
    def item(self) -> Item:
        """The item of its first row, which stands for all of them."""
        return self.rows[0].judged.item

    @property
    def kind(self) -> Kind:
        """What it is a kind of."""
        return kinds()[self.wanted.kind]

    @property
    def status(self) -> str:
        """ORDER, SETTLE FIRST where something is not stated, or BLOCKED by a row that does not pass."""
        return BLOCKED if self.blockers else SETTLE if self.questions else ORDER

    @property
    def to_order(self) -> int | None:
        """How many pieces, spares included; None where the line is blocked."""
        return None if self.blockers else self.quantity + self.spares

    @property
    def what(self) -> str:
        """Its kind and type, as the schedule has them."""
        return ", ".join(filter(None, (self.wanted.kind, pattern(self.item))))

    @property
    def rated(self) -> str:
        """Its rated load in the schedule's unit, and in tonnes where that is another."""
        if self.wanted.rated is None:
            return "none of its own"
        unit = unit_of(self.item)
        said = show_force(self.wanted.rated, unit)
        return said if unit == "t" else f"{said} = {show_force(self.wanted.rated, 't')}"

    @property
    def pieces(self) -> Iterator[tuple[CheckedRow, int]]:
        """Each piece or group of pieces once, by its first row, and how many there are."""
        seen = set()
        for row in self.rows:
            name = tag_of(row)
            if name is None or name not in seen:
                seen.add(name)
                yield row, int(count(row))


class NotOrdered(NamedTuple):
    """A row that is not ordered: why, what would do, and the lines it blocks."""

    row: CheckedRow
    why: str
    remedy: str
    blocks: list[OrderLine]


@dataclass
class Order:
    """What to order from a schedule, and what not."""

    checked: Checked
    spares: Fraction
    lines: list[OrderLine]
    not_ordered: list[NotOrdered]

    @cached_property
    def places(self) -> dict[int, tuple[list[CheckedRow], int]]:
        """The rows of its lift and its place among them, by the identity of each row."""
        return {id(row): (rows, at) for rows in self.checked.together for at, row in enumerate(rows)}


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


def tag_of(row: CheckedRow) -> str | None:
    """The tag by which a piece is known, as it is compared; None where it could not tell one from another."""
    tag = row.judged.item.tag
    return key(tag) if tag and NAMES_A_PIECE.match(tag) else None


def unit_of(item: Item) -> str:
    """The unit an item's rating is given in."""
    return item.units.get("rated_load") or item.units.get("load", "kN")


def pattern(item: Item) -> str:
    """The type as stated, without words that only repeat its kind or each other."""
    said = set(words(item.kind).split())
    kept = []
    for part in (item.type or "").split(","):
        named = set(words(part).split())
        if named - said:
            kept.append(part.strip())
            said |= named
    return ", ".join(kept)


def wanted(row: CheckedRow) -> Wanted:
    """What a row asks for; of a row that does not pass, as far as it is known."""
    item = row.judged.item
    kind = kinds().get(item.kind or "")
    bought = kind.BOUGHT if kind else None
    rated = item.rated_load if row.judged.rated is None else row.judged.rated
    by_maker = any(one.rule.name == BY_MAKER and one.outcome == "note" for one in row.judged.findings)
    return Wanted(
        item.kind or "",
        item.size.name if item.size else None,
        grade_of(item.grade) or None,
        tuple(sorted(words(pattern(item)).split())) or None,
        round(rated, 3) if rated is not None and (bought is None or bought.rated) else None,
        key(item.maker) if by_maker and item.maker else None,
        tuple(_plain(getattr(item, name)) for name in bought.own) if bought else (),
    )


def own(item: Item) -> Iterator[str]:
    """What else a piece must be, by its own dimensions and ratings that the schedule states."""
    for name in kinds()[item.kind or ""].BOUGHT.own:
        value = getattr(item, name)
        if value is not None:
            yield f"{FIELD[name].plain}: {_shown(name, value, item)}"


def count(row: CheckedRow) -> int | str:
    """How many pieces a row stands for, or why that is not known."""
    item = row.judged.item
    kind = kinds().get(item.kind or "")
    pieces = kind.BOUGHT.pieces if kind else None
    if pieces is not None:
        return pieces(item)
    return item.quantity or "how many is not stated: fill in the quantity"


def _shown(name: str, value: Any, item: Item) -> str:
    read, unit = FIELD[name].read, item.units.get(name)
    if read == "force":
        return show_force(value, unit or unit_of(item))
    if read == "length":
        return show_length(value, unit or "mm")
    if read == "torque":
        return show_torque(value, unit or "N·m")
    if read == "angle":
        return f"{value:.6g}°"
    if read == "temperature":
        return f"{value:.6g} °C"
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)


def _plain(value: Any) -> Any:
    """A value as it is compared: case, spacing and the last bits of a number do not count."""
    if isinstance(value, str):
        return key(value)
    return round(value, 6) if isinstance(value, float) else value


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
