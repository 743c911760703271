"""The VBA module as LibreOffice's Basic reads it in its VBA mode: no Excel, but a real run.

What turns cells into what is handed over, and answers into cells, is run; the call into Python is not.
"""

from __future__ import annotations

import subprocess
from pathlib import Path
from xml.sax.saxutils import escape

import pytest

from rigxl.hosts.desktop.vba import module
from tests.workbook.office import program

PROBES = {
    "RigxlCell(Empty)": "~blank",
    'RigxlCell("")': "~blank",
    'RigxlCell("abc")': "abc",
    "RigxlCell(5.5)": "5.5",
    "RigxlCell(True)": "True",
    "RigxlGiven()": "~left out",
    "RigxlGiven(rows)(1, 1)": "1",
    "RigxlGiven(rows)(1, 2)": "~blank",
    "RigxlGiven(rows)(1, 3)": "x",
    "RigxlGiven(Array(1, 2, Empty))(1, 2)": "~blank",
    'IsError(RigxlShown(ChrW(1) & "VALUE"))': "True",
    'IsError(RigxlShown(ChrW(1) & "NA"))': "True",
    'IsError(RigxlShown(""))': "True",
    "IsError(RigxlShown(Empty))": "True",
    "RigxlShown(3.5)": "3.5",
    'RigxlShown("PASS")': "PASS",
    'RigxlCall("LEGTENSION", Array(1, 2, 3))(0)': "LEGTENSION",
    'RigxlCall("LEGTENSION", Array(1, 2, 3))(3)': "3",
}

MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="M"
  script:language="StarBasic">{}</script:module>
"""
LIBRARY = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard"
  library:readonly="false" library:passwordprotected="false">
  <library:element library:name="M"/></library:library>
"""
LIBRARIES = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
<library:libraries xmlns:library="http://openoffice.org/2000/library" xmlns:xlink="http://www.w3.org/1999/xlink">
<library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/script.xlb/" xlink:type="simple"
  library:link="false"/></library:libraries>
"""


def probing(out: Path) -> str:
    """The module, its private parts made public, and a macro that writes what each probe gives."""
    text = module().replace('Attribute VB_Name = "rigxl_functions"\n', "")
    text = text.replace("Private Function", "Public Function").replace("Private Sub", "Public Sub")
    lines = [f'    Print #f, Replace(CStr({probe}), ChrW(1), "~")' for probe in PROBES]
    return "\n".join(
        [
            "Option VBASupport 1",
            text,
            "Public Sub Probe()",
            "    Dim f As Integer, rows(1 To 1, 1 To 3) As Variant",
            "    rows(1, 1) = 1",
            '    rows(1, 3) = "x"',
            "    f = FreeFile",
            f'    Open "{out}" For Output As #f',
            *lines,
            "    Close #f",
            "End Sub",
        ]
    )


@pytest.fixture
def probed(tmp_path: Path) -> list[str]:
    """What the probes gave, run as a macro of a profile of its own."""
    office = [program(), f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless"]
    subprocess.run([*office, "--terminate_after_init"], capture_output=True, timeout=120, check=False)
    home = tmp_path / "profile" / "user" / "basic"
    (home / "Standard").mkdir(parents=True, exist_ok=True)
    out = tmp_path / "probed.txt"
    (home / "Standard" / "M.xba").write_text(MODULE.format(escape(probing(out))), encoding="utf-8")
    (home / "Standard" / "script.xlb").write_text(LIBRARY, encoding="utf-8")
    (home / "script.xlc").write_text(LIBRARIES, encoding="utf-8")
    subprocess.run([*office, "macro:///Standard.M.Probe"], capture_output=True, timeout=120, check=False)
    return out.read_text(encoding="utf-8").splitlines()


def test_cells_and_answers(probed: list[str]) -> None:
    """Each probe, in order; that there is an answer at all means the whole module compiles."""
    assert dict(zip(PROBES, map(str.strip, probed), strict=True)) == PROBES
