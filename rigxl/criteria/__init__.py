"""What a verdict is judged by, and where each value came from.

A ready set lays the ground, a workbook's criteria sheet overrides it, the command line overrides both.

>>> criteria = Criteria.ready("europe").override({"margin": "10 %"}, "the command line")
>>> criteria.margin, criteria.origin("margin").cited
(0.1, 'the command line')
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

from rigxl.criteria.ready import DEFAULT, READY
from rigxl.criteria.settings import SETTINGS, setting
from rigxl.errors import InputError
from rigxl.tables import Source
from rigxl.units import Habits


class Chosen(NamedTuple):
    """One value as it will be used, who chose it, and the source behind it."""

    name: str
    value: Any
    chosen_by: str
    source: Source


@dataclass(frozen=True)
class Criteria:
    """A full set of criteria; build it with ``ready`` and ``override``."""

    title: str
    chosen: Mapping[str, Chosen]

    @classmethod
    def ready(cls, name: str = DEFAULT.name) -> Criteria:
        """One of the ready sets: us, ontario or europe.

        Raises:
            InputError: There is no such set.
        """
        ready_set = READY.get(name.strip().lower())
        if ready_set is None:
            raise InputError(f"there is no ready set of criteria '{name}'; the sets are {', '.join(READY)}")
        chosen = {}
        for one in SETTINGS:
            value, source = ready_set.values.get(one.name, (one.default, one.source))
            chosen[one.name] = Chosen(one.name, value, ready_set.title, source)
        return cls(ready_set.title, chosen)

    def override(self, values: Mapping[str, str], chosen_by: str) -> Criteria:
        """The same criteria with some values replaced, as typed by people.

        Raises:
            InputError: A name or a value that is not understood; the sentence says who gave it.
        """
        chosen = dict(self.chosen)
        for name, text in values.items():
            try:
                one = setting(name)
                value = one.read(text)
            except InputError as error:
                raise InputError(f"{chosen_by}: {name}: {error}") from None
            chosen[one.name] = Chosen(one.name, value, chosen_by, Source(chosen_by))
        return replace(self, chosen=chosen)

    def on(self, day: dt.date) -> Criteria:
        """The same criteria judged on ``day``, unless somebody chose the day."""
        if self.chosen["judged on"].value is not None:
            return self
        return self.override({"judged on": day.isoformat()}, "today's date")

    def __iter__(self) -> Iterator[Chosen]:
        return iter(self.chosen.values())

    def origin(self, name: str) -> Source:
        """The source behind a setting's value."""
        return self.chosen[name].source

    @cached_property
    def margin(self) -> float:
        """Design margin as a ratio."""
        return float(self.chosen["margin"].value)

    @cached_property
    def least_angle_deg(self) -> float:
        """The least sling angle from the horizontal."""
        return float(self.chosen["least angle"].value)

    @cached_property
    def wanted_angle_deg(self) -> float:
        """The sling angle under which advice is given."""
        return float(self.chosen["wanted angle"].value)

    @cached_property
    def mode_factors(self) -> bool:
        """Whether several legs share by the European mode factors."""
        return bool(self.chosen["leg sharing"].value == "mode factors")

    @cached_property
    def carrying(self) -> dict[int, int]:
        """How many legs carry, by how many there are, where the row does not say."""
        return {1: 1, 2: 2, 3: self.chosen["legs of three"].value, 4: self.chosen["legs of four"].value}

    @cached_property
    def interpolated(self) -> bool:
        """Whether stepped derates may be interpolated where the source allows it."""
        return bool(self.chosen["derates between steps"].value == "interpolated")

    @cached_property
    def weight_allowance(self) -> dict[str, float]:
        """Allowance by how the weight was found."""
        return {basis: self.chosen[basis].value for basis in ("weighed", "calculated", "estimated")}

    @cached_property
    def dynamic_allowance(self) -> float:
        """Factor for the lift's motion."""
        return float(self.chosen["dynamic allowance"].value)

    @cached_property
    def habits(self) -> Habits:
        """What a bare ton and a comma mean."""
        ton, decimal = self.chosen["ton"].value, self.chosen["decimal"].value
        return Habits(
            ton=None if ton == "undeclared" else ton, decimal=None if decimal == "undeclared" else decimal
        )

    @cached_property
    def required_marks(self) -> frozenset[str]:
        """What must be on the piece or its papers."""
        return frozenset(self.chosen["required marks"].value)

    @cached_property
    def inspection_months(self) -> int:
        """Months within which an item must have been inspected."""
        return int(self.chosen["inspection interval"].value)

    @cached_property
    def accepted_makers(self) -> frozenset[str]:
        """The accepted makers in lower case; empty accepts any that is named."""
        return frozenset(" ".join(maker.lower().split()) for maker in self.chosen["accepted makers"].value)

    @cached_property
    def shared_between_lifts(self) -> bool:
        """Whether one piece may stand on the rows of several lifts."""
        return bool(self.chosen["shared pieces"].value == "between lifts")

    @cached_property
    def older_removal_rules(self) -> bool:
        """Whether the older removal criteria for hooks apply."""
        return bool(self.chosen["removal rules"].value == "older")

    @cached_property
    def clip_rules(self) -> str:
        """Which page gives the number and torque of wire rope clips."""
        return str(self.chosen["clip rules"].value)

    @cached_property
    def clip_efficiency(self) -> float:
        """How much of a rope's strength its clips hold, as a ratio."""
        return float(self.chosen["clip efficiency"].value)

    @cached_property
    def judged_on(self) -> dt.date:
        """The day inspections are judged on.

        Raises:
            InputError: Nobody set the day; these floors read no clock.
        """
        day = self.chosen["judged on"].value
        if day is None:
            raise InputError("the criteria have no day to judge inspections on: give one with 'judged on'")
        assert isinstance(day, dt.date)
        return day
