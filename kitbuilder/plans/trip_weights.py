"""What a trip weighs: each item of its kits and all luggage, dry and as wet as it comes home."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.item_weight import mass_alone
from kitbuilder.assess.figures import Figure, scaled, total
from kitbuilder.assess.scales import scale_components
from kitbuilder.assess.trip.facts import wet_mass
from kitbuilder.assess.trip.own_rules import own_rules_for
from kitbuilder.assess.trip.placement import Placement, place_item
from kitbuilder.kit.items import Cylinder, Item
from kitbuilder.kit.resolved_trip import Fate, ItemOfTrip, ResolvedTrip
from kitbuilder.kit.trip import Luggage, Option, TripHeader

WET = "water in the gear on the way home"
"""The source of a wet mass that the trip file gives."""


class TripItem(NamedTuple):
    """One item of a kit, or one piece of other luggage."""

    file: str
    """The kit that it belongs to; empty for other luggage."""
    item: Item | Luggage
    fate: Fate
    mass: Figure | None
    """Dry, a cylinder without gas [kg]; None where it is not known."""
    water: Figure | None
    """What it holds on the way home [kg]; None where it holds none worth counting, or stays there."""
    placement: Placement
    bag: str
    """The bag that it has to go into; empty where the trip does not say."""
    options: tuple[Option, ...] = ()
    """What may be done with it where not everything fits."""

    @property
    def tag(self) -> str:
        """Its tag."""
        return self.item.tag

    @property
    def mass_home(self) -> Figure | None:
        """What it weighs on the way home [kg]; None where its mass is not known."""
        if self.mass is None or self.water is None:
            return self.mass
        return total((self.mass, self.water), f"{self.mass.origin}, and water")


class TripWeights(NamedTuple):
    """Every item of a trip."""

    items: tuple[TripItem, ...]
    """The kits in order, then the luggage."""

    def of(self, fate: Fate) -> tuple[TripItem, ...]:
        """List the items that are brought, rented or left."""
        return tuple(item for item in self.items if item.fate is fate)

    def dry(self, fate: Fate) -> Figure:
        """Give the sum of the items of a fate whose mass is known [kg]."""
        return total((item.mass for item in self.of(fate) if item.mass), f"sum of all items to {fate.value}")

    @property
    def home(self) -> Figure:
        """Give the sum of what is brought, as it is on the way home [kg]."""
        brought = (item.mass_home for item in self.of(Fate.BRING))
        return total((mass for mass in brought if mass), "sum of all items to bring, with their water")

    @property
    def unknown(self) -> tuple[TripItem, ...]:
        """List what is brought and has no mass that is known."""
        return tuple(item for item in self.of(Fate.BRING) if item.mass is None)


def weigh_trip(trip: ResolvedTrip) -> TripWeights:
    """Weigh every item of a trip."""
    masses = {
        (travelling.file, number): mass
        for travelling in trip.kits
        if travelling.kit
        for number, mass in enumerate(assess(travelling.kit).masses)
    }
    pinned = {place: pin.bag for pin in trip.pins for place in trip.named_by(pin)}
    items = [_of_kit(trip, item, masses[item.file, item.number], pinned) for item in trip.every_item()]
    items += [_of_luggage(trip, luggage) for luggage in trip.luggage]
    return TripWeights(tuple(_as_wet_as_given(items, trip.header)))


def _of_kit(trip: ResolvedTrip, item: ItemOfTrip, mass: Figure | None, pinned: dict[tuple[str, int], str]) -> TripItem:
    # Only an empty cylinder flies.
    dry = mass_alone(item.item) if isinstance(item.item, Cylinder) else mass
    water = wet_mass(item.item, dry) if dry and item.fate is Fate.BRING else None
    bag = pinned.get((item.file, item.number), "")
    placement = place_item(item.item, trip.legs, own_rules_for(trip, item))
    return TripItem(item.file, item.item, item.fate, dry, water, placement, bag, options=_options(trip, item))


def _of_luggage(trip: ResolvedTrip, item: Luggage) -> TripItem:
    source = f"scale reading of {item.tag}"
    read = scale_components(source, item.mass_kg, item.mass_spread_kg, item.mass_half_digit_kg)
    pins = [pin.bag for pin in trip.pins if trip.names_luggage(pin, item)]
    options = tuple(option for option in trip.options if trip.names_luggage(option, item))
    placement = place_item(item, trip.legs, own_rules_for(trip, item))
    mass = Figure(item.mass_kg, read, "weighed")
    bag = item.bag or next(iter(pins), "")
    return TripItem("", item, Fate.BRING, mass, None, placement, bag, options=options)


def _options(trip: ResolvedTrip, item: ItemOfTrip) -> tuple[Option, ...]:
    place = (item.file, item.number)
    return tuple(option for option in trip.options if place in trip.named_by(option))


def _as_wet_as_given(items: Iterable[TripItem], header: TripHeader) -> Iterator[TripItem]:
    """Divide the water that the trip file gives, as the estimates would; without a word, the estimates stand."""
    listed = list(items)
    estimated = sum(item.water.value for item in listed if item.water)
    if header.wet_kg is None or not estimated:
        yield from listed
        return
    components = scale_components(WET, header.wet_kg, header.wet_spread_kg, header.wet_half_digit_kg)
    given = Figure(header.wet_kg, components, "as the trip file says")
    for item in listed:
        yield item._replace(water=scaled(given, item.water.value / estimated)) if item.water else item
