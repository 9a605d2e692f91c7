"""What an undo took back, in a sentence."""

from collections.abc import Sequence

from kitbuilder.foreign import visible
from kitbuilder.kitfile.differences import Difference, Way
from kitbuilder.report.words import cut

LONGEST = 40
"""Characters of a value in a message."""


def undone_words(verb: str, found: Sequence[Difference], name: str) -> str:
    """Say what changed, the first change in words and the others counted.

    Args:
        verb: "Undone" or "Redone".
        found: The differences, those of one step.
        name: What the top of the file is called, such as "kit".
    """
    if not found:
        return f"{verb}: comments and spacing only."
    first = main_difference(found)
    others = len(found) - 1
    more = "" if not others else " One more change went with it." if others == 1 else f" {others} more changes too."
    return f"{verb}: {_one(first, name)}.{more}"


def main_difference(found: Sequence[Difference]) -> Difference:
    """Choose the difference that a step is known by: another tag before what refers to it, else the first."""
    return next((each for each in found if each.key == "tag"), found[0])


def _one(found: Difference, name: str) -> str:
    entry = f'"{_short(found.tag)}"' if found.tag else f"the {name}"
    match found.way:
        case Way.ADDED:
            return f"{entry} is back in the file"
        case Way.REMOVED:
            return f"{entry} is out of the file"
        case Way.MOVED:
            return f"{entry} is back at its place"
        case Way.SET:
            return _value(found, f"{found.key.replace('_', ' ')} of {entry}")


def _value(found: Difference, what: str) -> str:
    if not found.after:
        return f"{what} is not given any more; it was {_short(found.before)}"
    if not found.before:
        return f"{what} is {_short(found.after)}"
    return f"{what} is {_short(found.after)} instead of {_short(found.before)}"


def _short(value: str) -> str:
    return cut(visible(value), LONGEST)
