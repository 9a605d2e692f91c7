"""Diver and kit in the water at one moment: everything that weighs or floats, added up."""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.assembly import STAGE, gone_with_stages, is_stage
from kitbuilder.assess.body import DiverBody, assess_body, body_buoyancy
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, filling_temperature, gas_in, work_out_vessel
from kitbuilder.assess.buoyancy.item_weight import foam_of, lead_mass, weigh_item, weigh_lead
from kitbuilder.assess.buoyancy.suit_weight import FoamWeight, suit_gas, weigh_suit
from kitbuilder.assess.figures import Figure, add_component, evenly_within, from_catalogue, scaled, total
from kitbuilder.assess.fit.hose_figures import weigh_in_kit
from kitbuilder.assess.scales import FRESH_KG_M3
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Item, Jacket, Lead, Lifting, Suit, Wing
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare
from kitbuilder.physics.buoyancy import LEAD_DENSITY_KG_M3
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.physics.suit import HIGHEST_PA, foam_left

FILLED, TURN, RESERVE = "filled", "turn", "reserve"
"""How far the gas is used; else a pressure is given, or a part used."""


class GasUsed(NamedTuple):
    """A part of the gas between filling and reserve that is used, the same of every cylinder."""

    part: float


class Gauges(NamedTuple):
    """What the gauges show at one moment."""

    worn_pa: float | None
    """Of the cylinders that are not stages; None for their reserve."""
    stages_pa: float | None
    """Of the stage cylinders; None for their reserve."""


GasLevel = str | float | GasUsed | Gauges
"""`FILLED`, `TURN` or `RESERVE`; what the gauges of all cylinders show [Pa]; the part that is used; or what the gauges
show of stages and of the others."""


class Switches(NamedTuple):
    """The changes that can be tried on a kit without editing its file."""

    wing_full: bool = False
    suit_flooded: bool = False
    stages_lost: bool = False
    lead_dropped: bool = False


AS_IT_IS = Switches()


class BuoyancyPart(NamedTuple):
    """One item, or the body, that weighs or floats."""

    item: int | None
    """Its number in the kit; None for the body."""
    floats: Figure
    """At the surface, without the gas of a cylinder [kgf]."""
    foam: Figure | None = None
    """Lift of its foam at the surface, which depth takes away [kgf]."""
    vessel: Vessel | None = None


class BuoyancyModel(NamedTuple):
    """All parts of a diver in a kit, in one water."""

    kit: ResolvedKit
    water: Water
    body: DiverBody
    parts: tuple[BuoyancyPart, ...]
    """The body first, then the items; lead and spares are not among them."""
    lead_kg: float
    droppable_kg: float
    lift: Figure | None
    """Of all bladders, full [kgf]."""
    suit_gas: Figure | None
    """Lift of the gas in drysuits [kgf]."""
    left_out: tuple[int, ...]
    """Numbers of the items of which nothing is known."""
    still: Figure
    """The sum of the parts at the surface, without lead and without gas [kgf]."""
    foam: Figure
    """The sum of the foam [kgf]."""

    @property
    def vessels(self) -> tuple[tuple[int, Vessel], ...]:
        """The cylinders with their numbers."""
        return tuple((part.item, part.vessel) for part in self.parts if part.vessel and part.item is not None)


def build_buoyancy_model(kit: ResolvedKit, water: Water) -> BuoyancyModel:
    """Gather everything that weighs or floats, worked out for a water."""
    body = assess_body(kit.linked.diver)
    parts, left_out = [BuoyancyPart(None, body_buoyancy(body, water))], []
    by_tag = {item.tag: item for item in kit.items}
    for number, item in enumerate(kit.items):
        if isinstance(item, Lead | Spare):
            continue
        part = _hose_part(number, item, water, by_tag) if isinstance(item, Hose) else _part(number, item, water, body)
        if part is None:
            left_out.append(number)
        else:
            parts.append(part)
    lead = [item for item in kit.items if isinstance(item, Lead)]
    return BuoyancyModel(
        kit,
        water,
        body,
        tuple(parts),
        sum(map(lead_mass, lead)),
        sum(lead_mass(piece) for piece in lead if piece.droppable),
        _sum(_lifts(kit, water)),
        _sum([gas for item in kit.items if isinstance(item, Drysuit) and (gas := suit_gas(item, water))]),
        tuple(left_out),
        total((part.floats for part in parts), "all that weighs or floats"),
        total((part.foam for part in parts if part.foam), "foam"),
    )


def total_buoyancy(
    buoyancy_model: BuoyancyModel,
    depth_m: float,
    gas: GasLevel,
    lead_kg: float | None = None,
    switches: Switches = AS_IT_IS,
) -> Figure:
    """Give the buoyancy of diver and kit together, the wing empty unless switched [kgf].

    Args:
        buoyancy_model: Diver and kit.
        depth_m: Where.
        gas: How much of it is left.
        lead_kg: All lead; the kit's when None.
        switches: What else is asked.
    """
    lead = buoyancy_model.lead_kg if lead_kg is None else lead_kg
    if switches.lead_dropped:
        lead = max(0.0, lead - buoyancy_model.droppable_kg)
    figures = [buoyancy_model.still, weigh_lead(lead, buoyancy_model.water).buoyancy, _squeeze(buoyancy_model, depth_m)]
    lost = gone_with_stages(buoyancy_model.kit) if switches.stages_lost else frozenset()
    for part in buoyancy_model.parts:
        if part.item in lost:
            figures.extend(scaled(figure, -1) for figure in _without_gas(buoyancy_model, part, depth_m))
        elif part.vessel:
            figures.append(scaled(gas_at(part.vessel, gas, buoyancy_model.water), -1))
    if switches.wing_full and buoyancy_model.lift:
        figures.append(buoyancy_model.lift)
    if switches.suit_flooded and buoyancy_model.suit_gas:
        figures.append(scaled(buoyancy_model.suit_gas, -1))
    return total(figures, "all that weighs or floats")


def gas_at(vessel: Vessel, gas: GasLevel, water: Water) -> Figure:
    """Give the mass of gas in a cylinder at a moment of the dive [kg]: filled in air, later as cold as the water."""
    if gas == FILLED:
        return gas_in(vessel, vessel.filled_pa, filling_temperature(vessel), "filling")
    if isinstance(gas, GasUsed):
        return gas_in(vessel, used_pressure(vessel, gas), water.temperature_k, "gas on the way")
    if isinstance(gas, Gauges):
        shown = gas.stages_pa if vessel.cylinder.carried == STAGE else gas.worn_pa
        return gas_at(vessel, RESERVE if shown is None else shown, water)
    if not isinstance(gas, str):
        return gas_in(vessel, gas, water.temperature_k, f"{gas / 1e5:.0f} bar")
    pressure = vessel.turn_pa if gas == TURN else vessel.reserve_pa
    return gas_in(vessel, pressure, water.temperature_k, gas)


def used_pressure(vessel: Vessel, used: GasUsed) -> float:
    """Say what the gauge shows when a part is used [Pa]."""
    return vessel.filled_pa + used.part * (vessel.reserve_pa - vessel.filled_pa)


def part_buoyancy(buoyancy_model: BuoyancyModel, part: BuoyancyPart, depth_m: float, gas: GasLevel) -> Figure:
    """Give the buoyancy of one part at a moment of the dive [kgf]."""
    figures = [part.floats]
    if part.foam is not None:
        figures.append(_squeezed(part.foam, depth_m, buoyancy_model.water))
    if part.vessel is not None:
        figures.append(scaled(gas_at(part.vessel, gas, buoyancy_model.water), -1))
    return total(figures, part.floats.origin) if len(figures) > 1 else part.floats


def bladder_of(kit: ResolvedKit) -> str:
    """Name the kind of item that holds the gas: "wing", "jacket", or nothing where there is neither."""
    kinds = {item.kind for item in kit.items}
    return next((kind for kind in (Wing.kind, Jacket.kind) if kind in kinds), "")


def switches_of(kit: ResolvedKit) -> tuple[str, ...]:
    """Name the switches that would change anything in a kit, the full bladder apart."""
    there = {
        "suit_flooded": any(isinstance(t, Drysuit) and (t.undersuit or t.suit_gas_m3) for t in kit.items),
        "lead_dropped": any(isinstance(t, Lead) and t.droppable for t in kit.items),
        "stages_lost": any(is_stage(kit, number) for number in range(len(kit.items))),
    }
    return tuple(name for name, would_change in there.items() if would_change)


def lead_sinks(water: Water) -> float:
    """Give the weight in water of a kilogram of lead [kgf]."""
    return 1.0 - water.density.value / LEAD_DENSITY_KG_M3


def _without_gas(buoyancy_model: BuoyancyModel, part: BuoyancyPart, depth_m: float) -> list[Figure]:
    """Give what a part adds to the sum at a depth, the gas of a cylinder apart [kgf]."""
    return [part.floats, *([_squeezed(part.foam, depth_m, buoyancy_model.water)] if part.foam else [])]


def _hose_part(number: int, hose: Hose, water: Water, by_tag: Mapping[str, Item]) -> BuoyancyPart:
    return BuoyancyPart(number, weigh_in_kit(hose, water, by_tag).buoyancy)


def _part(number: int, item: Item, water: Water, body: DiverBody) -> BuoyancyPart | None:
    if isinstance(item, Cylinder):
        vessel = work_out_vessel(item, water)
        return BuoyancyPart(number, vessel.empty.buoyancy, vessel=vessel) if vessel else None
    if isinstance(item, Suit):
        suit: FoamWeight = weigh_suit(item, water, body)
        return BuoyancyPart(number, suit.weight.buoyancy, suit.foam)
    weight = weigh_item(item, water)
    return BuoyancyPart(number, weight.buoyancy, foam_of(item, weight)) if weight else None


def _squeeze(buoyancy_model: BuoyancyModel, depth_m: float) -> Figure:
    return _squeezed(buoyancy_model.foam, depth_m, buoyancy_model.water)


def _squeezed(foam: Figure, depth_m: float, water: Water) -> Figure:
    """Give what depth takes from the lift of foam; how far the sources disagree bounds what it may be off."""
    left, spread = _foam_left(depth_m, water)
    components = {source: share * (left - 1.0) for source, share in foam.components.items()}
    add_component(components, *evenly_within("squeeze of foam", spread * foam.value))
    return Figure(foam.value * (left - 1.0), components, "foam under pressure")


@lru_cache(maxsize=512)
def _foam_left(depth_m: float, water: Water) -> tuple[float, float]:
    # Only 100 m of a salt lake press harder than foam is described for; it is as flat as it gets there.
    return foam_left(min(pressure_at_depth(depth_m, water.density.value), HIGHEST_PA))


def _lifts(kit: ResolvedKit, water: Water) -> list[Figure]:
    lifts = (lift_of(item, water) for item in kit.items if isinstance(item, Lifting))
    return [lift for lift in lifts if lift]


def lift_of(item: Lifting, water: Water) -> Figure | None:
    """Give the lift of a bladder [kgf], whose volume is what its maker filled in fresh water; None when not known."""
    preset = catalogue().presets.get((item.kind, item.preset or ""))
    if item.lift_kgf is not None:
        spread = catalogue().limits["lift_tolerance"].value * item.lift_kgf
        lift = Figure(item.lift_kgf, {f"lift of {item.tag}": spread}, "as the kit file says")
    elif preset and preset.lift:
        lift = from_catalogue(f"lift of {item.tag}", preset.lift, f"preset {preset.name}")
    else:
        return None
    return scaled(lift, water.density.value / FRESH_KG_M3)


def _sum(figures: list[Figure]) -> Figure | None:
    return total(figures, figures[0].origin) if figures else None
