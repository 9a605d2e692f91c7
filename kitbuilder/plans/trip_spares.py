"""The spares of a trip as they are packed: tools, batteries, hoses and small parts, each in a pouch of its own."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.findings import Finding
from kitbuilder.assess.trip.checks import findings_of_trip
from kitbuilder.assess.trip.facts import room_at
from kitbuilder.catalogue.spares import BATTERIES, GROUPS, MASK, TOOLS, packed_tag, spares
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.travel import LITHIUM_ION, LITHIUM_METAL
from kitbuilder.kit.trip import SPARES, Luggage
from kitbuilder.plans.spares import KitToSupply, SpareLine, SparesList, list_spares


class PackedSpares(NamedTuple):
    """Spares that are packed together."""

    luggage: Luggage
    """As a piece of luggage, by which the rules of air travel find where it may go."""
    mass: Figure
    """[kg]"""
    room: Figure
    """What it takes of a bag [m3]."""


def spares_of(trip: ResolvedTrip, level: str | None = None) -> SparesList:
    """List the spares for all kits of a trip.

    Args:
        trip: The trip.
        level: What to be ready for; None for what its file asks for.
    """
    rented = {item.file for item in trip.every_item() if isinstance(item.item, Cylinder) and item.fate is Fate.RENT}
    kits = [KitToSupply(each.file, each.kit, each.file in rented) for each in trip.kits if each.kit]
    return list_spares(kits, level or trip.header.spares or SPARES[0])


def findings_with_spares(trip: ResolvedTrip, found: SparesList | None = None) -> tuple[Finding, ...]:
    """Give everything that is wrong with a trip, the batteries of its list of spares counted.

    Args:
        trip: The trip.
        found: Its spares, where they are known.
    """
    listed = (spares_of(trip) if found is None else found).of_group(BATTERIES)
    return findings_of_trip(trip, [_batteries_of(line) for line in listed])


def _batteries_of(line: SpareLine) -> Luggage:
    """Give a line of the list of spares as a piece of luggage, which the rules of air travel are about."""
    kind = LITHIUM_ION if line.size else LITHIUM_METAL
    return Luggage(
        tag=line.key,
        mass_kg=line.mass.value,
        battery_type=kind,
        battery_j=line.size or None,
        batteries=line.pieces,
        spare=True,
    )


def packed_spares(found: SparesList) -> Iterator[PackedSpares]:
    """Give one piece for each group: tools go into the hold by rule, spare batteries into the cabin."""
    for group in GROUPS:
        lines = found.of_group(group)
        if not lines:
            continue
        tag = packed_tag(group)
        mass = total((line.mass for line in lines), f"sum of the spares: {group}")
        batteries = group == BATTERIES
        # Of several, the one of the most energy decides.
        most_j = max(line.size for line in lines) if batteries else 0.0
        luggage = Luggage(
            tag=tag,
            mass_kg=mass.value,
            battery_type=(LITHIUM_ION if most_j else LITHIUM_METAL) if batteries else None,
            battery_j=most_j or None,
            batteries=sum(line.pieces for line in lines) if batteries else None,
            spare=batteries or None,
            breakable=group == MASK or None,
            sharp=group == TOOLS or None,
        )
        yield PackedSpares(luggage, mass, room_at("room of the spares", mass, spares().packed_density))
