"""Mass and buoyancy of any item by itself."""

from kitbuilder.assess.body import DiverBody
from kitbuilder.assess.buoyancy.cylinder_weight import full_weight, work_out_vessel
from kitbuilder.assess.buoyancy.item_weight import weigh_item
from kitbuilder.assess.buoyancy.suit_weight import weigh_suit
from kitbuilder.assess.figures import Weight
from kitbuilder.assess.fit.hose_figures import weigh_in_kit
from kitbuilder.assess.water import Water
from kitbuilder.kit.items import Cylinder, Hose, Item, Suit


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
