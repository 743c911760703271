"""The description of the server and what it does agree; the list of functions is the registry."""

from __future__ import annotations

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from rigxl import __version__
from rigxl.functions import FUNCTIONS
from rigxl.hosts.server.settings import Settings
from tests.hosts.cases import CASES
from tests.hosts.serving import Asked, call

SERVER = Asked()
TOKEN = "a-token-of-the-test-0123456789-abcdef"
DESCRIPTION = SERVER("GET", "/openapi.json").json()
_REGISTRY: Registry[Any] = Registry().with_resource(
    "urn:api", Resource(contents=DESCRIPTION, specification=DRAFT202012)
)


def valid(schema: str, instance: Any) -> None:
    """Held against a schema of the description."""
    where = {"$ref": f"urn:api#/components/schemas/{schema}"}
    Draft202012Validator(where, registry=_REGISTRY).validate(instance)


@pytest.mark.parametrize("token", ["", TOKEN])
def test_it_is_openapi(token: str) -> None:
    """By a validator of the standard, OpenAPI 3.1; a server with a token says so."""
    server = Asked(Settings(token=token))
    description = server("GET", "/openapi.json", headers={"Authorization": f"Bearer {token}"}).json()
    OpenAPIV31SpecValidator(description).validate()
    assert description["openapi"].startswith("3.1")
    assert ("security" in description) is bool(token)


def test_every_way_in_is_described() -> None:
    """And nothing that is not there."""
    ways = {(path, method.upper()) for path, methods in DESCRIPTION["paths"].items() for method in methods}
    there = {path for path, _ in ways} | {"/openapi.json"}
    assert SERVER.app.paths == there
    for path, method in ways:
        assert SERVER(method, path, content=b"").status_code not in (404, 405)


def test_every_example_is_answered_as_the_registry_says() -> None:
    """One of each worksheet function, sent as it stands in the description."""
    body = DESCRIPTION["paths"]["/calculate"]["post"]["requestBody"]["content"]["application/json"]
    assert list(body["examples"]) == list(FUNCTIONS)
    for name, example in body["examples"].items():
        valid("Batch", example["value"])
        (answer,) = SERVER("POST", "/calculate", json=example["value"]).json()["answers"]
        assert answer.keys() == {"value"}, name
        if isinstance(FUNCTIONS[name].answer, float):
            assert answer["value"] == pytest.approx(FUNCTIONS[name].answer, rel=1e-9)


def test_what_is_sent_and_answered_is_as_described() -> None:
    """Every case of the contract, its call and its answer."""
    calls = [call(case.function, *case.arguments) for case in CASES]
    for at in range(0, len(calls), 2_000):
        batch = {"calls": calls[at : at + 2_000]}
        valid("Batch", batch)
        valid("Answers", SERVER("POST", "/calculate", json=batch).json())


@pytest.mark.parametrize(
    ("method", "path", "body"),
    [
        ("POST", "/calculate", b"{"),
        ("POST", "/calculate", b"[]"),
        ("GET", "/no", b""),
        ("POST", "/workbooks", b""),
    ],
)
def test_refusals_are_as_described(method: str, path: str, body: bytes) -> None:
    valid("Failure", SERVER(method, path, content=body).json())


def test_the_functions_are_the_registry() -> None:
    """Name by name, with all that a program needs to offer them."""
    listed = SERVER("GET", "/functions").json()
    valid("Catalogue", listed)
    assert (listed["rigxl"], listed["namespace"]) == (__version__, "RIGXL")
    assert [one["name"] for one in listed["functions"]] == list(FUNCTIONS)
    for one in listed["functions"]:
        entry = FUNCTIONS[one["name"]]
        assert (one["signature"], one["help"], one["source"]) == (entry.signature, entry.help, entry.source)
        assert [each["name"] for each in one["arguments"]] == [each.name for each in entry.arguments]
        assert one["arguments"] == json.loads(json.dumps([each._asdict() for each in entry.arguments]))


def test_health() -> None:
    """Up, and which version."""
    healthy = SERVER("GET", "/healthz").json()
    valid("Health", healthy)
    assert healthy == {"status": "ok", "rigxl": __version__}


def test_the_office_add_in_comes_from_the_same_origin() -> None:
    """With TLS, under the address callers use; without, there is none."""
    server = Asked(Settings(origin="https://localhost:8443"))
    manifest = server("GET", "/office/rigxl-office-manifest.xml")
    assert manifest.headers["content-type"] == "application/xml"
    assert "https://localhost:8443/office/functions.js" in manifest.text
    script = server("GET", "/office/functions.js")
    assert script.headers["content-type"].startswith("text/javascript")
    assert server("GET", "/office/pane.html").headers["content-type"].startswith("text/html")
    assert server("GET", "/office/icon-32.png").content.startswith(b"\x89PNG")
    assert SERVER("GET", "/office/functions.js").status_code == 404


def test_the_office_add_in_needs_no_token() -> None:
    """A spreadsheet program fetches it by itself; what it then asks for needs one."""
    server = Asked(Settings(origin="https://calc.example.com", token=TOKEN))
    here = {"Host": "calc.example.com"}
    assert server("GET", "/office/functions.js", headers=here).status_code == 200
    assert server("GET", "/functions", headers=here).status_code == 401
