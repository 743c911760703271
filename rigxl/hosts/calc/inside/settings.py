"""What the add-in was built with: ``settings.json``, beside this file in the ``.oxt``.

``version`` of rigxl; ``folder`` it was found in; ``python``, the oldest it runs in; ``server``,
``token_file`` and ``authority`` of the server that helps out, or null; ``functions`` by name, each with what
it ``gives`` and its ``arguments`` by name and kind.
"""

from __future__ import annotations

import json
import os
from typing import Any, Dict

Settings = Dict[str, Any]


def read() -> Settings:
    """The settings of this add-in."""
    with open(os.path.join(os.path.dirname(__file__), "settings.json"), encoding="utf-8") as file:
        found: Settings = json.load(file)
    return found
