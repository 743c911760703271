"""What is understood of a workbook, as plain data to show a person before anything is checked."""

from __future__ import annotations

from typing import Any

from rigxl.schedule.fields import FIELD
from rigxl.schedule.listing import Column, Listing
from rigxl.schedule.map import SheetFound, Understood


def describe(understood: Understood) -> dict[str, Any]:
    """Every sheet with its role or why it was left alone, and every column with what it was understood as."""
    return {"sheets": [_sheet(sheet) for sheet in understood.sheets], "says": understood.says}


def _sheet(sheet: SheetFound) -> dict[str, Any]:
    return {
        "name": sheet.name,
        "role": sheet.role,
        "why": sheet.why,
        "hidden": sheet.hidden,
        "tables": [_table(listing) for listing in sheet.tables],
    }


def _table(listing: Listing) -> dict[str, Any]:
    return {
        "role": listing.role,
        "header_row": listing.header_row,
        "header_rows": list(listing.header_rows),
        "units_row": listing.units_row,
        "first_row": listing.first_row,
        "last_row": listing.last_row,
        "items": len(listing.rows),
        "columns": [_column(column) for column in listing.columns],
        "unmapped": [column.letters for column in listing.columns if column.is_open],
        "left_out": [{"row": row, "why": why} for row, why in listing.left_out.items()],
        "says": listing.says,
    }


def _column(column: Column) -> dict[str, Any]:
    return {
        "letter": column.letters,
        "heading": column.heading,
        "field": column.field,
        "title": FIELD[column.field].title if column.field else None,
        "unit": column.unit,
        "proposals": list(column.proposals),
        "note": _note(column),
        "ours": column.ours,
    }


def _note(column: Column) -> str:
    """What to say beside a column that was not simply understood."""
    if column.why or column.field or not column.proposals:
        return column.why or ("" if column.field else "not known")
    return f"not known; may be {' or '.join(FIELD[name].plain for name in column.proposals)}"
