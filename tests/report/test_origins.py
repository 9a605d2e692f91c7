"""Where figures come from: each figure as it is shown, its origin, and what its spread is made of."""

import re

import pytest

from kitbuilder.assess.figures import Figure, sources_of
from kitbuilder.report.numbers import System, shown, with_spread
from kitbuilder.report.origins import lead_origins_page, origins_page
from tests.assess.kits import PLAIN, WHOLE, balance_of, beside, kit_of, shipped
from tests.report.pages import page_text


@pytest.mark.parametrize("system", System)
def test_the_origins_of_the_lead_begin_with_the_lead(system: System) -> None:
    """As it is shown, and its largest parts below, the largest first."""
    found = balance_of(kit_of(PLAIN), beside())
    text = page_text(lead_origins_page(found), system)
    assert text.startswith(f"Lead {with_spread(found.lead, 'lead', system)}: {found.lead.origin}.\n")
    parts = re.findall(r"^ *(\d+\.\d (?:kg|lb))  \S", text.partition("Body alone")[0], re.MULTILINE)
    assert parts == [shown(size, "lead", system) for _, size in sources_of(found.lead).main]
    assert f"Body alone {with_spread(found.body, 'lift', system)}: " in text


def test_without_a_balance_there_is_only_what_it_rests_on() -> None:
    """And the cautions last."""
    text = page_text(lead_origins_page(None))
    assert text.startswith("The lead makes diver and kit neutral at the stop")
    assert text.rstrip().endswith("come first.")


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("system", System)
def test_every_item_has_its_figures(name: str, system: System) -> None:
    """Mass and buoyancy with their origins; the kit as a whole names its water."""
    found = shipped(name)
    for number, weight in enumerate(found.weights):
        text = page_text(origins_page(found, number), system, 70)
        assert (f"{weight.mass.origin}" in " ".join(text.split())) if weight else "Neither a preset" in text
        assert all(line.isprintable() for line in text.splitlines())
    whole = page_text(origins_page(found, None), system, 70)
    assert whole.startswith(f"Mass {with_spread(found.everything.mass, 'mass', system)}: ")
    assert f"\nWater: {found.water.name}; density " in whole


def test_smaller_parts_are_counted() -> None:
    """0.09 of the spread adds 0.4 % to it (1.0041 = root of 1 + 0.09 squared); no more than six parts are named."""
    some = sources_of(Figure(0.0, {"a": -3.0, "b": 4.0, "c": 0.4, "d": 0.0}, ""))
    assert some.main == (("b", 4.0), ("a", 3.0))
    assert some.others == 1
    many = sources_of(Figure(0.0, {str(number): 1.0 for number in range(9)}, ""))
    assert (len(many.main), many.others) == (6, 3)
    assert sources_of(Figure(1.0, {}, "")).main == ()
