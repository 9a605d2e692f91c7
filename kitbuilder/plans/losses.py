"""What still works when one item fails (closed valve, lost first stage, burst hose), and how fast gas is lost."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, filling_temperature, gas_in, work_out_vessel
from kitbuilder.assess.buoyancy.float_checks import deepest_of
from kitbuilder.assess.figures import Figure, Range, total
from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.assess.gas.feeds import (
    FUNCTIONS,
    cylinders_behind,
    fed_from,
    first_stages_of,
    joined_cylinders,
    manifold_of,
)
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.hoses.hose_weight import service_of
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, FirstStage, Hose, SecondStage, split_port
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.plans.emptying import time_to_empty

VALVE_CLOSED, STAGE_LOST, LP_BURST, HP_BURST = "valve closed", "first stage lost", "LP burst", "HP burst"
ISOLATOR_CLOSED, MANIFOLD_LEAK = "isolator closed", "manifold leaks"
"""The causes."""


class Function(NamedTuple):
    """The items that do one job, by tag, in the order of the kit."""

    works: tuple[str, ...]
    lost: tuple[str, ...]


class Emptying(NamedTuple):
    """How long it takes until second stages stop giving, the valve left open."""

    depth_m: float
    time: Range | None
    """[s]; None where a cylinder is not known."""


class Loss(NamedTuple):
    """One item that fails, and what is left once the valve of its first stage is closed."""

    cause: str
    """`VALVE_CLOSED`, `STAGE_LOST`, `LP_BURST`, `HP_BURST`, `ISOLATOR_CLOSED` or `MANIFOLD_LEAK`."""
    item: int
    """The number of what fails: a first stage, a hose or a manifold."""
    tag: str
    stage: str
    """The tag of the first stage whose valve is closed then; of a leaking manifold, the one that loses its gas; empty
    for a closed isolator."""
    functions: dict[str, Function]
    """By the names of `FUNCTIONS`."""
    gas_left: Figure | None
    """The part of the gas worn that can still be breathed, when none is lost before the valve is closed [1].

    None where a cylinder is not known, or on which one a first stage sits.
    """
    shut_in: tuple[str, ...]
    """The cylinders whose gas nothing can be breathed from any more, by tag."""
    emptyings: tuple[Emptying, ...]
    """Of a burst: at the surface and at the greatest depth. Empty for other causes."""
    side: str = ""
    """Of a leaking manifold: the tag of the cylinder whose gas it loses."""

    @property
    def works(self) -> int:
        """How many items still work."""
        return sum(len(function.works) for function in self.functions.values())

    @property
    def lost(self) -> int:
        """How many items are lost."""
        return sum(len(function.lost) for function in self.functions.values())


class Losses(NamedTuple):
    """All losses of a kit, and what they rest on."""

    kit: ResolvedKit
    losses: tuple[Loss, ...]
    """By first stage in the order of the kit: its valve, itself, its hoses; then the manifold."""
    cylinders: dict[str, tuple[str, ...]]
    """The tags of the cylinders behind each first stage, by its tag; empty where that is not known."""
    assumptions: tuple[Words, ...]
    """What is assumed, a sentence each."""
    left_out: tuple[Words, ...]
    """What nothing is said of, and why, a sentence each."""

    @property
    def has_one_source(self) -> bool:
        """Whether one first stage feeds everything."""
        return len(self.cylinders) == 1


def work_out_losses(assessment: Assessment) -> Losses:
    """Work out every loss of a kit."""
    kit = assessment.kit
    behind = {stage.tag: tuple(each.tag for each in cylinders_behind(stage, kit)) for stage in first_stages_of(kit)}
    return Losses(kit, losses_of(assessment), behind, assumptions_of(kit), left_out_of(kit))


def losses_of(assessment: Assessment) -> tuple[Loss, ...]:
    """Give every loss of a kit, by first stage in the order of the kit: its valve, itself, its hoses; the manifold."""
    at_stages = (
        loss
        for number, stage in enumerate(assessment.kit.items)
        if isinstance(stage, FirstStage)
        for loss in _losses_at(assessment, number, stage)
    )
    return (*at_stages, *manifold_losses(assessment.kit, assessment.water))


def _losses_at(assessment: Assessment, number: int, stage: FirstStage) -> Iterator[Loss]:
    kit = assessment.kit
    functions, gas_left = _functions_without(frozenset({stage.tag}), kit), _gas_left(stage, kit, assessment.water)
    shut_in = tuple(cylinder.tag for cylinder in _shut_in_with(stage, kit))
    for cause in (VALVE_CLOSED, STAGE_LOST):
        yield Loss(cause, number, stage.tag, stage.tag, functions, gas_left, shut_in, ())
    for place, hose in enumerate(kit.items):
        if isinstance(hose, Hose) and split_port(hose.from_ or "")[0] == stage.tag:
            cause = HP_BURST if _service_at(hose) == "HP" else LP_BURST
            emptyings = tuple(_emptyings(hose, stage, assessment))
            yield Loss(cause, place, hose.tag, stage.tag, functions, gas_left, shut_in, emptyings)


def _service_at(hose: Hose) -> str:
    """Give the pressure in a hose: that of the port it is in, whatever it is meant for."""
    port = split_port(hose.from_ or "")[1][:2]
    return port if port in ("LP", "HP") else service_of(hose)


def _functions_without(lost: frozenset[str], kit: ResolvedKit) -> dict[str, Function]:
    feeds = fed_from(kit)
    found = {}
    for name, kinds in FUNCTIONS.items():
        tags = [item.tag for item in kit.items if isinstance(item, kinds) and item.tag in feeds]
        works = tuple(tag for tag in tags if feeds[tag] - lost)
        found[name] = Function(works, tuple(tag for tag in tags if tag not in works))
    return found


# ---- the manifold ----


def manifold_losses(kit: ResolvedKit, water: Water) -> Iterator[Loss]:
    """Give the losses at a manifold: its isolator closed, and a leak at each of its sides, the isolator closed then.

    Nothing when no manifold joins cylinders, or when it is not known which first stage sits on which.
    """
    manifold, joined = manifold_of(kit), joined_cylinders(kit)
    sides = {
        cylinder.tag: [each for each in first_stages_of(kit) if cylinder_of(each, kit) is cylinder]
        for cylinder in joined
    }
    if manifold is None or not all(sides.values()) or len(sides) < TWO_SIDES:
        return
    number, worn = kit.items.index(manifold), _behind(first_stages_of(kit), kit)
    mute = tuple(each for each in joined if not any(_gives_breath(stage, kit) for stage in sides[each.tag]))
    reached, shut_in = tuple(each for each in worn if each not in mute), tuple(each.tag for each in mute)
    every = _functions_without(frozenset(), kit)
    yield Loss(ISOLATOR_CLOSED, number, manifold.tag, "", every, _share_of(reached, worn, water), shut_in, ())
    for cylinder in joined:
        lost = frozenset(stage.tag for stage in sides[cylinder.tag])
        left = _share_of(tuple(each for each in worn if each is not cylinder), worn, water)
        functions, stage = _functions_without(lost, kit), sides[cylinder.tag][0].tag
        yield Loss(MANIFOLD_LEAK, number, manifold.tag, stage, functions, left, (), (), side=cylinder.tag)


TWO_SIDES = 2
"""A manifold has a cylinder at either side of its isolator."""


def _gives_breath(stage: FirstStage, kit: ResolvedKit) -> bool:
    feeds = fed_from(kit)
    return any(isinstance(item, SecondStage) and stage.tag in feeds.get(item.tag, ()) for item in kit.items)


# ---- gas that is left ----


def _behind(stages: Iterable[FirstStage], kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the worn cylinders whose gas reaches any of the first stages; stage cylinders do not count."""
    tags = {cylinder.tag for stage in stages for cylinder in cylinders_behind(stage, kit)}
    cylinders = (item for item in kit.items if isinstance(item, Cylinder) and item.carried != "stage")
    return tuple(cylinder for cylinder in cylinders if cylinder.tag in tags)


def _others(stage: FirstStage, kit: ResolvedKit) -> tuple[FirstStage, ...]:
    return tuple(other for other in first_stages_of(kit) if other is not stage)


def _shut_in_with(stage: FirstStage, kit: ResolvedKit) -> tuple[Cylinder, ...]:
    usable = _behind(_others(stage, kit), kit)
    return tuple(cylinder for cylinder in cylinders_behind(stage, kit) if cylinder not in usable)


def _gas_left(stage: FirstStage, kit: ResolvedKit, water: Water) -> Figure | None:
    if not all(cylinders_behind(each, kit) for each in first_stages_of(kit)):
        return None
    return _share_of(_behind(_others(stage, kit), kit), _behind(first_stages_of(kit), kit), water)


def _share_of(some: tuple[Cylinder, ...], every: tuple[Cylinder, ...], water: Water) -> Figure | None:
    """Give the part of the gas of cylinders that some of them hold; None where one is not known."""
    left, everything = _gas_of(some, water), _gas_of(every, water)
    return _share(left, everything) if left and everything and everything.value > 0.0 else None


def _gas_of(cylinders: tuple[Cylinder, ...], water: Water) -> Figure | None:
    """Give the filling of cylinders [kg]; None where one of them is not known."""
    vessels = _known(cylinders, water)
    if len(vessels) < len(cylinders):
        return None
    fillings = (gas_in(vessel, vessel.filled_pa, filling_temperature(vessel), "filling") for vessel in vessels)
    return total(fillings, "filling of the cylinders")


def _share(part: Figure, whole: Figure) -> Figure:
    """Give a part over the whole that it is a part of; what both have in common cancels."""
    share = part.value / whole.value
    sources = {**part.components, **whole.components}
    components = {
        source: (part.components.get(source, 0.0) - share * whole.components.get(source, 0.0)) / whole.value
        for source in sources
    }
    return Figure(share, components, "filling of the cylinders, by mass")


def _known(cylinders: tuple[Cylinder, ...], water: Water) -> list[Vessel]:
    return [vessel for cylinder in cylinders if (vessel := work_out_vessel(cylinder, water))]


# ---- time to empty ----


def _emptyings(hose: Hose, stage: FirstStage, assessment: Assessment) -> Iterator[Emptying]:
    """Work out the emptying at the surface and at the greatest depth."""
    kit, water = assessment.kit, assessment.water
    cylinders = cylinders_behind(stage, kit)
    vessels = _known(cylinders, water)
    is_known = bool(vessels) and len(vessels) == len(cylinders)
    bore = hose.bore_m or catalogue().bodies[service_of(hose), hose.body].bore.value
    for depth in (0.0, deepest_of(kit)):
        ambient = pressure_at_depth(depth, water.density.value)
        yield Emptying(depth, time_to_empty(_service_at(hose), bore, vessels, ambient) if is_known else None)


# ---- assumptions, and what is left out ----


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
        *([_STAGE_GAS] if any(_is_on_a_stage(stage, kit) for stage in stages) else []),
        *_NOT_COUNTED,
        *_format_time(),
    )


def left_out_of(kit: ResolvedKit) -> tuple[Words, ...]:
    """Say what the losses of a kit say nothing of, and why, a sentence each."""
    return (*_cylinders_left_out(kit), *_hoses_left_out(kit), *_items_left_out(kit))


_STAGE_GAS = words(
    "What is fed by a stage cylinder counts as working; whether its gas may be breathed at that depth is not checked, "
    "and it is not counted in the gas that is left."
)
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


def _format_time() -> Iterator[Words]:
    limits = catalogue().limits
    lp, hp, intermediate = (limits[name] for name in ("lp_burst_section", "hp_burst_orifice", "intermediate"))
    discharge = limits["burst_discharge"]
    yield words(
        "Times are estimates: the hose is torn off at its first stage, the valve stays open, nobody breathes, and the "
        "cylinders are as full as before the dive even at depth. They end when second stages stop delivering, at ",
        Amount(intermediate.value, "drop"),
        " above ambient.",
    )
    yield words(
        "The flow of an LP burst is limited by a section of ",
        *_from_to(lp.value, lp.low, lp.high),
        ", or by a narrower bore of the hose, and the first stage keeps up; that of an HP burst by the small hole at "
        "the port, of ",
        *_from_to(hp.value, hp.low, hp.high),
        ". Both are from memory.",
    )
    yield words(
        "The gas is taken as ideal and as warm as it was filled; the coefficient of discharge is "
        f"{discharge.value:g} ({discharge.low:g} to {discharge.high:g}). A cylinder that empties within minutes grows "
        "cold, which makes the last of its gas slower."
    )


def _from_to(value: float, low: float, high: float) -> Words:
    return (Amount(value, "bore"), " (", Amount(low, "bore"), " to ", Amount(high, "bore"), ")")


def _is_on_a_stage(stage: FirstStage, kit: ResolvedKit) -> bool:
    return any(cylinder.carried == "stage" for cylinder in cylinders_behind(stage, kit))


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
            yield words(Tag(hose.tag), ": on no first stage; its burst is left out.")


def _items_left_out(kit: ResolvedKit) -> Iterator[Words]:
    feeds, kinds = fed_from(kit), tuple(kind for each in FUNCTIONS.values() for kind in each)
    for item in kit.items:
        if isinstance(item, kinds) and item.tag not in feeds:
            yield words(Tag(item.tag), ": no gas reaches it, whatever fails; left out.")
