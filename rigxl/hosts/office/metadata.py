"""functions.json: what Excel shows of each function while it is typed.

Every argument is a range of anything and every answer a range: so one call does for a whole column, an
argument that is left out differs from a blank cell, and an error in a cell reaches us as an error.
"""

from __future__ import annotations

from typing import Any

from rigxl.functions import FUNCTIONS, Argument, FunctionSpec
from rigxl.functions.zero import takes_zero

NAMESPACE = "RIGXL"
LONGEST_HELP = 512
"""Characters of an argument's help that Excel takes."""


def metadata() -> dict[str, Any]:
    """The functions as Office custom functions describe them."""
    return {
        "allowErrorForDataTypeAny": True,
        "functions": [_function(entry) for entry in FUNCTIONS.values()],
    }


def _function(entry: FunctionSpec) -> dict[str, Any]:
    made: dict[str, Any] = {
        "id": entry.name,
        "name": entry.name,
        "description": entry.help,
        "parameters": [_parameter(argument) for argument in entry.arguments],
        "result": {"type": "any", "dimensionality": "matrix"},
    }
    if any(takes_zero(entry)):
        made["options"] = {"requiresParameterAddresses": True}
    return made


def _parameter(argument: Argument) -> dict[str, Any]:
    made: dict[str, Any] = {
        "name": argument.name,
        "description": argument.described[:LONGEST_HELP],
        "type": "any",
        "dimensionality": "matrix",
    }
    if not argument.required:
        made["optional"] = True
    return made
