"""Schedules for orders, built in memory: each row in a lift of its own, so that no row judges another."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from rigxl.order.gather import gather
from rigxl.order.lines import Order
from rigxl.schedule.check import Checked, check_book
from tests.schedule.books import GOOD, TODAY, table
from tests.schedule.sheets import book, sheet

ROW: dict[str, Any] = GOOD | {"Position": "top", "Legs": 1, "Sling angle (deg)": 90, "Load (t)": 3}
"""A bow shackle at the top that passes: (3 × 1.05 + 0.1) × 1.25 is 4.06 t of its 5.8 t."""

DEVICE: dict[str, Any] = ROW | {
    "Tag": "D-1", "Kind": "spreader bar", "Position": "device", "Quantity": 1, "Size": None, "Type": None,
    "Rated load (t)": 10, "Rigging weight (t)": 1.2, "Legs": 2, "Sling angle (deg)": 60,
    "Own weight (t)": 0.9, "Engineer's mark": "DRG-2207 rev B", "Proof load (t)": 12.5,
    "Written procedure": "yes", "Bar length (m)": 4, "Spread of picks (m)": 4,
}  # fmt: skip
"""A spreader bar that passes."""


def check(*rows: Mapping[str, Any], overrides: Mapping[str, str] | None = None, **sheets: Any) -> Checked:
    """Rows checked, each in its own lift unless it names one; ``sheets`` are more sheets of the workbook."""
    alone = [
        dict(row) | ({"Lift": f"L {at}"} if row["Lift"] == ROW["Lift"] else {}) for at, row in enumerate(rows)
    ]
    more = [sheet(name.replace("_", " "), cells) for name, cells in sheets.items()]
    return check_book(book(sheet("Schedule", table(*alone)), *more), today=TODAY, overrides=overrides)


def order(*rows: Mapping[str, Any], spares: str = "0", **more: Any) -> Order:
    """The order of some rows."""
    return gather(check(*rows, **more), Fraction(spares))
