"""What a workbook holds and how it is understood, as tables for people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigxl.terminal import console

if TYPE_CHECKING:
    from rigxl.workbook.doctor import Record


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
