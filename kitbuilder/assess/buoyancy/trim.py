"""Trim: where items pull on a diver who lies face down, and what levels him."""

from math import radians
from typing import NamedTuple

from kitbuilder.assess.assembly import gone_with_stages
from kitbuilder.assess.buoyancy.buoyancy_model import (
    AS_IT_IS,
    FILLED,
    RESERVE,
    BuoyancyModel,
    BuoyancyPart,
    Switches,
    lead_sinks,
    part_buoyancy,
)
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.buoyancy.suit_weight import suit_gas
from kitbuilder.assess.figures import Figure, add_component, difference, scaled, source_named, total
from kitbuilder.catalogue import Place, catalogue
from kitbuilder.kit.items import Cylinder, Drysuit, Item, Jacket, Lead, Suit, Wing
from kitbuilder.physics.trim import is_steady, rest_pitch, shift_to_level

UNSURE_RAD = 1.6
"""A pitch that may be off by so much, a right angle, is not worth naming."""
HIGHEST, LOWEST = "shoulders", "ankles"
"""The places between which lead can be carried; chosen, no source."""
LEVEL_RAD = radians(0.5)
"""A pitch below this is called level: nobody sees half a degree."""


class Pull(NamedTuple):
    """Where one item pulls, and how much."""

    item: int | None
    """None for the body."""
    along: Figure
    """Below the shoulders, towards the feet [m]."""
    behind_m: float
    """Behind the middle of the body, towards the back [m]."""
    filled: Figure
    """How it floats with the gas filled, at the stop [kgf]."""
    reserve: Figure
    """The same with the reserve."""


class Turn(NamedTuple):
    """A turning moment without its sign."""

    head: str
    """Which way it turns the head of a level diver: "down" or "up"."""
    size: Figure
    """[kgf m]"""


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

    @property
    def may_be_level(self) -> bool:
        """Whether nothing may turn a level diver, within what is known."""
        return abs(self.moment.value) <= self.moment.spread

    @property
    def is_unsure(self) -> bool:
        """Whether it is too uncertain for any pitch to be shown."""
        return self.pitch_high_rad - self.pitch_low_rad > UNSURE_RAD


def turn_of(moment: Figure) -> Turn:
    """Say which way a moment turns a level diver."""
    return Turn("down", moment) if moment.value > 0 else Turn("up", scaled(moment, -1))


def is_level(pitch_rad: float) -> bool:
    """Say whether a pitch is as good as level."""
    return abs(pitch_rad) < LEVEL_RAD


class Shift(NamedTuple):
    """What would level the diver at the stop."""

    lead_m: float | None
    """How far all lead would have to move: plus towards the head; None without lead."""
    pieces: float | None
    """Kilograms of lead to move from the waist to the upper cylinder (plus) or to the ankles (minus)."""
    leaves_body: bool = False
    """Whether all lead so moved would leave where lead can be carried."""
    at_waist_kg: float = 0.0
    """The lead that the kit carries at the waist."""

    @property
    def target(self) -> str:
        """The place to which pieces move from the waist."""
        return "upper cylinder" if (self.pieces or 0.0) > 0 else "ankles"

    @property
    def all_lead_will_do(self) -> bool:
        """Whether moving all lead would level the diver and leave it where lead can be carried."""
        return self.lead_m is not None and not self.leaves_body

    @property
    def pieces_will_do(self) -> bool:
        """Whether the kit carries the pieces that would have to move."""
        return self.pieces is not None and abs(self.pieces) <= self.at_waist_kg


class Trim(NamedTuple):
    """Trim from the beginning of the dive to its end."""

    spots: tuple[Pull, ...]
    start: Pitch
    end: Pitch
    shift: Shift


def assess_trim(buoyancy_model: BuoyancyModel, stop_m: float, switches: Switches = AS_IT_IS) -> Trim:
    """Give the trim of diver and kit at the stop, gas filled and with the reserve, with what is asked on top."""
    spots = tuple(_spots(buoyancy_model, stop_m, switches))
    start, end = _pitch(buoyancy_model, spots, FILLED), _pitch(buoyancy_model, spots, RESERVE)
    return Trim(spots, start, end, _shift(buoyancy_model, end, switches))


def place_of(item: Item, layout: str) -> Place:
    """Say where an item sits: as the file says, as its preset, or as usual in the layout."""
    trade = catalogue()
    if item.place:
        return trade.places[item.place]
    preset = trade.presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset and preset.place:
        return trade.places[preset.place]
    if isinstance(item, Suit):
        return trade.places[trade.cuts[item.cut].place]
    kind = carried_as(item, layout) if isinstance(item, Cylinder) else item.kind
    return trade.places[trade.usual_places[layout][kind]]


def carried_as(cylinder: Cylinder, layout: str) -> str:
    """Say how a cylinder is carried."""
    return cylinder.carried or ("side" if layout == "sidemount" else "back")


def _spots(buoyancy_model: BuoyancyModel, stop_m: float, switches: Switches) -> list[Pull]:
    spots = []
    lost = gone_with_stages(buoyancy_model.kit) if switches.stages_lost else frozenset()
    for part in buoyancy_model.parts:
        if part.item in lost:
            continue
        along, behind = _whereabouts(buoyancy_model, part)
        filled = part_buoyancy(buoyancy_model, part, stop_m, FILLED)
        # Only a cylinder has gas that is used.
        reserve = part_buoyancy(buoyancy_model, part, stop_m, RESERVE) if part.vessel else filled
        forces = [filled, reserve]
        if switches.suit_flooded and part.item is not None:
            forces = [_flooded(buoyancy_model, part.item, force) for force in forces]
        spots.append(Pull(part.item, along, behind, *forces))
    worn = _lead_worn(buoyancy_model, switches)
    for number, item in enumerate(buoyancy_model.kit.items):
        if isinstance(item, Lead) and item in worn:
            along, behind = _where(item, buoyancy_model)
            sinking = Figure(-lead_mass(item) * lead_sinks(buoyancy_model.water), {}, "as cast on it")
            spots.append(Pull(number, along, behind, sinking, sinking))
    return spots


def _flooded(buoyancy_model: BuoyancyModel, number: int, force: Figure) -> Figure:
    """Give the lift of a drysuit less that of its gas."""
    item = buoyancy_model.kit.items[number]
    gas = suit_gas(item, buoyancy_model.water) if isinstance(item, Drysuit) else None
    return total((force, scaled(gas, -1)), force.origin) if gas else force


def _whereabouts(buoyancy_model: BuoyancyModel, part: BuoyancyPart) -> tuple[Figure, float]:
    if part.item is None:  # where its breath floats; its own moment is counted apart
        breath = f"the breath of {buoyancy_model.body.who}"
        return _seat(catalogue().places["chest"], breath, buoyancy_model), 0.0
    return _where(buoyancy_model.kit.items[part.item], buoyancy_model, part)


def _where(item: Item, buoyancy_model: BuoyancyModel, part: BuoyancyPart | None = None) -> tuple[Figure, float]:
    """Give how far below the shoulders and how far behind the middle of the body an item sits [m]."""
    place, vessel = place_of(item, buoyancy_model.kit.header.layout), part.vessel if part else None
    along, behind = _seat(place, item.tag, buoyancy_model), place.behind.expected
    if vessel and place.hangs_from:
        along = along._replace(value=along.value + vessel.length_m / 2)
        behind += vessel.diameter_m / 2
    if item.along_m is not None:
        along = Figure(item.along_m, {where_sits(item.tag): catalogue().limits["seat_spread"].value}, "kit file")
    return along, behind if item.behind_m is None else item.behind_m


def where_sits(tag: str) -> str:
    """Name the source of spread that is the place of an item on the diver."""
    return f"where {tag} sits"


def _seat(place: Place, tag: str, buoyancy_model: BuoyancyModel) -> Figure:
    """Give how far below the shoulders a place lies on a diver [m]: a part of a stature that is not exact either."""
    stature = buoyancy_model.body.stature
    components = {source: share * place.along.expected for source, share in stature.components.items()}
    add_component(components, source_named(where_sits(tag), place.along), place.along.spread * stature.value)
    return Figure(place.along.expected * stature.value, components, f"place {place.name}")


def _pitch(buoyancy_model: BuoyancyModel, spots: tuple[Pull, ...], gas: str) -> Pitch:
    forces = [spot.filled if gas == FILLED else spot.reserve for spot in spots]
    wing_along, wing_behind = _wing(buoyancy_model)
    # The wing makes him neutral, so moments are taken about it: what hangs there has no arm.
    kit_shares, kit, across = dict[str, float](), 0.0, 0.0
    body = Figure(0.0, {}, "")
    for spot, force in zip(spots, forces, strict=True):
        arm = difference(spot.along, wing_along, "")
        across += force.value * (spot.behind_m - wing_behind)
        if spot.item is None:
            body = _body_moment(buoyancy_model, force, arm)
            continue
        kit += force.value * arm.value
        _add_moment(kit_shares, force, arm)
    of_kit = Figure(kit, kit_shares, "items at their places")
    moment = total((of_kit, body), "kit and body")
    spread = moment.spread
    low, high = (rest_pitch(moment.value + sign * spread, across) for sign in (1, -1))
    pitch = rest_pitch(moment.value, across)
    steady = is_steady(moment.value, across)
    return Pitch(gas, of_kit, body, moment, pitch, min(low, high), max(low, high), steady)


def _add_moment(components: dict[str, float], force: Figure, arm: Figure) -> None:
    """Add what a force by its arm may be off by."""
    for source, share in force.components.items():
        add_component(components, source, share * arm.value)
    for source, share in arm.components.items():
        add_component(components, source, share * force.value)


def _body_moment(buoyancy_model: BuoyancyModel, force: Figure, arm: Figure) -> Figure:
    """Say what the body turns by: its displaced water pulls nearer to the head than its weight."""
    offset, mass = catalogue().body.lung_offset, buoyancy_model.body.mass.value
    components = dict[str, float]()
    _add_moment(components, force, arm)
    source = source_named(f"offset of the lungs of {buoyancy_model.body.who}", offset)
    add_component(components, source, mass * offset.spread)
    return Figure(force.value * arm.value - mass * offset.expected, components, "legs sink, lungs float")


def _wing(buoyancy_model: BuoyancyModel) -> tuple[Figure, float]:
    """Say where the gas of the bladder pulls; at the back when there is none."""
    for item in buoyancy_model.kit.items:
        if isinstance(item, (Wing, Jacket)):
            return _where(item, buoyancy_model)
    back = catalogue().places["back"]
    return _seat(back, "the bladder", buoyancy_model), back.behind.expected


def _shift(buoyancy_model: BuoyancyModel, end: Pitch, switches: Switches) -> Shift:
    moment, sinks = end.moment.value, lead_sinks(buoyancy_model.water)
    lead = _lead_worn(buoyancy_model, switches)
    carried = sum(lead_mass(item) for item in lead)
    lead_m = shift_to_level(moment, carried * sinks) if carried else None
    places, stature = catalogue().places, buoyancy_model.body.stature.value
    waist, target = places["waist"], places["upper cylinder" if moment < 0 else "ankles"]
    arm = abs(waist.along.expected - target.along.expected) * stature
    layout = buoyancy_model.kit.header.layout
    at_waist = sum(lead_mass(item) for item in lead if item.along_m is None and place_of(item, layout) is waist)
    leaves = lead_m is not None and _leaves_body(buoyancy_model, lead, lead_m)
    return Shift(lead_m, -moment / (arm * sinks), leaves, at_waist)


def _lead_worn(buoyancy_model: BuoyancyModel, switches: Switches) -> tuple[Lead, ...]:
    """List the lead of a kit, less what is dropped."""
    lead = (item for item in buoyancy_model.kit.items if isinstance(item, Lead))
    return tuple(item for item in lead if not (switches.lead_dropped and item.droppable))


def _leaves_body(buoyancy_model: BuoyancyModel, lead: tuple[Lead, ...], shift_m: float) -> bool:
    """Say whether any of the lead would come to lie beyond the shoulders (plus), or the ankles (minus)."""
    along_m = [_where(item, buoyancy_model)[0].value - shift_m for item in lead]
    places, stature = catalogue().places, buoyancy_model.body.stature.value
    if shift_m > 0:
        return min(along_m) < places[HIGHEST].along.expected * stature
    return max(along_m) > places[LOWEST].along.expected * stature
