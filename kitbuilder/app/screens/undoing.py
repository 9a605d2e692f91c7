"""Undo and redo of the file behind a screen: each says what changed, and goes to it."""

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.kitfile.differences import Difference, differences
from kitbuilder.kitfile.document import Document
from kitbuilder.report.undone import main_difference, undone_words


class Undoing(KitbuilderScreen):
    """A screen on a document whose edits can be taken back."""

    document: Document

    def show_step(self, difference: Difference | None) -> None:
        """Show everything after a step, at the entry and the key that changed; None where only comments did."""
        raise NotImplementedError

    def action_undo(self) -> None:
        """Take back the last edit."""
        before = self.document.reading
        if self.document.undo():
            self._say_step("Undone", differences(before, self.document.reading))
        else:
            self.notify("Nothing to undo: this is the file as it was opened.", markup=False)

    def action_redo(self) -> None:
        """Make the undone edit again."""
        before = self.document.reading
        if self.document.redo():
            self._say_step("Redone", differences(before, self.document.reading))
        else:
            self.notify("Nothing to redo.", markup=False)

    def _say_step(self, verb: str, found: tuple[Difference, ...]) -> None:
        self.show_step(main_difference(found) if found else None)
        self.notify(undone_words(verb, found, self.document.file.name), markup=False)
