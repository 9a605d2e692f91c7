"""The answer on top of a trip in one sentence: whether everything fits, what the bags weigh, how likely limits hold."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import ByUnits, Tag, Word
from kitbuilder.plans.packing.limits import CABIN_TOTAL, HOLD_TOTAL, TOTAL
from kitbuilder.plans.packing.packing import PackedBag
from kitbuilder.plans.trip_packing import TripPacking, all_hold
from kitbuilder.report.numbers import System, digits, unit
from kitbuilder.report.packing import WITHOUT_LIMIT
from kitbuilder.report.page import Price, Scalar, Sentence, Share, joined
from kitbuilder.report.words import counted_items

MOST_NAMED = 3
"""Items that are named in the sentence; the lists below have all."""


def trip_answer(found: TripPacking) -> Sentence:
    """Say whether everything fits, what each bag with a limit weighs, and how likely all limits hold on both ways."""
    bags = [packed for packed in found.packing.bags if packed.items]
    if found.trip.missing_kits:
        # How well the rest fits is no answer about the trip.
        return tuple(_without_kits(found))
    if not bags:
        return (*_without_a_place(found), "Nothing is packed.")
    fits = (*_without_a_place(found), *_those_that_fit(found, bags))
    weighed = [_of_limit(packed) for packed in bags if packed.use]
    return (*fits, ": " if weighed else "", *joined(weighed, ", "), *_holds(found))


def _without_kits(found: TripPacking) -> Iterator[Scalar]:
    count, packed = len(found.trip.missing_kits), sum(len(each.items) for each in found.packing.bags)
    yield "A kit is missing: " if count == 1 else f"{count} kits are missing: "
    yield from joined(((Tag(each.file),) for each in found.trip.missing_kits), ", ")
    yield f". What follows is about the other {counted_items(packed, 'item')} alone." if packed else "."


def _without_a_place(found: TripPacking) -> Iterator[Scalar]:
    if missing := [Tag(each.item.tag) for each in found.packing.missing]:
        finds = "1 item finds" if len(missing) == 1 else f"{len(missing)} items find"
        yield from (f"{finds} no place: ", *_named(missing), ". ")
    if unknown := [Tag(item.tag) for item in found.weights.unknown]:
        yield from ("Not packed, because the mass is not known: ", *_named(unknown), ". ")


def _named(tags: Sequence[Tag]) -> Iterator[Scalar]:
    yield from joined(((tag,) for tag in tags[:MOST_NAMED]), ", ")
    if len(tags) > MOST_NAMED:
        yield f" and {len(tags) - MOST_NAMED} more"


def _those_that_fit(found: TripPacking, bags: Sequence[PackedBag]) -> Iterator[Scalar]:
    """Say how many fit, and on what condition."""
    packing, count = found.packing, sum(len(packed.items) for packed in bags)
    away = sum(not placed.placement.bag for placed in packing.instead)
    some_are_left = bool(packing.missing or found.weights.unknown or away)
    yield counted_items(count, "item") if some_are_left else f"All {counted_items(count, 'item')}"
    yield " fit" if count > 1 else " fits"
    if away:
        yield f" if {counted_items(away, 'other')} {'are' if away > 1 else 'is'} left, rented or worn"
    if packing.price:
        yield f" {'and' if away else 'if'} you pay "
        yield Price(packing.price, found.trip.header.currency or "")


def _of_limit(packed: PackedBag) -> tuple[Word, ...]:
    """Give the mass of a bag and its limit, as on a luggage scale: to a tenth."""
    assert packed.use is not None
    mass_kg, limit_kg = packed.mass.value, packed.use.limit.most_kg
    return (f"{packed.bag.tag} ", ByUnits(*(_of(mass_kg, limit_kg, system) for system in System)))


def _of(mass_kg: float, limit_kg: float, system: System) -> str:
    limit = digits(limit_kg, "lead", system).removesuffix(".0")
    return f"{digits(mass_kg, 'lead', system)} of {limit} {unit('lead', system)}"


def _holds(found: TripPacking) -> Iterator[Scalar]:
    """Say how likely the limit holds that holds least likely, on either way."""
    home = [(each.bag.tag, each.use) for each in found.bags_home if each.use]
    home += [(SUM_WORDS[use.limit.what], use) for use in found.sums_home]
    failing = [(name, use) for name, use in home if not all_hold([use])]
    uses = [*found.packing.uses, *(use for _, use in home)]
    if failing:
        name, use = min(failing, key=lambda each: each[1].chance)
        yield from ("; on the way home, wet, the limit of ", name, " holds with only ", Share(use.chance), ".")
    elif uses:
        yield from ("; every limit holds with ", Share(min(use.chance for use in uses)), ".")
    else:
        # Where no bag can be used, a limit of zero may be why.
        yield f". {WITHOUT_LIMIT}" if found.packing.takes_bags else "."


SUM_WORDS = {HOLD_TOTAL: "all bags in the hold", CABIN_TOTAL: "all bags in the cabin", TOTAL: "all bags"}
