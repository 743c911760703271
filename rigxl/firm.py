"""Why a rule is firm: what a waiver never covers.

A waiver is for practice, not for strength: with the rule waived there must still be a sound piece, traced to
its maker, whose rating for this use is known and not exceeded. A rule that says nothing of this is firm,
because what holds a row is not known, and what is not known is found out.
"""

from __future__ import annotations

FIND_OUT = "it fails no row, and what is not known is found out, not waived"
OVERLOAD = "over the rated load nothing is in hand that anybody could accept"
NO_RATING = "made up or used like this it has no rating, so nobody knows what it carries"
REMOVED = "a piece that is out of service is replaced, not excused"
UNTRACED = "a piece whose origin cannot be traced may be counterfeit"
UNENGINEERED = "what nobody has engineered has no strength to rely on"
LETS_GO = "like this it can let go of its load, or be cut by it"
NO_FIT = "what does not fit cannot be rigged"

MAY_BE_WAIVED = ""
