"""Sample workbooks of an invented job: the works at Pennow Lock.

>>> list(SAMPLES)[:3]
['footbridge', 'footbridge_issue_b', 'bakery_as_received']
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from rigxl.samples import bakery, boiler_house, footbridge, lock_gates, pump_house, turbine_hall

SAMPLES: Mapping[str, Callable[[Path], None]] = {
    "footbridge": footbridge.write,
    "footbridge_issue_b": footbridge.write_issue_b,
    "bakery_as_received": bakery.write,
    "boiler_house_functions": boiler_house.write,
    "lock_gates_metric": lock_gates.write,
    "pump_house_reworked": pump_house.write,
    "turbine_hall_every_kind": turbine_hall.write,
}
"""Each sample by the name of its file, and the function that writes it."""


def write_all(folder: Path) -> list[Path]:
    """Write every sample into a folder; the paths written, in the order of ``SAMPLES``."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = [folder / f"{name}.xlsx" for name in SAMPLES]
    for write, path in zip(SAMPLES.values(), paths, strict=True):
        write(path)
    return paths
