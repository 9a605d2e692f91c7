"""What hangs on an item: the parts that go with it when it is lost, handed off, unclipped or taken out of the kit."""

from collections.abc import Iterator

from kitbuilder.assess.gas.feeds import first_stages_of
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.hoses.ports import port_reference
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Hose, Item, Jacket, Other, Wing, split_port
from kitbuilder.kit.resolved import ResolvedKit

WORN_BY_THE_DIVER = (Wing, Jacket, Drysuit)
"""What a hose feeds and does not carry: its coupling comes off, and the item stays on the diver."""
STAGE = "stage"
"""How a cylinder is carried that may be handed off or lost."""
RIGGING = "stage rigging"
"""The preset that fastens a stage, and the word for it in a tag."""


def is_stage(kit: ResolvedKit, number: int) -> bool:
    """Say whether an item is a cylinder that may be handed off or lost."""
    item = kit.items[number]
    return isinstance(item, Cylinder) and item.carried == STAGE


def goes_with(kit: ResolvedKit, number: int) -> tuple[int, ...]:
    """Give the numbers of the items that go with one when it is taken away, itself included, in the order of the kit.

    With a cylinder go its first stage and, when it is a stage, its rigging; with a first stage what sits in its ports;
    with a hose what it feeds. What the diver wears stays, and so does what another hose or port holds as well. A
    rigging does not say whose it is: the first is that of the first stage of the kit, and so on.
    """
    gone = {number}
    reached = [kit.items[number]]
    while reached:
        for tag in _hanging_on(reached.pop(), kit):
            place = next(place for place, item in enumerate(kit.items) if item.tag == tag)
            if place not in gone:
                gone.add(place)
                reached.append(kit.items[place])
    return tuple(sorted(gone))


def gone_with_stages(kit: ResolvedKit) -> frozenset[int]:
    """Give the numbers of all items that go when every stage is lost."""
    stages = (number for number in range(len(kit.items)) if is_stage(kit, number))
    riggings = (number for number, item in enumerate(kit.items) if _is_rigging(item))
    lost = {number for stage in stages for number in goes_with(kit, stage)}
    return frozenset(lost | set(riggings) if lost else ())


def _hanging_on(item: Item, kit: ResolvedKit) -> Iterator[str]:
    """Give the tags of what hangs directly on an item."""
    if isinstance(item, Cylinder):
        yield from (stage.tag for stage in first_stages_of(kit) if cylinder_of(stage, kit) is item)
        yield from _rigging_of(item, kit)
    elif isinstance(item, FirstStage):
        references = ((other.tag, port_reference(other)) for other in kit.items)
        yield from (tag for tag, reference in references if split_port(reference or "")[0] == item.tag)
    elif isinstance(item, Hose):
        fed = next((other for other in kit.items if other.tag == item.to), None)
        if fed is not None and not isinstance(fed, WORN_BY_THE_DIVER) and _is_held_once(fed, kit):
            yield fed.tag


def _is_held_once(item: Item, kit: ResolvedKit) -> bool:
    return not port_reference(item) and len([hose for hose in kit.hoses if hose.to == item.tag]) == 1


def _rigging_of(cylinder: Cylinder, kit: ResolvedKit) -> Iterator[str]:
    stages = [item.tag for item in kit.items if isinstance(item, Cylinder) and item.carried == STAGE]
    riggings = [item.tag for item in kit.items if _is_rigging(item)]
    yield from (rigging for stage, rigging in zip(stages, riggings, strict=False) if stage == cylinder.tag)


def _is_rigging(item: Item) -> bool:
    return isinstance(item, Other) and (item.preset == RIGGING or RIGGING in item.tag.lower())
