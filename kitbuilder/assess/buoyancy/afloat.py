"""Diver and kit in the water at one moment: everything that weighs or floats, added up."""

from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.body import Body, assess_body, body_buoyancy
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, filling_temperature, gas_in, work_out_vessel
from kitbuilder.assess.buoyancy.scales import FRESH_KG_M3
from kitbuilder.assess.buoyancy.suit_weight import FoamWeight, suit_gas, weigh_suit
from kitbuilder.assess.buoyancy.thing_weight import foam_of, lead_mass, weigh_lead, weigh_thing
from kitbuilder.assess.figures import Figure, scaled, total, widen
from kitbuilder.assess.fit.hose_figures import work_out_hose
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.things import Cylinder, Drysuit, Hose, Jacket, Lead, Suit, Thing, Wing
from kitbuilder.physics.buoyancy import LEAD_DENSITY_KG_M3
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.physics.suit import HIGHEST_PA, foam_left

FILLED, TURN, RESERVE = "filled", "turn", "reserve"
"""How far the gas is used; else a pressure is given, or a part used."""


class Used(NamedTuple):
    """A part of the gas between filling and reserve that is used, the same of every cylinder."""

    part: float


Gas = str | float | Used
"""`FILLED`, `TURN` or `RESERVE`; what the gauges of all cylinders show [Pa]; or the part that is used."""


class Switches(NamedTuple):
    """What may be asked on top of the kit as it is."""

    wing_full: bool = False
    suit_flooded: bool = False
    stages_lost: bool = False
    lead_dropped: bool = False


AS_IT_IS = Switches()


class Part(NamedTuple):
    """One thing, or the body, that weighs or floats."""

    thing: int | None
    """Its number in the kit; None for the body."""
    floats: Figure
    """At the surface, without the gas of a cylinder [kgf]."""
    foam: Figure | None = None
    """Lift of its foam at the surface, which depth takes away [kgf]."""
    vessel: Vessel | None = None


class Afloat(NamedTuple):
    """All parts of a diver in a kit, in one water."""

    kit: ResolvedKit
    water: Water
    body: Body
    parts: tuple[Part, ...]
    """The body first, then the things; lead is not among them."""
    lead_kg: float
    droppable_kg: float
    lift: Figure | None
    """Of all bladders, full [kgf]."""
    suit_gas: Figure | None
    """Lift of the gas in drysuits [kgf]."""
    left_out: tuple[int, ...]
    """Numbers of the things of which nothing is known."""
    still: Figure
    """The sum of the parts at the surface, without lead and without gas [kgf]."""
    foam: Figure
    """The sum of the foam [kgf]."""

    @property
    def vessels(self) -> tuple[tuple[int, Vessel], ...]:
        """The cylinders with their numbers."""
        return tuple((part.thing, part.vessel) for part in self.parts if part.vessel and part.thing is not None)


def put_afloat(kit: ResolvedKit, water: Water) -> Afloat:
    """Everything that weighs or floats, worked out for a water."""
    body = assess_body(kit.linked.diver)
    parts, left_out = [Part(None, body_buoyancy(body, water))], []
    for number, thing in enumerate(kit.things):
        if isinstance(thing, Lead):
            continue
        part = _part(number, thing, water, body)
        if part is None:
            left_out.append(number)
        else:
            parts.append(part)
    lead = [thing for thing in kit.things if isinstance(thing, Lead)]
    return Afloat(
        kit,
        water,
        body,
        tuple(parts),
        sum(map(lead_mass, lead)),
        sum(lead_mass(piece) for piece in lead if piece.droppable),
        _sum(_lifts(kit, water)),
        _sum([gas for thing in kit.things if isinstance(thing, Drysuit) and (gas := suit_gas(thing, water))]),
        tuple(left_out),
        total((part.floats for part in parts), "all that weighs or floats"),
        total((part.foam for part in parts if part.foam), "foam"),
    )


def float_of(
    afloat: Afloat,
    depth_m: float,
    gas: Gas,
    lead_kg: float | None = None,
    switches: Switches = AS_IT_IS,
) -> Figure:
    """How all of it floats together, the wing empty unless switched [kgf].

    Args:
        afloat: Diver and kit.
        depth_m: Where.
        gas: How much of it is left.
        lead_kg: All lead; the kit's when None.
        switches: What else is asked.
    """
    lead = afloat.lead_kg if lead_kg is None else lead_kg
    if switches.lead_dropped:
        lead = max(0.0, lead - afloat.droppable_kg)
    figures = [afloat.still, weigh_lead(lead, afloat.water).buoyancy, _squeeze(afloat, depth_m)]
    for number, vessel in afloat.vessels:
        if switches.stages_lost and is_stage(afloat.kit, number):
            figures.append(scaled(vessel.empty.buoyancy, -1))
        else:
            figures.append(scaled(gas_at(vessel, gas, afloat.water), -1))
    if switches.wing_full and afloat.lift:
        figures.append(afloat.lift)
    if switches.suit_flooded and afloat.suit_gas:
        figures.append(scaled(afloat.suit_gas, -1))
    return total(figures, "all that weighs or floats")


def gas_at(vessel: Vessel, gas: Gas, water: Water) -> Figure:
    """Mass of the gas in a cylinder at a moment of the dive [kg]: filled in the air, later as cold as the water."""
    if gas == FILLED:
        return gas_in(vessel, vessel.filled_pa, filling_temperature(vessel), "filling")
    if isinstance(gas, Used):
        return gas_in(vessel, used_pressure(vessel, gas), water.temperature_k, "gas on the way")
    if not isinstance(gas, str):
        return gas_in(vessel, gas, water.temperature_k, f"{gas / 1e5:.0f} bar")
    pressure = vessel.turn_pa if gas == TURN else vessel.reserve_pa
    return gas_in(vessel, pressure, water.temperature_k, gas)


def used_pressure(vessel: Vessel, used: Used) -> float:
    """What the gauge shows when a part is used [Pa]."""
    return vessel.filled_pa + used.part * (vessel.reserve_pa - vessel.filled_pa)


def part_float(afloat: Afloat, part: Part, depth_m: float, gas: Gas) -> Figure:
    """How one part floats at a moment of the dive [kgf]."""
    figures = [part.floats]
    if part.foam is not None:
        figures.append(_squeezed(part.foam, depth_m, afloat.water))
    if part.vessel is not None:
        figures.append(scaled(gas_at(part.vessel, gas, afloat.water), -1))
    return total(figures, part.floats.origin) if len(figures) > 1 else part.floats


def is_stage(kit: ResolvedKit, number: int) -> bool:
    """Whether a thing is a cylinder that may be handed off or lost."""
    thing = kit.things[number]
    return isinstance(thing, Cylinder) and thing.carried == "stage"


def lead_sinks(water: Water) -> float:
    """Weight in water of a kilogram of lead [kgf]."""
    return 1.0 - water.density.value / LEAD_DENSITY_KG_M3


def _part(number: int, thing: Thing, water: Water, body: Body) -> Part | None:
    if isinstance(thing, Cylinder):
        vessel = work_out_vessel(thing, water)
        return Part(number, vessel.empty.buoyancy, vessel=vessel) if vessel else None
    if isinstance(thing, Suit):
        suit: FoamWeight = weigh_suit(thing, water, body)
        return Part(number, suit.weight.buoyancy, suit.foam)
    if isinstance(thing, Hose):
        return Part(number, work_out_hose(number, thing, water).weight.buoyancy)
    weight = weigh_thing(thing, water)
    return Part(number, weight.buoyancy, foam_of(thing, weight)) if weight else None


def _squeeze(afloat: Afloat, depth_m: float) -> Figure:
    return _squeezed(afloat.foam, depth_m, afloat.water)


def _squeezed(foam: Figure, depth_m: float, water: Water) -> Figure:
    """What depth takes from the lift of foam; what the sources say of it differs, and that is its spread."""
    left, spread = _foam_left(depth_m, water)
    shares = {source: share * (left - 1.0) for source, share in foam.shares.items()}
    widen(shares, "squeeze of foam", spread * foam.value)
    return Figure(foam.value * (left - 1.0), shares, "foam under pressure")


@lru_cache(maxsize=512)
def _foam_left(depth_m: float, water: Water) -> tuple[float, float]:
    # Only 100 m of a salt lake press harder than foam is described for; it is as flat as it gets there.
    return foam_left(min(pressure_at_depth(depth_m, water.density.value), HIGHEST_PA))


def _lifts(kit: ResolvedKit, water: Water) -> list[Figure]:
    """Lift of each bladder: its volume is what its maker filled in fresh water."""
    lifts = []
    for thing in kit.things:
        if not isinstance(thing, (Wing, Jacket)):
            continue
        preset = catalogue().presets.get((thing.kind, thing.preset or ""))
        if thing.lift_kgf is not None:
            spread = catalogue().limits["lift_tolerance"].value * thing.lift_kgf
            lift = Figure(thing.lift_kgf, {f"lift of {thing.tag}": spread}, "as the kit file says")
        elif preset and preset.lift:
            lift = Figure(preset.lift.value, {f"lift of {thing.tag}": preset.lift.spread}, f"preset {preset.name}")
        else:
            continue
        lifts.append(scaled(lift, water.density.value / FRESH_KG_M3))
    return lifts


def _sum(figures: list[Figure]) -> Figure | None:
    return total(figures, figures[0].origin) if figures else None
