"""What may be said of a sheet's own figures. All of it is advice: a row's verdict is ours, and stays."""

from __future__ import annotations

from rigxl.items import Rule
from rigxl.tables import COMMON_PRACTICE

VERDICT = Rule(
    "sheets-verdict-differs",
    "A verdict that the sheet gives itself is held against ours, which stands.",
    COMMON_PRACTICE,
)
FIGURE = Rule(
    "sheets-figure-differs",
    "A figure that the sheet works out itself must come out the same when it is worked out again.",
    COMMON_PRACTICE,
)
TYPED_OVER = Rule(
    "typed-over",
    "In a column of formulas a cell without one no longer follows its inputs.",
    COMMON_PRACTICE,
)
ODD_FORMULA = Rule(
    "odd-formula",
    "Rows that are used alike have the same formula in a column.",
    COMMON_PRACTICE,
)
OTHER_ROW = Rule(
    "looks-at-other-row",
    "What is worked out for a row is worked out from that row, and not from another.",
    COMMON_PRACTICE,
)
STALE = Rule(
    "stale-result",
    "The result stored with a formula must be what it gives on the inputs that stand there now.",
    COMMON_PRACTICE,
)

RULES = (VERDICT, FIGURE, TYPED_OVER, ODD_FORMULA, OTHER_ROW, STALE)
