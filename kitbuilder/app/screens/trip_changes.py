"""Changes of a trip: items go into other bags, are rented or left; luggage, bags and legs are added.

A move is an edit of the file. It is shown at once, and the packing is repaired around it.
"""

from typing import TYPE_CHECKING

from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.trip_packing import Move, PacksTrip
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.kit.resolved_trip import Fate
from kitbuilder.kit.trip import Pin
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.trip_edits import (
    LEAVE,
    RENT,
    Addition,
    additions_of_trip,
    bring_again,
    last_entry,
    put_into,
    rent_or_leave,
)
from kitbuilder.plans.trip_moves import Whereabouts, entries_away, whereabouts, why_not_into
from kitbuilder.plans.trip_packing import TripPacking
from kitbuilder.report.form import Choice
from kitbuilder.report.trip_about import (
    ANY_BAG,
    AT_HOME,
    RENT_THERE,
    bag_choices,
    moved_words,
    not_packed_words,
    refused_words,
)
from kitbuilder.report.trip_lists import ItemRow

if TYPE_CHECKING:
    from kitbuilder.app.screens.trip_swaps import Taken


class ChangesTrip(PacksTrip):
    """A screen on a trip whose items can be moved, and whose file gets new entries."""

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a trip."""
        super().__init__(document)
        self._last_move: Move | None = None
        self._swaps_taken: list[Taken] = []

    @property
    def selected_item(self) -> ItemRow | None:
        """The row of the item under the cursor; None where the cursor is on something else."""
        raise NotImplementedError

    def select_entry(self, entry: int | None) -> None:
        """Put the cursor on the row whose form is that of an entry."""
        raise NotImplementedError

    # ---- items ----

    def action_into_bag(self) -> None:
        """Ask where the item under the cursor goes."""
        where = self._where_to_move()
        if where is not None and self.found is not None:
            choices = bag_choices(self.trip, self.found, where, self.system)
            ask = Choose(f"Put {where.item.tag} into", choices, where.bag)
            self.app.push_screen(ask, lambda word: self._put(where, word))

    def _where_to_move(self) -> Whereabouts | None:
        row = self.selected_item
        if row is None or row.where is None:
            self.notify("Put the cursor on an item first: enter on a bag goes to its items.", markup=False)
            return None
        if why := not_packed_words(self.trip, row):
            self.notify(why, markup=False)
            return None
        return row.where

    def _put(self, where: Whereabouts, word: str | None) -> None:
        if word is None:
            return
        file, tag = where.item.file, where.item.tag
        if word in {bag.tag for bag in self.trip.bags}:
            self._put_into(file, tag, word)
        elif word == ANY_BAG:
            self.try_edit(lambda: self._write_bag(where, None))
        else:
            kind = {RENT_THERE: RENT, AT_HOME: LEAVE}[word]
            self.try_edit(lambda: rent_or_leave(self.document, file, tag, kind))

    def _put_into(self, file: str, tag: str, bag: str) -> None:
        found = self.found
        # Asked again: while the list of bags was open, the packing may have been repaired.
        where = _item_named(found, file, tag) if found else None
        if found is None or where is None:
            return
        if refused := why_not_into(found, where, bag):
            self.notify(refused_words(where, bag, refused), title="Not moved", severity="warning", markup=False)
            return
        # With what was rented or left, all is packed again: there is nothing to show before that is done.
        self.moving = None if where.number is None else Move(where, bag)
        if self.try_edit(lambda: self._write_bag(where, bag)):
            self._last_move = Move(where, bag)
            self.notify(f'"{tag}" goes into "{bag}". {self.key_of("undo")} takes it back.', markup=False)
        self.moving = None

    def _write_bag(self, where: Whereabouts, bag: str | None) -> None:
        """Write the bag of an item into the file; what rents or leaves it goes."""
        file, tag = where.item.file, where.item.tag
        if where.item.fate is Fate.BRING:
            put_into(self.document, file, tag, bag)
        else:
            bring_again(self.document, entries_away(self.trip, where.item), file, tag, bag)

    def say_repaired(self) -> None:
        """Say where a move leaves an item without room."""
        move, found = self._last_move, self.found
        where = _item_named(found, move.where.item.file, move.where.item.tag) if move and found else None
        if move and where and (words := moved_words(where, move.bag)):
            undo = self.key_of("undo")
            self.notify(f"{words} {undo} takes it back.", title="Not packed", severity="warning", markup=False)

    def action_unpin(self) -> None:
        """Let the packing choose the bag of the item under the cursor again."""
        where = self._where_to_move()
        if where is None:
            return
        if not where.item.bag:
            self.notify("This item is not pinned: the packing chooses its bag.", markup=False)
            return
        self.try_edit(lambda: put_into(self.document, where.item.file, where.item.tag, None))

    # ---- what else is asked of a trip ----

    def action_swaps(self) -> None:
        """Open what is lighter, with what each swap does to the bags."""
        from kitbuilder.app.screens.trip_swaps import open_trip_swaps  # not needed for the first screen

        open_trip_swaps(self, self.trip, self.found if self.is_up_to_date else None, self._swaps_taken)

    def action_card(self) -> None:
        """Open the card for what is rented there."""
        from kitbuilder.app.screens.take_along import open_trip_card

        open_trip_card(self, self.document.path, self.trip)

    def action_spares(self) -> None:
        """Open the spares that the trip asks for."""
        from kitbuilder.app.screens.take_along import open_trip_spares

        open_trip_spares(self, self.document.path, self.trip)

    # ---- entries ----

    def action_add(self) -> None:
        """Ask what to add, and add it with usual values."""
        additions = {each.name: each for each in additions_of_trip()}
        choices = [Choice(each.name, each.note) for each in additions.values()]

        def add(name: str | None) -> None:
            if name is not None:
                self._add(additions[name])

        self.app.push_screen(Choose("Add to the trip", choices), add)

    def _add(self, addition: Addition) -> None:
        values = dict(addition.values)
        if "tag" in values:
            values["tag"] = self.document.free_tag(str(values["tag"]))
        trip = self.document.reading.trip
        assert trip is not None, "the screen shows documents that read as a trip"
        after = last_entry(trip)

        def add() -> None:
            self.document.add_item(addition.kind, values, after)

        if self.try_edit(add):
            self.select_entry(0 if after is None else after + 1)
            self.query_one(Form).go_to(addition.key)

    def remove_entry(self) -> None:
        """Take out the entry under the cursor; of a pinned item its pin, and of an item of a kit nothing."""
        row = self.selected_item
        if isinstance(self.record, Pin) and row and row.where:
            self.action_unpin()
        elif not self.fields:
            self.notify("This row has no entry in the trip file. I puts an item elsewhere.", markup=False)
        else:
            super().remove_entry()


def _item_named(found: TripPacking, file: str, tag: str) -> Whereabouts | None:
    return next((each for each in whereabouts(found) if (each.item.file, each.item.tag) == (file, tag)), None)
