"""What machines read, validated by the schemas that others publish, and by the one that we do."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import jsonschema
import openpyxl
import pytest
import xmlschema
from click.testing import CliRunner, Result

from rigxl.cli import main
from rigxl.machines.document import schema
from rigxl.rules import gathered
from rigxl.samples import SAMPLES
from rigxl.schedule import report
from rigxl.schedule.check import check_workbook
from tests.schedule.books import GOOD, TODAY, check
from tests.schedule.test_formula_cells import written

FIXTURES = Path(__file__).parent / "fixtures"
SAMPLE_FOLDER = Path(__file__).parents[2] / "sample_workbooks"
BAD = GOOD | {"Tag": "S-2", "Rated load (t)": 1}
UNKNOWN = GOOD | {"Tag": "S-3", "Maker": "TBC"}
WAIVERS = [
    ["Rule", "Item", "Reason", "Who", "Until"],
    ["design-margin", "S-4", "weighed twice", "A. Engel", "2026-12-31"],
    ["hook-latch", "S-4", "a hook was here", "A. Engel", "2026-12-31"],
]


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(
        main, ["check", "--no-marks", "--set", "judged on=2026-11-25", *map(str, arguments)]
    )


def printed(form: str, *files: Path) -> str:
    return run(f"--{form}", *files).stdout


@pytest.fixture
def lift(tmp_path: Path) -> Path:
    """One row of each verdict."""
    row = GOOD | {"Tag": "S-4", "Rated load (t)": 3.5}
    check(tmp_path, GOOD, BAD, UNKNOWN, row, Waivers=WAIVERS)
    return tmp_path / "lift.xlsx"


@pytest.fixture(scope="module")
def sarif() -> jsonschema.Draft4Validator:
    """SARIF 2.1.0 with errata 01, as OASIS publishes it."""
    said = json.loads((FIXTURES / "sarif-schema-2.1.0.json").read_text(encoding="utf-8"))
    return jsonschema.Draft4Validator(said)


@pytest.fixture(scope="module")
def junit() -> xmlschema.XMLSchema:
    """The XML schema of JUnit results that build servers read."""
    return xmlschema.XMLSchema(FIXTURES / "junit-10.xsd")


def ours() -> jsonschema.Draft202012Validator:
    said = json.loads(schema())
    jsonschema.Draft202012Validator.check_schema(said)
    return jsonschema.Draft202012Validator(said)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_in_every_form(
    name: str, sarif: jsonschema.Draft4Validator, junit: xmlschema.XMLSchema
) -> None:
    """JSON by our schema (draft 2020-12), SARIF and JUnit by those of others."""
    file = SAMPLE_FOLDER / f"{name}.xlsx"
    ours().validate(json.loads(printed("json", file)))
    sarif.validate(json.loads(printed("sarif", file)))
    junit.validate(printed("junit", file))


def test_a_run_with_every_verdict_and_a_refusal(
    lift: Path, tmp_path: Path, sarif: jsonschema.Draft4Validator, junit: xmlschema.XMLSchema
) -> None:
    """What was refused is in each form: nobody takes silence for a pass."""
    broken = tmp_path / "north end.xlsx"
    broken.write_bytes(b"PK broken")
    files = (lift, broken)
    document = json.loads(printed("json", *files))
    ours().validate(document)
    assert document["exit code"] == 2
    assert document["refused"][0]["file"] == str(broken)
    log = json.loads(printed("sarif", *files))
    sarif.validate(log)
    (invocation,) = log["runs"][0]["invocations"]
    assert (invocation["executionSuccessful"], invocation["exitCode"]) == (False, 2)
    errors = [one for one in invocation["toolExecutionNotifications"] if one["level"] == "error"]
    assert str(broken) in errors[0]["message"]["text"]
    assert errors[0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].endswith(
        "north%20end.xlsx"
    )
    text = printed("junit", *files)
    junit.validate(text)
    assert ET.fromstring(text).get("errors") == "2"
    assert run(*files).exit_code == 2


def test_sarif_says_what_is_found(lift: Path) -> None:
    """FAIL and HOLD are errors, WAIVED is suppressed with who accepted it, advice is a note."""
    (found,) = json.loads(printed("sarif", lift))["runs"]
    rules = [rule["id"] for rule in found["tool"]["driver"]["rules"]]
    assert set(rules) <= set(gathered())
    by_rule = {result["ruleId"]: result for result in found["results"]}
    assert all(rules[result["ruleIndex"]] == result["ruleId"] for result in found["results"])
    levels = {name: by_rule[name]["level"] for name in ("capacity", "cell-unreadable", "waiver-unused")}
    assert levels == {"capacity": "error", "cell-unreadable": "error", "waiver-unused": "warning"}
    waived = by_rule["design-margin"]
    assert waived["suppressions"][0]["status"] == "accepted"
    assert "waived by A. Engel until 2026-12-31" in waived["suppressions"][0]["justification"]
    assert not any("suppressions" in one for one in found["results"] if one["ruleId"] != "design-margin")
    (place,) = by_rule["capacity"]["locations"]
    assert place["logicalLocations"][0]["fullyQualifiedName"] == "Schedule!3"
    assert place["physicalLocation"]["region"] == {"startLine": 3}
    assert "What would pass" in by_rule["capacity"]["message"]["text"]


def test_junit_says_what_is_found(lift: Path) -> None:
    """A row is a test: failure, error, skipped with the waiver, or nothing where it passes."""
    suite = ET.fromstring(printed("junit", lift))[0]
    assert [suite.get(name) for name in ("tests", "failures", "errors", "skipped")] == ["4", "1", "1", "1"]
    outcomes = [[(child.tag, child.get("type")) for child in case] for case in suite.iter("testcase")]
    assert outcomes == [
        [], [("failure", "capacity")], [("error", "cell-unreadable")], [("skipped", "design-margin")],
    ]  # fmt: skip
    assert "waived by A. Engel" in str(suite.find("testcase/skipped").get("message"))  # type: ignore[union-attr]
    assert "hook-latch" in str(suite.findtext("system-out"))


def test_a_stale_cell_is_in_every_form(
    tmp_path: Path, sarif: jsonschema.Draft4Validator, junit: xmlschema.XMLSchema
) -> None:
    """No row fails by it, the run does; a baseline knows of no such thing."""
    file = written(tmp_path, 60, AA9=("=RIGXL.SLINGANGLE(2,2)", 45))
    document = json.loads(printed("json", file))
    ours().validate(document)
    assert list(named(document, json.loads(schema()), json.loads(schema()))) == []
    log = json.loads(printed("sarif", file))
    sarif.validate(log)
    levels = [(one["ruleId"], one["level"]) for one in log["runs"][0]["results"] if one["level"] != "note"]
    assert levels == [("stored-result", "error")]
    text = printed("junit", file)
    junit.validate(text)
    assert ET.fromstring(text).get("failures") == "1"
    assert run(file, "--write-baseline", tmp_path / "known.json").exit_code == 0
    assert run(file, "--baseline", tmp_path / "known.json").exit_code == 1


def test_fingerprints_follow_the_tag(tmp_path: Path) -> None:
    """The same when rows move, another for another tag or rule."""

    def prints(*rows: dict[str, Any]) -> dict[tuple[str, str], str]:
        check(tmp_path, *rows)
        results = json.loads(printed("sarif", tmp_path / "lift.xlsx"))["runs"][0]["results"]
        return {
            (one["ruleId"], one["message"]["text"].partition(":")[0]): next(
                iter(one["partialFingerprints"].values())
            )
            for one in results
        }

    before, after = prints(BAD, GOOD, UNKNOWN), prints(GOOD, UNKNOWN, GOOD | {"Tag": "S-5"}, BAD)
    assert before == after
    assert len(set(before.values())) == len(before)


def test_no_character_breaks_a_form(
    tmp_path: Path, sarif: jsonschema.Draft4Validator, junit: xmlschema.XMLSchema
) -> None:
    """Markup, quotes, and characters that XML has no place for."""
    row = BAD | {"Tag": "S<1>&\"'", "Maker": "Øst]]>", "Lift": "-->"}
    check(tmp_path, row)
    book = openpyxl.load_workbook(tmp_path / "lift.xlsx")
    book.active["A1"].value = "Lift"  # type: ignore[index, union-attr]
    book.save(tmp_path / "lift.xlsx")
    text = printed("junit", tmp_path / "lift.xlsx")
    junit.validate(text)
    assert text.isascii()
    assert next(ET.fromstring(text).iter("testcase")).get("name") == "S<1>&\"', row 2"
    sarif.validate(json.loads(printed("sarif", tmp_path / "lift.xlsx")))


def named(said: Any, part: dict[str, Any], whole: dict[str, Any], at: str = "") -> Iterator[str]:
    """Every name in a document that its schema does not describe."""
    while "$ref" in part:
        part = {
            **whole["$defs"][part["$ref"].rpartition("/")[2]],
            **{k: v for k, v in part.items() if k != "$ref"},
        }
    for one in part.get("anyOf", ()):
        if said is not None and one.get("type") != "null":
            yield from named(said, one, whole, at)
    if isinstance(said, dict):
        known = dict(part.get("properties", {}))
        for one in part.get("allOf", ()):
            inner = whole["$defs"][one["$ref"].rpartition("/")[2]] if "$ref" in one else one
            known |= inner["properties"]
        for name, value in said.items() if known else ():
            if name not in known:
                yield f"{at}.{name}"
            else:
                yield from named(value, known[name], whole, f"{at}.{name}")
    if isinstance(said, list) and "items" in part:
        for value in said:
            yield from named(value, part["items"], whole, at)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_name_is_described(name: str, lift: Path) -> None:
    """A name that is new in the document is new in its schema, and has its description there."""
    whole = json.loads(schema())
    document = json.loads(printed("json", SAMPLE_FOLDER / f"{name}.xlsx", lift))
    assert list(named(document, whole, whole)) == []


def test_the_schema_is_strict_enough() -> None:
    """A verdict of another word, a number for an unknown, a row without reasons: each is refused."""
    document = json.loads(printed("json", SAMPLE_FOLDER / "footbridge.xlsx"))
    for name, value in (
        ("verdict", "OK"),
        ("force", 0),
        ("row", 0),
        ("reasons", None),
        ("derate", {"value": 1}),
    ):
        changed = json.loads(json.dumps(document))
        changed["workbooks"][0]["rows"][0][name] = value
        assert not ours().is_valid(changed), name
    changed = json.loads(json.dumps(document))
    del changed["workbooks"][0]["rows"][0]["verdict"]
    assert not ours().is_valid(changed)
    assert not ours().is_valid({**document, "version": 2})


def test_the_document_of_one_workbook(lift: Path) -> None:
    """As from Python or over HTTP, where there is no exit code: the same schema."""
    ours().validate(report.document([report.workbook(check_workbook(lift, today=TODAY))]))


def test_the_schema_is_printed() -> None:
    """And nothing is checked then: no file is needed."""
    result = CliRunner().invoke(main, ["check", "--schema"])
    assert result.exit_code == 0
    assert json.loads(result.stdout)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("pair", [("--json", "--sarif"), ("--csv", "--junit"), ("--sarif", "--junit")])
def test_one_form_at_a_time(lift: Path, pair: tuple[str, str]) -> None:
    result = run(*pair, lift)
    assert result.exit_code == 2
    assert f"{pair[0]} and {pair[1]}: choose one" in result.stderr


@pytest.mark.parametrize("by_name", [True, False])
def test_a_workbook_without_a_schedule_is_no_success(tmp_path: Path, by_name: bool) -> None:
    """A schedule whose headings are spoilt counts where it was named; a folder may hold other files."""
    check(tmp_path, GOOD)
    other = openpyxl.Workbook()
    other.create_sheet("Prices").append(["Price", "Currency"])
    other.save(tmp_path / "other.xlsx")
    asked = [tmp_path / "lift.xlsx", tmp_path / "other.xlsx"] if by_name else [tmp_path]
    assert run(*asked).exit_code == (2 if by_name else 0)
    suites = ET.fromstring(printed("junit", *asked))
    assert suites.get("errors") == ("1" if by_name else "0")
    document = json.loads(printed("json", *asked))
    assert [one["code"] for one in document["refused"]] == (["no-schedule"] if by_name else [])
    (tmp_path / "lift.xlsx").unlink()
    assert ET.fromstring(printed("junit", tmp_path)).get("errors") == "1"
