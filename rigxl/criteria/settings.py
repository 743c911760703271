"""Every setting a verdict can be judged by: its name, its default, how it is written, and who says so."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any, NamedTuple

from rigxl.errors import InputError, RigxlError
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import read_ratio

B30_9 = Source("ASME B30.9 Slings", note=FROM_MEMORY)
CLIPS = Source(
    "29 CFR 1918 Appendix II; FM 5-125; California T8 section 8497", place="their wire rope clip tables"
)
CLIP_SHARE = Source(
    "FEMA US&R Structural Collapse Technician, Module 4; US Army TM 5-3810-305-10",
    "2000",
    "clips 80 %; FM 5-125, p. 2-37, says 90 %",
)
B30_26 = Source("ASME B30.26 Rigging Hardware", note=FROM_MEMORY)
NAVEDTRA = Source(
    "US Navy NAVEDTRA 14080, sling formulas",
    place="p. 3-24",
    note="also for three and four legs",
)
PERIODIC = Source("ASME B30.9, B30.10, B30.26: periodic inspection at least yearly", note=FROM_MEMORY)

MARKS = ("rated load", "maker", "certificate")


class Setting(NamedTuple):
    """One setting: ``read`` turns what people type into its value, or refuses with a sentence."""

    name: str
    meaning: str
    default: Any
    source: Source
    read: Callable[[str], Any]


def _share(least: float, most: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        try:
            value = read_ratio(text).value
        except RigxlError:
            value = least - 1
        if not least <= value <= most:
            raise InputError(f"'{text}' is not a number from {least:g} to {most:g} (25 % or 0.25 would do)")
        return value

    return read


def _number(least: float, most: float, unit: str) -> Callable[[str], float]:
    def read(text: str) -> float:
        plain = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(?:°|deg|degrees|months?)?\s*", text)
        if not plain or not least <= float(plain[1]) <= most:
            raise InputError(f"'{text}' is not a number of {unit} from {least:g} to {most:g}")
        return float(plain[1])

    return read


def _whole(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not re.fullmatch(r"\s*\d+(\.0+)?\s*", text) or not least <= float(text) <= most:
            raise InputError(f"'{text}' is not a whole number from {least} to {most}")
        return int(float(text))

    return read


def _one_of(*words: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        word = " ".join(text.lower().split())
        if word not in words:
            raise InputError(f"'{text}' is not one of: {', '.join(words)}")
        return word

    return read


def _list_of(known: tuple[str, ...] | None = None) -> Callable[[str], tuple[str, ...]]:
    def read(text: str) -> tuple[str, ...]:
        if text.strip().lower() in ("none", "any", ""):
            return ()
        parts = tuple(part.strip() for part in re.split(r"[,;\n]", text) if part.strip())
        for part in parts:
            if known and part.lower() not in known:
                raise InputError(f"'{part}' is not one of: {', '.join(known)}, none")
        return tuple(part.lower() for part in parts) if known else parts

    return read


def _date(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text.strip()[:10])
    except ValueError:
        raise InputError(f"'{text}' is not a date such as 2026-03-31") from None


SETTINGS: tuple[Setting, ...] = (
    Setting(
        "margin",
        "Design margin: how much more than the force an item must be good for, after derating",
        0.25,
        COMMON_PRACTICE,
        _share(0, 10),
    ),
    Setting(
        "least angle",
        "The least sling angle from the horizontal, in degrees; under 30 nothing passes",
        30.0,
        B30_9,
        _number(30, 89, "degrees"),
    ),
    Setting(
        "wanted angle",
        "A sling angle under this draws advice, in degrees from the horizontal",
        60.0,
        COMMON_PRACTICE,
        _number(30, 90, "degrees"),
    ),
    Setting(
        "leg sharing",
        "How several legs share the load: by the legs that carry, or by the European mode factors",
        "carrying legs",
        NAVEDTRA,
        _one_of("carrying legs", "mode factors"),
    ),
    Setting(
        "legs of three",
        "How many of three legs carry where the row does not say",
        2,
        NAVEDTRA,
        _whole(1, 3),
    ),
    Setting(
        "legs of four",
        "How many of four legs carry where the row does not say",
        2,
        NAVEDTRA,
        _whole(1, 4),
    ),
    Setting(
        "derates between steps",
        "Derates printed in steps: taken stepped (the worse step), or interpolated where the source allows",
        "stepped",
        B30_26,
        _one_of("stepped", "interpolated"),
    ),
    Setting("weighed", "Weight allowance for a load that was weighed", 1.05, COMMON_PRACTICE, _share(1, 3)),
    Setting(
        "calculated",
        "Weight allowance for a load calculated from drawings",
        1.10,
        COMMON_PRACTICE,
        _share(1, 3),
    ),
    Setting(
        "estimated",
        "Weight allowance for a load that was estimated, or of which nothing is said",
        1.20,
        COMMON_PRACTICE,
        _share(1, 3),
    ),
    Setting(
        "dynamic allowance",
        "Factor for the lift's motion; 1.00 is a slow lift by a fixed or crawler crane on firm ground",
        1.00,
        COMMON_PRACTICE,
        _share(1, 5),
    ),
    Setting(
        "ton",
        "What a bare ton means: short, long or metric; undeclared holds the row",
        "undeclared",
        COMMON_PRACTICE,
        _one_of("undeclared", "short", "long", "metric"),
    ),
    Setting(
        "decimal",
        "What the mark in 1,250 is: point (1250) or comma (1.25); undeclared holds the row",
        "undeclared",
        COMMON_PRACTICE,
        _one_of("undeclared", "point", "comma"),
    ),
    Setting(
        "required marks",
        "What must be on the piece or its papers: rated load, maker, certificate",
        ("rated load", "maker"),
        B30_26,
        _list_of(MARKS),
    ),
    Setting(
        "inspection interval",
        "Months within which an item must have been inspected",
        12.0,
        PERIODIC,
        _number(1, 60, "months"),
    ),
    Setting(
        "accepted makers",
        "The makers whose pieces are accepted; none listed accepts any maker that is named",
        (),
        COMMON_PRACTICE,
        _list_of(),
    ),
    Setting(
        "shared pieces",
        "One tag on several rows: allowed between lifts that use the piece in turn, or held",
        "between lifts",
        COMMON_PRACTICE,
        _one_of("held", "between lifts"),
    ),
    Setting(
        "removal rules",
        "Removal: strict (hook opened 5 %, any twist; chain stretched 3 %) or older (15 %, 10 degrees; 5 %)",
        "strict",
        Source("Workplace Health and Safety Queensland, Guide for doggers", "2010", "hooks"),
        _one_of("strict", "older"),
    ),
    Setting(
        "clip rules",
        "Whose number and torque of wire rope clips: strictest, 29 cfr 1918, fm 5-125 or california",
        "strictest",
        CLIPS,
        _one_of("strictest", "29 cfr 1918", "fm 5-125", "california"),
    ),
    Setting(
        "clip efficiency",
        "How much of a rope's strength its wire rope clips hold; 90 % at most",
        0.80,
        CLIP_SHARE,
        _share(0.1, 0.9),
    ),
    Setting(
        "judged on",
        "The day inspections are judged on, such as 2026-03-31; today unless stated",
        None,
        COMMON_PRACTICE,
        _date,
    ),
)

BY_NAME = {setting.name: setting for setting in SETTINGS}


def setting(name: str) -> Setting:
    """A setting by its name, written with spaces, hyphens or underscores.

    Raises:
        InputError: There is no such setting; the sentence lists them.
    """
    plain = " ".join(re.split(r"[\s_-]+", name.strip().lower()))
    if plain not in BY_NAME:
        raise InputError(f"there is no setting '{name}'; the settings are {', '.join(BY_NAME)}")
    return BY_NAME[plain]
