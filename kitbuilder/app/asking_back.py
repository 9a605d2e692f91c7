"""Asking back about a value that is more likely a slip: the first enter says why, the second takes it."""


class AskingBack:
    """Knows what was asked about, so that each text is asked about once."""

    def __init__(self) -> None:
        """Make one that has asked nothing."""
        self._asked = ""

    def forget(self) -> None:
        """Ask again: something else is typed."""
        self._asked = ""

    def ask(self, text: str, doubt: str) -> str:
        """Give what to say before a text is taken; empty when there is no doubt, or it was said already."""
        if not doubt or self._asked == text:
            return ""
        self._asked = text
        return f"{doubt[:1].upper()}{doubt[1:]}. Press enter again to keep it, or type another value."


def as_read(text: str, note: str) -> str:
    """Say how a number is read that was typed without a unit, in both units where the note says them."""
    others = [part for part in note.removeprefix("= ").split(" = ") if part != text]
    return f"Read as {' = '.join((text, *filter(None, others)))}. Enter takes it."
