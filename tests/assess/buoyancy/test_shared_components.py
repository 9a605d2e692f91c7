"""A weighing takes away the doubts about what was weighed, and leaves those that another item of the kit keeps."""

from dataclasses import replace

import pytest

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.kit.items import Cylinder, Drysuit, Kit, Suit
from kitbuilder.kit.resolved import NOTHING_LINKED
from tests.assess.kits import PLAIN, balance_of, kit_of, number_of, with_header, with_items

VEST = Suit(tag="vest", cut="vest", thickness_m=0.005)
PAIR = (
    Cylinder(tag="left", preset="steel 12 L 232 long"),
    Cylinder(tag="right", preset="steel 12 L 232 long", stamped_mass_kg=14.0),
)


def promised(found: Balance, what: str) -> float:
    """What is left of the spread of the lead after a step [kg]."""
    [step] = [step for step in found.measurement_priorities if step.what == what]
    return step.spread_after_kg


def left(found: Balance, *gone: str) -> float:
    """The spread of the lead without these sources, which are all there [kg]."""
    assert set(gone) <= found.lead.components.keys()
    kept = {source: share for source, share in found.lead.components.items() if source not in gone}
    return found.lead._replace(components=kept).spread


def test_a_vest_below_a_suit_is_weighed() -> None:
    """Both are of foam that stretches and is squeezed alike, on one body: only what is the vest's own goes."""
    found = balance_of(with_items(kit_of(PLAIN), VEST))
    after = promised(found, 'weigh "vest" wet in fresh water')
    assert after == pytest.approx(left(found, "coverage, vest", "thickness of vest"))


def test_a_suit_on_a_body_that_is_not_known_is_weighed() -> None:
    """The mass of the diver is still not known: it floats the body, whatever is known of the suit.

    The promise keeps all of it, also what it adds to the suit by the area, which the weighing tells: never too little.
    """
    found = balance_of(kit_of(PLAIN), NOTHING_LINKED)
    after = promised(found, 'weigh "suit" wet in fresh water')
    assert after >= abs(found.lead.components["mass of the diver"])
    bucket = balance_of(with_header(kit_of(PLAIN), water=None, density_kg_m3=999.0), NOTHING_LINKED).buoyancy_model
    [part] = [part for part in bucket.parts if part.foam]
    kit = kit_of(PLAIN)
    suit = kit.items[number_of(kit, "suit")]
    assert isinstance(suit, Suit)
    weighed = replace(suit, buoyancy_kgf=part.floats.value)
    items = tuple(weighed if item is suit else item for item in kit.items)
    left_over = balance_of(Kit(kit.header, items), NOTHING_LINKED).lead.spread
    assert left_over <= after <= 1.1 * left_over


def test_the_stamp_of_one_cylinder_of_two_is_read() -> None:
    """Both are of one steel, hold as much as each other and have one kind of valve: that is not on the stamp."""
    found = balance_of(Kit(kit_of(PLAIN).header, (*kit_of(PLAIN).items[1:], *PAIR)))
    after = promised(found, "read the mass stamped on steel 12 L 232 long")
    assert after == pytest.approx(left(found, "mass of steel 12 L 232 long"))


@pytest.mark.parametrize(
    ("keys", "is_weighed"), [({}, True), ({"undersuit": "medium"}, False), ({"suit_gas_m3": 0.009}, False)]
)
def test_a_drysuit_is_weighed_in_the_bucket_while_nothing_says_what_gas_it_holds(
    keys: dict[str, object], is_weighed: bool
) -> None:
    """With gas in it, it cannot be weighed apart from its wearer."""
    drysuit = Drysuit(tag="drysuit", preset="trilaminate shell", **keys)  # type: ignore[arg-type]
    kit = kit_of(PLAIN)
    found = balance_of(Kit(kit.header, (*(item for item in kit.items if item.tag != "suit"), drysuit)))
    assert ('weigh "drysuit" in fresh water' in {step.what for step in found.measurement_priorities}) is is_weighed
