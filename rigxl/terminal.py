"""What the commands print: tables for people through rich, JSON and CSV for machines."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table as Grid

    from rigxl.formulas.settle import Outcome
    from rigxl.functions import FunctionSpec
    from rigxl.items import Rule
    from rigxl.machines.baseline import Comparison
    from rigxl.order.lines import Order
    from rigxl.schedule.check import Checked, CheckedRow
    from rigxl.tables import Table
    from rigxl.workbook.doctor import Record

STYLES = {"PASS": "green", "FAIL": "bold red", "HOLD": "italic yellow", "WAIVED": "bold italic cyan"}
WIDE = 160
"""Columns when stdout is no terminal: a file or a pipe has room."""
MOST_SHOWN = 100
"""Rows a person reads in a terminal."""


def console() -> Console:
    """The console for results, wide where it is no terminal."""
    from rich.console import Console

    return Console(width=None if sys.stdout.isatty() else WIDE, highlight=False, emoji=False, markup=False)


def progress(workbooks: Sequence[Path]) -> Iterator[Path]:
    """The workbooks one by one, with a progress bar on stderr where there are several and somebody looks."""
    if len(workbooks) < 3 or not sys.stderr.isatty():
        yield from workbooks
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(workbooks, "checking", console=Console(stderr=True), transient=True)


def json_text(data: object) -> None:
    """Data as JSON on stdout; in ASCII where stdout is not UTF-8."""
    ascii_only = (sys.stdout.encoding or "").lower().replace("-", "") != "utf8"
    json.dump(data, sys.stdout, ensure_ascii=ascii_only, indent=1, default=str)
    sys.stdout.write("\n")


def csv_text(headings: Sequence[str], rows: Iterable[Sequence[Any]]) -> None:
    """Rows as CSV on stdout; text that a spreadsheet would take for a formula is escaped."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(headings)
    for row in rows:
        writer.writerow([escaped(value) for value in row])


def escaped(value: Any) -> Any:
    """Text that begins like a formula gets an apostrophe before it; numbers stay numbers.

    >>> escaped("=1+1"), escaped(-5), escaped("-5 t")
    ("'=1+1", -5, "'-5 t")
    """
    return f"'{value}" if isinstance(value, str) and value[:1] in tuple("=+-@\t\r\n") and value else value


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
        out.print(_grid(rows[:MOST_SHOWN]))
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
    out.print(grid)


def _about_formulas(out: Console, done: Checked) -> None:
    from rigxl.formulas.told import sentences

    told = list(sentences(done.formulas))
    for said in told[: MOST_SHOWN + 1]:
        out.print(said, soft_wrap=True)
    if len(told) > MOST_SHOWN + 1:
        out.print(f"and {len(told) - MOST_SHOWN - 1} cells more; --json has them all")


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
        out.print(grid)
    said = list(done.opinion.about)
    for sentence in said or ("no sheet works out a figure that is known: there is nothing to compare",):
        out.print(sentence, soft_wrap=True)


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


def rules(found: Mapping[str, tuple[Rule, tuple[str, ...]]]) -> None:
    """Every rule, as a table."""
    from rich.table import Table as Grid

    grid = Grid(show_lines=False)
    for heading in ("rule", "for", "meaning", "waiver", "source"):
        grid.add_column(heading, overflow="fold", no_wrap=heading == "rule")
    for name, (one, kinds) in sorted(found.items()):
        grid.add_row(name, ", ".join(kinds) or "every kind", one.meaning, one.waiver, one.source.cited)
    console().print(grid)


def rule(found: tuple[Rule, tuple[str, ...]]) -> None:
    """One rule, explained."""
    one, kinds = found
    out = console()
    out.print(one.name)
    out.print(f"  meaning: {one.meaning}")
    out.print(f"  for:     {', '.join(kinds) or 'every kind'}")
    out.print(f"  waiver:  {one.waiver}")
    out.print(f"  source:  {one.source.cited}")


def tables(kind: str, found: Sequence[Table[Any]], as_csv: bool) -> None:
    """The published tables of a kind, as printed."""
    from rich.table import Table as Grid

    out = console()
    if not found:
        out.print(
            f"no published table of sizes is at hand for {kind}: the rating on the piece must be stated"
        )
    for one in found:
        headings = list(one.rows[0]._fields)
        cells = [["" if value is None else str(value) for value in row] for row in one.rows]
        if as_csv:
            csv_text(["table", "source", *headings], ([one.name, one.source.cited, *row] for row in cells))
            continue
        out.print(f"{kind}: {one.name}{f', grade {one.grade}' if one.grade else ''}")
        out.print(one.source.cited)
        grid = Grid()
        for heading in headings:
            grid.add_column(heading.replace("_", " "), justify="right")
        for row in cells:
            grid.add_row(*row)
        out.print(grid)


def functions(found: Mapping[str, FunctionSpec]) -> None:
    """Every worksheet function, as a table."""
    from rich.table import Table as Grid

    grid = Grid()
    for heading in ("function", "help", "example", "source"):
        grid.add_column(heading, overflow="fold")
    for one in found.values():
        grid.add_row(one.signature, one.help, f"{one.example_text} = {one.answer}", one.source)
    console().print(grid)


def function(one: FunctionSpec) -> None:
    """One worksheet function, explained."""
    out = console()
    out.print(one.signature)
    out.print(f"  {one.help}")
    for argument in one.arguments:
        needed = (
            ""
            if argument.required
            else f", {argument.default} unless stated"
            if argument.default is not None
            else ", optional"
        )
        choices = f"; one of {', '.join(argument.choices)}" if argument.choices else ""
        out.print(f"  {argument.name} [{argument.unit}{needed}]: {argument.help}{choices}")
    out.print(f"  gives [{one.unit}]; {one.example_text} = {one.answer}")
    out.print(f"  refuses: {one.refuses}")
    out.print(f"  source: {one.source}")


def columns(file: Path, described: Any) -> None:
    """What was understood of each sheet, as tables."""
    from rich.table import Table as Grid

    out = console()
    out.print(str(file))
    for sheet in described["sheets"]:
        out.print(f"sheet '{sheet['name']}': {sheet['role']}{', ' + sheet['why'] if sheet['why'] else ''}")
        for table in sheet["tables"]:
            headings = " and ".join(str(row) for row in table["header_rows"])
            grid = Grid(
                title=f"{table['role']}, headings in row {headings}, {table['items']} rows of items",
                title_justify="left",
            )
            for heading in ("column", "heading", "understood as", "unit", "note"):
                grid.add_column(heading, overflow="fold")
            for column in table["columns"]:
                understood = "ours" if column["ours"] else column["title"] or "not used"
                grid.add_row(
                    column["letter"], column["heading"], understood, column["unit"] or "", column["note"]
                )
            out.print(grid)
            for left in table["left_out"]:
                out.print(f"  row {left['row']} left out: {left['why']}")
            for said in table["says"]:
                out.print(f"  {said}")


def doctor(found: Record) -> None:
    """What is in a workbook, sheet by sheet, and whether it can be marked."""
    out = console()
    out.print(f"{found.path}: {found.kind or 'not read'}")
    if found.refused:
        out.print(f"cannot be read: {found.why_not} ({found.refused})")
        return
    for sheet in found.sheets:
        held = [f"{sheet.rows} rows", f"{sheet.cells} cells"] if sheet.cells else ["empty"]
        held += [f"in {sheet.used}"] if sheet.used else []
        held += [f"{sheet.formulas} formulas"] if sheet.formulas else []
        held += [f"{count} {name}" for name, count in sheet.things.items()]
        held += [f"{sheet.merged} merged areas"] if sheet.merged else []
        held += [f"{sheet.hidden_rows} hidden rows"] if sheet.hidden_rows else []
        held += [f"hidden columns {', '.join(sheet.hidden_columns)}"] if sheet.hidden_columns else []
        held += ["filtered"] if sheet.filtered else []
        held += ["protected"] if sheet.protected else []
        held += [sheet.state] if sheet.state != "visible" else []
        out.print(f"sheet '{sheet.name}' ({sheet.kind}): {', '.join(held)}")
        if sheet.never_calculated:
            some = _some(sheet.never_calculated_cells)
            out.print(f"  {sheet.never_calculated} formulas were never calculated: {some}")
        if sheet.errors:
            out.print(f"  {sheet.errors} cells hold an error: {_some(sheet.error_cells)}")
    of_the_book = [f"{count} {name}" for name, count in found.things.items()]
    of_the_book += [f"defined names {', '.join(found.names)}"] if found.names else []
    of_the_book += ["dates count from 1904"] if found.date_1904 else []
    of_the_book += ["its structure is locked: no sheet can be added"] if found.structure_locked else []
    for one in (*of_the_book, *found.warnings):
        out.print(f"  {one}")
    out.print("it can be marked" if found.markable else f"it cannot be marked: {found.why_not}")


def _some(cells: Sequence[str]) -> str:
    return ", ".join(cells[:10]) + (" and more" if len(cells) > 10 else "")


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
