"""What a reader may do to its process; on its own here, for the child that runs it loads nothing more."""

from __future__ import annotations

import os
import time


def sleeping(_: object) -> None:
    """Hang."""
    time.sleep(60)


def dying(_: object) -> None:
    """End the process."""
    os._exit(9)
