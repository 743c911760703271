"""The Office add-in's files: whole, legal by the published schema, and all from the registry."""

from __future__ import annotations

import json
import re
import struct
import xml.etree.ElementTree as ET
import zlib
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from rigxl.cli import main
from rigxl.errors import InputError
from rigxl.functions import FUNCTIONS
from rigxl.hosts.office import MANIFEST, files, write
from rigxl.hosts.office.icons import SIZES

ORIGIN = "https://rigging.example:8443"
FILES = files(ORIGIN)
SCHEMA = Path(__file__).parent / "fixtures" / "custom_functions.schema.json"
BT = "{http://schemas.microsoft.com/office/officeappbasictypes/1.0}"
OVERRIDES = "{http://schemas.microsoft.com/office/taskpaneappversionoverrides}"


def functions() -> list[dict[str, object]]:
    """The functions of functions.json."""
    found = json.loads(FILES["office/functions.json"])["functions"]
    assert isinstance(found, list)
    return found


def test_the_metadata_is_legal() -> None:
    """By the published schema of custom functions (npm, @microsoft/app-manifest 1.30), and beyond it."""
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    jsonschema.Draft4Validator(schema).validate({"functions": functions()})
    for one in functions():
        assert one["result"] == {"type": "any", "dimensionality": "matrix"}


def test_every_function_and_argument_is_there() -> None:
    told = {str(one["name"]): one for one in functions()}
    assert set(told) == set(FUNCTIONS)
    for name, entry in FUNCTIONS.items():
        parameters = told[name]["parameters"]
        assert isinstance(parameters, list)
        assert [one["name"] for one in parameters] == [argument.name for argument in entry.arguments]
        for one, argument in zip(parameters, entry.arguments, strict=True):
            assert one.get("optional", False) is not argument.required
            assert all(choice in one["description"] for choice in argument.choices)


def test_addresses_are_asked_for_where_a_blank_could_pass_for_zero() -> None:
    """Excel on a desktop hands over 0 for a blank cell (office-js, issues 1951, 4702 and 5262)."""
    asking = {str(one["name"]) for one in functions() if "options" in one}
    assert {"SHACKLEDERATE", "REQUIREDCAPACITY", "EYEBOLTDERATE"} <= asking
    assert not {"LEGTENSION", "UTILISATION", "CAPACITYVERDICT"} & asking


def test_the_script_knows_every_function() -> None:
    script = FILES["office/functions.js"].decode()
    assert json.loads(re.findall(r"const FUNCTIONS = (\[.*?\]);", script)[0]) == list(FUNCTIONS)
    assert "/*" not in script


def test_the_manifest_holds_together() -> None:
    """No schema of it is at hand: order of elements, references, https, a GUID, a version of four parts."""
    root = ET.fromstring(FILES[f"office/{MANIFEST}"])
    names = [child.tag.rpartition("}")[2] for child in root]
    assert names == [
        "Id", "Version", "ProviderName", "DefaultLocale", "DisplayName", "Description", "IconUrl",
        "HighResolutionIconUrl", "SupportUrl", "AppDomains", "Hosts", "Requirements", "DefaultSettings",
        "Permissions", "VersionOverrides",
    ]  # fmt: skip
    texts = {child.tag.rpartition("}")[2]: child.text for child in root}
    assert re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", texts["Id"] or "")
    assert re.fullmatch(r"\d+\.\d+\.\d+\.\d+", texts["Version"] or "")
    defined = {one.get("id"): one.get("DefaultValue") for one in root.iter() if one.tag.startswith(BT)}
    used = {one.get("resid") for one in root.iter() if one.get("resid")}
    assert used <= set(defined)
    assert all(len(name) <= 32 for name in used if name)
    urls = [
        one.get("DefaultValue") for one in root.iter() if (one.get("DefaultValue") or "").startswith("http")
    ]
    for url in urls:
        assert url is not None
        assert url.startswith(f"{ORIGIN}/office/")
        assert url.removeprefix(f"{ORIGIN}/").partition("?")[0] in FILES
    short = [one.get("DefaultValue") or "" for one in root.iter(f"{BT}String")]
    assert all(len(text) <= 250 for text in short)
    assert root.find(f".//{OVERRIDES}Runtime") is not None


def test_another_origin_is_another_add_in() -> None:
    other = ET.fromstring(files("https://elsewhere.example")[f"office/{MANIFEST}"])
    assert other[0].text != ET.fromstring(FILES[f"office/{MANIFEST}"])[0].text
    assert files(ORIGIN) == FILES


@pytest.mark.parametrize(
    "wrong", ["http://rigging.example", "https://", "https://a/b", "https://a b", 'https://a"', "rigging", ""]
)
def test_no_origin(wrong: str) -> None:
    with pytest.raises(InputError, match="is not an origin for the add-in"):
        files(wrong)


@pytest.mark.parametrize("size", SIZES)
def test_icons_are_pictures(size: int) -> None:
    """A PNG of the right size whose every byte is accounted for."""
    data = FILES[f"office/icon-{size}.png"]
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">II", data[16:24]) == (size, size)
    start = data.index(b"IDAT") + 4
    length = struct.unpack(">I", data[start - 8 : start - 4])[0]
    assert len(zlib.decompress(data[start : start + length])) == size * (1 + 4 * size)


def test_written(tmp_path: Path) -> None:
    written = write(tmp_path / "new", ORIGIN)
    assert {str(path.relative_to(tmp_path / "new")) for path in written} == set(FILES)
    assert all(path.read_bytes() for path in written)


def test_the_command(tmp_path: Path) -> None:
    """It names what it wrote; no origin is one sentence."""
    done = CliRunner().invoke(main, ["addin", "office", "--origin", ORIGIN, "--out", str(tmp_path)])
    assert done.exit_code == 0
    assert {Path(line).relative_to(tmp_path).as_posix() for line in done.stdout.splitlines()} == set(FILES)
    wrong = CliRunner().invoke(main, ["addin", "office", "--origin", "http://x", "--out", str(tmp_path)])
    assert wrong.exit_code == 2
    assert "'http://x' is not an origin for the add-in" in wrong.stderr
