"""What contradicts itself in a trip file, leads nowhere, or is missing for the packing."""

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain

from kitbuilder.assess.findings import Amount, Finding, Signal, Tag, Words, words
from kitbuilder.assess.trip.facts import travelling
from kitbuilder.assess.trip.own_rules import own_rules_for
from kitbuilder.assess.trip.placement import Placement, battery_limits, place_item
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.air_rules import CONFIRM, SPARE_BATTERY, SPARE_METAL_CELLS, AirRule, air_rules
from kitbuilder.catalogue.spares import GROUPS, packed_tag
from kitbuilder.kit.items import KINDS, Item
from kitbuilder.kit.resolved_trip import Fate, ItemOfTrip, ResolvedTrip
from kitbuilder.kit.spare import in_hand
from kitbuilder.kit.trip import (
    BODY,
    CABIN,
    HOLD,
    WEAR,
    Bag,
    Leave,
    Leg,
    Luggage,
    OfItems,
    OfKits,
    Option,
    Pin,
    Rent,
)


def findings_of_trip(trip: ResolvedTrip, spares: Iterable[Luggage] = ()) -> tuple[Finding, ...]:
    """Give everything that is wrong with a trip, the worst first, then in the order of the file.

    Args:
        trip: The trip.
        spares: The spare batteries that its list of spares asks for, beside those of its file.
    """
    found = chain(chain.from_iterable(run(trip) for run in _RULES), _numbers(trip, spares))
    placed = (finding._replace(line=trip.lines.of(finding.item, finding.key)) for finding in found)
    return tuple(sorted(placed, key=_place_in_list))


def _place_in_list(finding: Finding) -> tuple[int, bool, bool, int]:
    # A kit that is missing changes all that is said of the trip.
    return -finding.signal, finding.rule != OF_KITS, finding.item is None, finding.item or 0


OF_KITS = "kits of the trip"
"""The rule about kits that are not there."""


def _kits(trip: ResolvedTrip) -> Iterator[Finding]:
    """Name the kits and divers that are not there."""
    rule = OF_KITS
    if not trip.kits:
        why = words("Without a kit there is nothing to weigh or pack.")
        do = words('Name the kits that travel: kits = ["warm-single.toml"].')
        yield Finding(Signal.WARNING, None, "kits", words("the trip names no kit"), why, do, rule)
    for brought in trip.kits:
        for problem in brought.problems:
            why = words("The items of this kit are missing in everything that is said of the trip.")
            do = words("Fix the kit file, or take its name out.")
            yield Finding(Signal.WARNING, None, "kits", _unusable("kit", problem), why, do, rule)
        for problem in brought.kit.linked.diver_problems if brought.kit else ():
            why = words("The lead there is then worked out for an average diver.")
            do = words("Fix the diver file, or take its name out.")
            yield Finding(Signal.CAUTION, None, "divers", _unusable("diver", problem), why, do, rule)
    if len(trip.header.divers) > len(trip.header.kits):
        what = words(f"there are {len(trip.header.divers)} divers and {len(trip.header.kits)} kits")
        why = words("Each diver wears the kit at the same place of the list; the last divers have none.")
        do = words("Name one diver for each kit, or take divers out.")
        yield Finding(Signal.CAUTION, None, "divers", what, why, do, rule)


def _dates(trip: ResolvedTrip) -> Iterator[Finding]:
    first, last = trip.header.from_, trip.header.to
    if first and last and last < first:
        what = words(f"the trip ends on {last.isoformat()}, before it begins on {first.isoformat()}")
        why = words("What falls due during the trip cannot be named.")
        yield Finding(Signal.CAUTION, None, "to", what, why, words("Correct one of the two days."), "days of the trip")


def _entries(trip: ResolvedTrip) -> Iterator[Finding]:
    """Name the entries that are about nothing, and those that are about an item twice."""
    for number, entry in enumerate(trip.items):
        if isinstance(entry, OfKits):
            yield from _leads_nowhere(trip, number, entry)
        if isinstance(entry, OfItems) and (entry.item is None) == (entry.every is None):
            yield _of_nothing(number, entry)
        elif isinstance(entry, Rent):
            yield from _rental(trip, number, entry)
        elif isinstance(entry, Option):
            yield from _option(trip, number, entry)


def _leads_nowhere(trip: ResolvedTrip, number: int, entry: OfKits) -> Iterator[Finding]:
    rule = "item of a kit"
    why = words("The entry has no effect.")
    if entry.kit is not None and entry.kit not in trip.header.kits:
        what = words("the kit ", Tag(entry.kit), " does not travel")
        do = words("Name a kit of the trip, or take the key kit out to mean each kit.")
        yield Finding(Signal.WARNING, number, "kit", what, why, do, rule)
    elif entry.item is not None and not trip.named_by(entry) and not _is_luggage(trip, entry):
        if any(entry.kit in (None, travelling.file) for travelling in trip.missing_kits):
            return  # it may well be in a kit that cannot be read
        where = "this kit has" if entry.kit else "the kits of the trip have"
        what = words(f"{where} no item ", Tag(entry.item))
        do = words("Write the tag of the item as it stands in its kit file.")
        yield Finding(Signal.WARNING, number, "item", what, why, do, rule)


def _is_luggage(trip: ResolvedTrip, entry: OfKits) -> bool:
    """Say whether an entry is about luggage, or pins spares that are packed together: they belong to no kit."""
    of_spares = isinstance(entry, Pin) and entry.kit is None and entry.item in map(packed_tag, GROUPS)
    return of_spares or any(trip.names_luggage(entry, each) for each in trip.luggage)


def _of_nothing(number: int, entry: OfItems) -> Finding:
    both = "both item and every" if entry.item else "neither item nor every"
    what = words(f"the {entry.title} has {both}")
    why = words("It is not clear which items are meant.")
    do = words("Write item for one item, or every for all items of a kind.")
    return Finding(Signal.WARNING, number, "item" if entry.item else None, what, why, do, entry.title)


def _option(trip: ResolvedTrip, number: int, entry: Option) -> Iterator[Finding]:
    """Name an option that changes nothing: of what does not travel, has a fixed bag, or may not be worn."""
    places = set(trip.named_by(entry))
    named: list[ItemOfTrip | Luggage] = [item for item in trip.every_item() if (item.file, item.number) in places]
    named += [each for each in trip.luggage if trip.names_luggage(entry, each)]
    pinned = {place for pin in trip.pins for place in trip.named_by(pin)}
    for each in named:
        tag = each.tag if isinstance(each, Luggage) else each.item.tag
        if isinstance(each, Luggage):
            is_pinned = each.bag is not None or any(trip.names_luggage(pin, each) for pin in trip.pins)
        else:
            is_pinned = (each.file, each.number) in pinned
        if isinstance(each, ItemOfTrip) and each.fate is not Fate.BRING:
            what = f" is {'rented' if each.fate is Fate.RENT else 'left at home'} already"
        elif is_pinned:
            what = " has a fixed bag"
        elif entry.do == WEAR and not _may_be_worn(trip, each):
            what = " may not be worn on board"
        else:
            continue
        why = words(f"The option to {entry.do} it has no effect.")
        do = words("Take the option out, or what contradicts it.")
        yield Finding(
            Signal.CAUTION, number, "item" if entry.item else "every", words(Tag(tag), what), why, do, "option"
        )


def _may_be_worn(trip: ResolvedTrip, each: ItemOfTrip | Luggage) -> bool:
    rules = _place(trip, each).rules
    return all(BODY in rule.may_go for rule in rules if not rule.is_advice)


def _place(trip: ResolvedTrip, each: ItemOfTrip | Luggage) -> Placement:
    item = each if isinstance(each, Luggage) else each.item
    return place_item(item, trip.legs, own_rules_for(trip, each))


def _rental(trip: ResolvedTrip, number: int, entry: Rent) -> Iterator[Finding]:
    rule = "rental"
    kinds = {_item_at(trip, place).kind for place in trip.named_by(entry)}
    if entry.preset and kinds and not kinds & _kinds_of_preset(entry.preset):
        what = words(f"the rental is a {KINDS[min(kinds)].title}, its preset ", Tag(entry.preset), " is not")
        why = words("The preset says nothing about this kind of item.")
        do = words("Choose a preset of that kind, or take it out to rent what the kit has.")
        yield Finding(Signal.WARNING, number, "preset", what, why, do, rule)


def _item_at(trip: ResolvedTrip, place: tuple[str, int]) -> Item:
    kit = next(travelling.kit for travelling in trip.kits if travelling.file == place[0])
    assert kit is not None, "only items of kits that are there are named"
    return in_hand(kit.items[place[1]])


def _kinds_of_preset(preset: str) -> set[str]:
    """List the kinds of item that have a preset of this name."""
    cylinder = {"cylinder"} if preset in catalogue().cylinders else set()
    return cylinder | {kind for kind, name in catalogue().presets if name == preset}


def _contradictions(trip: ResolvedTrip) -> Iterator[Finding]:
    """Name items that are rented and left, and pins of what does not travel."""
    rented = {place for entry in trip.rents if not entry.every for place in trip.named_by(entry)}
    fates = {(item.file, item.number): item.fate for item in trip.every_item()}
    for number, entry in enumerate(trip.items):
        if isinstance(entry, Leave) and rented & set(trip.named_by(entry)):
            why = words("An item cannot be both. It counts as left at home.")
            do = words("Take one of the two entries out.")
            what = words(Tag(entry.item), " is rented and left at home")
            yield Finding(Signal.CAUTION, number, "item", what, why, do, "rented or left")
        if isinstance(entry, Pin):
            gone = {fates[place] for place in trip.named_by(entry)} - {Fate.BRING}
            if gone and all(fates[place] is not Fate.BRING for place in trip.named_by(entry)):
                state = "rented" if Fate.RENT in gone else "left at home"
                what = words(Tag(entry.item), f" has a fixed bag and is {state}")
                why = words("The item does not travel, so that the bag has no effect.")
                do = words("Take one of the two entries out.")
                yield Finding(Signal.CAUTION, number, "item", what, why, do, "fixed bag")


def _bags(trip: ResolvedTrip) -> Iterator[Finding]:
    """Name bags that are missing, and those that are too heavy or too large when empty."""
    if not trip.bags:
        why = words("Without a bag nothing can be packed.")
        yield Finding(Signal.WARNING, None, None, words("the trip has no bag"), why, words("Add a [[bag]]."), "bags")
    tags = {bag.tag for bag in trip.bags}
    for number, entry in enumerate(trip.items):
        if isinstance(entry, Pin | Luggage) and entry.bag is not None and entry.bag not in tags:
            what = words("there is no bag ", Tag(entry.bag))
            why = words("The item goes where it fits.")
            yield Finding(Signal.WARNING, number, "bag", what, why, words("Write the tag of a bag."), "fixed bag")
        if isinstance(entry, Bag):
            yield from _empty_bag(trip, number, entry)


def _empty_bag(trip: ResolvedTrip, number: int, bag: Bag) -> Iterator[Finding]:
    known = [(limit, leg.tag) for leg in trip.legs for limit in _limits_of(leg, bag.goes) if limit is not None]
    known += [(bag.most_kg, bag.tag)] if bag.most_kg is not None else []
    if known and bag.mass_kg > min(known)[0]:
        limit, leg = min(known)
        limited = words(", the limit of ", Tag(leg), " is ", Amount(limit, "mass"))
        what = words("the empty bag weighs ", Amount(bag.mass_kg, "mass"), *limited)
        why = words("Nothing can be packed into it.")
        yield Finding(Signal.WARNING, number, "mass", what, why, words("Take a lighter bag."), "bags")


def _limits_of(leg: Leg, where: str) -> tuple[float | None, ...]:
    """List the limits of mass that one bag has to keep to on a leg."""
    if where == HOLD:
        return leg.hold_piece_kg, leg.hold_total_kg, leg.total_kg, leg.handling_kg
    return (leg.cabin_piece_kg, leg.cabin_total_kg, leg.total_kg) if where == CABIN else ()


def _air_rules(trip: ResolvedTrip) -> Iterator[Finding]:
    """Ask for the energy of batteries, and name what may not fly, or only if the airline approves."""
    limits = battery_limits(trip.legs)
    for number, entry in enumerate(trip.items):
        if isinstance(entry, Luggage):
            yield from _placed(trip, number, entry)
    for item in trip.every_item():
        if item.fate is Fate.BRING:
            yield from _placed(trip, None, item)
    if limits.free_j > limits.most_j:
        what = words("a leg takes no battery above ", Amount(limits.most_j, "energy"))
        why = words("The limit for batteries without approval is higher, and so has no effect.")
        yield Finding(Signal.NOTICE, None, None, what, why, words(CONFIRM), "batteries")


def _numbers(trip: ResolvedTrip, spares: Iterable[Luggage]) -> Iterator[Finding]:
    """Name what each person may bring only so many of: spare batteries and gas cartridges."""
    people, counts = max(1, len(trip.kits)), Counter[AirRule]()
    for luggage in (*trip.luggage, *spares):
        asked = travelling(luggage)
        for rule in _place(trip, luggage).rules:
            is_of_battery = rule.about in (SPARE_BATTERY, SPARE_METAL_CELLS)
            counts[rule] += asked.battery.pieces if is_of_battery and asked.battery else asked.cartridges
    yield from _spare_batteries(trip, people, counts)
    for rule, count in counts.items():
        if rule.most is not None and rule != _of_spares() and rule.may_go and count > rule.most * people:
            what = words(f"there are {count}, at most {rule.most} for each person: {rule.name}")
            do = words(f"Leave some at home. {CONFIRM}")
            yield Finding(Signal.WARNING, None, None, what, words(rule.why), do, rule.name)


def _of_spares() -> AirRule:
    """Give the rule whose number counts for spare batteries of every sort together."""
    return air_rules().about(SPARE_BATTERY)[0]


def _spare_batteries(trip: ResolvedTrip, people: int, counts: Counter[AirRule]) -> Iterator[Finding]:
    """Name too many spare batteries of all sorts together: for a leg that has its own number, else as published."""
    every = sum(count for rule, count in counts.items() if rule.about in (SPARE_BATTERY, SPARE_METAL_CELLS))
    of_leg, published = battery_limits(trip.legs).spares, _of_spares().most
    most = published if of_leg is None else of_leg
    if most is not None and every > most * people:
        who = "at most" if of_leg is None else "a leg allows"
        what = words(f"there are {every} spare batteries; {who} {most} for each person")
        why = words("The airline keeps what is too much.")
        yield Finding(Signal.WARNING, None, None, what, why, words(f"Leave some at home. {CONFIRM}"), "spare batteries")


def _placed(trip: ResolvedTrip, number: int | None, each: ItemOfTrip | Luggage) -> Iterator[Finding]:
    placement, item = _place(trip, each), each if isinstance(each, Luggage) else each.item
    key = "battery" if number is not None else "kits"
    if placement.lacks_energy:
        what = words("the energy of the battery of ", Tag(item.tag), " is not known")
        why = words("It decides whether the item may fly, and whether the airline has to approve it.")
        where = "" if number is not None else " in its kit or gear file"
        do = words(f'Read it off the battery, and write battery = "18.5 Wh" or "3.7 V x 5 Ah"{where}.')
        yield Finding(Signal.CAUTION, number, key, what, why, do, "batteries")
    elif refused := next((rule for rule in placement.rules if not rule.may_go), None):
        what, do = words(Tag(item.tag), " may not fly"), words(f"{refused.do} {CONFIRM}")
        yield Finding(Signal.WARNING, number, key, what, words(refused.why), do, refused.name)
    elif placement.needs_approval:
        rule = next(rule for rule in placement.rules if rule.needs_approval)
        what = words("the airline has to approve ", Tag(item.tag))
        do = words(f"{rule.do} Then write its tag into `approved` of the leg.")
        yield Finding(Signal.NOTICE, number, key, what, words(rule.why), do, rule.name)


def _unusable(kind: str, problem: str) -> Words:
    return words(f"a {kind} file cannot be used: ", problem.removesuffix("."))


_RULES = (_kits, _dates, _entries, _contradictions, _bags, _air_rules)
