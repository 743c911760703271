"""Marks a function for the worksheet, and does nothing else to it.

>>> @worksheet("TWICEOF", example=(2,), answer=4, source="plain arithmetic")
... def twice(value: float) -> float:
...     return 2 * value
>>> twice(3), mark_of(twice).name
(6, 'TWICEOF')

A name has to be legal in every program that may call it, so it is checked here, once, by :func:`lint_name`.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterable
from typing import Annotated, NamedTuple, TypeVar

from rigxl.tables import Source

AnyForce = Annotated[float, "any unit of force or mass"]
AnyLength = Annotated[float, "any unit of length"]
AsLoad = Annotated[float, "as load"]
AsForce = Annotated[float, "as force"]
AsRating = Annotated[float, "as rating"]

FUNCTION = TypeVar("FUNCTION", bound=Callable[..., object])

# Commands of the old macro sheets, from memory: a name that is one of these is never handed to an add-in.
MACRO_WORDS = """
    ABSREF ACTIVATE ALERT APPLY ARGUMENT ASSIGN BEEP BORDER BREAK CALCULATE CALL CALLER CASCADE CLEAR
    CLOSE COMBINATION COPY CUSTOMIZE CUT DEMOTE DEREF DIRECTORIES DIRECTORY DISPLAY DOCUMENTS DUPLICATE
    ECHO EDITION ELSE ENTER ERROR EVALUATE EXEC EXECUTE FCLOSE FILES FILL FILTER FOPEN FORMULA FPOS FREAD
    FREADLN FREEZE FSIZE FULL FWRITE FWRITELN GALLERY GOAL GOTO GROUP HALT HELP HIDE HLINE HPAGE HSCROLL
    INITIATE INPUT INSERT JUSTIFY LAST LEGEND LINKS LIST MERGE MESSAGE MOVE NAMES NEXT NOTE OPEN OUTLINE
    OVERLAY PARSE PASTE PATTERNS PAUSE POKE PRECISION PREVIEW PRINT PROMOTE PROTECT QUIT REFTEXT REGISTER
    RELREF REQUEST RESET RESTART RESULT RESUME RETURN SAVE SCALE SCENARIO SELECT SELECTION SEND SERIES
    SHOW SIZE SLIDE SORT SOUND SPELLING SPLIT STEP STYLE SUBSCRIBE SUMMARY TABLE TERMINATE TEXTREF UNDO
    UNGROUP UNHIDE UNLOCKED UNREGISTER VIEW VLINE VOLATILE VPAGE VSCROLL WAIT WHILE WINDOW WORKBOOK
    WORKGROUP WORKSPACE ZOOM RUN
"""

# Argument names become the names of VBA parameters.
VBA_WORDS = """
    addressof alias and any as attribute base binary boolean byref byte byval call case cbool cbyte ccur
    cdate cdbl cdec cint clng close compare const csng cstr currency cvar date decimal declare defbool
    defbyte defcur defdate defdbl defint deflng defobj defsng defstr defvar dim do double each else elseif
    empty end endif enum eqv erase error event exit explicit false fix for friend function get global
    gosub goto if imp implements in input int integer is len let lib like line lock long longlong longptr
    loop lset me mid mod module name new next not nothing null object on open option optional or output
    paramarray preserve print private property ptrsafe public put raiseevent random read redim rem resume
    return rset seek select set single spc static step stop string sub tab then time to true type typeof
    unlock until variant wend while width with withevents write xor
"""


class Mark(NamedTuple):
    """What :func:`worksheet` has written on a function."""

    name: str
    example: tuple[float | str, ...]
    answer: float | str | bool | None
    source: str
    why: Callable[..., str] | None


def worksheet(
    name: str,
    *,
    example: tuple[float | str, ...],
    answer: float | str | bool | None = None,
    source: Source | str = "",
    why: Callable[..., str] | None = None,
) -> Callable[[FUNCTION], FUNCTION]:
    """Mark a function as one a cell may call.

    The function's docstring gives the help: its first line, each argument under ``Args``, where the equation
    comes from under ``Source``, what is refused under ``Refuses``. Its annotations give the units, the
    choices and the defaults.

    Args:
        name: The name in a cell, without prefix: 4 to 24 capital letters.
        example: Arguments of an example that people see and the tests run.
        answer: What the example gives, where it can be said in a few digits.
        source: Where the equation comes from, where the docstring has no ``Source``.
        why: For a verdict: gives, of the same arguments, the sentence behind it.

    Raises:
        ValueError: A name that some program could not use: a slip of ours, found on import.
    """

    cited = source if isinstance(source, str) else source.cited

    def marked(function: FUNCTION) -> FUNCTION:
        complaints = lint_name(name) + lint_arguments(inspect.signature(function).parameters)
        if complaints:
            raise ValueError("; ".join(complaints))
        function.__dict__["__worksheet__"] = Mark(name, example, answer, cited, why)
        return function

    return marked


def mark_of(function: object) -> Mark | None:
    """The mark on a function, or None."""
    mark = getattr(function, "__worksheet__", None)
    return mark if isinstance(mark, Mark) else None


def lint_name(name: str) -> list[str]:
    """What is wrong with a worksheet name, in sentences; nothing when every program can use it.

    >>> lint_name("LEGTENSION")
    []
    >>> lint_name("WLL2")
    ["'WLL2' reads as a cell", "'WLL2' must be 4 to 24 capital letters A to Z and nothing else"]
    """
    complaints = []
    if re.fullmatch(r"[A-Z]{1,3}\d+", name, re.IGNORECASE):
        complaints.append(f"'{name}' reads as a cell")
    if re.fullmatch(r"R(\d+|\[-?\d+\])?(C(\d+|\[-?\d+\])?)?|C(\d+|\[-?\d+\])?", name, re.IGNORECASE):
        complaints.append(f"'{name}' reads as a row and column reference")
    if name.upper() in MACRO_WORDS.split():
        complaints.append(f"'{name}' is a command of the old macro sheets")
    if not re.fullmatch(r"[A-Z]{4,24}", name):
        complaints.append(f"'{name}' must be 4 to 24 capital letters A to Z and nothing else")
    return complaints


def lint_arguments(names: Iterable[str]) -> list[str]:
    """What is wrong with a function's argument names, in sentences.

    >>> lint_arguments(["load", "To"])
    ["argument 'To' is a VBA keyword"]
    """
    complaints, seen = [], set()
    for name in names:
        plain = name.lower()
        if plain in VBA_WORDS.split():
            complaints.append(f"argument '{name}' is a VBA keyword")
        if plain == "caller":
            complaints.append("argument 'caller' is taken by the program that calls")
        if not re.fullmatch(r"[A-Za-z](_?[A-Za-z])*", name):
            complaints.append(f"argument '{name}' must be letters, with underscores only inside")
        if plain in seen:
            complaints.append(f"argument '{name}' occurs twice when case is ignored")
        seen.add(plain)
    return complaints
