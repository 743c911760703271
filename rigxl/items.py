"""One line of a schedule, and what a rule says of it.

An Item holds what was understood of a row, in N, mm, N·mm, degrees and plain ratios. What is not there is
None. A cell that is there but cannot be used stands in ``problems`` by field, with a sentence, and its
field is None: a rule that needs the field holds the row, a rule that does not need it never looks.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple

from rigxl.firm import FIND_OUT
from rigxl.tables import Source
from rigxl.units import Size

PASS, FAIL, HOLD, WAIVED = "PASS", "FAIL", "HOLD", "WAIVED"
VERDICTS = (PASS, FAIL, HOLD, WAIVED)
WORST_FIRST = (FAIL, HOLD, WAIVED, PASS)
ADVICE, NOTE = "advice", "note"


@dataclass(slots=True)
class Item:
    """One item, or one line of identical items."""

    # which one
    lift: str | None = None
    tag: str | None = None
    serial: str | None = None
    description: str | None = None
    kind: str | None = None
    position: str | None = None
    quantity: int | None = None
    size: Size | None = None
    grade: str | None = None
    type: str | None = None
    rated_load: float | None = None
    maker: str | None = None
    # the lift it hangs in
    load: float | None = None
    weight_basis: str | None = None
    rigging: float | None = None
    legs: int | None = None
    carrying: int | None = None
    angle_deg: float | None = None
    leg_length: float | None = None
    spread: float | None = None
    height: float | None = None
    headroom: float | None = None
    # how it is used
    hitch: str | None = None
    choke_angle_deg: float | None = None
    bend_ratio: float | None = None
    loading_angle_deg: float | None = None
    plane: str | None = None
    rated_included_angle_deg: float | None = None
    rated_angle_deg: float | None = None
    turns_under_load: bool | None = None
    temperature: float | None = None
    margin: float | None = None
    edge_protection: bool | None = None
    seated: bool | None = None
    latch: bool | None = None
    secured: bool | None = None
    ends: str | None = None
    full_thread: bool | None = None
    thread_engagement: float | None = None
    torque: float | None = None
    stated_torque: float | None = None
    engineered: str | None = None
    # a rope ended in clips
    rope: str | None = None
    rope_diameter: float | None = None
    breaking_strength: float | None = None
    service: str | None = None
    design_factor: float | None = None
    clip_count: int | None = None
    clip_spacing: float | None = None
    turnback: float | None = None
    saddle: str | None = None
    clear_length: float | None = None
    # a below-the-hook device
    own_weight: float | None = None
    proof_load: float | None = None
    proof_tested: bool | None = None
    procedure: bool | None = None
    bar_length: float | None = None
    thickness: float | None = None
    grip_from: float | None = None
    grip_to: float | None = None
    least_load: float | None = None
    pieces: int | None = None
    lay: str | None = None
    rated_lay: str | None = None
    surface: str | None = None
    rated_surface: str | None = None
    rated_temperature: float | None = None
    load_centre: float | None = None
    rated_load_centre: float | None = None
    # fit
    pin: float | None = None
    hole: float | None = None
    throat: float | None = None
    bar: float | None = None
    inside_width: float | None = None
    sling_width: float | None = None
    # marking and papers
    marked: str | None = None
    maker_marked: str | None = None
    own_pin: bool | None = None
    certificate: str | None = None
    pieces_covered: int | None = None
    batch: str | None = None
    # inspection
    inspected: dt.date | None = None
    inspected_by: str | None = None
    in_service: bool | None = None
    condition: str | None = None
    wear: float | None = None
    throat_growth: float | None = None
    twist_deg: float | None = None
    out_of_straight: float | None = None
    finding: str | None = None
    original: float | None = None
    measured: float | None = None
    broken_in_lay: int | None = None
    broken_in_strand: int | None = None
    remarks: str | None = None
    # how it was read
    problems: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    """The unit each quantity was given in, by field, so that answers come in the reader's own units."""
    by_gravity: frozenset[str] = frozenset()
    """Fields given as a mass and read as a force by standard gravity."""
    # what other rows say of it
    measurements: tuple[Measurement, ...] = ()
    arrivals: tuple[Arrival, ...] = ()
    hung_above: float = 0.0
    """Weight of a device that hangs above it and is in the rigging weight, which it does not carry."""
    gathered_below: bool = False
    """Whether one link or shackle below it collects the legs, so that it sees one line."""


class Measurement(NamedTuple):
    """What an inspection found of one point: where it is written, the finding as said, and its dimensions."""

    where: str
    said: str
    original: float | None = None
    measured: float | None = None
    original_unit: str = ""
    measured_unit: str = ""


class Arrival(NamedTuple):
    """One box of a goods-in list: where it is, its name, its answer, and what was read or measured.

    ``right`` is None for a box nobody ticked; ``problem`` says why an answer cannot be used.
    """

    where: str
    look: str
    right: bool | None
    read: str = ""
    problem: str = ""


class Rule(NamedTuple):
    """A rule a row is judged by: its slug, what it means, and who says so."""

    name: str
    meaning: str
    source: Source
    firm: str = FIND_OUT
    """Why no waiver covers it; empty where one may."""

    @property
    def waiver(self) -> str:
        """Whether it may be waived, and why not."""
        return f"never: {self.firm}" if self.firm else "may be waived"

    def fails(self, sentence: str, remedy: str = "") -> Finding:
        """Known, and not good enough; ``remedy`` says what would pass."""
        return Finding(self, FAIL, sentence, remedy)

    def holds(self, sentence: str, remedy: str = "") -> Finding:
        """Cannot be judged; ``remedy`` says what to fill in or settle."""
        return Finding(self, HOLD, sentence, remedy)

    def advises(self, sentence: str) -> Finding:
        """Worth saying, without changing the verdict."""
        return Finding(self, ADVICE, sentence)

    def notes(self, sentence: str | Callable[[], str]) -> Finding:
        """What was worked out or assumed, for the record; put into words when somebody reads it."""
        return Finding(self, NOTE, sentence)


class Waiver(NamedTuple):
    """A line of the waivers: what somebody answers for, where, why and until when, as written.

    ``most`` is the highest utilisation it holds up to, None where it does not say. ``trouble`` says why the
    line cannot be used.
    """

    sheet: str
    row: int
    rule: str = ""
    item: str = ""
    lift: str = ""
    reason: str = ""
    who: str = ""
    until: dt.date | None = None
    most: float | None = None
    trouble: str = ""

    @property
    def where(self) -> str:
        """Where it stands, as a sentence names it."""
        return f"row {self.row} of sheet '{self.sheet}'"

    @property
    def signed(self) -> str:
        """Who answers for it, until when and why."""
        return f"waived by {self.who} until {self.until}: {self.reason} ({self.where})"


class Finding(NamedTuple):
    """What one rule says of one item; ``waiver`` is what covers it where its outcome is WAIVED."""

    rule: Rule
    outcome: str
    said: str | Callable[[], str]
    remedy: str = ""
    waiver: Waiver | None = None

    @property
    def sentence(self) -> str:
        """What is said, in a plain sentence."""
        return self.said if isinstance(self.said, str) else self.said()


class Derate(NamedTuple):
    """What a use leaves of a rating: a factor, why, and who says so.

    ``reads`` are the fields of the item it comes from, and ``formula`` says how where it is not simply
    printed; θ in it is the sling angle.
    """

    factor: float
    why: str
    source: Source
    reads: tuple[str, ...] = ()
    formula: str = ""
