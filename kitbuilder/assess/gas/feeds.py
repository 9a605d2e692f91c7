"""What hangs on which first stage, and which cylinders' gas reaches it."""

from kitbuilder.assess.gas.oxygen import cylinder_of, oxygen_of
from kitbuilder.assess.hoses.ports import port_reference
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
    return _behind(stage, kit, joined_cylinders(kit))


def cylinders_behind_each(kit: ResolvedKit) -> dict[str, tuple[Cylinder, ...]]:
    """Give the same for every first stage, by tag."""
    joined = joined_cylinders(kit)
    return {stage.tag: _behind(stage, kit, joined) for stage in first_stages_of(kit)}


def _behind(stage: FirstStage, kit: ResolvedKit, joined: tuple[Cylinder, ...]) -> tuple[Cylinder, ...]:
    own = cylinder_of(stage, kit)
    if own is None:
        return joined if stage.on is None else ()
    return joined if own in joined else (own,)


def manifold_of(kit: ResolvedKit) -> Other | None:
    """Give the manifold of a kit; None when it has none."""
    others = (item for item in kit.items if isinstance(item, Other))
    return next((item for item in others if item.preset == MANIFOLD or MANIFOLD in item.tag.lower()), None)


def cylinders_feeding(hose: Hose, kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the cylinders whose gas flows through a hose; empty when not known."""
    tag, _ = split_port(hose.from_ or "")
    stage = next((stage for stage in first_stages_of(kit) if stage.tag == tag), None)
    return cylinders_behind(stage, kit) if stage else ()


def joined_cylinders(kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the cylinders of a twinset that a manifold joins; empty when there is none."""
    if kit.header.layout != "twinset" or manifold_of(kit) is None:
        return ()
    cylinders = (item for item in kit.items if isinstance(item, Cylinder))
    return tuple(each for each in cylinders if each.valve == NO_VALVE and each.carried != "stage")


def oxygen_extremes(kit: ResolvedKit) -> dict[str, tuple[float, float]]:
    """Give the least and the most oxygen, as parts of one, in the gases that reach an item, by its tag.

    Cylinders, first stages, and what hangs on them; an item that no gas is known to reach is missing.
    """
    tags = {item.tag for item in kit.items}
    reaches: dict[str, tuple[float, float]] = {}
    for item in kit.items:
        if isinstance(item, Cylinder):
            _reach(reaches, item.tag, (oxygen_of(item), oxygen_of(item)))
    for stage_tag, cylinders in cylinders_behind_each(kit).items():
        for cylinder in cylinders:
            _reach(reaches, stage_tag, (oxygen_of(cylinder), oxygen_of(cylinder)))
    for item in kit.items:
        stage_tag, _ = split_port(port_reference(item) or "")
        fed = (item.tag, item.to) if isinstance(item, Hose) else (item.tag,)
        for tag in fed if stage_tag in reaches else ():
            if tag in tags:
                _reach(reaches, tag, reaches[stage_tag])
    return reaches


def _reach(reaches: dict[str, tuple[float, float]], tag: str, oxygen: tuple[float, float]) -> None:
    least, most = reaches.get(tag, oxygen)
    reaches[tag] = min(least, oxygen[0]), max(most, oxygen[1])
