"""Text from outside (a file, an argument, the system), made safe to show: no terminal obeys anything in it."""

import unicodedata


def visible(text: str) -> str:
    """Write out characters that a terminal would obey or that nobody would see: control, escape, direction, zero width.

    A text that is visible already stays unchanged, so the function may be applied twice.
    """
    if text.isprintable():
        return text
    return "".join(_written_out(character) for character in text)


def visible_lines(text: str) -> str:
    """Make a text of several lines visible; line feeds and no-break spaces, which our own layout has, stay."""
    if text.isprintable() or text.replace("\n", "").replace(NO_BREAK, "").isprintable():
        return text
    return "".join(character if character in f"\n{NO_BREAK}" else _written_out(character) for character in text)


NO_BREAK = "\u00a0"


def _written_out(character: str) -> str:
    if character.isprintable():
        return character
    if unicodedata.category(character) == "Zs":
        return " "
    return character.encode("unicode_escape").decode("ascii")
