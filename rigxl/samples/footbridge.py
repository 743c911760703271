"""The small, clean sample: the old footbridge over Pennow Lock lifted out, one flat schedule, US units.

All of it is invented. One row fails: the shackles at the south lugs are pulled sideways.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.sheets import JUDGED_ON, criteria, lines, table, title
from rigxl.templates.style import new_book, save

HEADINGS = (
    "Lift",
    "Tag",
    "Kind",
    "Position",
    "Quantity",
    "Size",
    "Type",
    "Rated load (short ton)",
    "Loading angle (deg)",
    "Latch",
    "Maker",
    "Last inspection",
    "Rating marked",
    "Load (lb)",
    "Weight basis",
    "Rigging weight (lb)",
    "Legs",
    "Sling angle from horizontal (deg)",
)

LIFT = "Footbridge out"

ITEMS = """
FB-01 | hook    | top        | 1 |        | shank hook         | 20   |    | yes | Quernby Forge  | 2026-04-14
FB-02 | link    | top        | 1 | 1 3/8" | oblong master link | 15   |    |     | Tollmark Chain | 2026-04-14
FB-03 | shackle | leg        | 4 | 7/8"   | screw pin bow      | 6.5  | 0  |     | Quernby Forge  | 2026-04-15
FB-04 | sling   | leg        | 2 | 1"     | wire rope          | 8.5  |    |     | Harl & Dune    | 2026-06-02
FB-05 | sling   | leg        | 2 | 1"     | wire rope          | 8.5  |    |     | Harl & Dune    | 2026-06-02
FB-06 | link    | leg        | 2 | 3/4"   | coupling link      | 7.5  | 0  |     | Tollmark Chain | 2026-06-02
FB-07 | shackle | leg        | 2 | 1"     | bolt type bow      | 8.5  | 0  |     | Quernby Forge  | 2026-04-15
FB-08 | shackle | pick point | 2 | 7/8"   | screw pin bow      | 6.5  | 0  |     | Quernby Forge  | 2026-04-15
FB-09 | shackle | pick point | 2 | 7/8"   | screw pin bow      | 6.5  | 30 |     | Quernby Forge  | 2026-04-15
FB-10 | shackle | top        | 1 | 1 1/2" | bolt type bow      | 17   | 0  |     | Quernby Forge  | 2026-04-15
"""

LIFTED = "yes | 14500 | calculated | 850 | 4 | 60"

CRITERIA = (
    ("ready set", "us", "The job is rigged by US practice."),
    ("margin", "25 %", "The design margin of this office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, footbridge over Pennow Lock", ("Schedule", "Criteria"))
    sheet, chosen = book.worksheets
    title(sheet, 1, "Rigging schedule: footbridge over Pennow Lock")
    title(
        sheet, 2, "Old span lifted out in one piece, four legs under one hook. Issue A, 2026-11-20.", size=10
    )
    table(sheet, 4, HEADINGS, [(LIFT, *item, *lines(LIFTED)[0]) for item in lines(ITEMS)])
    criteria(chosen, CRITERIA)
    save(book, path)
