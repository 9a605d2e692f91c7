"""What still works when one item fails (closed valve, lost first stage, burst hose), and how fast gas is lost."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, filling_temperature, gas_in, work_out_vessel
from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.figures import Figure, Range, scaled, total
from kitbuilder.assess.findings import Words
from kitbuilder.assess.gas.breathing import can_be_breathed
from kitbuilder.assess.gas.feeds import (
    FUNCTIONS,
    cylinders_behind,
    fed_from,
    first_stages_of,
    joined_cylinders,
    manifold_of,
)
from kitbuilder.assess.gas.mixes import molar_mass
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.hoses.hose_weight import service_of
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, FirstStage, Hose, SecondStage, split_port
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.plans.emptying import time_to_empty
from kitbuilder.plans.loss_assumptions import assumptions_of, left_out_of

VALVE_CLOSED, STAGE_LOST, LP_BURST, HP_BURST = "valve closed", "first stage lost", "LP burst", "HP burst"
ISOLATOR_CLOSED, MANIFOLD_LEAK = "isolator closed", "manifold leaks"
"""The causes."""


class Function(NamedTuple):
    """The items that do one job, by tag, in the order of the kit."""

    works: tuple[str, ...]
    lost: tuple[str, ...]
    not_breathable: tuple[str, ...] = ()
    """Those that give gas which cannot be breathed at the greatest depth of the dive."""


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
    """The part of the gas carried that can still be breathed, when none is lost before the valve is closed [1].

    None where a cylinder is not known, or on which one a first stage sits.
    """
    gas_left_at_depth: Figure | None
    """The same of the gas that can be breathed at the greatest depth of the dive."""
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
    return (*at_stages, *manifold_losses(assessment))


def _losses_at(assessment: Assessment, number: int, stage: FirstStage) -> Iterator[Loss]:
    kit = assessment.kit
    functions = _functions_without(frozenset({stage.tag}), assessment)
    gas_left = _gas_left(stage, assessment, at_depth=False), _gas_left(stage, assessment, at_depth=True)
    shut_in = tuple(cylinder.tag for cylinder in _shut_in_with(stage, kit))
    for cause in (VALVE_CLOSED, STAGE_LOST):
        yield Loss(cause, number, stage.tag, stage.tag, functions, *gas_left, shut_in, ())
    for place, hose in enumerate(kit.items):
        if isinstance(hose, Hose) and split_port(hose.from_ or "")[0] == stage.tag:
            cause = HP_BURST if _service_at(hose) == "HP" else LP_BURST
            emptyings = tuple(_emptyings(hose, stage, assessment))
            yield Loss(cause, place, hose.tag, stage.tag, functions, *gas_left, shut_in, emptyings)


def _service_at(hose: Hose) -> str:
    """Give the pressure in a hose: that of the port it is in, whatever it is meant for."""
    port = split_port(hose.from_ or "")[1][:2]
    return port if port in ("LP", "HP") else service_of(hose)


def _functions_without(lost: frozenset[str], assessment: Assessment) -> dict[str, Function]:
    kit = assessment.kit
    feeds, too_deep = fed_from(kit), _not_breathable_stages(assessment)
    found = {}
    for name, kinds in FUNCTIONS.items():
        tags = [item.tag for item in kit.items if isinstance(item, kinds) and item.tag in feeds]
        fed = tuple(tag for tag in tags if feeds[tag] - lost)
        useless = {tag for tag in fed if name == "breathing" and feeds[tag] - lost <= too_deep}
        found[name] = Function(
            tuple(tag for tag in fed if tag not in useless),
            tuple(tag for tag in tags if tag not in fed),
            tuple(tag for tag in fed if tag in useless),
        )
    return found


def _not_breathable_stages(assessment: Assessment) -> frozenset[str]:
    """Give the first stages whose gas cannot be breathed at the greatest depth, by tag."""
    kit = assessment.kit
    return frozenset(
        stage.tag
        for stage in first_stages_of(kit)
        if any(not _is_breathable(cylinder, assessment) for cylinder in cylinders_behind(stage, kit))
    )


def _is_breathable(cylinder: Cylinder, assessment: Assessment) -> bool:
    return can_be_breathed(cylinder, deepest_of(assessment.kit), assessment.kit, assessment.water)


# ---- the manifold ----


def manifold_losses(assessment: Assessment) -> Iterator[Loss]:
    """Give the losses at a manifold: its isolator closed, and a leak at each of its sides, the isolator closed then.

    Nothing when no manifold joins cylinders, or when it is not known which first stage sits on which.
    """
    kit = assessment.kit
    manifold, joined = manifold_of(kit), joined_cylinders(kit)
    sides = {
        cylinder.tag: [each for each in first_stages_of(kit) if cylinder_of(each, kit) is cylinder]
        for cylinder in joined
    }
    if manifold is None or not all(sides.values()) or len(sides) < TWO_SIDES:
        return
    number, worn = kit.items.index(manifold), _behind(first_stages_of(kit), kit)
    mute = tuple(each for each in joined if not any(_gives_breath(stage, kit) for stage in sides[each.tag]))
    left = _both_left(tuple(each for each in worn if each not in mute), assessment)
    every, shut_in = _functions_without(frozenset(), assessment), tuple(each.tag for each in mute)
    yield Loss(ISOLATOR_CLOSED, number, manifold.tag, "", every, *left, shut_in, ())
    for cylinder in joined:
        stages = frozenset(stage.tag for stage in sides[cylinder.tag])
        left = _both_left(tuple(each for each in worn if each is not cylinder), assessment)
        functions, stage = _functions_without(stages, assessment), sides[cylinder.tag][0].tag
        yield Loss(MANIFOLD_LEAK, number, manifold.tag, stage, functions, *left, (), (), side=cylinder.tag)


TWO_SIDES = 2
"""A manifold has a cylinder at either side of its isolator."""


def _gives_breath(stage: FirstStage, kit: ResolvedKit) -> bool:
    feeds = fed_from(kit)
    return any(isinstance(item, SecondStage) and stage.tag in feeds.get(item.tag, ()) for item in kit.items)


def _both_left(usable: tuple[Cylinder, ...], assessment: Assessment) -> tuple[Figure | None, Figure | None]:
    """Give the part of the gas carried that cylinders hold, and what of it can be breathed at the greatest depth."""
    breathable = tuple(cylinder for cylinder in usable if _is_breathable(cylinder, assessment))
    return _share_of(usable, assessment), _share_of(breathable, assessment)


# ---- gas that is left ----


def _behind(stages: Iterable[FirstStage], kit: ResolvedKit) -> tuple[Cylinder, ...]:
    """Give the cylinders whose gas reaches any of the first stages, in the order of the kit."""
    tags = {cylinder.tag for stage in stages for cylinder in cylinders_behind(stage, kit)}
    return tuple(item for item in kit.items if isinstance(item, Cylinder) and item.tag in tags)


def _others(stage: FirstStage, kit: ResolvedKit) -> tuple[FirstStage, ...]:
    return tuple(other for other in first_stages_of(kit) if other is not stage)


def _shut_in_with(stage: FirstStage, kit: ResolvedKit) -> tuple[Cylinder, ...]:
    usable = _behind(_others(stage, kit), kit)
    return tuple(cylinder for cylinder in cylinders_behind(stage, kit) if cylinder not in usable)


def _gas_left(stage: FirstStage, assessment: Assessment, *, at_depth: bool) -> Figure | None:
    """Give the part of the gas carried that is left; at depth, only what can be breathed there."""
    kit = assessment.kit
    if not all(cylinders_behind(each, kit) for each in first_stages_of(kit)):
        return None
    usable = _behind(_others(stage, kit), kit)
    if at_depth:
        usable = tuple(cylinder for cylinder in usable if _is_breathable(cylinder, assessment))
    return _share_of(usable, assessment)


def _share_of(some: tuple[Cylinder, ...], assessment: Assessment) -> Figure | None:
    """Give the part of the gas carried that some cylinders hold; None where one is not known."""
    kit, water = assessment.kit, assessment.water
    left, everything = _gas_of(some, water), _gas_of(_behind(first_stages_of(kit), kit), water)
    return _share(left, everything) if left and everything and everything.value > 0.0 else None


def _gas_of(cylinders: tuple[Cylinder, ...], water: Water) -> Figure | None:
    """Give the filling of cylinders [mol], since their gases differ; None where one of them is not known."""
    vessels = _known(cylinders, water)
    if len(vessels) < len(cylinders):
        return None
    fillings = (
        scaled(gas_in(vessel, vessel.filled_pa, filling_temperature(vessel), "filling"), 1.0 / molar_mass(vessel.mix))
        for vessel in vessels
    )
    return total(fillings, "filling of the cylinders")


def _share(part: Figure, whole: Figure) -> Figure:
    """Give a part over the whole that it is a part of; what both have in common cancels."""
    share = part.value / whole.value
    sources = {**part.components, **whole.components}
    components = {
        source: (part.components.get(source, 0.0) - share * whole.components.get(source, 0.0)) / whole.value
        for source in sources
    }
    return Figure(share, components, "filling of the cylinders, by amount of gas")


def _known(cylinders: tuple[Cylinder, ...], water: Water) -> list[Vessel]:
    return [vessel for cylinder in cylinders if (vessel := work_out_vessel(cylinder, water))]


# ---- time to empty ----


def time_through(number: int, assessment: Assessment) -> Range | None:
    """Give how long a burst of one hose takes to empty its cylinders at the greatest depth [s].

    None where a cylinder is not known, and for a hose that leaves no first stage.
    """
    hose = assessment.kit.items[number]
    if not isinstance(hose, Hose):
        return None
    at = split_port(hose.from_ or "")[0]
    stage = next((each for each in first_stages_of(assessment.kit) if each.tag == at), None)
    return [*_emptyings(hose, stage, assessment)][-1].time if stage else None


def bore_of(hose: Hose) -> float:
    """Give the inner diameter of a hose, its own or as usual for its body [m]."""
    return hose.bore_m or catalogue().bodies[service_of(hose), hose.body].bore.value


def _emptyings(hose: Hose, stage: FirstStage, assessment: Assessment) -> Iterator[Emptying]:
    """Work out the emptying at the surface and at the greatest depth."""
    kit, water = assessment.kit, assessment.water
    cylinders = cylinders_behind(stage, kit)
    vessels = _known(cylinders, water)
    is_known = bool(vessels) and len(vessels) == len(cylinders)
    bore = bore_of(hose)
    for depth in (0.0, deepest_of(kit)):
        ambient = pressure_at_depth(depth, water.density.value)
        yield Emptying(depth, time_to_empty(_service_at(hose), bore, vessels, ambient) if is_known else None)
