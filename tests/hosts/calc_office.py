"""The real LibreOffice with the real add-in, in a profile of its own: install, work out, take out."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.workbook import office

NOBODY = 65534
"""A user without rights: unopkg will not install for root alone, as a build machine often is."""
ALWAYS_WORK_OUT = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"><item
oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item></oor:items>
"""


def _missing() -> str:
    unopkg = shutil.which("unopkg")
    if unopkg is None:
        return "unopkg is not installed, so the add-in was NOT installed into a real LibreOffice"
    program = Path(os.path.realpath(office.program())).parent
    if not (program / "pythonloader.py").exists():
        return "python3-uno is not installed, so the add-in was NOT run in a real LibreOffice"
    return ""


class Calc:
    """A LibreOffice with a profile of its own."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.profile = home / "profile"
        self._new_profile()
        self.batch = 0
        shared = (home / "shared").as_uri()  # in place of the machine's own, which is left alone
        self.shared = [f"-env:UNO_SHARED_PACKAGES={shared}", f"-env:UNO_SHARED_PACKAGES_CACHE={shared}/cache"]

    def _new_profile(self) -> None:
        (self.profile / "user").mkdir(parents=True)
        (self.profile / "user" / "registrymodifications.xcu").write_text(ALWAYS_WORK_OUT, encoding="utf-8")

    def install(self, oxt: Path) -> None:
        """Install the add-in, as its user would."""
        copy = self.home / oxt.name
        shutil.copyfile(oxt, copy)
        done = self._unopkg("add", "-f", "-s", str(copy))
        assert done.returncode == 0, done.stderr

    def install_for_all(self, oxt: Path) -> None:
        """Install the add-in as an administrator; what comes after is another user's."""
        done = self._unopkg("add", "-f", "-s", "--shared", str(oxt))
        assert done.returncode == 0
        assert "Error" not in done.stderr, done.stderr
        self.profile = self.home / "another"
        self._new_profile()

    def remove(self, identifier: str) -> None:
        """Take the add-in out again."""
        done = self._unopkg("remove", identifier)
        assert done.returncode == 0, done.stderr

    def _unopkg(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        root = os.geteuid() == 0 and "--shared" not in arguments
        if root:
            for path in (self.home, *self.home.rglob("*")):
                os.chown(path, NOBODY, NOBODY)
        command = ["unopkg", *arguments, *self.shared, f"-env:UserInstallation={self.profile.as_uri()}"]
        as_nobody = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if root else {}
        return subprocess.run(
            command,
            capture_output=True,
            text=True,
            timeout=office.SECONDS,
            env={**os.environ, "HOME": str(self.home)},
            **as_nobody,
        )

    def work_out(self, paths: Sequence[Path], ending: str) -> list[Path]:
        """Have LibreOffice open workbooks, work out every formula, and save them.

        Args:
            paths: Workbooks of different names.
            ending: What they are saved as, such as xlsx.
        """
        self.batch += 1
        out = self.home / f"out{self.batch}"
        command = [office.program(), *self.shared, f"-env:UserInstallation={self.profile.as_uri()}"]
        command += ["--headless", "--convert-to", ending, "--outdir", str(out), *map(str, paths)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=office.SECONDS)
        made = [out / f"{path.stem}.{ending}" for path in paths]
        assert all(path.exists() for path in made), done.stderr
        return made


@contextmanager
def calc(oxt: Path | None) -> Iterator[Calc]:
    """A LibreOffice with the add-in; skipped, or failed where hosts are required, when there is none."""
    office.program()
    if missing := _missing():
        if os.environ.get("RIGXL_REQUIRE_HOSTS") == "1":
            pytest.fail(missing)
        pytest.skip(missing)
    with tempfile.TemporaryDirectory(prefix="rigxl-calc-") as folder:
        home = Path(folder)
        home.chmod(0o755)
        found = Calc(home)
        if oxt:
            found.install(oxt)
        yield found
