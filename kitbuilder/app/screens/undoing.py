"""Undo and redo of the file behind a screen: each says what changed, and goes to it."""

from pathlib import Path

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.outside import stamps_of_document, take_changes
from kitbuilder.kitfile.differences import Difference, differences
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.stamps import Stamp
from kitbuilder.report.undone import main_difference, undone_words


class Undoing(KitbuilderScreen):
    """A screen on a document whose edits can be taken back."""

    document: Document

    def stamps(self) -> dict[Path, Stamp | None]:
        """Give the stamps of the file and of the files that it names."""
        return stamps_of_document(self.document)

    def changed_outside(self, changed: frozenset[Path]) -> bool:
        """Read what other programs changed, and show it."""
        return take_changes(self, self.document, changed)

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
