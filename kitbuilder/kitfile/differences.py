"""What two readings of one file say differently: for messages about what an undo took back, and where that was."""

from collections.abc import Sequence
from difflib import SequenceMatcher
from enum import Enum
from typing import NamedTuple

from kitbuilder.kitfile.raw_values import raw_text
from kitbuilder.kitfile.reader import ParseResult, RawTable


class Way(Enum):
    """How an entry differs."""

    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"
    SET = "set"


class Difference(NamedTuple):
    """One key that has another value, or one entry that came, went or moved."""

    way: Way
    item: int | None
    """The number of the entry after the change; where it was, for one that went. None for the top of the file."""
    tag: str
    """Of the entry as it is after the change, or what it is about where it has none; empty for the top of the file."""
    key: str = ""
    """The key with another value; empty for an entry as a whole."""
    before: str = ""
    """Its value as it stood in the file; empty when it was not given."""
    after: str = ""
    """The same after the change."""


def differences(before: ParseResult, after: ParseResult) -> tuple[Difference, ...]:
    """List what a reading says differently from the one before, in the order of the file.

    Comments and spacing do not count: two texts that differ in nothing else give nothing.
    """
    old, new = before.rows, after.rows
    was, now = ([repr(row) for row in rows] for rows in (old, new))
    found: list[Difference] = []
    for what, first, last, start, end in SequenceMatcher(None, was, now, autojunk=False).get_opcodes():
        if what == "equal":
            continue
        if last - first == end - start:
            for number, pair in enumerate(zip(old[first:last], new[start:end], strict=True), start):
                found += _of_one(*pair, number)
        else:
            found += _of_many(old[first:last], new[start:end], start, len(new) - 1)
    return _with_moves(found)


def _of_many(old: Sequence[RawTable], new: Sequence[RawTable], start: int, last: int) -> list[Difference]:
    """List how tables at one place differ where some came or went: those of one kind and tag are the same entry.

    Args:
        old: The tables as they were.
        new: The tables as they are.
        start: The number of the first of them in the file as it is.
        last: The number of the last table of the file as it is.
    """
    left = list(old)
    found: list[Difference] = []
    for number, row in enumerate(new, start):
        was = next((each for each in left if _name(each) == _name(row)), None)
        if was is None:
            found.append(_whole(Way.ADDED, row, number))
        else:
            left.remove(was)
            found += _of_one(was, row, number)
    return [_whole(Way.REMOVED, row, min(start, last)) for row in left] + found


def _name(row: RawTable) -> tuple[str, object]:
    return row[0], row[1].get("tag")


def _of_one(was: RawTable, now: RawTable, number: int) -> list[Difference]:
    """List the keys that differ between two tables at the same place; two tables of other kinds are other entries."""
    if was[0] != now[0]:
        return [_whole(Way.REMOVED, was, number), _whole(Way.ADDED, now, number)]
    item, tag = _item(number), _tag(now, number)
    keys = dict.fromkeys((*was[1], *now[1]))
    return [
        Difference(Way.SET, item, tag, key, raw_text(was[1].get(key)), raw_text(now[1].get(key)))
        for key in keys
        if repr(was[1].get(key)) != repr(now[1].get(key))  # True, 1 and 1.0 are equal, but not the same in a file
    ]


def _whole(way: Way, row: RawTable, number: int) -> Difference:
    return Difference(way, _item(number), _tag(row, number), after=repr(row))


def _with_moves(found: list[Difference]) -> tuple[Difference, ...]:
    """Give an entry that went and came again elsewhere as one that moved."""
    gone = {each.after for each in found if each.way is Way.REMOVED}
    come = {each.after for each in found if each.way is Way.ADDED}
    moved = gone & come
    kept = [each for each in found if each.way is not Way.REMOVED or each.after not in moved]
    return tuple(
        each if each.key else each._replace(way=Way.MOVED if each.after in moved else each.way, after="")
        for each in kept
    )


def _item(number: int) -> int | None:
    """Give the number of the entry of a table; table 0 is the top of the file."""
    return number - 1 if number else None


def _tag(row: RawTable, number: int) -> str:
    table, values = row
    names = (values.get(key) for key in ("tag", "item", "every"))
    return str(next((name for name in names if name), table)) if number else ""
