"""The tokens of a formula, each with its place in the text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

LONGEST = 8192
"""Signs of a formula: Excel's limits, from memory."""
MOST_BRACKETS = 256


class UnreadableFormulaError(Exception):
    """A formula that cannot be taken apart; says where it goes wrong."""


class Token(NamedTuple):
    """One token: its text, what it is, and where it begins.

    ``kind`` and ``part`` are the words of openpyxl's tokenizer, such as OPERAND and RANGE or FUNC and OPEN.
    """

    text: str
    kind: str
    part: str
    start: int


def tokens(formula: str) -> list[Token]:
    """The tokens of a formula, white space left out.

    Args:
        formula: The formula with its equals sign.

    Raises:
        UnreadableFormulaError: Unbalanced parentheses, unended texts, signs that no formula has.

    >>> [token.text for token in tokens('=IF(A1 > 2,"a,b",0)')]
    ['IF(', 'A1', '>', '2', ',', '"a,b"', ',', '0', ')']
    """
    if len(formula) > LONGEST or formula.count("[") > MOST_BRACKETS:
        raise UnreadableFormulaError(
            f"it is longer than {LONGEST} signs, or has more brackets than any formula"
        )
    from openpyxl.formula import Tokenizer
    from openpyxl.formula.tokenizer import TokenizerError

    try:
        found = Tokenizer(formula)
    except (TokenizerError, IndexError) as error:
        raise UnreadableFormulaError(str(error) or "a parenthesis is closed that was never opened") from error
    if found.token_stack:
        raise UnreadableFormulaError(f"a parenthesis is never closed in {formula}")
    return list(_placed(formula, ((item.value, item.type, item.subtype) for item in found.items)))


def _placed(formula: str, items: Iterator[tuple[str, str, str]]) -> Iterator[Token]:
    """The tokens with their places: between two of them stands nothing but white space."""
    at = 1
    for text, kind, part in items:
        if kind == "WHITE-SPACE":
            continue
        start = formula.find(text, at)
        if start < 0 or formula[at:start].strip():
            raise UnreadableFormulaError(f"{text[:40]} cannot be placed in {formula}")
        yield Token(text, kind, part, start)
        at = start + len(text)
