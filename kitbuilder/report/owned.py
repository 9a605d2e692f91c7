"""What is said about one item of a gear file, on every page, in lists and in the note of a choice."""

from collections.abc import Sequence

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.gear.due import Due, dates_of, dues_of, format_day
from kitbuilder.kit.gear import (
    IN_ORDER,
    Counted,
    Gear,
    ORing,
    Owned,
    OwnedAdapter,
    OwnedAssembly,
    OwnedHose,
    OwnedLead,
    OwnedSuit,
    Plug,
    pieces_of,
)
from kitbuilder.plans.gear import Use
from kitbuilder.report.page import Sentence

NOT_USED = "in no kit"


def owned_words(item: Owned) -> Sentence:
    """Say what an item is: "61 cm rubber, LP 3/8 to second stage 9/16"; how many, of what is counted."""
    piece = piece_words(item)
    return (pieces_of(item), " × ", *piece) if isinstance(item, Counted) else piece


def piece_words(item: Owned) -> Sentence:
    """Say what an item is, or one piece of what is counted."""
    match item:
        case OwnedHose():
            return (Amount(item.length_m, "length"), f" {item.body}, {item.from_end} to {item.to_end}")
        case OwnedSuit():
            return (f"{item.cut}, ", Amount(item.thickness_m, "thickness"))
        case Plug():
            return (item.thread,)
        case OwnedAdapter():
            return (item.adapter,)
        case ORing():
            return (f"O-ring {item.size}",)
        case OwnedAssembly():
            return (", ".join(item.parts) or item.title,)
        case OwnedLead():
            return (Amount(item.mass_kg, "lead"),)
    return (getattr(item, "preset", None) or getattr(item, "inlet", None) or item.title,)


def state_words(item: Owned) -> str:
    """Say its state and where it is kept; empty when it is in order and nothing is given."""
    parts = [
        "" if item.condition in (None, IN_ORDER) else f"{item.condition}",
        "clean for oxygen" if item.oxygen_clean else "",
        f"kept in {item.kept_in}" if item.kept_in else "",
    ]
    return "; ".join(part for part in parts if part)


def use_words(uses: Sequence[Use]) -> str:
    """Say where an item is used: "cold-single.toml (first), sidemount.toml (right)"."""
    return ", ".join(f"{use.file} ({use.tag})" for use in uses) or NOT_USED


def date_words(item: Owned, gear: Gear) -> dict[str, str]:
    """Say each date of an item, and when what counts from it is due, by key: "2 March 2026, due 2 March 2027"."""
    dues = dues_of(item, gear.header.region)
    return {
        key: ", ".join([format_day(day), *(_due_words(due) for due in dues if due.interval.since == key)])
        for key, day in dates_of(item).items()
    }


def _due_words(due: Due) -> str:
    return f"due {format_day(due.on)}{' by rule' if due.interval.is_rule else ''}"
