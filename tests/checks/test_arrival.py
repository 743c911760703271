"""What a goods-in list says of a piece: counterfeits fail, what is open holds, and nothing unknown passes."""

from __future__ import annotations

import pytest

from rigxl.checks.arrival import check
from rigxl.criteria import Criteria
from rigxl.hardware import kinds
from rigxl.hardware.bought import looks
from rigxl.items import ADVICE, FAIL, HOLD, NOTE, Arrival, Item
from rigxl.units import read_size

US = Criteria.ready("us")
TONNE = 9806.65
READ = {"force": "5.8 t", "maker": "halden  forge", "length": "22 mm", "certificate": "C-17"}


def item(**changes: object) -> Item:
    """A shackle of 5.8 t that arrived as it should."""
    one = Item(
        kind="shackle",
        size=read_size("7/8 in"),
        rated_load=5.8 * TONNE,
        maker="Halden Forge",
        certificate="C-17",
    )
    one.units["rated_load"] = "t"
    for name, value in changes.items():
        setattr(one, name, value)
    one.arrivals = tuple(
        Arrival(f"Goods in!I{row}", look.name, True, READ.get(look.reads, ""))
        for row, look in enumerate(looks(kinds()[one.kind or ""].BOUGHT, one), 5)
    )
    return one


def said(one: Item, name: str = "", **changes: object) -> list[tuple[str, str]]:
    """What fails or holds it, with one of its boxes changed."""
    if name:
        one.arrivals = tuple(box._replace(**changes) if box.look == name else box for box in one.arrivals)  # type: ignore[arg-type]
    found = list(check(one, US))
    assert all(finding.remedy for finding in found)
    assert not {ADVICE, NOTE} & {finding.outcome for finding in found}
    return [(finding.rule.name, finding.outcome) for finding in found]


@pytest.mark.parametrize("kind", kinds())
def test_all_boxes_ticked_pass_for_every_kind(kind: str) -> None:
    """And each of them open, or answered no, does not."""
    assert said(item(kind=kind)) == []
    for box in item(kind=kind).arrivals:
        assert said(item(kind=kind), box.look, right=None) == [("goods-in-open", HOLD)]
        sign = {one.name: one.sign for one in looks(kinds()[kind].BOUGHT, item(kind=kind))}[box.look]
        rule = "goods-in-counterfeit" if sign else "goods-in-not-as-ordered"
        assert said(item(kind=kind), box.look, right=False) == [(rule, FAIL)]


def test_no_list_no_word() -> None:
    """A piece that no list names is not judged by one."""
    one = item()
    one.arrivals = ()
    assert said(one) == []


@pytest.mark.parametrize("name", ["rated load mark", "maker's mark", "size measured", "certificate number"])
def test_a_tick_without_what_was_read(name: str) -> None:
    """A tick alone is not enough where something is to be written down."""
    assert said(item(), name, read="") == [("goods-in-open", HOLD)]


def test_a_box_that_was_taken_out() -> None:
    """Every box that the kind asks for must be there."""
    one = item()
    one.arrivals = tuple(box for box in one.arrivals if box.look != "pin seats")
    assert said(one) == [("goods-in-open", HOLD)]


def test_a_box_that_somebody_added() -> None:
    """It counts as well."""
    one = item()
    one.arrivals += (Arrival("Goods in!I20", "painted red", False),)
    assert said(one) == [("goods-in-not-as-ordered", FAIL)]


@pytest.mark.parametrize(
    ("name", "read", "found"),
    [
        ("rated load mark", "5.7 t", [("goods-in-not-as-ordered", FAIL)]),
        ("rated load mark", "56.9 kN", []),
        ("rated load mark", "6.5 t", [("goods-in-differs", HOLD)]),
        ("rated load mark", "5.8 ton", [("goods-in-open", HOLD)]),
        ("rated load mark", "5.8", [("goods-in-open", HOLD)]),
        ("size measured", "0.875 in", []),
        ("size measured", "20.1 mm", []),
        ("size measured", "19.9 mm", [("goods-in-not-as-ordered", FAIL)]),
        ("size measured", "24.6 mm", [("goods-in-not-as-ordered", FAIL)]),
        ("size measured", "22", [("goods-in-open", HOLD)]),
        ("maker's mark", "Haldon Forge", [("goods-in-differs", HOLD)]),
        ("certificate number", "C-71", [("goods-in-differs", HOLD)]),
    ],
)
def test_what_was_read(name: str, read: str, found: list[tuple[str, str]]) -> None:
    """Half a per cent of the rating, a tenth of 22.225 mm; common practice, no source."""
    assert said(item(), name, read=read) == found


def test_a_mark_where_the_schedule_gives_no_rating() -> None:
    """A published rating may have been taken for it: the mark on the piece goes first."""
    assert said(item(rated_load=None)) == [("goods-in-differs", HOLD)]


def test_an_answer_that_is_none() -> None:
    """What cannot be read holds."""
    assert said(item(), "no defect", problem="Goods in!I9: 'maybe' is neither yes nor no") == [
        ("goods-in-open", HOLD)
    ]


def test_of_two_lists_the_worse_counts() -> None:
    """A second delivery with a counterfeit fails the tag."""
    one = item()
    one.arrivals += (Arrival("Goods in 2!I5", "maker's mark", False),)
    assert said(one) == [("goods-in-counterfeit", FAIL)]
