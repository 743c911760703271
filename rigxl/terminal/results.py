"""What was found in a schedule, as tables for people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rigxl.terminal import MOST_SHOWN, STYLES, console
from rigxl.terminal.layout import put

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table as Grid

    from rigxl.formulas.settle import Outcome
    from rigxl.machines.baseline import Comparison
    from rigxl.order.lines import Order
    from rigxl.schedule.check import Checked, CheckedRow


def checked(done: Checked, marked: str | None) -> None:
    """What was found in one workbook, as a table; of a long schedule only what does not pass."""
    from rich.text import Text

    from rigxl.schedule.report import left_out

    out = console()
    out.print(Text(str(done.book.path), style="bold"))
    rows = done.rows
    if len(rows) > MOST_SHOWN:
        rows = [row for row in rows if row.verdict != "PASS"]
    if rows:
        put(out, _grid(rows[:MOST_SHOWN]), room=130, names=4)
    if len(done.rows) > MOST_SHOWN:
        out.print(
            f"{len(done.rows)} rows: those that pass are not shown"
            f"{f', nor {len(rows) - MOST_SHOWN} more that do not' if len(rows) > MOST_SHOWN else ''}; "
            "the marked copy, --json and --csv have them all"
        )
    for lift, members in list(done.lifts.items())[:MOST_SHOWN]:
        worst = next((one for one in members if one.weakest), None)
        if worst:
            used = f"{worst.judged.utilisation:.0%} used"
            out.print(f"{lift}: weakest item {worst.name} ({worst.sheet}!{worst.row}), {used}")
    _about_sheets(out, done)
    for said in (*left_out(done), *done.said):
        out.print(said)
    _about_formulas(out, done)
    counts = done.counts
    waived = f", {counts['WAIVED']} waived" if done.waivers else ""
    counted = f"{counts['PASS']} pass, {counts['FAIL']} fail, {counts['HOLD']} held{waived}"
    out.print(f"{counted}; judged by {done.criteria.title}")
    if marked:
        out.print(f"marked copy: {marked}")
    out.print("The maker's instructions, the local code and a licensed engineer govern over this check.")


def against(compared: Comparison | None) -> None:
    """What is new beside a baseline and what of it is gone; what it knows is only counted."""
    if compared is None:
        return
    out = console()
    for one in compared.new:
        out.print(f"new: {one.outcome} {one.rule}, {one.row.name} ({one.row.sheet}!{one.row.row})")
    for known in compared.gone:
        out.print(f"no longer found: {known.outcome} {known.rule}, {known.item}: write the baseline anew")
    counted = f"{len(compared.new)} new, {len(compared.known)} known, {len(compared.gone)} no longer found"
    out.print(f"beside the baseline: {counted}")


def waivers(done: Checked) -> None:
    """Every waiver of a workbook and what became of it, as a table."""
    from rich.table import Table as Grid

    from rigxl.schedule.report import covered

    out = console()
    if not done.waivers:
        out.print(f"{done.book.path}: no waivers were found; they stand on a sheet named Waivers")
        return
    grid = Grid(show_lines=True)
    for heading in (
        "waiver",
        "rule",
        "item or lift",
        "reason",
        "who",
        "until",
        "state",
        "covers, or why not",
    ):
        grid.add_column(heading, overflow="fold")
    for one in done.waivers:
        said = one.waiver
        whom = ", ".join(filter(None, (said.item, said.lift)))
        until = "" if said.until is None else said.until.isoformat()
        grid.add_row(
            f"{said.sheet}!{said.row}", said.rule, whom, said.reason, said.who, until, one.state, covered(one)
        )
    put(out, grid, room=130, names=3, told=False)


def opinion(done: Checked) -> None:
    """Every cell that the second opinion has something to say of, and what was gone through."""
    from rich.table import Table as Grid

    out = console()
    if done.opinion.remarks:
        grid = Grid()
        for heading in ("cell", "heading", "the sheet says", "it works out at", "likely why"):
            grid.add_column(heading, overflow="fold")
        for one in done.opinion.remarks:
            grid.add_row(one.cell, one.heading, one.says, one.ours, one.cause)
        put(out, grid, room=110, names=2)
    said = list(done.opinion.about)
    for sentence in said or ("no sheet works out a figure that is known: there is nothing to compare",):
        out.print(sentence, soft_wrap=True)


def order(found: Order, target: Path | None) -> None:
    """The lines of an order as a table, what was not ordered, and where the order is, if it was written."""
    from rich.table import Table as Grid

    out = console()
    grid = Grid(show_lines=False)
    for heading in ("line", "status", "what", "size", "rated load", "pass", "spares", "to order"):
        right = heading in ("line", "pass", "spares", "to order")
        grid.add_column(heading, overflow="fold", justify="right" if right else "left")
    for line in found.lines[:MOST_SHOWN]:
        to_order = "blocked" if line.to_order is None else str(line.to_order)
        grid.add_row(
            str(line.number), line.status, line.what, line.wanted.size or "not stated", line.rated,
            str(line.quantity), str(line.spares), to_order,
        )  # fmt: skip
    out.print(grid)
    for one in found.not_ordered[:MOST_SHOWN]:
        why = " ".join(one.why.split("\n")[0].split())
        blocks = f"; blocks line {', '.join(str(line.number) for line in one.blocks)}" if one.blocks else ""
        out.print(f"not ordered: {one.row.name} ({one.row.sheet}!{one.row.row}): {why}{blocks}")
    more = max(len(found.lines), len(found.not_ordered)) - MOST_SHOWN
    if more > 0:
        out.print(f"only the first {MOST_SHOWN} of each are shown; the order itself has them all")
    if target:
        out.print(f"order: {target}")
    out.print("The maker's instructions, the local code and a licensed engineer govern over this order.")


def settled(outcome: Outcome, source: Path, target: Path) -> None:
    """What settling a workbook did."""
    out = console()
    for said in (*outcome.said, *outcome.left[:MOST_SHOWN]):
        out.print(said, soft_wrap=True)
    if len(outcome.left) > MOST_SHOWN:
        out.print(f"and {len(outcome.left) - MOST_SHOWN} more that were left as they are")
    for one in outcome.settled[:MOST_SHOWN]:
        if one.why:
            out.print(f"{one.where.address} is {one.value}: {one.why}", soft_wrap=True)
    if outcome.differ:
        out.print(f"{outcome.differ} stored something else than what they give")
    if outcome.refreshed:
        out.print(f"{outcome.refreshed} results of other formulas were brought up to date with them")
    if not outcome.settled:
        out.print(f"{source}: no formula to settle, so nothing was written", soft_wrap=True)
        return
    formulas = "1 formula" if len(outcome.settled) == 1 else f"{len(outcome.settled)} formulas"
    out.print(f"{target}: {formulas} replaced by values", soft_wrap=True)


def _grid(rows: Sequence[CheckedRow]) -> Grid:
    from rich.table import Table as Grid
    from rich.text import Text

    from rigxl.schedule.report import remedies, told
    from rigxl.units import show_force

    grid = Grid(show_lines=True, expand=False)
    for heading in ("row", "item", "kind", "verdict"):
        grid.add_column(heading, overflow="fold")
    for heading in ("force", "required", "rated", "use"):
        grid.add_column(heading, overflow="fold", justify="right")
    grid.add_column("why, and what would pass", overflow="fold")
    for row in rows:
        judged = row.judged
        unit = judged.item.units.get("rated_load") or judged.item.units.get("load", "kN")
        forces = (judged.force, judged.required, judged.rated)
        shown = ["" if one is None else show_force(one, unit) for one in forces]
        use = "" if judged.utilisation is None else f"{judged.utilisation:.0%}"
        why = told(judged)
        if remedies(judged):
            why += f"\n→ {remedies(judged)}"
        where = f"{row.sheet}!{row.row}{' (hidden)' if row.line.hidden else ''}"
        verdict = Text(row.verdict, style=STYLES[row.verdict])
        grid.add_row(where, row.name, judged.item.kind or "?", verdict, *shown, use, why)
    return grid


def _about_sheets(out: Console, done: Checked) -> None:
    for sheet in done.understood.sheets:
        if sheet.role == "other":
            out.print(f"sheet '{sheet.name}' was left alone: {sheet.why}")
        unmapped = [
            column.heading for listing in sheet.tables for column in listing.columns if column.is_open
        ]
        if unmapped:
            out.print(f"sheet '{sheet.name}': columns not used: {', '.join(unmapped)}")


def _about_formulas(out: Console, done: Checked) -> None:
    from rigxl.formulas.told import sentences

    told = list(sentences(done.formulas))
    for said in told[: MOST_SHOWN + 1]:
        out.print(said, soft_wrap=True)
    if len(told) > MOST_SHOWN + 1:
        out.print(f"and {len(told) - MOST_SHOWN - 1} cells more; --json has them all")
