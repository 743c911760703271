"""The metric sample by European practice: the gates of Pennow Lock out for repair.

All of it is invented. The lifts stand on one sheet and the hardware on another, joined by the name of the
lift; the criteria sheet chooses European practice and names the accepted makers. Of its three waivers one
holds, one has lapsed and one covers nothing any more.
"""

from __future__ import annotations

from pathlib import Path

from rigxl.samples.sheets import JUDGED_ON, body, criteria, lines, table, title
from rigxl.templates.style import new_book, print_set_up, save
from rigxl.templates.waivers import waiver_headings

CRITERIA = (
    ("ready set", "europe", "The job is rigged by European practice: mode factors, certificates."),
    ("margin", "25 %", "Agreed with the canal office."),
    ("accepted makers", "Ferrandel, Oudekamp", "The makers on the list of the canal office."),
    ("judged on", JUDGED_ON, "The day of the lift meeting: inspections are judged on it."),
)


def write(path: Path) -> None:
    """Write the sample."""
    book = new_book("Rigging schedule, gates of Pennow Lock", ("Lifts", "Hardware", "Criteria", "Waivers"))
    lifts, hardware, chosen, waivers = book.worksheets
    title(lifts, 1, "Gates of Pennow Lock: lifts")
    title(lifts, 2, "Gates, sluice motor and stop logs out for repair. Issue B, 2026-11-18.", size=10)
    table(lifts, 4, lines("lock_gates_lifts"))
    title(hardware, 1, "Gates of Pennow Lock: hardware")
    title(hardware, 2, "One row for each kind of item in each lift. Issue B, 2026-11-18.", size=10)
    table(hardware, 4, lines("lock_gates_hardware"))
    criteria(chosen, CRITERIA)
    title(waivers, 1, "Gates of Pennow Lock: waivers", size=14)
    names, *found = lines("lock_gates_waivers")
    waiver_headings(waivers, 3, names)
    body(waivers, 4, found)
    print_set_up(waivers, paper=9)
    save(book, path)
