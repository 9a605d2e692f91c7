"""Which items of the gear file an item of a kit can be: those of its kind that can be joined where it stands."""

import dataclasses
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.gas.seating import seat_of
from kitbuilder.assess.hoses.joints import joints_of, meet_in_port
from kitbuilder.assess.hoses.ports import port_at
from kitbuilder.kit.gear import OUT_OF_USE, Owned, pieces_of
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Hose, Item, Transmitter, split_port
from kitbuilder.kit.owned import taken_up
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare, in_hand


class Candidate(NamedTuple):
    """An item of the gear file that an item of a kit could be."""

    entry: Owned
    taken_by: str
    """The tag of another item of the kit that it is already; empty when it is free."""
    reasons: tuple[str, ...]
    """Why it cannot be joined there; empty when nothing speaks against it."""

    @property
    def is_free(self) -> bool:
        """Whether it can be built with and is nothing else in the kit."""
        return not self.taken_by and self.entry.condition != OUT_OF_USE


def candidates_for(kit: ResolvedKit, number: int) -> tuple[Candidate, ...]:
    """List what an item of a kit can be: items of its kind that can be joined there, the free ones first.

    What the item is already stays in the list. Where none can be joined, all of the kind are listed with the reasons.
    """
    items, gear = [in_hand(each) for each in kit.items], kit.linked.gear
    item = items[number]
    entries = [entry for entry in gear.items if entry.kind == item.kind] if gear else []
    taken = {other.owned: other.tag for other in items if other is not item and other.owned}
    every = [
        Candidate(entry, taken.get(entry.tag, "") if pieces_of(entry) == 1 else "", _reasons(kit, number, entry))
        for entry in entries
    ]
    joinable = [each for each in every if not each.reasons]
    listed = [each for each in every if not each.reasons or each.entry.tag == item.owned] if joinable else every
    return tuple(sorted(listed, key=lambda each: (bool(each.reasons), not each.is_free)))


def _reasons(kit: ResolvedKit, number: int, entry: Owned) -> tuple[str, ...]:
    """Say why an item of the gear file cannot be joined in the place of an item of a kit; a spare joins nothing."""
    if isinstance(kit.items[number], Spare):
        return ()
    item = taken_up(kit.unresolved.items[number], entry)
    items = (*kit.items[:number], item, *kit.items[number + 1 :])
    return tuple(dict.fromkeys(_faults(dataclasses.replace(kit, items=items), item)))


def _faults(kit: ResolvedKit, item: Item) -> Iterator[str]:
    """Say what cannot be joined of an item and its neighbours."""
    by_tag = {each.tag: each for each in kit.items}
    for other in kit.items:
        reference = other.from_ if isinstance(other, Hose) else getattr(other, "port", None)
        stage, port = split_port(reference or "")
        if item.tag not in (other.tag, stage, other.to if isinstance(other, Hose) else ""):
            continue
        found = port_at(reference, by_tag.get)
        if stage == item.tag and found is None:
            yield f'it has no port {port} for "{other.tag}"'
        if isinstance(other, Hose):
            yield from joints_of(other, by_tag).reasons
        elif isinstance(other, Gauge | Transmitter) and found is not None:
            meeting = meet_in_port(other, found)
            if meeting is not None and not meeting.joins:
                yield meeting.reason
    if isinstance(item, FirstStage | Cylinder):
        yield from _unseated(kit, item)


def _unseated(kit: ResolvedKit, item: FirstStage | Cylinder) -> Iterator[str]:
    """Say which first stages do not go on their valves, of one that is changed or whose cylinder is."""
    for stage in kit.items:
        if not isinstance(stage, FirstStage) or (isinstance(item, FirstStage) and stage is not item):
            continue
        seat = seat_of(stage, kit, ())
        if seat is not None and seat.seating is not None and seat.seating.fits == "no":
            yield f"{seat.seating.connection} on a valve with {seat.seating.outlet}"
