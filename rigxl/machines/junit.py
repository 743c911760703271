"""Findings as JUnit XML, for build machines that show tests: a workbook is a suite, a row a test.

FAIL is a failure and HOLD an error, for it could not be judged; what is waived, or known from the baseline,
is skipped and says so; a workbook that could not be read is a suite with one error.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from rigxl.formulas.compare import Doubtful
from rigxl.items import FAIL, HOLD, WAIVED
from rigxl.machines.outcome import STORED, Done, Refusal, Run, open_findings
from rigxl.schedule.check import CheckedRow
from rigxl.schedule.report import left_out, remedies, told

_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 (W3C, fifth edition, production 2) has no place for."""


def xml(run: Run) -> str:
    """A whole run as a document."""
    suites = [_suite(done) for done in run.done] + [_refused(one) for one in run.refused]
    counts = {
        name: str(sum(int(suite.get(name, 0)) for suite in suites))
        for name in ("tests", "failures", "errors")
    }
    root = ET.Element("testsuites", {"name": "rigxl check", **counts})
    root.extend(suites)
    ET.indent(root, " ")
    document: bytes = ET.tostring(root, encoding="us-ascii", xml_declaration=True)
    return f"{document.decode()}\n"


def _suite(done: Done) -> ET.Element:
    cases = [_case(done, row) for row in done.checked.rows]
    cases += [_stale(cell) for cell in done.stale]
    suite = _counted(str(done.checked.book.path), cases)
    said = [*left_out(done.checked), *done.checked.said]
    if done.against is not None:
        said += [f"no longer found: {one.item} {one.rule}" for one in done.against.gone]
    if said:
        ET.SubElement(suite, "system-out").text = _clean("\n".join(said))
    return suite


def _counted(name: str, cases: Sequence[ET.Element]) -> ET.Element:
    def count(tag: str) -> str:
        return str(sum(case.find(tag) is not None for case in cases))

    suite = ET.Element(
        "testsuite",
        {
            "name": _clean(name),
            "tests": str(len(cases)),
            "failures": count("failure"),
            "errors": count("error"),
            "skipped": count("skipped"),
        },
    )
    suite.extend(cases)
    return suite


def _case(done: Done, row: CheckedRow) -> ET.Element:
    where = f"{row.name}, row {row.row}"
    case = ET.Element("testcase", {"classname": _clean(row.sheet), "name": _clean(where)})
    if row.verdict in (FAIL, HOLD):
        findings = list(open_findings(row))
        new = [
            one
            for one in findings
            if done.against is None or done.against.is_new(row, one.rule.name, one.outcome)
        ]
        first = next(iter(new or findings), None)
        message, rule = (first.sentence, first.rule.name) if first else ("it could not be judged", "")
        text = "\n".join(filter(None, (told(row.judged), remedies(row.judged))))
        if findings and not new:
            _outcome(case, "skipped", rule, f"known from the baseline, {row.verdict}: {message}", text)
        else:
            _outcome(case, "failure" if row.verdict == FAIL else "error", rule, message, text)
    elif row.verdict == WAIVED:
        waived = next(one for one in row.judged.findings if one.waiver is not None)
        assert waived.waiver is not None
        _outcome(case, "skipped", waived.rule.name, waived.waiver.signed, told(row.judged))
    return case


def _stale(cell: Doubtful) -> ET.Element:
    name = f"what {cell.where.address} stores"
    case = ET.Element("testcase", {"classname": _clean(cell.where.sheet), "name": _clean(name)})
    _outcome(case, "failure", STORED.name, cell.sentence, cell.sentence)
    return case


def _outcome(case: ET.Element, tag: str, rule: str, message: str, text: str) -> None:
    ET.SubElement(case, tag, {"type": rule, "message": _clean(message)}).text = _clean(text)


def _refused(one: Refusal) -> ET.Element:
    case = ET.Element("testcase", {"classname": _clean(str(one.file)), "name": "the workbook can be checked"})
    _outcome(case, "error", one.code, one.sentence, one.sentence)
    return _counted(str(one.file), [case])


def _clean(text: str) -> str:
    """Text as XML can hold it.

    >>> _clean("S-1\\x07")
    'S-1\\ufffd'
    """
    return _NOT_IN_XML.sub("\ufffd", text)
