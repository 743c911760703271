"""The sample with every kind of hardware: a small turbine hall emptied for its overhaul.

All of it is invented. Lifts on one sheet, hardware on three, each with the columns its kinds need; the
inspections and the makers' own ratings on sheets of their own. What is in the lift Rotor half and the first
half of the devices is good; the rest shows what each kind is refused for.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.sheets import JUDGED_ON, criteria, lines, table, title
from rigxl.templates.style import new_book, save

CRITERIA = (
    ("ready set", "us", "The job is rigged by US practice."),
    ("margin", "25 %", "The design margin of this office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)
SHEETS = (
    ("Lifts", "turbine_lifts", "lifts"),
    ("Hardware", "turbine_hardware", "hooks, links, slings and what is between"),
    ("Picks and clips", "turbine_picks", "what is at the load, and rope ends"),
    ("Devices", "turbine_devices", "below-the-hook devices"),
    ("Inspections", "turbine_inspections", "inspections of single pieces"),
    ("Ratings", "turbine_ratings", "ratings of our makers, from their own sheets"),
)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, turbine hall", (*(name for name, _, _ in SHEETS), "Criteria"))
    for sheet, (_, file, about) in zip(book.worksheets, SHEETS, strict=False):
        title(sheet, 1, f"Turbine hall: {about}")
        title(sheet, 2, "Overhaul of set 2. Issue C, 2026-11-20.", size=10)
        table(sheet, 4, lines(file))
    criteria(book.worksheets[-1], CRITERIA)
    save(book, path)
