"""What the losses of a kit assume, and what they say nothing of."""

from collections.abc import Iterator

from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.assess.gas.breathing import can_be_breathed, gas_uses
from kitbuilder.assess.gas.feeds import FUNCTIONS, cylinders_behind, fed_from, first_stages_of, joined_cylinders
from kitbuilder.assess.gas.oxygen import format_part
from kitbuilder.assess.rules.limit_words import with_range
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, FirstStage, split_port
from kitbuilder.kit.resolved import ResolvedKit


def assumptions_of(kit: ResolvedKit) -> tuple[Words, ...]:
    """Say what the losses and times of a kit assume, a sentence each; nothing where nothing can be lost."""
    joined, stages = joined_cylinders(kit), first_stages_of(kit)
    if not stages:
        return ()
    return (
        words(
            "After a burst or a failed first stage the diver closes its valve, and everything that this first stage "
            "feeds is lost. Whether the diver can reach the valve in time is not worked out here: practise it."
        ),
        *([_format_joined(joined)] if joined else []),
        *_format_not_breathable(kit),
        *_NOT_COUNTED,
        *_format_time(),
    )


def left_out_of(kit: ResolvedKit) -> tuple[Words, ...]:
    """Say what the losses of a kit say nothing of, and why, a sentence each."""
    return (*_cylinders_left_out(kit), *_hoses_left_out(kit), *_items_left_out(kit))


_NOT_COUNTED = (
    words(
        "A hose with a quick-disconnect can be taken off the item it feeds. That saves a wing or a suit from "
        "filling by itself; a burst hose goes on losing gas, so it is not counted here."
    ),
    words("Gas already in a wing or a suit stays there. Inflating a wing by mouth is not counted."),
)


def _format_joined(joined: tuple[Cylinder, ...]) -> Words:
    tags = [piece for cylinder in joined for piece in (" and ", Tag(cylinder.tag))]
    return words(
        "A manifold joins ",
        *tags[1:],
        ", its isolator open: with either valve closed all gas is left to the other, and a burst drains both until "
        "its valve is closed. The manifold is taken to have an isolator; without one, a leak of the manifold takes the "
        "gas of both sides.",
    )


def _format_not_breathable(kit: ResolvedKit) -> Iterator[Words]:
    """Say which gases do not count at the greatest depth, and down to which depth they can be breathed."""
    water, deepest = assess_water(kit.header), deepest_of(kit)
    for use in gas_uses(kit, water):
        if not can_be_breathed(use.cylinder, deepest, kit, water):
            depths = (
                ()
                if use.at_most_m is None
                else (", but from ", Amount(use.from_m or 0.0, "depth"), " to ", Amount(use.at_most_m, "depth"))
            )
            yield words(
                Tag(use.cylinder.tag),
                f": {format_part(use.oxygen)} oxygen cannot be breathed at ",
                Amount(deepest, "depth"),
                *depths,
                ". At that depth it counts neither as breathing nor as gas left.",
            )


def _format_time() -> Iterator[Words]:
    limits = catalogue().limits
    lp, hp, intermediate = (limits[name] for name in ("lp_burst_section", "hp_burst_orifice", "intermediate"))
    discharge = limits["burst_discharge"]
    yield words(
        "Times are estimates: the hose is torn off at its first stage, the valve stays open, nobody breathes, and the "
        "cylinders are as full as before the dive even at depth. They end when second stages stop delivering, at ",
        *with_range(intermediate, "drop"),
        " above ambient.",
    )
    yield words(
        "The flow of an LP burst is limited by a section of ",
        *with_range(lp, "bore"),
        ", or by a narrower bore of the hose, and the first stage keeps up; that of an HP burst by the small hole at "
        "the port, of ",
        *with_range(hp, "bore"),
        ". Both are from memory.",
    )
    yield words(
        "The gas counts as ideal and as warm as it was filled; the coefficient of discharge is "
        f"{discharge.value:g} ({discharge.low:g} to {discharge.high:g}). A cylinder that empties within minutes gets "
        "cold and is empty sooner: by about a fifth, with much helium by a quarter. The shorter end of each time "
        "allows for that."
    )


def _cylinders_left_out(kit: ResolvedKit) -> Iterator[Words]:
    """Give cylinders no first stage sits on, and first stages that sit on none that is known."""
    behind = {cylinder.tag for stage in first_stages_of(kit) for cylinder in cylinders_behind(stage, kit)}
    for item in kit.items:
        if isinstance(item, Cylinder) and item.tag not in behind:
            kind = "a stage cylinder" if item.carried == "stage" else "a cylinder"
            yield words(Tag(item.tag), f": {kind} without a first stage in this file; left out.")
        elif isinstance(item, FirstStage) and not cylinders_behind(item, kit):
            yield words(Tag(item.tag), ': on which cylinder it sits is not known; name it with the key "on".')


def _hoses_left_out(kit: ResolvedKit) -> Iterator[Words]:
    stages = {stage.tag for stage in first_stages_of(kit)}
    for hose in kit.hoses:
        if split_port(hose.from_ or "")[0] not in stages:
            yield words(Tag(hose.tag), ": on no first stage, so its burst is left out.")


def _items_left_out(kit: ResolvedKit) -> Iterator[Words]:
    feeds, kinds = fed_from(kit), tuple(kind for each in FUNCTIONS.values() for kind in each)
    for item in kit.items:
        if isinstance(item, kinds) and item.tag not in feeds:
            yield words(Tag(item.tag), ": no gas reaches it even when nothing fails; left out.")
