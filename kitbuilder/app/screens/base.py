"""What every screen has in common: the app it belongs to, the units, the page of keys, and a new width."""

from typing import TYPE_CHECKING, ClassVar

from textual import getters
from textual.screen import Screen

from kitbuilder.app.keys import keys_page
from kitbuilder.app.screens.dialogs import READING_WIDTH, TextPage
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.report.layout import lay_out
from kitbuilder.report.numbers import System

if TYPE_CHECKING:
    from kitbuilder.app.app import KitbuilderApp


class KitbuilderScreen(Screen[None]):
    """A screen of the app. Dialogs are not: they know neither units nor kits."""

    NAME: ClassVar[str]
    """What the screen is called in its help."""

    if TYPE_CHECKING:
        # Textual types `app` as any app. Ours imports the screens, so that only the type checker may import it here.
        app = getters.app(KitbuilderApp)

    # ---- what a screen fills in ----

    def lay_out(self) -> None:
        """Show the lines again at the present width; nothing where the widgets do that themselves."""

    def show_all(self) -> None:
        """Show everything again in the present units; a screen that works something out does so again."""
        self.lay_out()

    # ---- what they share ----

    @property
    def system(self) -> System:
        """The units shown."""
        return self.app.system

    def on_resize(self) -> None:
        """Lay the lines out once the panes have their new width."""
        self.call_after_refresh(self.lay_out)

    def action_units(self) -> None:
        """Show the other units."""
        self.app.system = self.system.other
        self.show_all()

    def action_keys(self) -> None:
        """Show every key."""
        lines = lay_out(keys_page(self), READING_WIDTH, self.system)
        self.app.push_screen(TextPage(f"Keys of the {self.NAME}", styled(lines)))
