"""Changes of the text of a file, each with what must come of it."""

from collections.abc import Callable
from typing import NamedTuple

from kitbuilder.kitfile import edits
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import ParseResult, RawTable


class Change(NamedTuple):
    """One change of the text, and what must come of it; an edit that does anything else is refused."""

    text: Callable[[str, ParseResult], str]
    rows: Callable[[tuple[RawTable, ...]], tuple[RawTable, ...]]


def setting(item: int | None, key: str, value: TomlValue | None) -> Change:
    """Set one key of an item, of the heading when None; a value of None takes the key out."""
    number = block_number(item)

    def rows(before: tuple[RawTable, ...]) -> tuple[RawTable, ...]:
        table, values = before[number]
        values = {known: kept for known, kept in values.items() if known != key}
        return (*before[:number], (table, values if value is None else values | {key: value}), *before[number + 1 :])

    return Change(lambda text, reading: edits.set_value(text, reading.blocks[number], key, value, reading.file), rows)


def removing(number: int) -> Change:
    """Take a block out."""
    return Change(
        lambda text, reading: edits.remove_item(text, reading.blocks, number),
        lambda rows: rows[:number] + rows[number + 1 :],
    )


def inserting(after: int, lines: str, row: RawTable) -> Change:
    """Put lines below a block; they say what the row says."""
    return Change(
        lambda text, reading: edits.insert_item(text, reading.blocks[after], lines),
        lambda rows: (*rows[: after + 1], row, *rows[after + 1 :]),
    )


def block_number(item: int | None) -> int:
    """Give the number of an item's block; the heading is block 0."""
    return 0 if item is None else item + 1
