"""Which limits a packing has to keep: of several legs, the strictest holds."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.plans.packing.chance import ROOM, reached_at_most
from kitbuilder.plans.packing.records import BODY, CABIN, HOLD, Bag, Leg

PIECE, HANDLING, BAG, HOLD_TOTAL, CABIN_TOTAL, TOTAL = "piece", "handling", "bag", "hold", "cabin", "hold and cabin"
"""What a limit of mass counts for."""
TOO_HEAVY_EMPTY, TOO_LARGE, NO_PIECES, ZERO_LIMIT = "too heavy empty", "too large", "no pieces", "zero limit"
"""Why a bag cannot be used."""


class Limit(NamedTuple):
    """A limit of mass, and who sets it."""

    most_kg: float
    what: str
    """One of the words above."""
    leg: str
    """The leg that sets it; empty for a limit of the bag itself."""
    others: tuple[tuple[str, float], ...] = ()
    """Legs that would allow more, and how much [kg]."""


class Pieces(NamedTuple):
    """How many pieces may go to a place."""

    most: int
    place: str
    leg: str


class Unusable(NamedTuple):
    """A bag that cannot be used, and why."""

    bag: Bag
    why: str
    """One of the words above."""
    leg: str
    """The leg that refuses it; empty for a limit of the bag itself."""


class Closed(NamedTuple):
    """Legs that contradict each other: together they leave no place to pack in."""

    hold: str
    """The leg that takes nothing in the hold."""
    cabin: str
    """The leg that takes nothing in the cabin."""


def limit_of(bag: Bag, legs: Iterable[Leg]) -> Limit | None:
    """Give the strictest limit of mass of one bag; None when nobody sets any."""
    limits = [] if bag.most_kg is None else [Limit(bag.most_kg, BAG, "")]
    for leg in legs:
        limits += [Limit(most, what, leg.tag) for what, most in _of_a_piece(bag.place, leg) if most is not None]
    return _strictest(limits)


def _of_a_piece(place: str, leg: Leg) -> Iterator[tuple[str, float | None]]:
    if place == HOLD:
        yield PIECE, leg.hold_piece_kg
        yield HANDLING, leg.handling_kg
    if place == CABIN:
        yield PIECE, leg.cabin_piece_kg


def totals_of(legs: Iterable[Leg]) -> dict[str, Limit]:
    """Give the strictest limit of the hold, of the cabin and of both together, those that somebody sets."""
    listed = tuple(legs)
    sums = {
        HOLD_TOTAL: [(leg.tag, leg.hold_total_kg) for leg in listed],
        CABIN_TOTAL: [(leg.tag, leg.cabin_total_kg) for leg in listed],
        TOTAL: [(leg.tag, leg.total_kg) for leg in listed],
    }
    found = {
        what: _strictest([Limit(most, what, leg) for leg, most in limits if most is not None])
        for what, limits in sums.items()
    }
    return {what: limit for what, limit in found.items() if limit is not None}


def places_of(what: str) -> tuple[str, ...]:
    """Give the places whose bags a total counts."""
    return {HOLD_TOTAL: (HOLD,), CABIN_TOTAL: (CABIN,), TOTAL: (HOLD, CABIN)}[what]


def _strictest(limits: list[Limit]) -> Limit | None:
    if not limits:
        return None
    least = min(limits, key=lambda limit: limit.most_kg)
    # The limit for lifting by hand is nothing that a leg allows, and a second limit of the same leg is no other leg.
    others = [each for each in limits if each.what != HANDLING and each.leg not in ("", least.leg)]
    by_leg = {leg: min(each.most_kg for each in others if each.leg == leg) for leg in (each.leg for each in others)}
    return least._replace(others=tuple((leg, most) for leg, most in by_leg.items() if most > least.most_kg))


def pieces_of(legs: Iterable[Leg]) -> tuple[Pieces, ...]:
    """Give the least number of pieces that the legs allow, in the hold and in the cabin, where one of them counts."""
    listed = tuple(legs)
    counts = [Pieces(leg.hold_pieces, HOLD, leg.tag) for leg in listed if leg.hold_pieces is not None]
    counts += [Pieces(leg.cabin_pieces, CABIN, leg.tag) for leg in listed if leg.cabin_pieces is not None]
    places = [[count for count in counts if count.place == place] for place in (HOLD, CABIN)]
    return tuple(min(found, key=lambda count: count.most) for found in places if found)


def unusable_of(bag: Bag, legs: tuple[Leg, ...], likelihood: float) -> Unusable | None:
    """Say why a bag cannot be used at all; None when it can.

    Args:
        bag: The bag.
        legs: The legs, without a limit of pieces where further ones can be bought.
        likelihood: How likely each limit has to hold [1].
    """
    limit = limit_of(bag, legs)
    totals = [total for what, total in totals_of(legs).items() if bag.place in places_of(what)]
    for each in (*([limit] if limit else []), *totals):
        if each.most_kg <= 0:
            return Unusable(bag, ZERO_LIMIT, each.leg)
    for count in pieces_of(legs):
        if count.place == bag.place and count.most <= 0:
            return Unusable(bag, NO_PIECES, count.leg)
    for leg in legs:
        if not _fits(bag, leg):
            return Unusable(bag, TOO_LARGE, leg.tag)
    for each in (*([limit] if limit else []), *totals):
        if reached_at_most(bag.mass, likelihood) > each.most_kg + ROOM:
            return Unusable(bag, TOO_HEAVY_EMPTY, each.leg)
    return None


def _fits(bag: Bag, leg: Leg) -> bool:
    if bag.edges_m is None:
        return True
    if bag.place == HOLD and leg.hold_edges_m is not None:
        return sum(bag.edges_m) <= leg.hold_edges_m + ROOM
    if bag.place == CABIN and leg.cabin_edges_m is not None:
        pairs = zip(sorted(bag.edges_m), sorted(leg.cabin_edges_m), strict=True)
        return all(edge <= most + ROOM for edge, most in pairs)
    return True


def closed_by(legs: Iterable[Leg]) -> Closed | None:
    """Find two legs, or one, that together take nothing in the hold and nothing in the cabin; None when none do."""
    listed = tuple(legs)
    no_hold = [leg.tag for leg in listed if 0 in (leg.hold_piece_kg, leg.hold_total_kg, leg.hold_pieces)]
    no_cabin = [leg.tag for leg in listed if 0 in (leg.cabin_piece_kg, leg.cabin_total_kg, leg.cabin_pieces)]
    return Closed(no_hold[0], no_cabin[0]) if no_hold and no_cabin else None


def is_weighed(place: str) -> bool:
    """Say whether bags of a place count against limits of the legs: what is worn does not."""
    return place != BODY
