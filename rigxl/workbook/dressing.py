"""Text that a number format shows behind a number, as the kN of ``0.0 "kN"``: it is not in the cell."""

from __future__ import annotations

import re

UNCLEAR = "?"
"""What stands for the text where a format shows different numbers in different ways."""

_PIECE = re.compile(
    r'"(?P<quoted>[^"]*)"?|\\(?P<escaped>.)|_.|\*.|\[\$(?P<money>[^\]-]*)[^\]]*\]|\[[^\]]*\]|(?P<bare>.)',
    re.DOTALL,
)
_DIGITS = frozenset("0#?")
_CONDITION = re.compile(r"\[[<>=]")


def dressing(code: str | None) -> str:
    """The text a format shows behind a number; empty where there is none.

    >>> dressing('0.0 "kN"'), dressing('#,##0.00\\\\ \\\\t;[Red]-0.00\\\\ \\\\t'), dressing("0.00")
    ('kN', 't', '')
    >>> dressing('[>=1000]0.0,"t";0"kg"'), dressing('0.0,"t"')
    ('?', '?')
    """
    if not code:
        return ""
    sections = _sections(code)
    texts = [_behind(section) for section in sections[:2] if _has_digits(section)]
    if not any(texts):
        return ""
    alike = len(set(texts)) == 1 or (len(texts) == 2 and not _CONDITION.search(code) and not texts[1])
    return texts[0] if alike else UNCLEAR


def _sections(code: str) -> list[str]:
    """A format's parts, split at the semicolons that stand in no text."""
    sections = [""]
    for piece in _PIECE.finditer(code):
        if piece["bare"] == ";":
            sections.append("")
        else:
            sections[-1] += piece[0]
    return sections


def _has_digits(section: str) -> bool:
    return any(piece["bare"] in _DIGITS for piece in _PIECE.finditer(section) if piece["bare"])


def _behind(section: str) -> str:
    """What one part shows behind its digits; unclear where it also divides by thousands."""
    text, scaled = "", False
    for piece in _PIECE.finditer(section):
        bare = piece["bare"]
        if bare and bare in _DIGITS:
            text, scaled = "", False
        elif bare == ",":
            scaled = True
        elif bare is None or bare not in "./":
            text += piece["quoted"] or piece["escaped"] or piece["money"] or bare or ""
    text = " ".join(text.split())
    return UNCLEAR if scaled and text else text
