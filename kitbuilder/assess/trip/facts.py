"""What travel asks of an item: what its file says, else what its preset says."""

from typing import NamedTuple

from kitbuilder.assess.figures import Figure, from_catalogue
from kitbuilder.catalogue.air_rules import REGULATOR_SET
from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.travel_facts import TravelFacts, travel_facts
from kitbuilder.kit.items import Cylinder, Hose, Item
from kitbuilder.kit.spare import Spare, in_hand
from kitbuilder.kit.travel import LITHIUM_ION, NO_BATTERY, Traveller
from kitbuilder.kit.trip import Luggage


class Battery(NamedTuple):
    """The batteries of an item, all alike."""

    type: str
    """One of `BATTERY_TYPES`."""
    low_j: float | None
    """The least energy that one may have [J]; None where nothing is known, or where it does not matter."""
    high_j: float | None
    pieces: int
    is_spare: bool
    """Whether they travel outside of any device."""
    is_given: bool
    """Whether a file gives the energy; else it is that of a preset, or nobody's."""

    @property
    def has_energy(self) -> bool:
        """Whether its energy decides where it may travel."""
        return self.type == LITHIUM_ION


class Travelling(NamedTuple):
    """What travel asks of an item."""

    battery: Battery | None
    is_lamp: bool
    is_breakable: bool
    is_sharp: bool
    vital_as: str
    """What it is, a word of `VITAL`, where the dive cannot be done without it; else empty."""
    is_cylinder: bool
    cartridges: int
    """Gas cartridges in it."""
    is_life_jacket: bool
    """Whether they are those of a self-inflating life jacket."""
    wet: Value | None
    """Water on the way home, as a part of the dry mass."""


def facts_of(item: Item) -> TravelFacts:
    """Give what the catalogue says of an item."""
    return travel_facts().of(item.kind, getattr(item, "preset", None))


def travelling(item: Item | Luggage) -> Travelling:
    """Say what travel asks of an item of a kit, or of other luggage."""
    if isinstance(item, Luggage):
        return _luggage(item)
    if isinstance(item, Spare):
        # The dive can be done without it, and it stays dry.
        return travelling(item.item)._replace(vital_as="", wet=None)
    facts = facts_of(item)
    given = item if isinstance(item, Traveller) else None
    return Travelling(
        battery=_battery(given, facts),
        is_lamp=facts.is_lamp,
        is_breakable=_said(given.breakable if given else None, facts.is_breakable),
        is_sharp=_said(given.sharp if given else None, facts.is_sharp),
        vital_as=_vital_as(item, facts),
        is_cylinder=isinstance(item, Cylinder),
        cartridges=0,
        is_life_jacket=False,
        wet=facts.wet,
    )


def wet_mass(item: Item, dry: Figure) -> Figure | None:
    """Give the water that an item still holds on the way home [kg]; None where it holds none worth counting.

    The spread is that of the part of water; how certain the dry mass is hardly changes it. All items of one preset or
    kind share one source: a damp climate dries none of them.
    """
    facts = facts_of(item)
    if facts.wet is None:
        return None
    source = f"water in the {facts.name} on the way home"
    part = from_catalogue(source, facts.wet)
    return Figure(
        part.value * dry.value,
        {name: share * dry.value for name, share in part.components.items()},
        facts.wet.origin,
    )


def room_of(item: Item, mass: Figure) -> Figure | None:
    """Give the room that an item takes in a bag, with the air between its folds [m3]; None where nothing is known.

    From its mass and a packed density of the catalogue, from memory, which all items of one entry share.
    """
    facts = facts_of(in_hand(item))
    if facts.packed_density is None:
        return None
    return room_at(f"room of the {facts.name}", mass, facts.packed_density)


def room_at(source: str, mass: Figure, density: Value) -> Figure:
    """Give the room of a mass at a packed density [m3]; how certain the mass is hardly changes it."""
    usual, least, most = (mass.value / each for each in (density.value, density.high, density.low))
    return from_catalogue(source, Value(usual, least, most, density.origin))


def _battery(given: Traveller | None, facts: TravelFacts) -> Battery | None:
    of_file = given.battery_type if given else None
    energy_j = given.battery_j if given else None
    type_ = of_file or (LITHIUM_ION if energy_j is not None else facts.battery_type)
    if type_ in ("", NO_BATTERY):
        return None
    count = (given.batteries if given else None) or 1
    if type_ != LITHIUM_ION:
        return Battery(type_, None, None, count, is_spare=False, is_given=False)
    if energy_j is not None:
        return Battery(type_, energy_j, energy_j, count, is_spare=False, is_given=True)
    low, high = (facts.battery.low, facts.battery.high) if facts.battery else (None, None)
    return Battery(type_, low, high, count, is_spare=False, is_given=False)


def _luggage(item: Luggage) -> Travelling:
    # A spare battery of which nothing else is said may be one that must not go into the hold.
    has_battery = item.battery_j is not None or item.spare or item.batteries is not None
    type_ = item.battery_type or (LITHIUM_ION if has_battery else NO_BATTERY)
    battery = None
    if type_ != NO_BATTERY:
        energy_j = item.battery_j if type_ == LITHIUM_ION else None
        is_spare = bool(item.spare)
        battery = Battery(type_, energy_j, energy_j, item.batteries or 1, is_spare, is_given=energy_j is not None)
    return Travelling(
        battery,
        is_lamp=False,
        is_breakable=bool(item.breakable),
        is_sharp=bool(item.sharp),
        vital_as="",
        is_cylinder=False,
        cartridges=item.cartridges or 0,
        is_life_jacket=bool(item.life_jacket),
        wet=None,
    )


def _vital_as(item: Item, facts: TravelFacts) -> str:
    # In the catalogue a hose is a regulator, whose room and mass it shares; by itself nobody misses it.
    return REGULATOR_SET if facts.vital_as and isinstance(item, Hose) else facts.vital_as


def _said(by_file: bool | None, by_preset: bool) -> bool:
    return by_preset if by_file is None else by_file
