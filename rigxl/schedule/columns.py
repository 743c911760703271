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
        "tables": [_table(listing) for listing in sheet.listings],
    }


def _table(listing: Listing) -> dict[str, Any]:
    return {
        "role": listing.role,
        "header_rows": list(listing.header_rows),
        "units_row": listing.units_row,
        "first_row": listing.first_row,
        "last_row": listing.last_row,
        "items": len(listing.rows),
        "columns": [_column(column) for column in listing.columns],
        "unmapped": [
            column.letters for column in listing.columns if not (column.field or column.ours or column.chosen)
        ],
        "left_out": [{"row": row, "why": why} for row, why in listing.left_out.items()],
        "says": listing.says,
    }


def _column(column: Column) -> dict[str, Any]:
    return {
        "column": column.letters,
        "heading": column.heading,
        "field": column.field,
        "title": FIELD[column.field].title if column.field else None,
        "unit": column.unit,
        "proposals": list(column.proposals),
        "why": column.why,
        "ours": column.ours,
    }
