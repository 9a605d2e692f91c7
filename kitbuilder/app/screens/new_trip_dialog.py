"""The dialog of a new trip: four questions; what is not answered gets a usual value."""

from collections.abc import Sequence
from pathlib import Path

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.gear_question import say_refused
from kitbuilder.app.screens.new_kit_dialog import AskQuestions
from kitbuilder.commands.making_trip import free_trip_name, make_trip
from kitbuilder.foreign import visible
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.report.new_questions import Question
from kitbuilder.report.new_trip_questions import trip_questions
from kitbuilder.report.numbers import System

NamedKits = Sequence[tuple[str, ResolvedKit]]
"""Kits, each with its file."""


class NewTripDialog(AskQuestions):
    """Asks the four questions of a new trip."""

    NAME = "new trip"

    def __init__(self, system: System, kits: Sequence[str]) -> None:
        """Ask about a trip with kits, numbers without a unit taken in the reader's units."""
        super().__init__()
        self.what = f"New trip with {kits[0] if len(kits) == 1 else f'{len(kits)} kits'}"
        self._system = system

    def questions(self, given: dict[str, str]) -> tuple[Question, ...]:  # noqa: ARG002  none follows from another
        """Give the questions."""
        return trip_questions(self._system)


def ask_new_trip(screen: KitbuilderScreen, folder: Path, kits: NamedKits) -> None:
    """Ask about a trip with kits, write it into their folder and open it.

    Args:
        screen: Where it is asked.
        folder: Of the kits.
        kits: Those that travel; without any, it is said what to do.
    """
    if not kits:
        screen.notify("Put the cursor on a kit that can be read, or mark the kits that travel.", markup=False)
        return

    def make(given: dict[str, str] | None) -> None:
        if given is None:
            return
        path = folder / free_trip_name(folder, [file for file, _ in kits])
        name = f"Trip with {' and '.join(kit.header.name for _, kit in kits)}"
        try:
            make_trip(path, name, kits, given)
        except OSError as error:
            say_refused(screen, "Not made", error)
            return
        screen.shell.open_kit(path)
        screen.app.notify(f"Written: {visible(path.name)}. Weigh bags and luggage, and check what is rented.")

    screen.app.push_screen(NewTripDialog(screen.system, [file for file, _ in kits]), make)
