"""What an airline allows and when a trip is, each in one line that is typed."""

import re
from typing import NamedTuple

from kitbuilder.kit.fields import field_named
from kitbuilder.kit.trip import PIECES, Leg, TripHeader
from kitbuilder.kitfile.values import Refusal, parse_value
from kitbuilder.spellings import with_unit

TYPED_ALLOWANCE = "23 kg hold, 8 kg cabin"
TYPED_DAYS = "2031-05-10 to 2031-05-24"

_PLACE = {"hold": "hold", "checked": "hold", "cabin": "cabin", "hand": "cabin", "carry-on": "cabin"}
_PART = re.compile(rf"(?:(\d+)\s*[xX×*]\s*)?(.*?\S)\s+({'|'.join(_PLACE)})", re.IGNORECASE)
_TO = re.compile(r"\s+(?:to|until|-|–)\s+")


class Allowance(NamedTuple):
    """What one leg allows, as its keys in a trip file have it; None for what is not limited, or has no bag."""

    hold: str | None
    """Limit of each bag in the hold."""
    hold_pieces: int
    cabin: str | None
    """Limit of each bag in the cabin."""
    cabin_pieces: int | None
    """None where nothing is said: hardly an airline takes no bag in the cabin."""

    @property
    def as_typed(self) -> str:
        """The same as a line that is read in the same way."""
        parts = ((self.hold_pieces, self.hold, "hold"), (self.cabin_pieces, self.cabin, "cabin"))
        return ", ".join(
            f"{f'{pieces} x ' if (pieces or 1) > 1 else ''}{limit} {place}" for pieces, limit, place in parts if limit
        )


def allowance_typed(text: str, unit: str) -> Allowance:
    """Read what an airline allows: "23 kg hold, 8 kg cabin", "2 x 50 lb hold, 10 kg cabin", "10 kg cabin".

    Args:
        text: A limit for each bag in the hold, then one for the cabin. Without the hold, no bag may go there; without
            the cabin, it is left open.
        unit: The unit of a number without one.

    Raises:
        Refusal: It is no such line, or a limit is not accepted.
    """
    found = dict[str, tuple[int, str]]()
    for part in re.split(r"\s*[,;]\s+|\s*;\s*|\s+and\s+", text.strip()):
        match = _PART.fullmatch(part)
        if match is None or _PLACE[match[3].lower()] in found:
            raise _refused(text)
        limit = with_unit(match[2], unit, "mass")
        place = _PLACE[match[3].lower()]
        parse_value(field_named(Leg, f"{place}_piece"), Leg.kind, limit)
        if (match[1] or "1") not in PIECES[1:]:
            raise _refused(text)
        found[place] = int(match[1] or 1), limit
    (hold_pieces, hold), (cabin_pieces, cabin) = found.get("hold", (0, None)), found.get("cabin", (None, None))
    return Allowance(hold, hold_pieces, cabin, cabin_pieces)


def days_typed(text: str) -> tuple[str, str]:
    """Read the first and the last day of a trip: "2031-05-10 to 2031-05-24".

    Raises:
        Refusal: It is no such line, a day is none, or the last comes before the first.
    """
    accepted = f"Write both days with year, month and day: {TYPED_DAYS}."
    parts = _TO.split(text.strip())
    if len(parts) != 2:
        raise Refusal(f'found "{text.strip()}"', accepted)
    first, last = parts
    try:
        begins = parse_value(field_named(TripHeader, "from"), "", first)
        ends = parse_value(field_named(TripHeader, "to"), "", last)
    except Refusal as refusal:  # of one day, in the words of the file
        raise Refusal(refusal.found, accepted) from None
    if ends < begins:
        raise Refusal(f"found a trip that ends on {last}, before it begins", accepted)
    return first, last


def _refused(text: str) -> Refusal:
    accepted = f'Write the limits of the ticket: "{TYPED_ALLOWANCE}" or "2 x 23 kg hold, 8 kg cabin".'
    return Refusal(f'found "{text.strip()}"', accepted)
