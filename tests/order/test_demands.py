"""Marks, papers, proof loads, the standard and the mass of a line."""

from __future__ import annotations

from typing import Any

import pytest

from rigxl.criteria import Criteria
from rigxl.errors import InputError
from rigxl.order import demands
from rigxl.order.lines import Order, OrderLine
from tests.order.schedules import DEVICE, ROW, order


def line(*rows: dict[str, Any], **more: Any) -> tuple[OrderLine, Order]:
    """The first line of an order, and the order."""
    found = order(*rows, **more)
    return found.lines[0], found


def test_a_device_is_proved_to_125_percent() -> None:
    """29 CFR 1926.251(a)(4): 125 % of 10 t is 12.5 t. The engineer's mark and the procedure are asked for."""
    one, found = line(DEVICE)
    papers = list(demands.papers(one, found, "us"))
    assert "a proof test to 12.5 t, each piece (29 CFR 1926.251, revised 1 Jul 2007, (a)(4), " in papers[1]
    assert "the written operating procedure" in papers
    marks = list(demands.marks(one, found))
    assert "engineer's mark or drawing number: DRG-2207 rev B" in marks
    assert marks[-1] == "by ASME B30.20 and BTH-1, marking (from memory)"


@pytest.mark.parametrize(
    ("rule", "load"),
    [("canada", "to 11.6 t, each"), ("france", "to 11.6 t, each"), ("us", "names none for it")],
)
def test_a_shackle_is_proved_by_the_rule_that_names_one(rule: str, load: str) -> None:
    """Twice 5.8 t is 11.6 t: Canada, SOR/2007-128, Schedule 5; France, Annexe 214-3.A.1, up to 25 t."""
    one, found = line(ROW)
    assert load in demands.proof(one, demands.proof_rule(rule, found.checked.criteria))


def test_a_rule_nobody_knows() -> None:
    """One sentence with the rules there are."""
    with pytest.raises(InputError, match="no rule of proof loads 'mars': the rules are us, canada, france"):
        demands.proof_rule("mars", Criteria.ready())


def test_the_standard_is_the_page_that_lists_it() -> None:
    """6.5 short tons is what RR-C-271 lists for 7/8 in (from memory); 5.8 t is the maker's own."""
    as_listed, _ = line(ROW | {"Rated load (t)": "6.5 short ton"})
    assert demands.standard(as_listed) == (
        "rated as regular strength shackles, US Federal Specification RR-C-271, Type IVA, Grade A "
        "(from memory)"
    )
    other, _ = line(ROW)
    assert demands.standard(other) == "as the maker states: no table at hand lists this size with this rating"


def test_a_page_that_is_not_for_lifting_is_no_standard() -> None:
    """AASHTO M 269 is for guard rails and signs: nobody is told to buy a turnbuckle by it."""
    one, _ = line(
        ROW | {"Kind": "turnbuckle", "Size": "1 in", "Type": "jaw and eye", "Rated load (t)": "7600 lb",
               "Load (t)": 1, "Secured": "yes", "Full thread engagement": "yes", "Position": "leg"}
    )  # fmt: skip
    assert demands.standard(one) == "as the maker states"


def test_a_rating_by_the_makers_own_table_binds_the_maker() -> None:
    """No other maker's shackle of that size will do."""
    one, found = line(
        ROW, Ratings=[["Kind", "Maker", "Size", "Rated load (t)"], ["shackle", "Halden Forge", "7/8 in", 5.8]]
    )
    assert demands.makers(one, found) == "only Halden Forge: it is rated by that maker's own table"
    assert demands.standard(one) == "as the maker states, by the maker's own table"


def test_accepted_makers_are_named() -> None:
    """As the criteria list them."""
    one, found = line(ROW, overrides={"accepted makers": "Halden Forge, Ferrandel"})
    assert demands.makers(one, found) == "Halden Forge in the schedule; accepted: Halden Forge, Ferrandel"


def test_european_papers() -> None:
    """The machinery directive, from memory; not asked for elsewhere."""
    one, found = line(ROW)
    assert not any("CE mark" in mark for mark in demands.marks(one, found))
    found.checked.criteria = found.checked.criteria.ready("europe")
    assert "CE mark (Directive 2006/42/EC on machinery, lifting accessories (from memory))" in demands.marks(
        one, found
    )
    assert list(demands.marks(one, found))[-1] == "by EN 13889 Forged steel shackles, marking (from memory)"
    assert demands.proof_rule(None, found.checked.criteria) == "france"
    assert demands.proof_rule(None, Criteria.ready()) == "us"
    assert any("declaration of conformity" in paper for paper in demands.papers(one, found, "us"))


def test_mass_is_known_or_not_known() -> None:
    """A device's own weight, 0.9 t, is 900 kg; no page gives the mass of a shackle, and 0 is no answer."""
    assert demands.mass_kg(line(DEVICE)[0]) == pytest.approx(900)
    assert demands.mass_kg(line(ROW)[0]) is None
