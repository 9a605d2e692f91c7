"""Whether a terminal can be expected to show braille dots."""

from collections.abc import Mapping

WITHOUT_BRAILLE = ("linux", "dumb", "vt52", "vt100", "vt102", "vt220", "vt320", "cons25", "ansi", "unknown")
"""Values of TERM, up to a hyphen, of terminals whose font has no braille: consoles of systems, and real ones."""


def shows_braille(environment: Mapping[str, str], encoding: str | None) -> bool:
    """Say whether pictures of braille dots can be expected to be legible; where they cannot, draw plain signs.

    Args:
        environment: The variables of the process; TERM is asked, and where no encoding is given the locale.
        encoding: Of the stream that is drawn on, as Python names it; None where it is not known.

    The console of Linux and terminals without a screen of dots have no braille in their font, and an encoding other
    than one of Unicode cannot say it.
    """
    if environment.get("TERM", "").partition("-")[0].lower() in WITHOUT_BRAILLE:
        return False
    return _is_unicode(encoding or _encoding_of_locale(environment))


def _is_unicode(encoding: str) -> bool:
    return encoding.lower().replace("-", "").replace("_", "").startswith("utf")


def _encoding_of_locale(environment: Mapping[str, str]) -> str:
    """Give the encoding that the locale names: of the first variable set, as POSIX has it (chapter 8.2 of IEEE 1003.1).

    A locale without an encoding, such as C, is that of ASCII.
    """
    names = (environment.get(name, "") for name in ("LC_ALL", "LC_CTYPE", "LANG"))
    first = next((name for name in names if name), "")
    return first.partition("@")[0].partition(".")[2]
