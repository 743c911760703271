"""One lift as a report shows it: its figures, sketch and pictures, its rows and their reasons."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from rigxl.checks.judge import reasons
from rigxl.checks.steps import load_unit, rating_unit
from rigxl.items import NOTE, WORST_FIRST, Finding, Item
from rigxl.report.drawing import Labels, caption, drawn
from rigxl.report.explain import Explained, Line, explain
from rigxl.report.shape import shape_of
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.report import weakest
from rigxl.units import show_force, show_length
from rigxl.workbook.pictures import Picture

NO_LIFT = "Rows that name no lift"
LOADS = ("load", "load with its allowance", "hook load", "load on the device", "load below the device")


class Fact(NamedTuple):
    """A figure of a lift by its name."""

    name: str
    value: str


@dataclass(frozen=True)
class RowPart:
    """A row of a report."""

    explained: Explained
    row: CheckedRow
    what: str
    force: str
    derates: str
    required: str
    rated: str
    use: str
    reasons: tuple[Finding, ...]

    @property
    def anchor(self) -> str:
        """The name of its place in the page."""
        return anchor(self.row)


@dataclass(frozen=True)
class LiftPart:
    """A lift of a report; ``sketch`` is SVG, empty where ``drawn_as`` says why there is none."""

    name: str
    verdict: str
    facts: tuple[Fact, ...]
    sketch: str
    drawn_as: str
    pictures: tuple[tuple[str, str], ...]
    rows: tuple[RowPart, ...]
    assumed: tuple[tuple[str, str], ...]
    weakest: RowPart | None
    shared: tuple[Line, ...]
    """The lines that every row's working begins with, from the same cells."""

    def lines(self, part: RowPart) -> tuple[Line, ...]:
        """A row's working but for what all rows share."""
        return part.explained.lines[len(self.shared) :]

    def count(self, verdict: str) -> int:
        """How many of its rows have this verdict."""
        return sum(part.row.verdict == verdict for part in self.rows)


def lifts(checked: Checked, pictures: Mapping[str, Sequence[Picture]]) -> list[LiftPart]:
    """Every lift of a workbook in order, then the rows that name none.

    Args:
        checked: The workbook, not spent.
        pictures: Those of each lift, by its name.
    """
    parts = [lift(checked, name, rows, pictures.get(name, ())) for name, rows in checked.lifts.items()]
    held = {id(row) for rows in checked.together for row in rows}
    loose = [row for row in checked.rows if id(row) not in held]
    return parts + ([lift(checked, NO_LIFT, loose, ())] if loose else [])


def lift(checked: Checked, name: str, rows: Sequence[CheckedRow], pictures: Iterable[Picture]) -> LiftPart:
    """One lift of a workbook."""
    parts = tuple(_row(explain(checked, row)) for row in rows)
    facts: tuple[Fact, ...] = ()
    sketch = drawn_as = ""
    if name != NO_LIFT:
        facts = tuple(_facts(parts))
        sketch, drawn_as = _sketch(rows, parts)
    worst = weakest(rows)
    return LiftPart(
        name,
        worst_of(row.verdict for row in rows),
        facts,
        sketch,
        drawn_as,
        tuple((data_uri(picture), placed(picture)) for picture in pictures),
        parts,
        tuple(_assumed(parts)),
        next((part for part in parts if part.row is worst), None),
        tuple(_shared([part.explained.lines for part in parts])),
    )


def _shared(workings: Sequence[tuple[Line, ...]]) -> Iterator[Line]:
    """What several workings begin with."""
    if len(workings) > 1:
        for line, *others in zip(*workings, strict=False):
            if any(other != line for other in others):
                return
            yield line


def worst_of(verdicts: Iterable[str]) -> str:
    """The worst verdict of several."""
    found = set(verdicts)
    return next(word for word in WORST_FIRST if word in found)


def anchor(row: CheckedRow) -> str:
    """A name for the place of a row in the page, letters and digits only."""
    return f"r{''.join(f'{byte:02x}' for byte in row.sheet.encode())}x{row.row}"


def data_uri(picture: Picture) -> str:
    """A picture's bytes as an address; empty where they are not at hand."""
    if not picture.data:
        return ""
    return f"data:image/{picture.kind};base64,{base64.b64encode(picture.data).decode()}"


def placed(picture: Picture) -> str:
    """Where a picture stands in the workbook, and why it is not shown, where it is not."""
    rows = f"row {picture.first_row}"
    if picture.last_row > picture.first_row:
        rows = f"rows {picture.first_row} to {picture.last_row}"
    why = f"; not shown: {picture.why_not}" if picture.why_not else ""
    return f"{picture.name} ({picture.sheet}, {rows}{why})"


def _row(explained: Explained) -> RowPart:
    judged = explained.row.judged
    item, unit = judged.item, rating_unit(judged.item)
    spent = judged.utilisation
    forces = (judged.force, judged.required, judged.rated)
    force, required, rated = ("" if one is None else show_force(one, unit) for one in forces)
    derates = " × ".join(f"{one.factor:.4g}" for one in judged.derates)
    quantity = f"{item.quantity} × " if item.quantity else ""
    parts = (item.kind or "kind not known", item.size and item.size.said, item.grade, item.type, item.maker)
    return RowPart(
        explained, explained.row, quantity + ", ".join(part for part in parts if part), force,
        derates or ("" if judged.derate is None else "1"), required, rated,
        "" if spent is None else f"{spent:.0%}",
        tuple(one for one in reasons(judged) if one.outcome != NOTE),
    )  # fmt: skip


def _steps(parts: Iterable[RowPart], name: str) -> Iterator[tuple[str, str]]:
    """The numbers and the result of one step in the workings of some rows, as they are shown."""
    for part in parts:
        for line in part.explained.lines:
            if line.step.name == name:
                yield line.step.numbers, line.step.shown


def _facts(parts: Sequence[RowPart]) -> Iterator[Fact]:
    for name in LOADS:
        found = list(dict.fromkeys(_steps(parts, name)))
        if len(found) == 1:
            numbers, shown = found[0]
            worked = "" if shown.startswith(numbers) else f"{numbers} = "
            yield Fact(name.capitalize(), worked + shown)
        elif found or name == "load":
            differs = "differs by row: see their workings"
            yield Fact(name.capitalize(), differs if found else "not known")
    items = [part.row.judged.item for part in parts]
    for name, said in (
        ("Legs", [str(item.legs) for item in items if item.legs is not None and not item.gathered_below]),
        ("Sling angle", [f"{item.angle_deg:.4g}°" for item in items if item.angle_deg is not None]),
        ("Spread of picks", [show_length(item.spread, item.units.get("spread", "mm"))
                             for item in items if item.spread is not None]),
        ("Headroom", [show_length(item.headroom, item.units.get("headroom", "mm"))
                      for item in items if item.headroom is not None]),
    ):  # fmt: skip
        if said:
            values = list(dict.fromkeys(said))
            yield Fact(name, " or ".join(values) + (", by row" if len(values) > 1 else ""))


def _sketch(rows: Sequence[CheckedRow], parts: Sequence[RowPart]) -> tuple[str, str]:
    shape = shape_of(rows)
    if isinstance(shape, str):
        return "", f"No sketch: {shape}."
    loads = {show_force(item.load, load_unit(item)) for item in _items(rows) if item.load is not None}
    hooks = {shown.partition(" = ")[0] for _, shown in _steps(parts, "hook load")}
    legs = {shown.partition(" = ")[0] for _, shown in _steps(parts, "leg tension")}
    unit = next((item.units["spread"] for item in _items(rows) if "spread" in item.units), "m")
    labels = Labels(
        loads.pop() if len(loads) == 1 else "",
        f"hook load {hooks.pop()}" if len(hooks) == 1 else "",
        f"{legs.pop()} in each" if len(legs) == 1 else "",
        unit,
    )
    return drawn(shape, labels), caption(shape, labels)


def _items(rows: Iterable[CheckedRow]) -> Iterator[Item]:
    return (row.judged.item for row in rows)


def _assumed(parts: Sequence[RowPart]) -> Iterator[tuple[str, str]]:
    """What was taken for granted, each sentence once, and the rows it was taken for."""
    of_rows: dict[str, list[str]] = {}
    for part in parts:
        for sentence in part.explained.assumed:
            of_rows.setdefault(sentence, []).append(part.row.name)
    for sentence, names in of_rows.items():
        yield sentence, "every row" if len(names) == len(parts) > 1 else ", ".join(names)
