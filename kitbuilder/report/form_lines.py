"""How a form is shown: its rows below heads, empty ones folded away, nothing clipped, and the help for one row."""

from collections.abc import Container, Iterator, Sequence
from typing import NamedTuple

from kitbuilder.foreign import NO_BREAK
from kitbuilder.kit.fields import Group, ValueKind
from kitbuilder.report.form import FormRow, usual_unit
from kitbuilder.report.lines import GAP, Line, Span, wrapped
from kitbuilder.report.numbers import System
from kitbuilder.report.words import counted_keys

LONGEST_LABEL = 14
"""Characters of a label in one line; a longer one takes two."""
LEAST_VALUE = 8
"""Characters that a value has at least, however narrow the pane is."""
ORDER = {group: place for place, group in enumerate(Group)}
FIRST = ("tag", "name", "owned")
"""The name comes first, then which item of the gear file it is, which gives other values."""
LAST = ("format", "holds")
"""What a program needs to read the file comes behind what a diver wants to know."""
PLACES = {key: place for place, key in enumerate(FIRST)} | dict.fromkeys(LAST, len(FIRST) + 1)


class Head(NamedTuple):
    """What the rows below are about."""

    title: str


class More(NamedTuple):
    """The line that empty keys are folded under."""

    keys: int
    """How many."""
    is_open: bool


FormPart = Head | FormRow | More


def form_parts(rows: Sequence[FormRow], kept: Container[str], *, is_open: bool) -> tuple[FormPart, ...]:
    """Put the rows of a form in order: group by group below heads, then the empty ones, folded under one line.

    Args:
        rows: Every key of the item.
        kept: Keys that are never folded away, such as those with a finding.
        is_open: Whether the folded keys are shown.
    """
    ordered = sorted(rows, key=_place)
    in_sight = [row for row in ordered if not is_folded(row, kept)]
    folded = [row for row in ordered if is_folded(row, kept)]
    return (*_with_heads(in_sight), *([More(len(folded), is_open)] if folded else []), *(folded if is_open else []))


def is_folded(row: FormRow, kept: Container[str]) -> bool:
    """Say whether a row is folded away: an empty key that nothing asks for."""
    field = row.field
    return not (row.value or field.required or field.always_shown or field.key in kept)


def _place(row: FormRow) -> tuple[int, int]:
    """Rank a row: by its group, then as declared but for the keys that come first or last."""
    return ORDER[row.field.group], PLACES.get(row.field.key, len(FIRST))


def _with_heads(rows: Sequence[FormRow]) -> Iterator[FormPart]:
    """Put a head above each group but the first: the name of the item stands above that."""
    group = rows[0].field.group if rows else None
    for row in rows:
        if row.field.group is not group:
            group = row.field.group
            yield Head(group.value)
        yield row


# ---- lines ----


def label_width(rows: Sequence[FormRow]) -> int:
    """Give the columns of the labels of a form, with the space behind them."""
    return min(max((len(row.label) for row in rows), default=0), LONGEST_LABEL) + 1


def part_lines(part: FormPart, width: int, labels: int) -> list[Line]:
    """Lay one part of a form out in lines of a width.

    Args:
        part: A head, a row, or the line that keys are folded under.
        width: Columns there are.
        labels: Columns of the labels.
    """
    match part:
        case FormRow():
            return list(_row_lines(part, max(width - labels, LEAST_VALUE), labels))
        case More(keys):
            whole, short = f"more: {counted_keys(keys)}", f"more: {keys}"
            return [(Span(_ruled(whole if len(whole) + 2 <= width else short, width), "head"),)]
        case Head(title):
            return [(Span(_ruled(title, width), "head"),)]


def _ruled(title: str, width: int) -> str:
    return f"─ {title} ".ljust(width, "─")[:width]  # at the very end without the space


def _row_lines(row: FormRow, width: int, labels: int) -> Iterator[Line]:
    label_lines = wrapped(row.label, labels - 1)
    value_lines = list(_value_lines(row, width))
    for number in range(max(len(label_lines), len(value_lines))):
        label = label_lines[number] if number < len(label_lines) else ""
        yield (Span(label.ljust(labels), "label"), *(value_lines[number] if number < len(value_lines) else ()))


def _value_lines(row: FormRow, width: int) -> Iterator[Line]:
    """Set the value, and in quiet colour behind it where it comes from, or below it where there is no room."""
    if not row.value:
        yield from ((Span(text, "note"),) for text in wrapped(row.note or "·", width))
        return
    *above, last = wrapped(row.value, width)
    yield from ((Span(text),) for text in above)
    if not row.note:
        yield (Span(last),)
    elif len(last) + len(GAP) + len(row.note) <= width:
        yield Span(last), Span(GAP + row.note.replace(NO_BREAK, " "), "note")
    else:
        yield (Span(last),)
        yield from ((Span(text, "note"),) for text in wrapped(row.note, width))


# ---- help ----


def row_help(row: FormRow, system: System) -> str:
    """Say what a key means, the unit that a bare number takes, and the default."""
    field = row.field
    meaning, _, default = field.meaning.partition(" Default: ")
    pieces = [meaning]
    if field.kind is ValueKind.QUANTITY and (unit := usual_unit(field, row.value, system)):
        pieces.append(f"A bare number is taken as {unit}.")
    if default:
        pieces.append(f"Default: {default}")
    elif not row.value:
        pieces.append("Required." if field.required else f"Default: {row.note or 'none'}.")
    return " ".join(pieces)


def more_help(more: More, wanted: str) -> str:
    """Say what enter does on the line that keys are folded under.

    Args:
        more: The line.
        wanted: The label of the key that the cursor was on and that is folded here; empty when none is.
    """
    if more.is_open:
        return "Enter hides the keys below."
    about = f'"{wanted}" is among them. ' if wanted else ""
    return f"{about}The file does not give these keys. Enter shows them."
