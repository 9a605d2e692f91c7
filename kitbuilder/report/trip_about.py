"""What the trip screen says below its lists: of an item why it is where it is, of a bag what decides."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount, Tag
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.trip import Bag
from kitbuilder.plans.packing import choices
from kitbuilder.plans.packing.packing import Use
from kitbuilder.plans.trip_moves import OTHER_PLACE, Refused, Whereabouts, entries_away, why_not_into
from kitbuilder.plans.trip_packing import TripPacking
from kitbuilder.report.form import Choice
from kitbuilder.report.numbers import System, percent, shown
from kitbuilder.report.packing import (
    LIMIT_WORDS,
    UNUSABLE_WORDS,
    packing_proof,
    placement_reason,
)
from kitbuilder.report.packing_missing import MISSING_WORDS, missing_statement
from kitbuilder.report.packing_steps import DO, steps_parts
from kitbuilder.report.page import Estimate, Node, Page, Section, Sentence, Share, Statements, text
from kitbuilder.report.trip import trip_notes, weights_facts
from kitbuilder.report.trip_answer import trip_answer
from kitbuilder.report.trip_lists import FATE_WORDS, Group, ItemRow, PlaceRow
from kitbuilder.report.trip_parts import rule_words, spares_words, weigh_first_table
from kitbuilder.report.words import counted_items

ANY_BAG, RENT_THERE, AT_HOME = "any bag", "rent it there", "leave it at home"
"""Where an item may go beside the bags."""


def about_place(found: TripPacking, place: PlaceRow) -> Page:
    """Build what there is to say of a row of the upper list."""
    match place.group:
        case Group.BAG | Group.SUM:
            return Page(list(_of_bags(found, place)))
        case Group.TRIP:
            return Page(list(_of_trip(found)))
        case Group.NO_PLACE:
            return Page([text("Move each into a bag with room, rent it there, leave it, or buy a higher limit.")])
        case Group.INSTEAD:
            return Page([text("What is done with these items instead of packing them, so that the limits hold.")])
        case Group.RENT:
            return Page([text(Estimate(found.weights.dry(Fate.RENT), "mass"), " is rented there, and not packed.")])
        case Group.LEAVE:
            return Page([text(Estimate(found.weights.dry(Fate.LEAVE), "mass"), " stays at home.")])
    return Page([text("A leg allows what its form says. Where several legs have a limit, the strictest counts.")])


def about_item(found: TripPacking, row: ItemRow) -> Page:
    """Build what there is to say of an item: where it is, why, and what the rules ask of it."""
    where = row.where
    if where is None:
        return Page([text(Tag(row.name), f": {row.cells[-1]}, an entry of the trip file. Its keys are in the form.")])
    if where.item.fate is not Fate.BRING:
        return Page([text(Tag(row.name), f": {FATE_WORDS[where.item.fate]}. Not packed.")])
    first = [*_where(found, where)]
    placement = where.item.placement
    notes = [
        (f"{rule.why} {rule_words(rule, is_approved=rule.needs_approval and placement.is_approved)}",)
        for rule in placement.rules
        if rule.is_advice or rule.needs_approval
    ]
    return Page([*first, *(text(*words) for words in notes if _is_said(found, where, words))])


def _is_said(found: TripPacking, where: Whereabouts, words: Sentence) -> bool:
    """Say whether a note belongs to where the item is: advice that is followed needs no words."""
    against = {each.rule.why for each in found.against_advice if each.bag == where.bag}
    advice = {rule.why for rule in where.item.placement.rules if rule.is_advice}
    said = str(words[0])
    return not any(said.startswith(why) for why in advice) or any(said.startswith(why) for why in against)


def _where(found: TripPacking, where: Whereabouts) -> Iterator[Node]:
    item = where.item
    if item.mass is None:
        yield text(Tag(item.tag), ": its mass is not known, so it is in no bag. Weigh it.")
    elif where.placed is not None and where.bag:
        kit = f" of {item.file}" if item.file else ""
        reason = placement_reason(where.placed)
        words = reason if reason.endswith(".") else f"{reason}."
        yield text(Tag(item.tag), f"{kit} in ", Tag(where.bag), ": ", words)
    elif where.missing is not None:
        yield Statements("", [missing_statement(where.missing, found.packing)])
    elif where.placed is not None and where.placed.placement.option is not None:
        yield text(Tag(item.tag), f": to keep the limits, {DO[where.placed.placement.option.kind]}.")


# ---- bags ----


def _of_bags(found: TripPacking, place: PlaceRow) -> Iterator[Node]:
    uses = found.uses_of(place.tag) if place.group is Group.BAG else found.uses_of_sum(place.tag)
    bag = next((each for each in found.packing.bags if each.bag.tag == place.tag), None)
    unusable = next((each for each in found.packing.unusable if each.bag.tag == place.tag), None)
    if place.group is Group.BAG and unusable:
        by = (", by ", Tag(unusable.leg)) if unusable.leg else ()
        yield text(Tag(place.tag), f" {UNUSABLE_WORDS[unusable.why]}", *by, ".")
    elif bag and not bag.items:
        yield text(Tag(place.tag), " is empty, so it stays at home.")
    elif not uses:
        yield text("No leg and no key of the bag sets a limit for it.")
    for use, way in zip(uses, ("Way out, dry: ", "Way home, wet: "), strict=False):
        yield text(*_use(use, way))
    for room in found.rooms:
        if room.bag == place.tag:
            inside, size = Estimate(room.taken, "volume"), Amount(room.room_m3, "volume")
            yield text("Room: ", inside, " of ", size, "; it fits with ", Share(room.chance), ".")


def _use(use: Use, way: str) -> Sentence:
    who: Sentence = (" of ", Tag(use.limit.leg)) if use.limit.leg else ()
    return (
        way, Estimate(use.mass, "mass"), " of ", Amount(use.limit.most_kg, "mass"), " (",
        LIMIT_WORDS[use.limit.what], *who, "); it holds with ", Share(use.chance), ".",
    )  # fmt: skip


def _of_trip(found: TripPacking) -> Iterator[Node]:
    yield text(*trip_answer(found))
    if proof := packing_proof(found.packing, is_whole=not found.trip.missing_kits):
        yield text(*proof)
    yield Section("", steps_parts(found.packing, found.trip.header.currency or "", found.unpaid))
    yield Section("", [weights_facts(found)])
    yield Section("", [weigh_first_table(found), *spares_words(found)])
    yield from trip_notes(found)


# ---- moving ----


def bag_choices(trip: ResolvedTrip, found: TripPacking, where: Whereabouts, system: System) -> tuple[Choice, ...]:
    """List where an item can be put: the bags with what is in them, any bag, and for an item of a kit not packed.

    Args:
        trip: What the file says now.
        found: How it is packed.
        where: The item, and where it is now.
        system: The reader's units.
    """
    bags = [Choice(bag.tag, _bag_note(found, where, bag, system)) for bag in trip.bags]
    is_away = where.item.fate is not Fate.BRING
    others = [Choice(ANY_BAG, "let the packing choose")] if where.item.bag or is_away else []
    if where.item.file and not is_away:
        others += [Choice(RENT_THERE, "not packed"), Choice(AT_HOME, "not packed")]
    taken = {bag.tag for bag in trip.bags}
    return (*bags, *(choice for choice in others if choice.word not in taken))


def _bag_note(found: TripPacking, where: Whereabouts, bag: Bag, system: System) -> str:
    if refused := why_not_into(found, where, bag.tag):
        return f"no: {_why_words(refused)}"
    packed = next(each for each in found.packing.bags if each.bag.tag == bag.tag)
    here = "it is here; " if where.bag == bag.tag else ""
    mass = f"{here}{bag.goes}, {shown(packed.mass.value, 'mass', system)}"
    if not packed.use:
        return mass
    limit = shown(packed.use.limit.most_kg, "mass", system)
    return f"{mass} of {limit}, holds {percent(packed.use.chance)}"


def refused_words(where: Whereabouts, tag: str, refused: Refused) -> str:
    """Say why an item may not be moved into a bag, and what to do."""
    rules = " ".join(rule.why for rule in refused.rules)
    do = DO_INSTEAD.get(refused.why, "Choose another bag.")
    return f'"{where.item.tag}" stays out of "{tag}": {_why_words(refused)}. {rules} {do}'.replace(".  ", ". ")


def _why_words(refused: Refused) -> str:
    if refused.why == choices.PIN_REFUSED:
        return "a rule forbids it there"
    return WHY_NOT[refused.why]


WHY_NOT = {
    choices.PIN_UNUSABLE: "this bag cannot be used on this trip",
    choices.TOO_HEAVY: "alone it is heavier than the limit of this bag",
    choices.TOO_BULKY: "it is larger than this bag",
    OTHER_PLACE: "the trip file says that it goes elsewhere",
}
DO_INSTEAD = {
    choices.PIN_UNUSABLE: "The bag's row says why.",
    choices.TOO_BULKY: "Choose a larger bag.",
    OTHER_PLACE: 'Change the key "goes" of this luggage first.',
}


def not_packed_words(trip: ResolvedTrip, row: ItemRow) -> str:
    """Say why an item cannot be moved into a bag at all; empty where it can."""
    where = row.where
    if where is None or where.number is not None:
        return ""
    if where.item.fate is Fate.BRING:
        return f'The mass of "{row.name}" is not known, so it cannot be packed. Weigh it, and write it into its kit.'
    if row.entry is None:
        return f'"{row.name}" is rented by its kit file: {where.item.file}.'
    if entries_away(trip, where.item):
        return ""
    return f'"{row.name}" is {FATE_WORDS[where.item.fate]} with other items. Change that entry to pack it alone.'


def state_words(found: TripPacking) -> str:
    """Say in a few words whether everything is packed, and how likely all limits hold at once."""
    if count := len(found.trip.missing_kits):
        return "a kit is missing" if count == 1 else f"{count} kits are missing"
    without = len(found.packing.missing) + len(found.weights.unknown)
    if without:
        return f"{counted_items(without, 'item')} without a place"
    if not found.packing.placed:
        return "nothing to pack"
    if not found.is_packed:
        return "a limit may not hold"
    if not (found.packing.uses or found.sums_home):
        return "packed, no limit given"
    return f"packed, limits hold: {percent(found.packing.chance_at_least)}"


def moved_words(where: Whereabouts, tag: str) -> str:
    """Say what became of a move once the packing is repaired; empty where it holds."""
    if where.missing is None:
        return ""
    what, _ = MISSING_WORDS[where.missing.why]
    chance = where.missing.chance
    likely = "" if chance is None else f" In it, all limits would hold with {percent(chance)}."
    return f'"{where.item.tag}" found no room in "{tag}". {what}{likely}'
