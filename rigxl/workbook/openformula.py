"""OpenDocument's formulas in the spelling of .xlsx, so that one grammar serves for both.

OpenDocument 1.3, part 4 (OpenFormula), section 5: references stand in brackets, ``;`` parts arguments.
"""

from __future__ import annotations

import re

_PREFIX = re.compile(r"([A-Za-z]+):")
_PIECE = re.compile(r"""("(?:[^"]|"")*")|\[((?:'(?:[^']|'')*'|[^\]'])*)\]|([;|{}~])|([^"\[;|{}~]+|\[)""")
_CORNER = re.compile(
    r"(?P<sheet>\$?(?:'(?:[^']|'')*'|[^.'\[\]#]*))\.(?P<cell>\$?[A-Za-z]{1,3}\$?[0-9]+|\$?[A-Za-z]{1,3}|\$?[0-9]+)"
)


def as_elsewhere(formula: str) -> str:
    """A formula of an .ods file as an .xlsx file would have it; empty for one that cannot be told so.

    >>> as_elsewhere("of:=RIGXL.LEGTENSION([.A1];2;[$'Load data'.$B$2])")
    "=RIGXL.LEGTENSION(A1,2,'Load data'!$B$2)"
    >>> as_elsewhere("of:=SUM([.A1:.B2];{1;2|3;4})")
    '=SUM(A1:B2,{1,2;3,4})'
    """
    prefix = _PREFIX.match(formula)
    if prefix and prefix[1] not in ("of", "msoxl"):
        return ""
    text = formula[prefix.end() :] if prefix else formula
    if prefix and prefix[1] == "msoxl":
        return text
    pieces, at, in_array = [], 0, False
    while at < len(text):
        found = _PIECE.match(text, at)
        if found is None:
            return ""
        string, reference, sign, other = found.groups()
        if reference is not None:
            told = _reference(reference)
            if told is None:
                return ""
            pieces.append(told)
        elif sign:
            in_array = sign == "{" or (in_array and sign != "}")
            if sign == "~":
                return ""
            pieces.append({"|": ";", ";": ","}.get(sign, sign) if in_array or sign == ";" else sign)
        else:
            pieces.append(string or other)
        at = found.end()
    return "".join(pieces)


def _reference(text: str) -> str | None:
    """What stands in brackets, as an address; None for another file, several sheets or a lost reference."""
    corners = [_CORNER.fullmatch(part) for part in _split(text)]
    if not 1 <= len(corners) <= 2 or any(corner is None for corner in corners):
        return "#REF!" if "#REF!" in text else None
    sheets = [corner["sheet"].lstrip("$") for corner in corners if corner]
    if len(corners) == 2 and sheets[1] not in ("", sheets[0]):
        return None
    sheet = f"{sheets[0]}!" if sheets[0] else ""
    return sheet + ":".join(corner["cell"] for corner in corners if corner)


def _split(text: str) -> list[str]:
    """The corners of a reference: a colon within quotes parts nothing."""
    return re.findall(r"(?:'(?:[^']|'')*'|[^:'])+", text)
