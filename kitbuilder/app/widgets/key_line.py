"""The line of keys at the bottom of a screen."""

from typing import NamedTuple

from textual.app import RenderResult
from textual.events import Click
from textual.screen import Screen
from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.keys import shown_key

KEY, QUIET = "bold $footer-key-foreground on $footer-key-background", "$foreground-muted"


class ShownKey(NamedTuple):
    """A key on the line."""

    key: str
    text: str
    name: str
    column: int
    """Where it begins on the line."""
    is_enabled: bool

    @property
    def end(self) -> int:
        """The column behind its last character."""
        return self.column + len(f"{self.text} {self.name}")


class KeyLine(Widget):
    """Shows the keys that work now; a click on one presses it.

    One line of text: Textual's own has a widget for each key, made again at every move of the focus. That took a tenth
    of the time to the first frame.
    """

    keys: tuple[ShownKey, ...] = ()

    def on_mount(self) -> None:
        """Follow the keys of the screen."""
        self.screen.bindings_updated_signal.subscribe(self, self._follow)

    def _follow(self, screen: Screen[object]) -> None:
        """Show other keys, if others work now; those of a window that lost the focus stay."""
        if not self.is_attached or screen is not self.screen or not screen.app.app_focus:
            return
        self.keys = self._found()
        self.refresh()  # also where they are the same: what is drawn before the screen is shown is lost

    def _found(self) -> tuple[ShownKey, ...]:
        keys: dict[str, ShownKey] = {}
        column = 0
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if binding.show and binding.action not in keys:
                shown = shown_key(binding, self.app)
                keys[binding.action] = ShownKey(binding.key, shown, binding.description, column, active.enabled)
                column = keys[binding.action].end + 1
        return tuple(keys.values())

    def render(self) -> RenderResult:
        """Draw the keys and what they do."""
        parts = [
            Content.assemble((key.text, KEY), " ", key.name)
            if key.is_enabled
            else Content.styled(f"{key.text} {key.name}", QUIET)
            for key in self.keys
        ]
        return Content(" ").join(parts)

    def on_click(self, event: Click) -> None:
        """Press the key under the mouse."""
        for key in self.keys:
            if key.column <= event.x < key.end and key.is_enabled:
                self.app.simulate_key(key.key)
