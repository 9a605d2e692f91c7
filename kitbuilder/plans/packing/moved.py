"""A packing right after a move: what is shown at once, until it is repaired."""

from kitbuilder.plans.packing.model import FULL, LARGEST
from kitbuilder.plans.packing.packing import PINNED, Packing, Placed, Proof, packed_bag, sums_of
from kitbuilder.plans.packing.records import Placement


def moved(packing: Packing, number: int, bag: str) -> Packing:
    """Give a packing with one item put into another bag and kept there, all else where it was.

    Nothing is searched: it is what a person sees at once after a move, until `pack` has repaired it. Limits may be
    exceeded, and nothing is proved.

    Args:
        packing: The packing.
        number: Of the item in its task.
        bag: One of the usable bags.

    Raises:
        KeyError: The bag is none of them.
    """
    place = {packed.bag.tag: packed.bag.place for packed in packing.bags}[bag]
    before = packing.task.items[number]
    item = before._replace(pinned=bag, may_go=before.may_go | {place})
    items = tuple(item if each is before else each for each in packing.task.items)
    task = packing.task._replace(items=items)
    placed = {id(each.item): each for each in packing.placed if each.item is not before}
    placed[id(item)] = Placed(item, Placement(bag), item.mass, PINNED)
    in_order = [placed[id(each)] for each in items if id(each) in placed]
    bags = tuple(packed_bag(task, packed.bag, in_order, packing.bought) for packed in packing.bags)
    return packing._replace(
        task=task,
        placed=tuple(in_order),
        missing=tuple(each for each in packing.missing if each.item is not before),
        bags=bags,
        sums=tuple(sums_of(task, bags, packing.bought)),
        proof=Proof({LARGEST: FULL}, {LARGEST: 0}, 0),
    )
