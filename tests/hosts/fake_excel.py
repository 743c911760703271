"""Runs the contract cases through the real xlwings, as its COM server would: a program of its own.

xlwings' wrapper generator and value converters are the real ones; the Windows modules that they import are
stand-ins, for there is no Excel here. Cases come in pickled on stdin, what Excel would get goes to stdout.
"""

from __future__ import annotations

import io
import pickle
import sys
import types
from typing import Any

ERRORS = {"VALUE": "#VALUE!", "NA": "#N/A"}


def stand_in() -> None:
    """Put stand-ins in the place of the Windows modules."""
    made: dict[str, Any] = {
        name: types.ModuleType(name) for name in ("pythoncom", "pywintypes", "win32com", "win32com.client")
    }
    made["pythoncom"].CoInitialize = lambda: None
    made["pythoncom"].IID_IDispatch = object()
    made["pywintypes"].com_error = type("com_error", (Exception,), {})
    made["win32com.client"].Dispatch = lambda what, **_: what
    made["win32com"].client = made["win32com.client"]
    sys.modules.update(made)


class Engine:
    """What xlwings' engine for Excel does to values, as its source has it (xlwings 0.37.8, _xlwindows.py)."""

    name, type = "excel", "desktop"

    @staticmethod
    def clean_value_data(
        data: Any, _dates: Any, empty_as: Any, _numbers: Any, _errors: Any
    ) -> list[list[Any]]:
        """A blank comes as None; an error would too, but no error is ever handed over bare."""
        return [[empty_as if value in ("", None) else value for value in row] for row in data]

    @staticmethod
    def prepare_xl_data_element(value: Any, _options: Any) -> Any:
        """Nothing and NaN go out as empty text, which a formula takes for greater than any number."""
        return "" if value is None or value != value else value


def main() -> None:
    """Answer every case on stdin, and write the wrapper that xlwings itself would make."""
    stand_in()
    import xlwings
    from xlwings import udfs

    class Stub:
        """An object of Excel of which nothing is asked."""

        def __init__(self, **_: Any) -> None:
            self.address = ""

    server: Any = types.ModuleType("xlwings.com_server")
    server.loop = None
    sys.modules["xlwings.com_server"] = server
    windows: Any = types.ModuleType("xlwings._xlwindows")
    windows.Range = Stub
    windows.is_range_instance = lambda _: False
    sys.modules["xlwings._xlwindows"] = windows
    xlwings._xlwindows = windows  # type: ignore[attr-defined]
    udfs.Range = Stub  # type: ignore[attr-defined]
    xlwings.func, xlwings.arg = udfs.xlfunc, udfs.xlarg  # as xlwings does itself on Windows
    xlwings.engines.add(xlwings.main.Engine(impl=Engine()))
    from rigxl.hosts.desktop import wire

    name = wire.__name__
    udfs.udf_modules[name] = {"filename": "x", "filetime": None, "module": wire}
    answers = [
        udfs.call_udf(name, "rigxl_wire", (function, *given), None, object())
        for function, given in pickle.load(sys.stdin.buffer)
    ]
    text = io.StringIO()
    udfs.generate_vba_wrapper(name, wire, text, types.SimpleNamespace(Name="rigxl.xlsm"))
    pickle.dump((answers, text.getvalue()), sys.stdout.buffer)


if __name__ == "__main__":
    main()
