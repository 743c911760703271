"""Whether two parts say the same but for what may differ, by what the parser reads of them."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Container

from rigxl.workbook import splice, strings
from rigxl.workbook.areas import column_in, row_number
from rigxl.workbook.places import FORMULA_TAGS

Cell = tuple[int, int]


def fingerprint(
    text: bytes,
    part: str,
    *,
    free: Container[Cell] = (),
    without: Container[str] = (),
    change: Callable[[str], str] = str,
) -> bytes:
    """A digest of all that a part says.

    Args:
        text: The part as UTF-8.
        part: Its name, for messages.
        free: Cells of which only place and style count.
        without: Names of elements directly in the root that do not count.
        change: What is done to the text of each formula before it counts.
    """
    return _Reading(text, part, free, without, change).digest.digest()


class _Reading:
    def __init__(
        self,
        text: bytes,
        part: str,
        free: Container[Cell],
        without: Container[str],
        change: Callable[[str], str],
    ) -> None:
        self.digest = hashlib.sha256()
        self._free, self._without, self._change = free, without, change
        self._path: list[str] = []
        self._row = self._column = self._skip = 0
        self._texts: list[str] = []
        parser = splice.new_parser(part)
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._finish
        parser.CharacterDataHandler = self._texts.append
        parser.CommentHandler = lambda comment: self._note("comment", comment)
        parser.ProcessingInstructionHandler = lambda target, data: self._note("instruction", target, data)
        splice.parse(parser, text, part)

    def _note(self, *said: str) -> None:
        if not self._skip:
            self.digest.update("\x00".join(said).encode("utf-8", "surrogatepass") + b"\x01")

    def _text(self) -> None:
        """Take in the text read since the last tag; that of a formula changed."""
        text = "".join(self._texts)
        self._texts.clear()
        if text and self._path and self._path[-1] in FORMULA_TAGS:
            text = self._change(strings.unescaped(text))
        if text:
            self._note("text", text)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._text()
        local = name.rpartition(" ")[2]
        self._path.append(local)
        if self._skip:
            self._skip += 1
            return
        if len(self._path) == 2 and local in self._without:
            self._skip = 1
            return
        if self._path[1:] == ["sheetData", "row"]:
            self._row, self._column = row_number(attributes.get("r"), self._row), 0
        elif self._path[1:] == ["sheetData", "row", "c"]:
            self._column = column_in(self._row, attributes.get("r"), self._column)
            if (self._row, self._column) in self._free:
                self._note("free cell", f"{self._row} {self._column}", attributes.get("s") or "0")
                self._skip = 1
                return
        self._note(name, *(f"{key}={value}" for key, value in sorted(attributes.items())))

    def _finish(self, name: str) -> None:
        self._text()
        self._path.pop()
        if self._skip:
            self._skip -= 1
        else:
            self._note("end", name)
