"""GET /openapi.json: the server described, from the types it reads and writes and from the registry."""

from __future__ import annotations

from typing import Any

import msgspec

from rigxl import __version__
from rigxl.functions import FUNCTIONS
from rigxl.hosts.server.catalogue import Catalogue, Health
from rigxl.hosts.server.refusal import Failure
from rigxl.hosts.server.settings import Settings
from rigxl.hosts.server.wire import Call
from rigxl.hosts.server.workbooks import BOTH, JSON, WORKBOOK

REFUSALS = {
    400: "The body, or the name the server was called by, is not what it should be",
    401: "The token is missing or not the right one",
    403: "The page that calls is not one that may",
    406: "There is no answer of the form that was asked for",
    408: "The body did not arrive in time",
    413: "More was sent than is taken; the sentence names the limit",
    422: "It was read, and cannot be worked with",
    429: "Too many requests of one sender are being served",
    500: "A fault in rigxl itself",
    503: "Too much is being worked on, or it took too long; try again",
}
BINARY = {"type": "string", "format": "binary"}


def _ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{name}"}


def _schemas() -> dict[str, Any]:
    """Every shape that goes over the wire."""
    types = (Call, Failure, Catalogue, Health)
    _, made = msgspec.json.schema_components(types, ref_template="#/components/schemas/{name}")
    single = {"type": ["number", "string", "boolean"]}
    cell = {"anyOf": [single, _ref("Failure")]}
    answer = {
        "description": "A value, rows of values where an argument was a range, or why there is none.",
        "anyOf": [_one("value", single), _one("values", _list(_list(cell))), _ref("Failure")],
    }
    findings = {
        "type": "object",
        "description": "What was found, as rigxl check --json prints it.",
        "required": ["version", "cautions", "workbooks"],
        "properties": {
            "version": {"type": "integer"},
            "cautions": _list({"type": "string"}),
            "workbooks": _list({"type": "object", "required": ["file", "counts", "rows"]}),
        },
    }
    return {
        **made,
        "Batch": _one("calls", _list(_ref("Call"))),
        "Answer": answer,
        "Answers": _one("answers", _list(_ref("Answer"))),
        "Findings": findings,
    }


def _list(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


def _one(name: str, schema: dict[str, Any]) -> dict[str, Any]:
    """An object with one key."""
    return {
        "type": "object", "required": [name], "properties": {name: schema}, "additionalProperties": False
    }  # fmt: skip


def _form(**parts: Any) -> dict[str, Any]:
    """A form whose first part is always there."""
    return {"type": "object", "required": [next(iter(parts))], "properties": parts}


def _json(schema: str) -> dict[str, Any]:
    return {JSON: {"schema": _ref(schema)}}


def _operation(name: str, summary: str, content: dict[str, Any], *also: int, **more: Any) -> dict[str, Any]:
    refusals = {
        str(status): {"description": REFUSALS[status], "content": _json("Failure")}
        for status in sorted({400, 403, 429, 500, 503, *also})
    }
    return {
        "operationId": name,
        "summary": summary,
        "responses": {"200": {"description": "The answer", "content": content}, **refusals},
        **more,
    }


def _examples() -> dict[str, Any]:
    """The example of each worksheet function, as a batch of one."""
    return {
        one.name: {
            "summary": one.help,
            "value": {"calls": [{"function": one.name, "arguments": list(one.example)}]},
        }
        for one in FUNCTIONS.values()
    }


def _workbooks(locked: tuple[int, ...]) -> dict[str, Any]:
    options = {
        "name": "What the workbook is called, where the form does not say",
        "criteria": "The ready set to judge by: us, ontario or europe",
        "set": "One setting of the criteria, NAME=VALUE; may be given again",
        "sheet": "Only this sheet; may be given again",
    }
    return _operation(
        "workbooks",
        "Check a workbook: its findings, its marked copy, or both, as the Accept header asks",
        {
            **_json("Findings"),
            **{media: {"schema": BINARY} for media in WORKBOOK.values()},
            BOTH: {"schema": _form(findings=_ref("Findings"), marked=BINARY)},
        },
        406, 408, 413, 422, *locked,
        parameters=[
            {
                "name": name, "in": "query", "description": text,
                "schema": _list({"type": "string"}) if name in ("set", "sheet") else {"type": "string"},
            }
            for name, text in options.items()
        ],
        requestBody={
            "required": True,
            "content": {
                "application/octet-stream": {"schema": BINARY},
                BOTH: {"schema": _form(file=BINARY, ratings=BINARY)},
            },
        },
    )  # fmt: skip


def description(settings: Settings) -> dict[str, Any]:
    """The OpenAPI description of a server with these settings."""
    locked = (401,) if settings.token else ()
    calculate = _operation(
        "calculate",
        "Work out a batch of worksheet functions, one answer a call; one bad call never fails the others",
        _json("Answers"),
        408, 413, 422, *locked,
        requestBody={
            "required": True,
            "content": {JSON: {"schema": _ref("Batch"), "examples": _examples()}},
        },
    )  # fmt: skip
    functions = _operation(
        "functions",
        "The worksheet functions: what each takes, gives and refuses",
        _json("Catalogue"),
        *locked,
    )
    health = _operation("healthz", "Whether the server is up", _json("Health"), security=[])
    about: dict[str, Any] = {
        "openapi": "3.1.0",
        "info": {
            "title": "rigxl calculation server",
            "version": __version__,
            "description": "Worksheet functions for rigging hardware, and checks of whole schedules. A "
            "verdict holds for what was sent: it does not replace the maker's instructions, the local code "
            "or a licensed engineer.",
        },
        "paths": {
            "/calculate": {"post": calculate},
            "/workbooks": {"post": _workbooks(locked)},
            "/functions": {"get": functions},
            "/healthz": {"get": health},
        },
        "components": {"schemas": _schemas()},
    }
    if settings.token:
        about["components"]["securitySchemes"] = {"token": {"type": "http", "scheme": "bearer"}}
        about["security"] = [{"token": []}]
    return about
