"""Trim: where things pull on a diver who lies face down, and what levels him."""

from typing import NamedTuple

from kitbuilder.assess.buoyancy.afloat import (
    AS_IT_IS,
    FILLED,
    RESERVE,
    Afloat,
    Part,
    Switches,
    is_stage,
    lead_sinks,
    part_float,
)
from kitbuilder.assess.buoyancy.suit_weight import suit_gas
from kitbuilder.assess.buoyancy.thing_weight import lead_mass
from kitbuilder.assess.figures import Figure, scaled, total, widen
from kitbuilder.catalogue import Place, catalogue
from kitbuilder.kit.things import Cylinder, Drysuit, Jacket, Lead, Suit, Thing, Wing
from kitbuilder.physics.trim import is_steady, rest_pitch, shift_to_level


class Spot(NamedTuple):
    """Where one thing pulls, and how much."""

    thing: int | None
    """None for the body."""
    along_m: float
    """Below the shoulders, towards the feet [m]."""
    behind_m: float
    """Behind the middle of the body, towards the back [m]."""
    along_spread_m: float
    filled: Figure
    """How it floats with the gas filled, at the stop [kgf]."""
    reserve: Figure
    """The same with the reserve."""


class Pitch(NamedTuple):
    """How the diver comes to lie at a moment, held up by the wing."""

    gas: str
    kit: Figure
    """Turning moment of the kit about the gas of the wing: plus puts the head down [kgf m]."""
    body: Figure
    """The same of the body."""
    moment: Figure
    """Of both together: which way a diver turns who lies level."""
    pitch_rad: float
    """At which nothing turns him; plus is head up."""
    pitch_low_rad: float
    pitch_high_rad: float
    is_steady: bool
    """Whether he comes to rest there. If not he turns away from it, and lies level by his fins only."""


class Shift(NamedTuple):
    """What would level the diver at the stop."""

    lead_m: float | None
    """How far all lead would have to move: plus towards the head; None without lead."""
    pieces: float | None
    """Kilograms of lead to move from the waist to the upper cylinder (plus) or to the ankles (minus)."""


class Trim(NamedTuple):
    """Trim from the beginning of the dive to its end."""

    spots: tuple[Spot, ...]
    start: Pitch
    end: Pitch
    shift: Shift


def assess_trim(afloat: Afloat, stop_m: float, switches: Switches = AS_IT_IS) -> Trim:
    """The trim of diver and kit at the stop, gas filled and with the reserve, with what is asked on top."""
    spots = tuple(_spots(afloat, stop_m, switches))
    start, end = _pitch(afloat, spots, FILLED), _pitch(afloat, spots, RESERVE)
    return Trim(spots, start, end, _shift(afloat, end, switches))


def place_of(thing: Thing, layout: str) -> Place:
    """Where a thing sits: as the file says, as its preset, or as usual in the layout."""
    trade = catalogue()
    if thing.place:
        return trade.places[thing.place]
    preset = trade.presets.get((thing.kind, getattr(thing, "preset", None) or ""))
    if preset and preset.place:
        return trade.places[preset.place]
    if isinstance(thing, Suit):
        return trade.places[trade.cuts[thing.cut].place]
    kind = carried_as(thing, layout) if isinstance(thing, Cylinder) else thing.kind
    return trade.places[trade.usual_places[layout][kind]]


def carried_as(cylinder: Cylinder, layout: str) -> str:
    """How a cylinder is carried."""
    return cylinder.carried or ("side" if layout == "sidemount" else "back")


def _spots(afloat: Afloat, stop_m: float, switches: Switches) -> list[Spot]:
    spots = []
    for part in afloat.parts:
        if switches.stages_lost and part.thing is not None and is_stage(afloat.kit, part.thing):
            continue
        along, behind, spread = _whereabouts(afloat, part)
        forces = [part_float(afloat, part, stop_m, gas) for gas in (FILLED, RESERVE)]
        if switches.suit_flooded and part.thing is not None:
            forces = [_flooded(afloat, part.thing, force) for force in forces]
        spots.append(Spot(part.thing, along, behind, spread, *forces))
    for number, thing in enumerate(afloat.kit.things):
        if isinstance(thing, Lead) and not (switches.lead_dropped and thing.droppable):
            along, behind, spread = _where(thing, afloat)
            sinking = Figure(-lead_mass(thing) * lead_sinks(afloat.water), {}, "as cast on it")
            spots.append(Spot(number, along, behind, spread, sinking, sinking))
    return spots


def _flooded(afloat: Afloat, number: int, force: Figure) -> Figure:
    """The lift of a drysuit less that of its gas."""
    thing = afloat.kit.things[number]
    gas = suit_gas(thing, afloat.water) if isinstance(thing, Drysuit) else None
    return total((force, scaled(gas, -1)), force.origin) if gas else force


def _whereabouts(afloat: Afloat, part: Part) -> tuple[float, float, float]:
    if part.thing is None:  # where its breath floats; its own moment is counted apart
        chest = catalogue().places["chest"]
        return chest.along.value * afloat.body.stature.value, 0.0, 0.05
    return _where(afloat.kit.things[part.thing], afloat, part)


def _where(thing: Thing, afloat: Afloat, part: Part | None = None) -> tuple[float, float, float]:
    place, stature = place_of(thing, afloat.kit.header.layout), afloat.body.stature.value
    along, behind = place.along.value * stature, place.behind.value
    spread = place.along.spread * stature
    vessel = part.vessel if part else None
    if vessel and place.hangs_from:
        along, behind = along + vessel.length_m / 2, behind + vessel.diameter_m / 2
    if thing.along_m is not None:
        along, spread = thing.along_m, catalogue().limits["seat_spread"].value
    return along, behind if thing.behind_m is None else thing.behind_m, spread


def _pitch(afloat: Afloat, spots: tuple[Spot, ...], gas: str) -> Pitch:
    forces = [spot.filled if gas == FILLED else spot.reserve for spot in spots]
    wing_along, wing_behind = _wing(afloat)
    # The wing makes him neutral, so moments are taken about it: what hangs there has no arm.
    kit_shares, kit, across = dict[str, float](), 0.0, 0.0
    body = Figure(0.0, {}, "")
    for spot, force in zip(spots, forces, strict=True):
        arm = spot.along_m - wing_along
        across += force.value * (spot.behind_m - wing_behind)
        if spot.thing is None:
            body = _body_moment(afloat, force, arm)
            continue
        kit += force.value * arm
        for source, share in force.shares.items():
            widen(kit_shares, source, share * arm)
        name = afloat.kit.things[spot.thing].tag
        widen(kit_shares, f"where {name} sits", force.value * spot.along_spread_m)
    of_kit = Figure(kit, kit_shares, "things at their places")
    moment = total((of_kit, body), "kit and body")
    low, high = (rest_pitch(moment.value + sign * moment.spread, across) for sign in (1, -1))
    pitch = rest_pitch(moment.value, across)
    steady = is_steady(moment.value, across)
    return Pitch(gas, of_kit, body, moment, pitch, min(low, high), max(low, high), steady)


def _body_moment(afloat: Afloat, force: Figure, arm: float) -> Figure:
    """What the body turns by: its displaced water pulls nearer to the head than its weight."""
    offset, mass = catalogue().body.lung_offset, afloat.body.mass.value
    shares = {source: share * arm for source, share in force.shares.items()}
    widen(shares, f"offset of the lungs of {afloat.body.who}", mass * offset.spread)
    return Figure(force.value * arm - mass * offset.value, shares, "legs sink, lungs float")


def _wing(afloat: Afloat) -> tuple[float, float]:
    """Where the gas of the bladder pulls; at the back when there is none."""
    for thing in afloat.kit.things:
        if isinstance(thing, (Wing, Jacket)):
            along, behind, _ = _where(thing, afloat)
            return along, behind
    back = catalogue().places["back"]
    return back.along.value * afloat.body.stature.value, back.behind.value


def _shift(afloat: Afloat, end: Pitch, switches: Switches) -> Shift:
    moment, sinks = end.moment.value, lead_sinks(afloat.water)
    carried = max(0.0, afloat.lead_kg - afloat.droppable_kg) if switches.lead_dropped else afloat.lead_kg
    lead = shift_to_level(moment, carried * sinks) if carried else None
    places, stature = catalogue().places, afloat.body.stature.value
    target = places["upper cylinder" if moment < 0 else "ankles"]
    arm = abs(places["waist"].along.value - target.along.value) * stature
    return Shift(lead, -moment / (arm * sinks))
