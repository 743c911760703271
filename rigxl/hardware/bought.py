"""What is asked for when a kind of hardware is bought, and what is looked at when it arrives.

Each kind declares one ``Bought``; what is the same for all kinds stands here. The standards that say which
marks a piece bears were not read on the page: wherever they are named, it is said that they are from memory.

>>> [one.name for one in looks(Bought(MARKED_HARDWARE), Item())]
['rated load mark', "maker's mark", 'certificate number', 'no defect']
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from rigxl.hardware.proof_loads import Gear
from rigxl.items import Item
from rigxl.tables import FROM_MEMORY, Source

MARKED_HARDWARE = Source("ASME B30.26 Rigging Hardware", place="identification", note=FROM_MEMORY)
MARKED_SLINGS = Source("ASME B30.9 Slings", place="identification", note=FROM_MEMORY)
MARKED_HOOKS = Source("ASME B30.10 Hooks", place="marking", note=FROM_MEMORY)
MARKED_DEVICES = Source("ASME B30.20 and BTH-1", place="marking", note=FROM_MEMORY)
MACHINERY = Source("Directive 2006/42/EC on machinery, lifting accessories", note=FROM_MEMORY)
EN_SHACKLES = Source("EN 13889 Forged steel shackles", place="marking", note=FROM_MEMORY)
EN_COMPONENTS = Source("EN 1677 Components for slings", place="marking", note=FROM_MEMORY)
EN_SLINGS = Source("EN 818-4, EN 13414-1, EN 1492-1 and -2", place="marking", note=FROM_MEMORY)
EN_EYE_BOLTS = Source("ISO 3266 Forged steel eyebolts", place="marking", note=FROM_MEMORY)
EN_CLIPS = Source("EN 13411-5 U-bolt wire rope grips", place="marking", note=FROM_MEMORY)
EN_DEVICES = Source("EN 13155 Non-fixed load lifting attachments", place="marking", note=FROM_MEMORY)


class Look(NamedTuple):
    """One thing to look at on arrival.

    Attributes:
        name: What it is called on the list; a name stands once in a list.
        ask: What must be so, in a sentence.
        sign: Whether it is a sign of a counterfeit when it is not so.
        reads: What is written down beside the answer: force, maker, certificate, length, or nothing.
    """

    name: str
    ask: str
    sign: bool = False
    reads: str = ""

    @property
    def compared(self) -> bool:
        """Whether it is held against what was ordered."""
        return "ordered" in self.ask


RATED_LOAD = Look(
    "rated load mark",
    "The rated load stands on the piece or on its own tag and can be read. Write it down with its unit.",
    sign=True,
    reads="force",
)
MAKER = Look(
    "maker's mark",
    "The maker's name or mark stands on the piece, and the maker is one that is accepted. Write it down.",
    sign=True,
    reads="maker",
)
SIZE = Look(
    "size measured",
    "Measured with a caliper it is the size that was ordered. Write down what was measured, with its unit.",
    reads="length",
)
CERTIFICATE = Look(
    "certificate number",
    "The piece's own number or batch stands on its certificate. Write down the number of the certificate.",
    sign=True,
    reads="certificate",
)
DEFECT = Look(
    "no defect",
    "New, and without crack, bend, weld, grinding or paint over older marks.",
)
ENGINEERS_MARK = Look(
    "engineer's mark",
    "The engineer's mark or the number of the drawing that was ordered stands on it.",
    sign=True,
)
PLATE = Look(
    "device plate",
    "Its plate gives maker, serial number, own weight, rated load and design category.",
    sign=True,
)
PROVED = Look(
    "proof test", "Its test certificate names this serial number and the proof load that was ordered."
)
PROCEDURE = Look("operating procedure", "Its written operating procedure came with it.")


def nothing(row: Any) -> Mapping[str, float]:  # noqa: ARG001
    """Of a page that prints no dimension besides the size."""
    return {}


class Bought(NamedTuple):
    """What is asked of a kind when it is bought.

    Attributes:
        source: Who says which marks it bears.
        european: Who says so in Europe.
        marks: The marks to ask for, besides the rated load, the maker's and the size.
        looks: What to look at on arrival, besides what is looked at of every kind.
        own: The fields of an Item that are the piece's own, so that two that differ are not one line.
        settles: The fields without which nobody can order it, though a check may pass.
        asks: What nobody can order it without, and no schedule says, in sentences.
        gear: What it is by the rules of proof loads; None where they do not name it.
        papers: The papers to demand, besides the certificate and the proof test.
        engineered: Whether it is made or named by an engineer, whose mark it bears.
        rated: Whether it bears a rated load of its own.
        measured: What of it is measured for its size, in words.
        fit: What to measure before a larger size is taken, in words.
        listed: Whether its published sizes are of what is bought for lifting.
        only_size: Why no other size will do; empty where a larger one may.
        printed: The dimensions of a row of its tables in mm, by field of an Item.
        pieces: How many pieces a row stands for, or why that is not clear; None where its quantity says it.
    """

    source: Source
    european: Source = MACHINERY
    marks: tuple[str, ...] = ()
    looks: tuple[Look, ...] = ()
    own: tuple[str, ...] = ()
    settles: tuple[str, ...] = ("size", "type")
    asks: tuple[str, ...] = ()
    gear: Gear | None = "loose gear"
    papers: tuple[str, ...] = ()
    engineered: bool = False
    rated: bool = True
    measured: str = ""
    fit: str = "where it goes in, and what goes in it"
    listed: bool = True
    only_size: str = ""
    printed: Callable[[Any], Mapping[str, float]] = nothing
    pieces: Callable[[Item], int | str] | None = None


DEVICE = Bought(
    MARKED_DEVICES,
    EN_DEVICES,
    marks=("serial number", "own weight", "design category and service class"),
    looks=(ENGINEERS_MARK, PLATE, PROVED, PROCEDURE),
    own=("engineered", "own_weight"),
    settles=(),
    gear="device",
    papers=("the engineer's drawing or calculation, by number", "the written operating procedure"),
    engineered=True,
    only_size="it is as its engineer drew it: another one is a new design",
)
"""What is true of every below-the-hook device."""


def looks(bought: Bought, item: Item) -> tuple[Look, ...]:
    """What is looked at of a piece on arrival, in the order of the list."""
    sized = item.size is not None and item.size.mm is not None
    return (
        *((RATED_LOAD,) if bought.rated else ()),
        MAKER,
        *((SIZE,) if sized else ()),
        CERTIFICATE,
        *bought.looks,
        DEFECT,
    )
