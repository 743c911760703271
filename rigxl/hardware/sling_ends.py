"""The ends of a wire rope sling: how much of the rope's strength each kind of termination keeps.

It counts where a rating is taken from a table of rope; a rated load on a tag has it in already.

>>> efficiency("sleeve", "1 in", "fibre")
0.925
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from rigxl.errors import NotRatedError, RigxlError
from rigxl.hardware.usage import called, says, words
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import Source
from rigxl.units import Ratio, read_size
from rigxl.worksheet import worksheet

Ends = Literal["poured socket", "swaged socket", "sleeve", "hand splice", "wedge socket", "clips"]
Core = Literal["steel", "fibre"]

PAGE = Source("US Army TM 5-3810-305-10", "no date printed", "Table 4, terminal efficiencies")

ENDS = Rule(
    "sling-ends",
    "Without a rated load, a wire rope sling is worth what its ends keep of the rope's strength.",
    PAGE,
)

RULES = (ENDS,)


class Terminal(NamedTuple):
    """Kind of end, core of the rope, rope diameters it is printed for, percent of strength kept."""

    ends: str
    core: str
    from_in: float
    to_in: float
    percent: float


ANY_IN = 1000.0
READ = ("ends", "type", "size")

# fmt: off
TERMINALS = (
    Terminal("poured socket", "any",   0,   ANY_IN, 100),
    Terminal("swaged socket", "steel", 0,   ANY_IN,  95),
    Terminal("sleeve",        "steel", 0,   1,       95),
    Terminal("sleeve",        "fibre", 0,   1,       92.5),
    # carbon steel; 76 is printed for stainless
    Terminal("hand splice",   "any",   0.5, 0.5,     86),
    # printed as 75 to 95
    Terminal("wedge socket",  "any",   0,   ANY_IN,  75),
    Terminal("clips",         "any",   0,   ANY_IN,  80),
)
# fmt: on

CALLED: Mapping[Ends, tuple[str, ...]] = MappingProxyType(
    {
        "poured socket": ("poured", "spelter", "resin", "zinc poured"),
        "swaged socket": ("swaged socket", "swaged sockets"),
        "sleeve": (
            "sleeve", "sleeves", "ferrule", "ferrules", "flemish", "mechanical splice", "mechanical splices",
            "mechanically spliced", "mechanical spliced",
        ),
        "hand splice": ("hand splice", "hand spliced", "hand tucked", "tucked splice"),
        "wedge socket": ("wedge socket", "wedge sockets"),
    }
)  # fmt: skip
FIBRE_CORE = ("fibre core", "fiber core", "fc")
STEEL_CORE = ("iwrc", "steel core", "wire core")


@worksheet("TERMINATIONEFFICIENCY", example=("sleeve", "3/4 in", "steel"), answer=0.95, source=PAGE)
def efficiency(ends: Ends, size: str, core: Core) -> Ratio:
    """Share of a wire rope's strength that an end termination keeps.

    Args:
        ends: poured socket, swaged socket, sleeve (mechanical splice), hand splice, wedge socket or clips.
        size: Diameter of the rope with its unit, such as 3/4 in.
        core: Core of the rope: steel (IWRC) or fibre.

    Refuses: an end, core and diameter that the page gives no figure for, such as a sleeve over 1 in. Of the
        75 to 95 % printed for a wedge socket the least is taken; a hand splice is of carbon steel.

    >>> efficiency("wedge socket", "7/8 in", "steel")
    0.75
    """
    diameter = (read_size(size).mm or 0) / 25.4
    for row in TERMINALS:
        fits = at_least(diameter, row.from_in) and at_most(diameter, row.to_in) and diameter > 0
        if row.ends == ends and row.core in ("any", core) and fits:
            return row.percent / 100
    raise NotRatedError(
        f"no efficiency is printed for a {ends} on {size} rope with {core} core ({PAGE.cited})"
    )


def named(item: Item) -> Ends | None:
    """The kind of ends that a row's words name; None where they name none, or several."""
    text = words(item.ends) + called(item)
    found = [ends for ends, phrases in CALLED.items() if says(text, *phrases)]
    return found[0] if len(found) == 1 else None


def core_of(text: str) -> Core | None:
    """The core that some words name: fibre or steel; None where they name neither, or both."""
    fibre, steel = says(text, *FIBRE_CORE), says(text, *STEEL_CORE)
    return None if fibre == steel else "fibre" if fibre else "steel"


def kept(item: Item) -> float | None:
    """What the ends keep of a rating taken from a table; None where nothing is printed for them."""
    ends, core = named(item), core_of(called(item))
    if ends is None or item.size is None:
        return None
    cores: tuple[Core, ...] = (core,) if core else ("steel", "fibre")
    try:
        return min(efficiency(ends, item.size.name, one) for one in cores)
    except RigxlError:
        return None


def derates(item: Item) -> tuple[Derate, ...] | None:
    """What the ends take off a rating from a table; None where that is not known."""
    if item.rated_load is not None or item.size is None or named(item) is None:
        return ()
    share = kept(item)
    if share is None:
        return None
    return () if share == 1 else (Derate(share, f"ends made with a {named(item)}", PAGE, READ),)


def check(item: Item) -> Iterator[Finding]:
    """What is to be said of the ends of a wire rope sling without a rated load."""
    if item.rated_load is not None or item.size is None:
        return
    if named(item) is None:
        yield ENDS.advises("how its ends are made is not stated: sockets, sleeves or a hand splice")
    elif kept(item) is None:
        yield ENDS.holds(
            f"no efficiency is printed for a {named(item)} on {item.size.name} rope",
            "fill in the rated load marked on its tag, or the core of the rope: steel or fibre",
        )
