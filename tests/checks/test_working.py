"""The working of a row: it comes out at the verdict, and what is printed is true arithmetic."""

from __future__ import annotations

import datetime as dt
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.checks.judge import Judged, judge
from rigxl.checks.steps import NOT_KNOWN, Step
from rigxl.checks.working import working
from rigxl.criteria import Criteria
from rigxl.hardware import kinds
from rigxl.items import Item
from rigxl.samples import SAMPLES
from rigxl.schedule.check import Checked, check_workbook
from rigxl.units import read_force, read_length, read_size

TODAY = dt.date(2026, 11, 25)
FOLDER = Path(__file__).parents[2] / "sample_workbooks"
BARE = {"weighed": "1.0", "calculated": "1.0", "estimated": "1.0"}
PLAIN = Criteria.ready("us").override(BARE, "the test: no allowances, as printed").on(TODAY)
POUND = 4.4482216152605
AFTER_FORCE = {"rated load", "required capacity", "utilisation", "capacity", "design-margin", "the rest"}


@pytest.fixture(scope="module", params=SAMPLES)
def checked(request: pytest.FixtureRequest) -> Checked:
    return check_workbook(FOLDER / f"{request.param}.xlsx", today=TODAY)


def by_name(steps: tuple[Step, ...]) -> dict[str, Step]:
    return {step.name: step for step in steps}


def force_step(steps: tuple[Step, ...]) -> Step:
    """The last step before the capacity: what the item carries."""
    before = [step for step in steps if step.name not in AFTER_FORCE and not step.name.startswith("derate")]
    return before[-1]


def test_every_row_comes_out_at_its_verdict(checked: Checked) -> None:
    """Force, rated load, derates, required capacity and utilisation, to 1e-12, and unknown as it is."""
    for row in checked.rows:
        judged, steps = row.judged, working(row.judged, checked.criteria)
        found = by_name(steps)
        derates = [step for step in steps if step.name.startswith("derate")]
        pairs = [
            (force_step(steps).result, judged.force),
            (found["rated load"].result, judged.rated),
            (derates[-1].result, judged.derate),
            (found["required capacity"].result, judged.required),
            (found["utilisation"].result, judged.utilisation),
        ]
        for ours, theirs in pairs:
            assert ours == pytest.approx(theirs, rel=1e-12) if theirs is not None else ours is None, row.name


def test_what_is_printed_is_true_arithmetic(checked: Checked) -> None:
    """The numbers of each step, typed into a calculator as they stand there, give the result beside them.

    Four digits are shown of each, so that a product of three may be 0.15 % off.
    """
    tried = 0
    for row in checked.rows:
        for step in working(row.judged, checked.criteria):
            assert (step.shown == NOT_KNOWN) == (step.result is None)
            if step.result is None or not re.search("[÷×−]", step.numbers) or "=" in step.numbers:
                continue
            unit = step.shown.partition(" = ")[0] if step.unit == "N" else step.shown
            assert calculated(step.numbers) == pytest.approx(number(unit), rel=0.0015), (row.name, step)
            tried += 1
    assert tried > 3 * len(checked.rows)


def number(text: str) -> float:
    found = re.match(r"[\d ]*\d(\.\d+)?", text)
    assert found, text
    return float(found[0].replace(" ", ""))


def calculated(numbers: str) -> float:
    """What a calculator in degrees makes of a line; units are left out."""
    plain = re.sub(r"(?<=\d) (?=\d{3}\b)", "", numbers)
    plain = re.sub(r"\b(short ton|long ton|[a-zA-Z]+)\b(?!\()", "", plain).replace("°", "")
    plain = plain.replace("÷", "/").replace("×", "*").replace("−", "-")
    names = {
        "sin": lambda degrees: math.sin(math.radians(degrees)),
        "arccos": lambda ratio: math.degrees(math.acos(ratio)),
        "arctan": lambda ratio: math.degrees(math.atan(ratio)),
    }
    assert re.fullmatch(r"(sin|arccos|arctan|[\d.()+*/\s-])+", plain), plain
    return float(eval(plain, {"__builtins__": {}}, names))


def sling(load_lb: float, **given: object) -> Judged:
    """A wire rope sling of a bridle, its load in pounds."""
    return judge(
        Item(
            kind="sling", type="wire rope", position="leg", load=load_lb * POUND, rigging=0.0,
            weight_basis="weighed", rated_load=20_000 * POUND, units={"load": "lb", "rated_load": "lb"},
            hitch=given.pop("hitch", "vertical"), **given,  # type: ignore[arg-type]
        ),
        PLAIN,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("judged", "numbers", "printed"),
    [
        # US Army FM 5-125, 1995, p. 3-9: 1,800 lb on two legs of 8 ft, 6 ft high
        (sling(1800, legs=2, leg_length=96 * 25.4, spread=126.996 * 25.4), "48.59°", 1200),
        # FM 5-125, figure 3-9: 1,000 lb on two legs at 45 and at 30 degrees
        (sling(1000, legs=2, angle_deg=45.0), "2 × sin(45°)", 707),
        (sling(1000, legs=2, angle_deg=30.0), "2 × sin(30°)", 1000),
        # FEMA Structural Collapse Technician, Module 4, p. SM4-19: 575 printed, 577 exact
        (sling(1000, legs=2, angle_deg=60.0), "2 × sin(60°)", 577),
        # BC Association for Crane Safety, rigging quiz: 15,000 lb, legs of 16 ft, 12 ft high
        (sling(15000, legs=2, height=144 * 25.4, spread=253.992 * 25.4), "48.59°", 10000),
    ],
)  # fmt: skip
def test_printed_examples(judged: Judged, numbers: str, printed: float) -> None:
    """The leg tension in pounds, as the pages named above print it, and the numbers that give it."""
    step = by_name(working(judged, PLAIN))["leg tension"]
    assert numbers in step.numbers
    assert number(step.shown) == pytest.approx(printed, rel=0.001)
    assert "FM 5-125" in step.source.cited


def test_a_basket() -> None:
    """NAVEDTRA 14080, p. 3-24: a basket carries twice the sine of its angle; at 30° what a leg would."""
    judged = sling(1000, legs=1, hitch="basket", angle_deg=30.0, bend_ratio=30.0)
    found = by_name(working(judged, PLAIN))
    assert found["share of one sling"].result == pytest.approx(1000 * POUND)
    derate = found["derate: basket hitch, its sides at 30°"]
    assert (derate.formula, derate.numbers, derate.shown) == ("2 × sin(θ)", "2 × sin(30°)", "1")
    assert derate.reads == ("hitch", "angle_deg")
    assert "p. 3-24" in derate.source.cited


def test_below_a_device() -> None:
    """A drop does not carry the spreader above it: 1,000 + 100 − 60 lb, over two drops."""
    item = Item(
        kind="sling", type="wire rope", position="drop", load=1000 * POUND, rigging=100 * POUND, legs=2,
        weight_basis="weighed", hitch="vertical", rated_load=5000 * POUND, hung_above=60 * POUND,
        units={"load": "lb", "rated_load": "lb"},
    )  # fmt: skip
    found = by_name(working(judge(item, PLAIN), PLAIN))
    assert found["rigging weight"].numbers == "100 lb − 60 lb"
    assert found["load below the device"].numbers == "(1000 lb + 40 lb) × 1"
    assert found["force in the drop"].formula.startswith("load below the device ÷")
    assert found["force in the drop"].shown == "520 lb = 2.313 kN"


def test_a_derate_between_steps_says_that_it_is_not_printed() -> None:
    """ASME B30.26 prints 100 % at 0° and 70 % at 45°, as the sources of the derate say: 30° lies between."""
    item = Item(
        kind="shackle", type="bow, bolt type", position="leg", load=1000.0, rigging=0.0, legs=1,
        rated_load=9000.0, loading_angle_deg=30.0, plane="in",
    )  # fmt: skip
    between = Criteria.ready().override({"derates between steps": "interpolated"}, "the test").on(TODAY)
    stepped = Criteria.ready().on(TODAY)
    name = "derate: loaded 30° off the pin-to-bow axis"
    assert by_name(working(judge(item, stepped), stepped))[name].formula == "the value printed for it"
    step = by_name(working(judge(item, between), between))[name]
    assert step.formula == "on the line between the two printed beside it"
    assert 0.7 < step.result < 1  # type: ignore[operator]


def test_mass_to_force_is_a_step_of_its_own() -> None:
    """9.80665 m/s2, exact by convention (NIST SP 811, 2008, appendix B)."""
    reading = read_force("2 t")
    item = Item(
        kind="hook", position="top", load=reading.value, units={"load": "t"}, by_gravity=frozenset({"load"})
    )
    step = working(judge(item, PLAIN), PLAIN)[0]
    assert (step.name, step.shown) == ("load", "2 t = 19.61 kN")
    assert step.result == pytest.approx(2000 * 9.80665)
    assert "SP 811" in step.source.cited


def test_a_published_rating_names_its_table_and_line() -> None:
    """US Army FM 5-125, 1995, table 3-5, p. 3-12: a 3/8 in improved plow steel sling is rated 2,460 lb."""
    item = Item(
        kind="sling", type="wire rope, improved plow steel", position="leg", load=1000.0, rigging=0.0, legs=1,
        hitch="vertical", size=read_size("3/8 in"), grade="IPS", units={"load": "kN"},
    )  # fmt: skip
    step = by_name(working(judge(item, PLAIN), PLAIN))["rated load"]
    assert step.numbers == "3/8 in: 2460 lb"
    assert "Table 3-5, p. 3-12" in step.source.cited
    assert step.reads == ("size", "grade", "type")


def test_what_was_assumed_is_said() -> None:
    """An unstated basis is estimated; no rigging weight is 0."""
    found = by_name(working(judge(Item(kind="hook", position="top", load=1000.0), PLAIN), PLAIN))
    assert "taken as estimated" in found["load with its allowance"].remarks[0]
    assert "taken as 0" in found["hook load"].remarks[0]


def test_a_working_that_does_not_come_out_is_never_shown() -> None:
    """A verdict's number that is not what its working gives is a bug, and says so."""
    judged = sling(1000, legs=2, angle_deg=45.0)
    assert judged.force is not None
    judged.force *= 1.0001
    with pytest.raises(RuntimeError, match="comes out at"):
        working(judged, PLAIN)


def test_a_row_that_cannot_be_worked_out_says_so_at_each_number() -> None:
    """An angle so flat that there is no tension: the load is shown, and why no more."""
    judged = sling(1000, legs=2, angle_deg=1e-9)
    assert judged.force is None
    steps = working(judged, PLAIN)
    assert by_name(steps)["hook load"].result == pytest.approx(1000 * POUND)
    told = [step.remarks for step in unknown(steps)]
    assert len(told) == 5
    assert all(remarks for remarks in told)


def test_no_kind_no_working() -> None:
    assert working(judge(Item(kind="balloon"), PLAIN), PLAIN) == ()


LOADS = st.one_of(st.none(), st.floats(1, 1e8))
LENGTHS = st.one_of(st.none(), st.floats(1, 1e5))
ITEMS = st.builds(
    Item,
    kind=st.sampled_from([*kinds()]),
    type=st.sampled_from([None, "wire rope", "web", "bow, screw pin", "shoulder", "plain", "drop forged"]),
    position=st.sampled_from([None, "top", "leg", "device", "drop", "pick point"]),
    load=LOADS, rigging=LOADS, own_weight=LOADS, rated_load=LOADS,
    weight_basis=st.sampled_from([None, "weighed", "calculated", "estimated"]),
    legs=st.one_of(st.none(), st.integers(1, 6)), carrying=st.one_of(st.none(), st.integers(1, 6)),
    angle_deg=st.one_of(st.none(), st.floats(0.001, 90)),
    leg_length=LENGTHS, spread=LENGTHS, height=LENGTHS,
    hitch=st.sampled_from([None, "vertical", "choker", "basket"]),
    choke_angle_deg=st.one_of(st.none(), st.floats(0, 180)),
    loading_angle_deg=st.one_of(st.none(), st.floats(0, 180)),
    margin=st.one_of(st.none(), st.floats(0, 3)),
    size=st.sampled_from([None, "3/4 in", "M20", "16 mm"]).map(lambda text: text and read_size(text)),
)  # fmt: skip


@given(ITEMS, st.sampled_from(["us", "ontario", "europe"]))
def test_any_item_has_a_working_that_agrees(item: Item, ready: str) -> None:
    """Whatever a row says: no number where the verdict has none, the very number where it has one."""
    criteria = Criteria.ready(ready).on(TODAY)
    judged = judge(item, criteria)
    steps = working(judged, criteria)
    found = by_name(steps)
    assert force_step(steps).result == (judged.force if judged.force is not None else None)
    assert found["required capacity"].result == judged.required
    assert found["utilisation"].result == judged.utilisation
    assert all(step.remarks for step in unknown(steps)), unknown(steps)


def unknown(steps: tuple[Step, ...]) -> list[Step]:
    return [step for step in steps if step.result is None]


@pytest.mark.parametrize(("text", "mm"), [("5'-6\"", 66 * 25.4), ("2 m", 2000.0)])
def test_lengths_come_in_the_units_they_were_given_in(text: str, mm: float) -> None:
    reading = read_length(text)
    assert reading.value == pytest.approx(mm)
    judged = sling(1000, legs=2, leg_length=reading.value, spread=reading.value)
    judged.item.units["leg_length"] = judged.item.units["spread"] = reading.unit
    step = by_name(working(judged, PLAIN))["sling angle of the lengths"]
    assert text in step.numbers
    assert step.result == pytest.approx(60)
