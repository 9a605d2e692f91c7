"""The rows of the shelf."""

from textual.message import Message

from kitbuilder.app.widgets.listing import Listing


class KitList(Listing):
    """The rows of the shelf."""

    class Resized(Message):
        """The room for the rows is another: what is said below them grows and shrinks."""

    def on_resize(self) -> None:
        """Ask for rows of the new size."""
        self.post_message(self.Resized())
