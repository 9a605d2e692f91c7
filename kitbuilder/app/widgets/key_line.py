"""The line of keys at the bottom of a screen."""

from collections.abc import Hashable

from textual.screen import Screen
from textual.widgets import Footer


class KeyLine(Footer):
    """Shows the keys that work now.

    It is laid out anew only when they have changed. Textual's own line does so at every move of the focus and at every
    mount: eight times before the first frame of the bench, where once is enough.
    """

    _shown: Hashable = None

    def __init__(self) -> None:
        """Leave out the key of the palette: the menu has one of its own among the others."""
        super().__init__(compact=True, show_command_palette=False)

    def bindings_changed(self, screen: Screen[object]) -> None:
        """Lay the keys out anew, if others work now."""
        if not self.is_attached or screen is not self.screen or not screen.app.app_focus:
            return
        keys = tuple(
            (active.binding.key, active.binding.description, active.enabled)
            for active in screen.active_bindings.values()
            if active.binding.show
        )
        if keys != self._shown:
            self._shown = keys
            super().bindings_changed(screen)
