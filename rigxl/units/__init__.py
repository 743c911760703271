"""The units we think in, and how people write numbers and quantities: text in, text out.

Inside, a force is in N, a length in mm, an angle in degrees, a mass in kg. A mass that stands for a load is
read as a force under standard gravity, 9.80665 m/s2, and the reading says so.

>>> read_force("5,5 t")
Reading(value=53936.575, unit='t', by_gravity=True, said='5,5 t')
"""

from __future__ import annotations

from typing import Annotated

from rigxl.units.figures import Habits
from rigxl.units.headers import is_not_known, is_unit, split_header
from rigxl.units.names import FORCE_UNITS, LENGTH_UNITS, TORQUE_UNITS, unit_name
from rigxl.units.readings import (
    Reading,
    read_angle,
    read_count,
    read_force,
    read_length,
    read_ratio,
    read_temperature,
    read_torque,
)
from rigxl.units.showing import convert_load, show_force, show_length, show_pair, show_torque, to_unit
from rigxl.units.sizes import Size, read_size

Force = Annotated[float, "N"]
Length = Annotated[float, "mm"]
Angle = Annotated[float, "deg"]
Mass = Annotated[float, "kg"]
Ratio = Annotated[float, "1"]
Temperature = Annotated[float, "degC"]
Count = Annotated[float, "count"]

__all__ = [
    "FORCE_UNITS",
    "LENGTH_UNITS",
    "TORQUE_UNITS",
    "Angle",
    "Count",
    "Force",
    "Habits",
    "Length",
    "Mass",
    "Ratio",
    "Reading",
    "Size",
    "Temperature",
    "convert_load",
    "is_not_known",
    "is_unit",
    "read_angle",
    "read_count",
    "read_force",
    "read_length",
    "read_ratio",
    "read_size",
    "read_temperature",
    "read_torque",
    "show_force",
    "show_length",
    "show_pair",
    "show_torque",
    "split_header",
    "to_unit",
    "unit_name",
]
