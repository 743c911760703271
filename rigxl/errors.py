"""Every way rigxl says no.

RigxlError                      in a cell   over HTTP   meaning
├── InputError
│   ├── MissingInputError       #VALUE!     422         something needed was not given
│   ├── UnreadableError         #VALUE!     422         not one plain value
│   ├── UnknownUnitError        #VALUE!     422         no unit, or one nobody defined
│   ├── AmbiguousUnitError      #VALUE!     422         a unit with more than one meaning
│   ├── UnknownSizeError        #N/A        422         the table does not list this size
│   └── OutOfRangeError         #N/A        422         outside what the source covers
├── NotRatedError               #N/A        422         the source gives no rating for this use
└── WorkbookError               –           400         the file itself; exit code 2

Each class carries its cell value and HTTP status, so that no host decides for itself.
A message says what was given, what would do, and who says so, in one sentence.
"""

from __future__ import annotations

from typing import ClassVar


class RigxlError(Exception):
    """The root: anything rigxl refuses."""

    cell: ClassVar[str] = "#VALUE!"
    status: ClassVar[int] = 422


class InputError(RigxlError):
    """What was given cannot be worked with."""


class MissingInputError(InputError):
    """Something that is needed was not given."""


class UnreadableError(InputError):
    """A cell or argument that is not one plain value."""


class UnknownUnitError(InputError):
    """No unit where one is needed, or a unit nobody defined."""


class AmbiguousUnitError(InputError):
    """A unit with more than one meaning, such as a bare ton."""


class UnknownSizeError(InputError):
    """A size that the printed table does not list."""

    cell = "#N/A"


class OutOfRangeError(InputError):
    """A value outside what the source covers."""

    cell = "#N/A"


class NotRatedError(RigxlError):
    """A use for which the source gives no rating at all."""

    cell = "#N/A"


class WorkbookError(RigxlError):
    """The file itself cannot be read or marked.

    Args:
        code: A short stable slug for machines, such as ``not-a-workbook``.
        sentence: One plain sentence for people.
    """

    status = 400

    def __init__(self, code: str, sentence: str) -> None:
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence

    def __reduce__(self) -> tuple[type[WorkbookError], tuple[str, str]]:
        return (type(self), (self.code, self.sentence))


class CellError(str):
    """An error as the spreadsheet shows it, such as #DIV/0!; never a blank, never text."""

    __slots__ = ()
