"""Which formulas of a workbook call us: by a function of ours, or by a name that stands for one."""

from __future__ import annotations

import re
from collections.abc import Mapping

from rigxl.formulas.spelling import mentions
from rigxl.formulas.tree import calls_us, shaped

_WORD = re.compile(r"[^\W\d][\w.\\]*")


class Ours:
    """Knows the names of a workbook that call us, be it through other names.

    Args:
        names: The defined names of the workbook, with what they mean.
    """

    def __init__(self, names: Mapping[str, str]) -> None:
        texts = {name.rpartition("!")[2].lower(): text for name, text in names.items()}
        found = {name for name, text in texts.items() if mentions(text)}
        while more := {
            name for name, text in texts.items() if name not in found and not found.isdisjoint(_words(text))
        }:
            found |= more
        self.names = frozenset(found)

    def mention(self, formula: str) -> bool:
        """Whether a formula may call us at all; quick."""
        return mentions(formula) or (bool(self.names) and not self.names.isdisjoint(_words(formula)))

    def called_by(self, formula: str) -> bool:
        """Whether a formula calls us.

        Raises:
            UnreadableFormulaError: It cannot be taken apart.
        """
        shape = shaped(formula)
        return calls_us(shape.tree) or (bool(self.names) and not self.names.isdisjoint(_words(formula)))


def _words(formula: str) -> set[str]:
    return {word.lower() for word in _WORD.findall(formula)}
