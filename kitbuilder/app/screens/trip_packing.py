"""The packing behind the trip screen: worked out beside the app, so that keys keep working, and never shown stale."""

import time
from typing import NamedTuple

from textual import on, work
from textual.message import Message

from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.screens.working import TICK_S, working_words
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import trip_at
from kitbuilder.plans.trip_moves import Whereabouts, with_moved
from kitbuilder.plans.trip_packing import TripPacking, pack_trip

MOST_KEPT = 50
"""Packings that are kept for undo and redo."""


class Move(NamedTuple):
    """An item, and the bag that it goes into."""

    where: Whereabouts
    bag: str


class PacksTrip(Editing):
    """A screen on a trip file that knows how the trip is packed, or that this is being worked out."""

    class Packed(Message):
        """A trip is packed."""

        def __init__(self, asked: int, found: TripPacking) -> None:
            """Tell which question it answers."""
            super().__init__()
            self.asked, self.found = asked, found

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a trip."""
        super().__init__(document)
        self.trip = self.resolved()
        self.found: TripPacking | None = None
        """What was worked out last; of an earlier state of the file while `is_working`, or after it was stopped."""
        self.is_moved = False
        """Whether `found` is an earlier packing with one item moved, and nothing else repaired yet."""
        self.moving: Move | None = None
        """The move that is just made by an edit of the file."""
        self._kept = dict[ResolvedTrip, TripPacking]()
        self._asked, self._answered, self._since = 0, 0, 0.0

    # ---- what the screen fills in ----

    def show_packing(self) -> None:
        """Show the packing, or how far it is."""
        raise NotImplementedError

    def say_repaired(self) -> None:
        """Say what became of a move."""

    # ---- what it knows ----

    def resolved(self) -> ResolvedTrip:
        """Resolve the trip as edited, with what its kits on the disk say at this moment."""
        contents = self.document.reading.contents
        assert isinstance(contents, Trip), "the screen shows documents that read as a trip"
        return trip_at(self.document.path, contents, self.document.reading.lines)

    @property
    def is_working(self) -> bool:
        """Whether a packing is being worked out."""
        return self._answered < self._asked

    @property
    def is_up_to_date(self) -> bool:
        """Whether `found` is of the file as it is now, and final."""
        return not (self.is_working or self.is_moved) and self.found is not None and self.found.trip == self.trip

    @property
    def working_words(self) -> str:
        """Say for how long a packing has been worked out, and how to stop it."""
        return working_words("Packing", self._since)

    # ---- working it out ----

    def watch_time(self) -> None:
        """Show from now on for how long a packing is worked out."""
        self.set_interval(TICK_S, self._count)

    def _count(self) -> None:
        if self.is_working:
            self.show_title()

    def pack_again(self) -> None:
        """Work out the packing of the trip as it is now; nothing where that is known or asked for already.

        A move is shown at once, and the packing repaired around it, all else as far as possible where it was.
        """
        trip, move = self.resolved(), self.moving
        if trip == self.trip and (self.is_up_to_date or self.is_working):
            return
        self.trip = trip
        if trip in self._kept:
            self.stop_packing()
            self.found, self.is_moved = self._kept[trip], False
        elif move is not None and self.found is not None:
            self.found, self.is_moved = with_moved(self.found, move.where, move.bag), True
            self._ask(self.found)
        else:
            self.is_moved = False
            self._ask(None)

    def pack_from_nothing(self) -> None:
        """Work the packing out again, whatever is known of it."""
        self.trip = self.resolved()
        self._kept.clear()
        self._ask(None)

    def stop_packing(self) -> None:
        """Stop waiting. A thread cannot be ended: its answer is dropped when it comes."""
        self._asked += 1
        self._answered = self._asked

    def _ask(self, earlier: TripPacking | None) -> None:
        self._asked += 1
        self._since = time.monotonic()
        # What is shown meanwhile is painted first: the thread would slow it down.
        self.call_after_refresh(self._pack, self._asked, self.trip, earlier)

    @work(thread=True, exclusive=True, group="packing")
    def _pack(self, asked: int, trip: ResolvedTrip, earlier: TripPacking | None) -> None:
        self.post_message(self.Packed(asked, pack_trip(trip, earlier=earlier)))

    @on(Packed)
    def _take(self, packed: Packed) -> None:
        # The answer to an earlier question still arrives, and is ignored.
        if packed.asked != self._asked:
            return
        self.found, self._answered, was_moved = packed.found, packed.asked, self.is_moved
        self.is_moved = False
        self._kept[self.trip] = packed.found
        for trip in list(self._kept)[:-MOST_KEPT]:
            del self._kept[trip]
        self.show_packing()
        if was_moved:
            self.say_repaired()
