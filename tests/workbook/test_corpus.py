"""The runner over a folder of workbooks counts what came of each, and says when something is wrong."""

from __future__ import annotations

import json
import re
import zipfile
from pathlib import Path

import pytest

from tests import corpus
from tests.workbook import inspection
from tests.workbook.trial import Trial

FIXTURES = Path(__file__).parent / "fixtures"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder, and one within it, with workbooks, a lock file and something else."""
    below = tmp_path / "books" / "older"
    below.mkdir(parents=True)
    for name in ("table.xlsx", "strict.xlsx", "signed.xlsx"):
        (below.parent / name).write_bytes((FIXTURES / name).read_bytes())
    (below / "vba-macro.xlsm").write_bytes((FIXTURES / "vba-macro.xlsm").read_bytes())
    (below / "~$table.xlsx").write_bytes(b"locked")
    (below / "readme.txt").write_text("no workbook")
    return below.parent


def test_run_over_a_folder(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = tmp_path / "lines.jsonl"
    assert corpus.main([str(folder), "--seconds", "60", "--json", str(lines)]) == 0
    records = [json.loads(line) for line in lines.read_text().splitlines()]
    assert {Path(record["path"]).name: record["code"] for record in records} == {
        "signed.xlsx": "signed",
        "strict.xlsx": "",
        "table.xlsx": "",
        "vba-macro.xlsm": "",
    }
    said = capsys.readouterr().out
    assert "workbooks: 4" in said
    assert "marked: 3 (75.0%)" in said
    assert "refused, signed: 1" in said
    assert "features lost: 0" in said


def test_harm_is_told() -> None:
    record = {
        "path": "a.xlsx",
        "marked": True,
        "code": "",
        "untouched": True,
        "lost": ["Sheet1: lost drawing"],
    }
    assert corpus.harmed([record])
    assert "  a.xlsx: Sheet1: lost drawing" in corpus.summary([record])
    assert corpus.harmed([{"path": "a.xlsx", "marked": False, "untouched": True, **crash()}])


def crash() -> dict[str, str]:
    trial = Trial("a.xlsx", "crash", "ValueError: no")
    return {"code": trial.code, "sentence": trial.sentence}


@pytest.mark.parametrize(
    ("part", "old", "new", "kind"),
    [
        ("xl/worksheets/sheet1.xml", '<c r="A1"', '<c r="A1" s="0"', "lost"),
        ("xl/worksheets/sheet1.xml", r"<tableParts.*</tableParts>", "", "lost"),
        ("xl/worksheets/sheet1.xml", "</sheetData>", "</sheetData><sheetData/>", "structure"),
        ("xl/styles.xml", '<fonts count="1"', '<fonts count="2"', "structure"),
        ("xl/workbook.xml", "<calcPr", "<calcPr odd='1'", "lost"),
        ("xl/tables/table1.xml", "<table ", "<table  ", "entries"),
    ],
)
def test_inspection_sees_harm(tmp_path: Path, part: str, old: str, new: str, kind: str) -> None:
    """Each kind of harm done by hand is seen, so an empty list of faults means something."""
    source, target = FIXTURES / "table.xlsx", tmp_path / "harmed.xlsx"
    with zipfile.ZipFile(source) as package, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as harmed:
        for info in package.infolist():
            data = package.read(info)
            if info.filename == part:
                data, times = re.subn(old.encode(), new.encode(), data, count=1)
                assert times == 1
            harmed.writestr(info, data)
    assert getattr(inspection.faults(source, target, readers=False), kind)


def test_inspection_finds_no_harm_in_the_same_file() -> None:
    for path in FIXTURES.glob("*.xlsx"):
        if path.name not in ("duplicate-entry.xlsx", "encrypted-ole2.xlsx"):
            assert inspection.faults(path, path, readers=False).all() == []
