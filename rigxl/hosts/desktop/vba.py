"""The VBA module: a plain function for each of ours, refusals turned into cell errors, the help, a macro.

VBA source is read in the code page of the machine, so the text is ASCII. Each line stays under VBA's 1,023
characters and each call under its 24 continued lines.
"""

from __future__ import annotations

import unicodedata
from importlib.resources import files as resources

from rigxl.functions import FUNCTIONS, FunctionSpec

LONGEST_HELP = 255
"""Characters of help that the function wizard takes."""
PLAIN = {
    "×": "x", "÷": "/", "°": " deg", "≥": ">=", "≤": "<=", "−": "-", "√": "root ", "²": "^2", "–": "-",
    "’": "'",
}  # fmt: skip


def module() -> str:
    """The text of the module."""
    head = (resources(__package__) / "head.bas").read_text(encoding="ascii")
    return "\n".join([head, *map(_function, FUNCTIONS.values()), *_helps()])


def ascii_text(text: str) -> str:
    """Text in ASCII, signs written out.

    >>> ascii_text("up to 45° × 0.7 ≥ é")
    'up to 45 deg x 0.7 >= e'
    """
    for sign, plain in PLAIN.items():
        text = text.replace(sign, plain)
    return unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()


def quoted(text: str) -> str:
    """Text as a VBA literal, in ASCII and no longer than the wizard takes."""
    return '"' + ascii_text(text)[:LONGEST_HELP].replace('"', '""') + '"'


def _function(entry: FunctionSpec) -> str:
    name = f"RIGXL_{entry.name}"
    given = ", ".join(
        f"{'' if one.required else 'Optional '}{one.name} As Variant" for one in entry.arguments
    )
    handed = ", ".join(f"RigxlGiven({one.name})" for one in entry.arguments)
    return (
        f"Public Function {name}({given}) As Variant\n"
        f'    {name} = RigxlAnswer("{entry.name}", Array({handed}))\n'
        "End Function\n"
    )


def _helps() -> list[str]:
    calls = "".join(f"    RigxlHelp{name}\n" for name in FUNCTIONS)
    first = (
        "' Run once: gives each function its help in the function wizard.\n"
        f"Public Sub RigxlHelp()\n{calls}End Sub\n"
    )
    return [first, *map(_help, FUNCTIONS.values())]


def _help(entry: FunctionSpec) -> str:
    lines = [f"Private Sub RigxlHelp{entry.name}()", f"    Dim told(1 To {len(entry.arguments)}) As String"]
    for number, argument in enumerate(entry.arguments, 1):
        lines.append(f"    told({number}) = {quoted(argument.described)}")
    lines += [
        f'    Application.MacroOptions Macro:="RIGXL_{entry.name}", Description:={quoted(entry.help)}, _',
        '        Category:="rigxl", ArgumentDescriptions:=told',
        "End Sub\n",
    ]
    return "\n".join(lines)
