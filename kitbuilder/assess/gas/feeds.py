"""What hangs on which first stage, and which cylinders' gas reaches it."""

from kitbuilder.assess.gas.oxygen import cylinder_of, oxygen_of
from kitbuilder.assess.hoses.ports import port_reference
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import (
    Cylinder,
    Drysuit,
    FirstStage,
    Gauge,
    Hose,
    Item,
    Jacket,
    Other,
    SecondStage,
    Transmitter,
    Wing,
    split_port,
)
from kitbuilder.kit.resolved import ResolvedKit

FUNCTIONS: dict[str, tuple[type[Item], ...]] = {
    "breathing": (SecondStage,),
    "inflation": (Wing, Jacket),
    "drysuit": (Drysuit,),
    "gauge": (Gauge, Transmitter),
}
"""What a diver needs gas for, and the items that do it."""

MANIFOLD = "manifold"
"""The preset that joins two cylinders, and the word for it in a tag."""
NO_VALVE = "none"
"""The valve of a cylinder that a manifold closes."""


def first_stages_of(kit: ResolvedKit) -> tuple[FirstStage, ...]:
    """Give the first stages, in the order of the kit."""
    return tuple(item for item in kit.items if isinstance(item, FirstStage))


def fed_from(kit: ResolvedKit) -> dict[str, frozenset[str]]:
    """Give the first stages each item hangs on, by tags, with a hose or without; what hangs on none is missing."""
    stages = {stage.tag for stage in first_stages_of(kit)}
    feeds: dict[str, frozenset[str]] = {}
    for item in kit.items:
        stage, _ = split_port(port_reference(item) or "")
        fed = item.to if isinstance(item, Hose) else item.tag
        if stage in stages and fed:
            feeds[fed] = feeds.get(fed, frozenset()) | {stage}
    return feeds


def cylinders_behind(stage: FirstStage, kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the cylinders whose gas reaches a first stage: its own, or all on a manifold; empty when not known."""
    own, joined = cylinder_of(stage, kit), joined_cylinders(kit)
    if own is None:
        return joined if stage.on is None else ()
    return joined if own in joined else (own,)


def manifold_of(kit: ResolvedKit) -> Other | None:
    """Give the manifold of a kit; None when it has none."""
    others = (item for item in kit.items if isinstance(item, Other))
    return next((item for item in others if item.preset == MANIFOLD or MANIFOLD in item.tag.lower()), None)


def joined_cylinders(kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the cylinders of a twinset that a manifold joins; empty when there is none."""
    if kit.header.layout != "twinset" or manifold_of(kit) is None:
        return ()
    cylinders = (item for item in kit.items if isinstance(item, Cylinder))
    return tuple(each for each in cylinders if each.valve == NO_VALVE and each.carried != "stage")


def oxygen_reaching(kit: ResolvedKit) -> dict[str, float]:
    """Give the most oxygen, as a part of one, in any gas that reaches an item, by its tag.

    Cylinders, first stages, and what hangs on them; an item that no gas is known to reach is missing.
    """
    tags = {item.tag for item in kit.items}
    reaches = {item.tag: oxygen_of(item) for item in kit.items if isinstance(item, Cylinder)}
    for stage in first_stages_of(kit):
        if cylinders := cylinders_behind(stage, kit):
            reaches[stage.tag] = max(oxygen_of(cylinder) for cylinder in cylinders)
    for item in kit.items:
        stage_tag, _ = split_port(port_reference(item) or "")
        fed = (item.tag, item.to) if isinstance(item, Hose) else (item.tag,)
        for tag in fed if stage_tag in reaches else ():
            if tag in tags:
                reaches[tag] = max(reaches.get(tag, 0.0), reaches[stage_tag])
    return reaches


def needs_clean(kit: ResolvedKit) -> frozenset[str]:
    """Give the tags of all items that have to be clean for the oxygen-rich gas that reaches them."""
    limit = catalogue().limits["oxygen_clean_from"].value
    if all(oxygen_of(item) <= limit for item in kit.items if isinstance(item, Cylinder)):
        return frozenset()  # as nearly always, and the way of every gas need not be followed
    return frozenset(tag for tag, oxygen in oxygen_reaching(kit).items() if oxygen > limit)
