"""The component LibreOffice Calc calls: a method for every function, each of which asks ``answers``."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

import unohelper
from com.sun.star.lang import XServiceInfo

# the folder of this name is beside this file in the .oxt
from rigxl_calc import in_process, server, settings
from rigxl_calc.answers import Answers

INTERFACES = [unohelper.Base, XServiceInfo]
# while it is being installed for all users, LibreOffice does not know our interface yet
with suppress(ImportError):
    from org.rigxl.calc import XRigXL

    INTERFACES.append(XRigXL)

NAME = "RIGXL"
SERVICES = ("com.sun.star.sheet.AddIn",)

SETTINGS = settings.read()
ANSWERS = Answers(SETTINGS, [in_process.InProcess(SETTINGS), server.Server(SETTINGS)])


class RigXL(*INTERFACES):  # type: ignore[misc]
    """The functions of rigxl; a formula names this implementation and the method: ``RIGXL.LEGTENSION``."""

    def __init__(self, context: Any) -> None:
        """As LibreOffice makes it."""

    def getImplementationName(self) -> str:  # noqa: N802
        return NAME

    def supportsService(self, name: str) -> bool:  # noqa: N802
        return name in SERVICES

    def getSupportedServiceNames(self) -> tuple[str, ...]:  # noqa: N802
        return SERVICES


def _method(name: str) -> Any:
    def method(_: RigXL, *given: Any) -> Any:
        return ANSWERS.rows(name, given)

    return method


for _name in SETTINGS["functions"]:
    setattr(RigXL, _name, _method(_name))

g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 (LibreOffice looks for this name)
g_ImplementationHelper.addImplementation(RigXL, NAME, SERVICES)
