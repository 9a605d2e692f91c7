"""The page of `kitbuilder swaps`: what is lighter, what it saves and what it does to the rest, and good sets."""

from collections.abc import Iterator, Sequence
from string import ascii_lowercase

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Finding
from kitbuilder.kit.items import Cylinder, Kit
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.plans.swaps.options import BODY, OWNED, RENTED, Option
from kitbuilder.plans.swaps.swaps import Effect, HoseChange, Swap, Swaps, SwapSet
from kitbuilder.report.findings import finding_entries
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import (
    Cell,
    Column,
    Duration,
    Estimate,
    Fact,
    Facts,
    Interval,
    Node,
    Page,
    Price,
    Row,
    Section,
    Sentence,
    Series,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    Text,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.swaps_data import EFFECT, RENTED_THERE, SWAP_KEYS, effect_data, swap_data
from kitbuilder.report.trip import trip_problems
from kitbuilder.report.words import CAUTIONS, counted_items

NOTHING = "Nothing is lighter: no hose body, part of the catalogue, owned item or rental would save mass here."
ASSUMED = (
    "What is rented is taken to be like the item of the kit, with the usual spread of its kind: ask what they have.",
    "The price is that of the stock file. What is owned costs nothing. No other price is known.",
    "The lead there is that of the kit's water. What a swap gives up is listed from common practice or memory.",
    "What gives up warmth or light, and what has to fit the body, is in no set: decide on it first.",
)


def swaps_page(file: str, found: Swaps) -> Page:
    """Build the page of a kit.

    Args:
        file: The kit file, as it was given.
        found: Its swaps.
    """
    return Page([*_of_kit(file, found), *_last()])


def trip_swaps_page(file: str, trip: ResolvedTrip, found: Sequence[tuple[str, Swaps]]) -> Page:
    """Build the page of a trip: what its kits bring, and what of that could be lighter.

    Args:
        file: The trip file, as it was given.
        trip: The trip.
        found: The swaps of each kit, by its file.
    """
    return Page(
        [
            only_data(("file", file), ("name", Tag(trip.header.name))),
            text(file),
            text(f"{trip.header.name} · what is rented or left at home saves nothing"),
            not_used(trip_problems(trip)),
            Series("kits", [Section("", _of_kit(kit, swaps)) for kit, swaps in found]),
            *_last(),
        ]
    )


def _of_kit(file: str, found: Swaps) -> list[Node]:
    kit = found.before.kit
    return [
        only_data(("file", file), ("name", Tag(kit.header.name)), ("currency", found.currency)),
        text(file),
        text(f"{kit.header.name} · {kit.header.layout}"),
        not_used(kit.linked.problems),
        Section("", [*_bag(found)]),
        swaps_table(found),
        Section("", [*_hoses_come_last(found)]),
        _new_findings(found),
        _gives_up(found),
        sets_table(found),
        _in_each_set(found),
        Section("", [*_proof(found)]),
    ]


def _last() -> list[Node]:
    """Build what every answer ends with."""
    assumed = Statements("", [Statement((words,), mark="-") for words in ASSUMED], title="Assumptions")
    return [assumed, Section("", [text(CAUTIONS)])]


# ---- parts of the screen ----


def swaps_table(found: Swaps) -> Table:
    """Build the list of the swaps, one row each, what saves most first."""
    columns = [
        Column("", "item", may_wrap=True, names_row=True),
        Column("", "instead", may_wrap=True),
        Column("", "saves", unit_in_head=True),
        Column("", "lead there", unit_in_head=True),
        Column("", "price"),
        Column("", "new"),
        *(Column(key, "") for key in SWAP_KEYS),
    ]
    rows: list[Row] = [[*_swap_cells(swap, found.currency), *swap_data(swap, found)] for swap in found.swaps]
    return Table("swaps", columns, rows, title="Swaps, what saves most in the bag first", empty=NOTHING)


def sets_table(found: Swaps) -> Table:
    """Build the list of the sets, one row each, the lightest first, with the letters that a picture of them has."""
    columns = [
        Column("letter", "set"),
        Column("", "saves", unit_in_head=True),
        Column("", "lead there", unit_in_head=True),
        Column("", "new"),
        Column("", "price"),
        Column("", "changes"),
        *(Column(key, "") for key in ("swaps", "price", "without_price", *EFFECT)),
    ]
    numbers = {id(swap): number for number, swap in enumerate(found.swaps)}
    rows: list[Row] = [
        [
            letter,
            _saved(each.effect.saved.even),
            _lead(each.effect.lead),
            each.effect.worst,
            _price_of_set(each, found.currency),
            len(each.swaps),
            Values([numbers[id(swap)] for swap in each.swaps]),
            Price(each.price, ""),
            each.without_price,
            *effect_data(each.effect, each.edits, found),
        ]
        for letter, each in zip(ascii_lowercase, found.sets, strict=False)
    ]
    return Table("sets", columns, rows, title="Sets that no other set beats in bag, lead and price")


def _in_each_set(found: Swaps) -> Statements:
    entries = [
        Statement(joined((_short(swap) for swap in each.swaps), "; "), mark=letter)
        for letter, each in zip(ascii_lowercase, found.sets, strict=False)
    ]
    return Statements("", entries, title="What is in each set" if entries else "")


def swap_page(found: Swaps, swap: Swap) -> Page:
    """Build all there is to say about one swap, for a pane beside the list."""
    return Page([_effect_facts(found, swap), *_finding_parts(swap.effect, found.before.kit), text(CAUTIONS)])


def set_page(found: Swaps, chosen: SwapSet) -> Page:
    """Build all there is to say about one set, for a pane beside the list."""
    columns = [Column("", "item", may_wrap=True, names_row=True), Column("", "instead", may_wrap=True)]
    rows: list[Row] = [[_items(swap), _instead(swap.option)] for swap in chosen.swaps]
    facts = Facts([*_saved_facts(chosen.effect), Fact("", "price", _price_of_set(chosen, found.currency))])
    return Page([Table("", columns, rows), facts, *_finding_parts(chosen.effect, found.before.kit), text(CAUTIONS)])


def _effect_facts(found: Swaps, swap: Swap) -> Facts:
    option = swap.option
    return Facts(
        [
            Fact("", "item", _items(swap)),
            Fact("", "instead", _instead(option)),
            *_saved_facts(swap.effect),
            *([Fact("", "price", price)] if (price := _price(option, found.currency)) is not None else []),
            *([Fact("", "gives up", option.gives_up)] if option.gives_up else []),
            *(fact for hose in swap.effect.hoses for fact in _hose_facts(hose)),
        ]
    )


def _saved_facts(effect: Effect) -> Iterator[Fact]:
    yield Fact("", "saves in the bag", _saved(effect.saved))
    yield Fact("", "lead there", _lead(effect.lead) or "not known")


def _hose_facts(hose: HoseChange) -> Iterator[Fact]:
    before, after = (each.outcome if each else "not known" for each in hose.verdict)
    yield Fact("", "fit", after if before == after else f"{after} (now: {before})")
    one, other = hose.stand_off
    if one or other:
        now: Sentence = (" (now: ", Interval(one, "length"), ")") if one else ()
        yield Fact("", "bows out", (Interval(other, "length") if other else "not known", *now))
    old, new = hose.emptying
    if old and new and not hose.empties_alike:
        yield Fact("", "empty after a burst", (Duration(new), " (now: ", Duration(old), ")"))


def _finding_parts(effect: Effect, kit: Kit) -> Iterator[Node]:
    yield finding_entries(effect.new, kit)._replace(key="", title="New findings")
    if effect.gone:
        yield finding_entries(effect.gone, kit)._replace(key="", title="No longer found")


# ---- cells ----


def _swap_cells(swap: Swap, currency: str) -> list[Cell | Node]:
    effect, option = swap.effect, swap.option
    price = _price(option, currency)
    return [_brief_items(swap), _instead(option), _saved(effect.saved.even), _lead(effect.lead), price, effect.worst]


def _items(swap: Swap) -> Cell:
    tags = [Tag(tag) for tag in swap.tags]
    return tags[0] if len(tags) == 1 else joined(((tag,) for tag in tags), ", ")


def _brief_items(swap: Swap) -> Cell:
    """Name what is swapped where there is little room: "right cylinder" +4."""
    first, more = Tag(swap.tags[0]), len(swap.tags) - 1
    return (first, f" +{more}") if more else first


def _instead(option: Option) -> Sentence:
    """Say what takes the place of the items."""
    if option.kind == RENTED:
        return (RENTED_THERE,)
    if option.kind == OWNED:
        return ("owned: ", Tag(option.new))
    if option.length_m is None or option.kind == BODY:
        return (option.new,)
    return (f"{option.new}, ", StockLength(option.length_m))


def _short(swap: Swap) -> Sentence:
    return (*_items_sentence(swap), ": ", *_instead(swap.option))


def _saved(figure: Figure) -> Estimate:
    return Estimate(figure, "mass")


def _lead(figure: Figure | None) -> Estimate | None:
    return Estimate(figure, "lead change") if figure else None


def _price(option: Option, currency: str) -> Cell:
    if option.owned:
        return "owned"
    return None if option.price is None else Price(option.price, currency)


def _price_of_set(found: SwapSet, currency: str) -> Sentence:
    known: Sentence = (Price(found.price, currency),) if found.price else ()
    unknown: Sentence = (f"{found.without_price} not known",) if found.without_price else ()
    return joined([each for each in (known, unknown) if each], ", ") or ("owned",)


# ---- sentences ----


def _bag(found: Swaps) -> Iterator[Node]:
    balance = found.before.balance
    rows = [Fact("bag_kg", "in the bag now", _saved(found.bag), _away_note(found))]
    if balance:
        rows.append(Fact("", "lead needed now", Estimate(balance.lead, "lead")))
    yield Facts(rows)
    unknown = [Tag(tag) for tag in found.without_mass]
    yield only_data(("not_weighed", Values(unknown)))
    if unknown:
        yield text("Not counted, because the mass is not known: ", *joined(((tag,) for tag in unknown), ", "), ".")


def _away_note(found: Swaps) -> str | None:
    away = [item for item in found.before.kit.items if item.rented or item.tag in found.away]
    notes = [f"without {counted_items(len(away), 'item')} rented or left at home"] if away else []
    # A check weighs the kit as it goes into the water; only empty cylinders travel.
    if any(isinstance(item, Cylinder) and item not in away for item in found.before.kit.items):
        notes.append("with cylinders empty")
    return ", ".join(notes) or None


def _hoses_come_last(found: Swaps) -> Iterator[Node]:
    """Compare all hoses together with each other item alone."""
    hoses = found.hoses
    yield only_data(("hoses_saved_kg", _saved(hoses.effect.saved) if hoses else None))
    if hoses is None:
        return
    ahead = found.ahead_of_hoses
    count = counted_items(len(hoses.swaps), "lighter hose")
    start: Sentence = (f"All hoses together ({count}) save ", Amount(hoses.effect.saved.value, "mass"))
    if not ahead:
        yield Text((*start, ", more than any other swap."))
        return
    others = joined(((*_items_sentence(swap), " ", _saved(swap.effect.saved)) for swap in ahead[:3]), ", ")
    more = f", and {len(ahead) - 3} more" if len(ahead) > 3 else ""
    yield Text((*start, ". Each of these alone saves more: ", *others, f"{more}. Swap hoses last."))


def _items_sentence(swap: Swap) -> Sentence:
    first, more = Tag(swap.tags[0]), len(swap.tags) - 1
    return (first, f" and {more} more") if more else (first,)


def _new_findings(found: Swaps) -> Statements:
    """Build the list of swaps that bring a finding, with each of them in its words; the same in others stands once."""
    entries, seen = list[Statement](), set[tuple[str, int | None]]()
    for swap in found.swaps:
        fresh = [each for each in swap.effect.new if (each.rule, each.item) not in seen]
        seen |= {(each.rule, each.item) for each in fresh}
        if fresh:
            entries.append(
                Statement(_short(swap), [_new_finding(each, fresh[0], found) for each in fresh], mark=fresh[0].signal)
            )
    return Statements("", entries, title="What swaps bring with them" if entries else "")


def _new_finding(finding: Finding, worst: Finding, found: Swaps) -> Sentence:
    """Say what was found, and how bad it is where it is not as bad as what stands in front of it."""
    item = () if finding.item is None else (Tag(found.before.kit.items[finding.item].tag), ": ")
    signal = () if finding.signal is worst.signal else (f"{finding.signal.word}: ",)
    return (*signal, *item, *finding.what, ".")


def _gives_up(found: Swaps) -> Statements:
    swaps = {(swap.option.kind, swap.option.new, swap.tags): swap for swap in found.swaps if swap.option.gives_up}
    entries = [Statement((*_short(swap), f". Gives up {swap.option.gives_up}."), mark="-") for swap in swaps.values()]
    return Statements("", entries, title="What swaps may give up" if entries else "")


def _proof(found: Swaps) -> Iterator[Node]:
    front = found.front
    yield Facts([Fact("found", "", front.found), Fact("whole", "", front.is_whole)], "front")
    if not found.sets:
        return
    shown = f"{len(found.sets)} of {front.found} are shown. " if front.found > len(found.sets) else ""
    proof = (
        "All sets were compared: no set beats one of these."
        if front.is_whole
        else "There are more. Each of these is the best at some rate of exchange between bag, lead and price, so that "
        "no set beats it."
    )
    yield text(f"{shown}{proof} Each set was assessed as a whole.")
