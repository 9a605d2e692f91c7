"""Swaps of a kit on a trip: tried on the packing; taken into the trip file what is rented, into the kit file the rest.

The kit is another file than the trip, so that it is written at once, after a question that names it; what the trip
file gets is an edit of it that is not saved yet. Undo takes back both.
"""

from collections.abc import Callable
from typing import NamedTuple

from kitbuilder.app.changes import change_lines
from kitbuilder.app.screens.dialogs import Ask, Choose, Way
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.screens.swaps_screen import SwapsScreen, SwapsThere
from kitbuilder.foreign import visible
from kitbuilder.kit.resolved_trip import ResolvedTrip, TripKit
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.document import ChangedOnDisk, Document
from kitbuilder.kitfile.item_edits import apply_edits
from kitbuilder.kitfile.read import trip_at
from kitbuilder.kitfile.trip_edits import rent_items
from kitbuilder.plans.swaps.swaps import Swaps
from kitbuilder.plans.swaps.trial import Chosen, Trial, plan_swaps_there, try_on_trip
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from kitbuilder.report.form import Choice
from kitbuilder.report.swaps_tried import chosen_words


class Taken(NamedTuple):
    """A swap or a set that was taken, to be taken back."""

    chosen: Chosen
    kit: Document | None
    """The kit that was written; None where only the trip changed."""
    trip_text: str | None
    """The trip file after it; None where only the kit changed."""


class TripSwapsScreen(SwapsScreen):
    """The swaps of one kit of a trip."""

    def __init__(self, document: Document, file: str, packing: TripPacking | None, taken: list[Taken]) -> None:
        """Open the swaps of a kit of a trip.

        Args:
            document: The trip.
            file: The file of the kit.
            packing: How the trip is packed, where that is known.
            taken: What was taken on this trip since it was opened; undo takes back the last.
        """
        super().__init__(document)
        self._file, self._packing, self._taken = file, packing, taken
        self.trip = self.resolved()

    def resolved(self) -> ResolvedTrip:
        """Resolve the trip as edited, with what its kits on the disk say at this moment."""
        contents = self.document.reading.contents
        assert isinstance(contents, Trip), "opened on documents that read as a trip"
        return trip_at(self.document.path, contents, self.document.reading.lines)

    @property
    def kit_file(self) -> str:
        """The name of the file of the kit."""
        return self._file

    @property
    def state_words(self) -> str:
        """Say on the right of the title which kit this is."""
        return self._file

    # ---- working it out ----

    def question(self) -> Callable[[], SwapsThere]:
        """Give what is to be worked out, for a thread."""
        trip, known, file = self.resolved(), self._packing, self._file
        self.trip = trip
        travelling = next((each for each in trip.kits if each.file == file), TripKit(file, None))

        def work() -> SwapsThere:
            packing = known if known is not None and known.trip == trip else pack_trip(trip)
            return SwapsThere(plan_swaps_there(trip, travelling), packing)

        return work

    def plan_again(self, said: str = "", title: str = "") -> None:
        """Work the swaps out; without the kit there is nothing to work out."""
        trip = self.resolved()
        if any(each.file == self._file and each.kit for each in trip.kits):
            super().plan_again(said, title)
        else:
            self.there, self.trial = None, None
            self.lay_out()
            self.notify(f"{visible(self._file)} cannot be read as a kit of this trip.", severity="error", markup=False)

    def trying(self, there: SwapsThere, chosen: Chosen) -> Callable[[], Trial]:
        """Give how a trial is worked out: the trip is packed with it."""
        found: Swaps = there.found
        return lambda: try_on_trip(found, chosen, self.trip, self._file)

    # ---- taking ----

    def take(self, chosen: Chosen) -> None:
        """Put what is rented into the trip, unsaved; write the rest into the kit file, after a question."""
        if not chosen.kit_edits:
            self._take_into_trip(chosen, None)
            return
        kit = Document(self.document.path.parent / self._file)
        name = visible(self._file)
        if kit.recovered is not None:
            self.notify(
                f"{name} has edits of an earlier session that are not saved. Open it from the shelf first.",
                title="Not taken",
                severity="error",
                markup=False,
            )
            return
        if not self.edited(lambda: apply_edits(kit, chosen.kit_edits)):
            return
        ways = (Way("n", "no, change nothing", "no"), Way("w", f"write {name}", "write"))
        lines = change_lines(kit.saved_text, kit.text)

        def settle(answer: str | None) -> None:
            if answer == "write" and self._write(kit, "Not taken"):
                self._take_into_trip(chosen, kit)
            else:
                kit.forget_edits()

        self.app.push_screen(Ask(f"Write these edits into {self._file}?", lines, ways), settle)

    def _write(self, kit: Document, title: str) -> bool:
        """Write the kit; say why if that fails, and then nothing is written."""
        name = visible(self._file)
        try:
            kit.save()
        except ChangedOnDisk:
            why = f"{name} was changed by another program meanwhile. Nothing was written."
        except OSError as error:
            why = f"{name}: {error.strerror or error}. Nothing was written."
        else:
            self.know_files()
            return True
        self.notify(why, title=title, severity="error", markup=False)
        return False

    def _take_into_trip(self, chosen: Chosen, kit: Document | None) -> None:
        """Make the edits of the trip file, after those of the kit, and say where everything stands."""
        text, rented = None, chosen.rented
        if rented:
            if not self.edited(lambda: rent_items(self.document, self._file, rented)):
                self._take_back_kit(kit)
                return
            text = self.document.text
        self._taken.append(Taken(chosen, kit, text))
        where = [f"{visible(self._file)} is written"] if kit else []
        where += [f"{visible(self.document.path.name)} has a rental, not saved yet"] if rented else []
        words = f"{chosen_words(chosen)}: {', and '.join(where)}. {self.key_of('undo')} takes it back."
        self.plan_again(words, "Taken")

    def _take_back_kit(self, kit: Document | None) -> bool:
        """Write a kit as it was before; True where nothing is to be written."""
        if kit is None:
            return True
        kit.undo()
        if self._write(kit, "Not undone"):
            return True
        kit.redo()
        kit.forget_edits()
        return False

    def action_undo(self) -> None:
        """Take back what was taken last: the kit file is written as it was before, the trip loses its rental."""
        if not self._taken:
            self.notify("Nothing was taken here. On the trip, undo takes back its own edits.", markup=False)
            return
        taken = self._taken[-1]
        if taken.trip_text is not None and self.document.text != taken.trip_text:
            self.notify(
                f"{visible(self.document.path.name)} was edited since. Undo there first, or take the rental out.",
                title="Not undone",
                severity="warning",
                markup=False,
            )
            return
        if not self._take_back_kit(taken.kit):
            return
        if taken.trip_text is not None:
            self.document.undo()
        self._taken.pop()
        written = f" {visible(self._file)} is written as it was before." if taken.kit else ""
        self.plan_again(f"Undone: {chosen_words(taken.chosen)}.{written}")

    def action_redo(self) -> None:
        """Say how to take a swap again."""
        self.notify(f"Nothing to redo. {self.key_of('take')} takes a swap again.", markup=False)


def open_trip_swaps(screen: Editing, trip: ResolvedTrip, packing: TripPacking | None, taken: list[Taken]) -> None:
    """Open the swaps of a trip: of its kit, or of the one that is chosen.

    Args:
        screen: The screen of the trip.
        trip: The trip.
        packing: How it is packed, where that is known.
        taken: What was taken on it since it was opened.
    """
    files = [each.file for each in trip.kits if each.kit is not None]

    def show(file: str | None) -> None:
        if file is not None:
            swaps = TripSwapsScreen(screen.document, file, packing, taken)
            screen.app.push_screen(swaps, lambda _: screen.refresh_all())

    if not files:
        screen.notify("No kit of this trip can be read.", severity="warning", markup=False)
    elif len(files) == 1:
        show(files[0])
    else:
        names = {each.file: each.kit.header.name for each in trip.kits if each.kit}
        screen.app.push_screen(Choose("Swaps of which kit", [Choice(file, names[file]) for file in files], ""), show)
