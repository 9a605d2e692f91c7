"""What is rented in the place of an item of a kit: asked for what a trip weighs, for its card and for its swaps."""

import dataclasses
from collections.abc import Iterator
from typing import Any

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.item_edit import ItemEdit, of_another_specimen, with_edits
from kitbuilder.kit.items import Cylinder, Item, Kit
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip, TripKit
from kitbuilder.kit.spare import in_hand
from kitbuilder.plans.ballast import values_of_cylinder
from kitbuilder.plans.kept_checks import with_checks_of


def values_rented(item: Item, preset: str | None) -> dict[str, Any] | None:
    """Give the values that an item has where a preset is rented in its place; None where that is no preset of its kind.

    What was weighed or measured of the own specimen does not hold for the one that is there.
    """
    if isinstance(item, Cylinder):
        entry = catalogue().cylinders.get(preset or "")
        return values_of_cylinder(item, entry) | {"owned": None} if entry else None
    if (item.kind, preset) not in catalogue().presets:
        return None
    return of_another_specimen(item) | {"preset": preset, "owned": None}


def kit_with_rentals(trip: ResolvedTrip, travelling: TripKit) -> ResolvedKit:
    """Give a kit of a trip with what is rented there, each item at its number; what stays at home is set apart.

    What is set apart is carried and not worn, so that it is in no lead and leads to no finding.

    Raises:
        ValueError: The kit cannot be read.
    """
    kit = _read(travelling)
    left = [ItemEdit(number, {"in_spares": True}) for number in sorted(_left(trip, travelling))]
    return with_edits(kit, [*_rentals(trip, travelling, kit), *left], with_checks_of(kit))


def kit_there(trip: ResolvedTrip, travelling: TripKit) -> ResolvedKit:
    """Give a kit of a trip as it is used there: with what is rented, without what stays at home.

    Raises:
        ValueError: The kit cannot be read.
    """
    kit, left = _read(travelling), _left(trip, travelling)
    changed = with_edits(kit, [*_rentals(trip, travelling, kit)], with_checks_of(kit))
    own = changed.unresolved
    stays = [number for number in range(len(own.items)) if number not in left]
    return dataclasses.replace(
        changed,
        items=tuple(changed.items[number] for number in stays),
        unresolved=Kit(own.header, tuple(own.items[number] for number in stays), old_words=own.old_words),
    )


def _read(travelling: TripKit) -> ResolvedKit:
    if travelling.kit is None:
        raise ValueError(f"{travelling.file} cannot be read")
    return travelling.kit


def _rentals(trip: ResolvedTrip, travelling: TripKit, kit: ResolvedKit) -> Iterator[ItemEdit]:
    for entry in trip.rents:
        for file, number in trip.named_by(entry):
            if file == travelling.file:
                values = values_rented(in_hand(kit.items[number]), entry.preset)
                if values is not None:
                    yield ItemEdit(number, values)


def _left(trip: ResolvedTrip, travelling: TripKit) -> frozenset[int]:
    every = trip.every_item()
    return frozenset(each.number for each in every if each.file == travelling.file and each.fate is Fate.LEAVE)
