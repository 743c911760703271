"""A line of an order: what is wanted, how many pieces, and what stands in its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Any, NamedTuple

from rigxl.checks.traceability import NAMES_A_PIECE, key
from rigxl.hardware import Kind, kinds
from rigxl.hardware.usage import grade_of, words
from rigxl.items import Item
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.fields import FIELD
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
