"""The words of the app that settings may contain: its themes, and the keys of a keyboard by their names."""

from textual.keys import Keys, _character_to_key
from textual.theme import BUILTIN_THEMES

THEMES = tuple(BUILTIN_THEMES)


def key_named(key: str) -> str | None:
    """Give a key as Textual names it: "question_mark" for "?"; None when there is none of that name."""
    *held, last = key.split("+") if len(key) > 1 else [key]
    if not set(held) <= {"ctrl", "shift", "alt"} or len(set(held)) < len(held):
        return None
    if len(last) == 1:
        return "+".join([*held, _character_to_key(last)]) if last.isprintable() and last != " " else None
    is_known = last in KEYS or key in KEYS
    return key if is_known else None


KEYS = {each.value for each in Keys} | {_character_to_key(chr(code)) for code in range(32, 127)}
"""The names of keys that are more than a letter or a digit."""
