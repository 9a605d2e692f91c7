"""A swap or a set tried on its kit or on the trip of the kit: what travels, the lead there, and how it is packed."""

import dataclasses
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure
from kitbuilder.kit.item_edit import ItemEdit, with_edits
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip, TripKit
from kitbuilder.kit.trip import Rent
from kitbuilder.plans.rented_there import kit_with_rentals
from kitbuilder.plans.swaps.options import RENTED
from kitbuilder.plans.swaps.swaps import Effect, Swap, Swaps, SwapSet, bag_mass, edits_of, plan_swaps
from kitbuilder.plans.trip_packing import TripPacking, pack_trip


class Chosen(NamedTuple):
    """One swap, or the swaps of a set."""

    swaps: tuple[Swap, ...]
    effect: Effect
    """Of all of them together."""

    @property
    def edits(self) -> tuple[ItemEdit, ...]:
        """What becomes of the kit file, rentals included."""
        return edits_of(self.swaps)

    @property
    def kit_edits(self) -> tuple[ItemEdit, ...]:
        """What becomes of the kit file where a trip says what is rented."""
        return edits_of(swap for swap in self.swaps if swap.option.kind != RENTED)

    @property
    def rented(self) -> tuple[str, ...]:
        """The tags of what is rented."""
        return tuple(tag for swap in self.swaps if swap.option.kind == RENTED for tag in swap.tags)


class Standing(NamedTuple):
    """How a kit or a trip stands, with or without a swap."""

    bag: Figure
    """The mass of all that travels: of the kit, or of the trip with its luggage, without the bags [kg]."""
    lead: Figure | None
    """The lead there [kg]; None where it cannot be worked out."""
    packing: TripPacking | None
    """How the trip is packed; None for a kit by itself."""


class Trial(NamedTuple):
    """A swap or a set, tried: nothing is written."""

    chosen: Chosen
    after: Standing


def chosen_of(found: Swap | SwapSet) -> Chosen:
    """Give a swap or a set as what is tried or taken."""
    return Chosen(found.swaps, found.effect) if isinstance(found, SwapSet) else Chosen((found,), found.effect)


def plan_swaps_there(trip: ResolvedTrip, travelling: TripKit) -> Swaps:
    """Work out the swaps of one kit of a trip, with what is rented there; what is rented or left saves nothing.

    Raises:
        ValueError: The kit cannot be read.
    """
    items = (each for each in trip.every_item() if each.file == travelling.file and each.fate is not Fate.BRING)
    return plan_swaps(kit_with_rentals(trip, travelling), frozenset(each.item.tag for each in items))


def as_it_is(found: Swaps, packing: TripPacking | None) -> Standing:
    """Give how a kit stands before any swap.

    Args:
        found: Its swaps.
        packing: Of its trip as it is; None for a kit by itself.
    """
    balance = found.before.balance
    return Standing(
        packing.weights.dry(Fate.BRING) if packing else found.bag, balance.lead if balance else None, packing
    )


def try_on_kit(found: Swaps, chosen: Chosen) -> Trial:
    """Say how a kit would stand with a swap or a set."""
    after = chosen.effect.after
    return Trial(chosen, Standing(bag_mass(after, found.away), _lead(after), None))


def try_on_trip(found: Swaps, chosen: Chosen, trip: ResolvedTrip, file: str) -> Trial:
    """Say how a trip would stand with a swap or a set of one of its kits: it is packed again.

    Args:
        found: The swaps of the kit on this trip.
        chosen: What is tried.
        trip: The trip as it is.
        file: The file of the kit.
    """
    packing, kit = pack_trip(trip_with(trip, file, chosen)), try_on_kit(found, chosen).after
    return Trial(chosen, Standing(packing.weights.dry(Fate.BRING), kit.lead, packing))


def trip_with(trip: ResolvedTrip, file: str, chosen: Chosen) -> ResolvedTrip:
    """Give a trip as its file and the file of a kit would say it once a swap or a set is taken."""
    kits = (
        each._replace(kit=with_edits(each.kit, chosen.kit_edits)) if each.file == file and each.kit else each
        for each in trip.kits
    )
    rents = (Rent(item=tag, kit=file) for tag in chosen.rented)
    return dataclasses.replace(trip, kits=tuple(kits), items=(*trip.items, *rents))


def _lead(found: Assessment) -> Figure | None:
    return found.balance.lead if found.balance else None
