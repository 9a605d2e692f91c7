"""What a trip weighs: each item of its kits, the spares and all luggage, dry and as wet as it comes home."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.item_weight import mass_alone
from kitbuilder.assess.figures import Figure, scaled, total
from kitbuilder.assess.scales import scale_components
from kitbuilder.assess.trip.facts import room_of, wet_mass
from kitbuilder.assess.trip.own_rules import own_rules_for
from kitbuilder.assess.trip.placement import Placement, place_item
from kitbuilder.kit.item_edit import with_values
from kitbuilder.kit.items import Cylinder, Item, Lead
from kitbuilder.kit.resolved_trip import Fate, ItemOfTrip, ResolvedTrip
from kitbuilder.kit.spare import in_hand
from kitbuilder.kit.trip import Luggage, Option, Rent, TripHeader
from kitbuilder.plans.rented_there import values_rented
from kitbuilder.plans.spares import SparesList
from kitbuilder.plans.trip_spares import PackedSpares, packed_spares, spares_of

WET = "water in the gear on the way home"
"""The source of a wet mass that the trip file gives."""


class TripItem(NamedTuple):
    """One item of a kit, one piece of other luggage, or spares that are packed together."""

    file: str
    """The kit that it belongs to; empty for other luggage and for spares."""
    item: Item | Luggage
    fate: Fate
    mass: Figure | None
    """Dry, a cylinder without gas, of a rental with a preset that of the preset [kg]; None where it is not known."""
    water: Figure | None
    """What it holds on the way home [kg]; None where it holds none worth counting, or stays there."""
    placement: Placement
    bag: str
    """The bag that it has to go into; empty where the trip does not say."""
    options: tuple[Option, ...] = ()
    """What may be done with it where not everything fits."""
    room: Figure | None = None
    """What it takes of a bag [m3]; None where nothing is known."""
    rental: Rent | None = None
    """The entry by which it is rented; None where the kit says so, and of what is brought."""
    is_estimated: bool = False
    """Whether a weighing would tell more of its mass."""

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
    """The kits in order, then the luggage, then the spares that the trip asks for."""
    spares: SparesList
    """What those spares are."""

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
    found = spares_of(trip)
    items += [_of_spares(trip, packed) for packed in packed_spares(found)]
    return TripWeights(tuple(_as_wet_as_given(items, trip.header)), found)


def _of_kit(trip: ResolvedTrip, item: ItemOfTrip, mass: Figure | None, pinned: dict[tuple[str, int], str]) -> TripItem:
    entry = trip.items[item.entry] if item.entry is not None else None
    rental = entry if isinstance(entry, Rent) else None
    own, rented = in_hand(item.item), _rented(item.item, rental) if rental else None
    # Only an empty cylinder flies.
    dry = mass_alone(rented or own) if rented or isinstance(own, Cylinder) else mass
    water = wet_mass(item.item, dry) if dry and item.fate is Fate.BRING else None
    return TripItem(
        item.file,
        item.item,
        item.fate,
        dry,
        water,
        place_item(item.item, trip.legs, own_rules_for(trip, item)),
        pinned.get((item.file, item.number), ""),
        options=_options(trip, item),
        room=room_of(item.item, dry) if dry else None,
        rental=rental,
        is_estimated=not isinstance(own, Lead) and getattr(own, "mass_kg", None) is None,
    )


def _rented(item: Item, rental: Rent) -> Item | None:
    """Give the item that is there in place of that of the kit; None where the rental names no preset of its kind."""
    own = in_hand(item)
    values = values_rented(own, rental.preset)
    return None if values is None else with_values(own, values)


def _of_luggage(trip: ResolvedTrip, item: Luggage) -> TripItem:
    source = f"scale reading of {item.tag}"
    read = scale_components(source, item.mass_kg, item.mass_spread_kg, item.mass_half_digit_kg)
    pins = [pin.bag for pin in trip.pins if trip.names_luggage(pin, item)]
    options = tuple(option for option in trip.options if trip.names_luggage(option, item))
    placement = place_item(item, trip.legs, own_rules_for(trip, item))
    mass = Figure(item.mass_kg, read, "weighed")
    bag = item.bag or next(iter(pins), "")
    room = Figure(item.bulk_m3, {}, "as the trip file says") if item.bulk_m3 is not None else None
    return TripItem("", item, Fate.BRING, mass, None, placement, bag, options=options, room=room)


def _options(trip: ResolvedTrip, item: ItemOfTrip) -> tuple[Option, ...]:
    place = (item.file, item.number)
    return tuple(option for option in trip.options if place in trip.named_by(option))


def _of_spares(trip: ResolvedTrip, spares: PackedSpares) -> TripItem:
    placement = place_item(spares.luggage, trip.legs)
    pins = [pin.bag for pin in trip.pins if pin.item == spares.luggage.tag and not trip.named_by(pin)]
    return TripItem(
        "",
        spares.luggage,
        Fate.BRING,
        spares.mass,
        None,
        placement,
        next(iter(pins), ""),
        room=spares.room,
        is_estimated=True,
    )


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
