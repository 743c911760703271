"""rigxl itself, inside the Python of LibreOffice: where the add-in was built, or where it is installed."""

from __future__ import annotations

import gc
import os
import sys
from typing import Any, Callable, Optional, Sequence


class InProcess:
    """The functions of the rigxl that can be imported here."""

    def __init__(self, settings: Any) -> None:
        self.settings = settings
        self.works: Optional[Callable[..., Any]] = None
        self.missing = ""

    def answer(self, name: str, given: Sequence[Any]) -> Any:
        """The answer of a function.

        Raises:
            ImportError: There is no rigxl here, or not the one that the add-in was built for.
        """
        if self.works is None:
            if not self.missing:
                self._look()
            if self.works is None:
                raise ImportError(self.missing)
        return self.works(name, given)

    def _look(self) -> None:
        folder = self.settings["folder"]
        oldest = tuple(self.settings["python"])
        if sys.version_info[:2] < oldest:
            here, wanted = ("{}.{}".format(*each) for each in (sys.version_info[:2], oldest))
            self.missing = f"LibreOffice runs Python {here}, and it needs {wanted} or later"
            return
        if folder not in sys.path and os.path.isdir(folder):
            sys.path.append(folder)
        try:
            import rigxl
            from rigxl.functions import FUNCTIONS
            from rigxl.functions.columns import answer
        except ImportError as error:
            self.missing = f"it cannot be imported from {folder} ({error})"
            return
        if registered(FUNCTIONS) != self.settings["functions"]:
            self.missing = (
                f"{rigxl.__version__} is here and has other functions than {self.settings['version']}, "
                "for which the add-in was built; build it again with 'rigxl addin calc'"
            )
            return
        self.works = answer
        # what was loaded stays; looking through it again and again costs a third of a call
        gc.collect()
        gc.freeze()


def registered(functions: Any) -> Any:
    """The functions as the settings have them: what each gives and takes, in order."""
    return {
        name: {"gives": entry.kind, "arguments": [[each.name, each.kind] for each in entry.arguments]}
        for name, entry in functions.items()
    }
