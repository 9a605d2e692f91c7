"""Stands in front of everything while the terminal is too small."""

from textual.app import ComposeResult
from textual.screen import ModalScreen
from textual.widgets import Static

from kitbuilder.app.content import Content


class TooSmall(ModalScreen[None]):
    """Says how large the terminal has to be. No key reaches the screen behind it."""

    def __init__(self, complaint: str) -> None:
        """Say what is wrong with the size."""
        super().__init__()
        self._complaint = complaint

    def compose(self) -> ComposeResult:
        """Lay out the sentence."""
        yield Static(Content(self._complaint), markup=False, id="complaint")

    def say(self, complaint: str) -> None:
        """Say it of another size."""
        self._complaint = complaint
        for shown in self.query("#complaint").results(Static):  # none before the screen is composed
            shown.update(Content(complaint))
