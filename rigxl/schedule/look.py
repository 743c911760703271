"""How our marks look, on a sheet and in the summary: one set of looks.

Colour never carries the meaning alone: the word is in its own column, failing rows are darker and bold, held
rows lighter and slanted, waived rows bold and slanted on a grey between the two, so that they differ on grey
paper too.
"""

from __future__ import annotations

from rigxl.items import FAIL, HOLD, WAIVED
from rigxl.workbook.marks import Look

FAIL_FILL, HOLD_FILL, WAIVED_FILL = "F4B69C", "FFF3C4", "D5DCE6"

ROWS = {
    FAIL: Look(fill=FAIL_FILL, bold=True),
    HOLD: Look(fill=HOLD_FILL, italic=True),
    WAIVED: Look(fill=WAIVED_FILL, bold=True, italic=True),
}
WORDS = {
    FAIL: Look(border=True, bold=True, fill=FAIL_FILL, centred=True),
    HOLD: Look(border=True, italic=True, fill=HOLD_FILL, centred=True),
    WAIVED: Look(border=True, bold=True, italic=True, fill=WAIVED_FILL, centred=True),
}
VERDICT = Look(border=True, bold=True, centred=True)
NUMBER = Look(border=True, number_format="0.00")
PERCENT = Look(border=True, number_format="0%")
TEXT = Look(border=True, wrap=True)
PLAIN = Look(wrap=True)
LOOSE = Look()
TITLE = Look(bold=True, size=16)
SECTION = Look(bold=True, size=12, fill="D9DEE4")
HEADING = Look(bold=True, border=True, fill="EDEFF2", wrap=True)
