"""What has no place in a packing: why, and what to do."""

from collections.abc import Sequence

from kitbuilder.plans.packing import choices as why
from kitbuilder.plans.packing.packing import Missing, Packing
from kitbuilder.plans.packing.records import EXTRA, NEEDED, VITAL
from kitbuilder.report.page import Sentence, Share, Statement, Statements, Tag, joined, only_data

MISSING_WORDS = {
    why.NO_BAG: ("There is no bag.", "Add one to the trip."),
    why.MAY_NOT_FLY: ("It may not fly.", "Rent it there, or send it another way."),
    why.RULES_CONTRADICT: ("Its rules leave no place for it.", "Ask the airline which of them counts."),
    why.NO_BAG_THERE: ("No bag that can be used goes to an allowed place.", "Add such a bag."),
    why.TOO_HEAVY: ("It is heavier than every limit allows.", "Rent one there, or buy a higher limit."),
    why.TOO_BULKY: ("It is larger than every bag that it may go in.", "Take a larger bag, or leave it."),
    why.PIN_UNKNOWN: ("It is pinned to a bag that there is not.", "Correct the name of the bag."),
    why.PIN_REFUSED: ("It is pinned to a bag in which it may not go.", "Pin it to another bag, or to none."),
    why.PIN_UNUSABLE: ("It is pinned to a bag that cannot be used.", "Pin it to another bag, or to none."),
    why.PIN_TOO_MUCH: ("The bag that it is pinned to cannot take it as well.", "Take something else out of that bag."),
    why.NO_ROOM: ("There is no room left for it.", "Leave, rent or wear something, or buy a higher limit."),
}
PROPOSED = (
    "Proposal: leave it at home; most dives can be done without it. Or write into the trip what may be left, rented or "
    "worn instead: add an [[option]]."
)
NEED_WORDS = {
    VITAL: "The dive cannot be done without it, and what can be left at home does not make room.",
    NEEDED: "Most dives cannot be done without it, and what can be left at home does not make room.",
    EXTRA: "",
}


def missing_statements(found: Packing) -> Statements:
    """Say of each item without a place why, and what to do."""
    entries = _grouped([(each, missing_statement(each, found)) for each in found.missing])
    said = [entry.body[-1:] if entry.is_shown else () for entry in entries]
    # What to do stands once, below the last of the items that it is about.
    once = [
        entry._replace(body=entry.body[:-1]) if advice and advice in said[number + 1 :] else entry
        for number, (entry, advice) in enumerate(zip(entries, said, strict=True))
    ]
    return Statements("missing", once, title="No place for")


def _grouped(pairs: Sequence[tuple[Missing, Statement]]) -> list[Statement]:
    """Say once of several items what is said of each, where bags are missing; JSON has each by itself."""
    of_bags = [(each, said) for each, said in pairs if each.why in (why.NO_BAG, why.NO_BAG_THERE)]
    entries = list[Statement]()
    for missing, said in pairs:
        alike = [each for each, other in of_bags if (each.why, other.body) == (missing.why, said.body)]
        if len(alike) > 1:
            names = joined(((Tag(each.item.tag),) for each in alike), ", ")
            said = said._replace(head=(*names, *said.head[1:]), is_shown=missing is alike[0])
        entries.append(said)
    return entries


def missing_statement(missing: Missing, found: Packing) -> Statement:
    """Say why an item of a packing has no place, and what to do."""
    what, do = MISSING_WORDS[missing.why]
    rules = " ".join(rule.why for rule in missing.item.rules if missing.why in RULED)
    if missing.why in (why.NO_ROOM, why.PIN_TOO_MUCH):
        rules, do = NEED_WORDS[missing.item.need], PROPOSED if missing.is_proposed else do
    if missing.why == why.NO_BAG_THERE and not found.takes_bags:
        rules, (what, do) = "", NO_BAG_USABLE if found.unusable else NO_BAG_FOR_IT
    chance = None if missing.chance is None else Share(missing.chance)
    with_it: Sentence = ()
    if chance is not None:
        with_it = ("In ", Tag(missing.bag), " as well, all limits would hold with a probability of ", chance, ".")
    data = only_data(
        ("tag", missing.item.tag),
        ("why", missing.why),
        ("need", missing.item.need),
        ("proposed", missing.is_proposed),
        ("bag", missing.bag),
        ("chance", chance),
    )
    body = [words for words in (with_it, (f"{rules} {do}".strip(),)) if words]
    return Statement((Tag(missing.item.tag), f": {what}"), body, data.rows)


NO_BAG_USABLE = ("No bag can be used.", "See why under the bags that cannot be used.")
NO_BAG_FOR_IT = ("There is no bag for the hold or the cabin.", "Add one to the trip.")
RULED = (why.MAY_NOT_FLY, why.RULES_CONTRADICT, why.NO_BAG_THERE, why.PIN_REFUSED)
"""Reasons that rest on the rules of an item."""
