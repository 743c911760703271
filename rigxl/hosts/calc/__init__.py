"""The add-in for LibreOffice Calc, a ``.oxt`` made from the registry.

``registered`` says what Calc is told of the functions, ``package`` puts the file together, and the modules in
``inside`` are what it holds: they run in the Python of LibreOffice, with nothing but the standard library.
"""

from __future__ import annotations

from rigxl.hosts.calc.package import FILE_NAME, IDENTIFIER, write
from rigxl.hosts.calc.remote import Remote

__all__ = ["FILE_NAME", "IDENTIFIER", "Remote", "write"]
