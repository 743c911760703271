"""What LibreOffice is told of the functions: their types, and the help its function wizard shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from rigxl.functions import FUNCTIONS, Argument, FunctionSpec

NAMESPACE = "RIGXL"
MODULE = ("org", "rigxl", "calc")

# An argument may be one cell or a range; rows are what gives back both (rows inside an "any" are an error).
IDL = """// The functions of rigxl as LibreOffice Calc calls them.
{opened} {{

interface XRigXL : com::sun::star::uno::XInterface {{
{methods}
}};

{closed}
"""
XCU = """<?xml version="1.0" encoding="UTF-8"?>
<oor:component-data oor:name="CalcAddIns" oor:package="org.openoffice.Office"
 xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema">
<node oor:name="AddInInfo"><node oor:name="{namespace}" oor:op="replace"><node oor:name="AddInFunctions">
{functions}
</node></node></node>
</oor:component-data>
"""


def idl() -> str:
    """The types, as text that LibreOffice reads: no compiler of its development kit is needed."""
    return IDL.format(
        opened=" { ".join(f"module {name}" for name in MODULE),
        methods="\n".join(_method(one) for one in FUNCTIONS.values()),
        closed=" ".join("};" for _ in MODULE),
    )


def _method(one: FunctionSpec) -> str:
    taken = ", ".join(f"[in] any {type_name(argument)}" for argument in one.arguments)
    return f"    sequence< sequence<any> > {one.name}({taken});"


def type_name(argument: Argument) -> str:
    """An argument as the types name it, without underscores and never a word of theirs: ``aChokeAngle``.

    >>> from rigxl.functions import spec
    >>> [type_name(each) for each in spec("CONVERTLOAD").arguments]
    ['aValue', 'aFromUnit', 'aToUnit']
    """
    return "a" + "".join(word[:1].upper() + word[1:] for word in argument.name.split("_"))


def xcu() -> str:
    """Names and help of every function and argument, for ``CalcAddIns.xcu``."""
    return XCU.format(namespace=NAMESPACE, functions="\n".join(_function(one) for one in FUNCTIONS.values()))


def _function(one: FunctionSpec) -> str:
    arguments = "\n".join(
        _node(
            type_name(argument),
            [_text("DisplayName", display_name(argument)), _text("Description", argument_help(argument))],
        )
        for argument in one.arguments
    )
    parts = [
        _text("DisplayName", f"{NAMESPACE}.{one.name}"),
        _text("Description", function_help(one)),
        '<prop oor:name="Category"><value>Add-In</value></prop>',
        # how an Excel workbook spells it
        _text("CompatibilityName", f"_xldudf_{NAMESPACE}_{one.name}"),
        f'<node oor:name="Parameters">\n{arguments}\n</node>',
    ]
    return _node(one.name, parts)


def _node(name: str, parts: Iterable[str]) -> str:
    return f'<node oor:name={quoteattr(name)} oor:op="replace">{"".join(parts)}</node>'


def _text(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en">{escape(text)}</value></prop>'


def display_name(argument: Argument) -> str:
    """What the wizard calls an argument: ``sling angle (deg)``."""
    name = argument.name.replace("_", " ")
    return f"{name} ({argument.unit})" if argument.unit == "deg" else name


def argument_help(argument: Argument) -> str:
    """The line of help beside an argument, what matters first: the wizard has room for two lines.

    The wizard itself calls every argument optional.
    """
    return " ".join(_argument_help(argument))


def _argument_help(argument: Argument) -> Iterator[str]:
    explained = "left out" in argument.help or "not given" in argument.help
    if argument.required:
        yield "Needed."
    elif explained or argument.default in (None, ""):
        yield "Optional."
    else:
        yield f"Optional, {argument.default} unless stated."
    yield argument.help
    if any(choice not in argument.help for choice in argument.choices):
        yield f"One of {', '.join(argument.choices)}."


def function_help(one: FunctionSpec) -> str:
    """The help of a function, with an example to type."""
    shown = f"{one.answer:.12g}" if isinstance(one.answer, int | float) else one.answer
    return f"{one.help} Example: ={example_text(one)} gives {shown}."


def example_text(one: FunctionSpec) -> str:
    """The example as Calc wants it typed: a single 0 could be a blank cell, so it is ``{0}``.

    >>> from rigxl.functions import spec
    >>> example_text(spec("LEGTENSION"))
    'RIGXL.LEGTENSION(10; 2; 30)'
    """
    typed = (
        f'"{value}"' if isinstance(value, str) else f"{value:g}" if value else "{0}" for value in one.example
    )
    return f"{NAMESPACE}.{one.name}({'; '.join(typed)})"
