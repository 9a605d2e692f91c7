"""Mass and buoyancy of any item by itself."""

from dataclasses import replace

from kitbuilder.assess.body import DiverBody, assess_body
from kitbuilder.assess.buoyancy.cylinder_weight import full_weight, work_out_vessel
from kitbuilder.assess.buoyancy.item_weight import weigh_item
from kitbuilder.assess.buoyancy.suit_weight import weigh_suit
from kitbuilder.assess.figures import Figure, Weight
from kitbuilder.assess.fit.hose_figures import weigh_in_kit
from kitbuilder.assess.water import Water, water_named
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Item, Suit


def weigh_alone(item: Item, water: Water, body: DiverBody) -> Weight | None:
    """Give mass [kg] and buoyancy [kgf] of an item, a cylinder filled; None where one of them is not known.

    Args:
        item: Any item of a kit. A hose has its usual ends where it does not name them.
        water: The water it floats in.
        body: The body that wears a suit.
    """
    if isinstance(item, Hose):
        return weigh_in_kit(item, water, {})
    if isinstance(item, Cylinder):
        vessel = work_out_vessel(item, water)
        return full_weight(vessel) if vessel else None
    if isinstance(item, Suit):
        return weigh_suit(item, water, body).weight
    return weigh_item(item, water)


def scale_under_water(item: Item, diver: Diver | None) -> Figure | None:
    """Give the buoyancy of an item as a scale reads it: in fresh water, a drysuit without its gas [kgf].

    None where it is not known.
    """
    bare = replace(item, undersuit=None, suit_gas_m3=None) if isinstance(item, Drysuit) else item
    weight = weigh_alone(bare, water_named("fresh"), assess_body(diver))
    return weight.buoyancy if weight else None
