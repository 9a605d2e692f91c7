"""What is done so that a packing keeps its limits: left, rented, worn, swapped or paid for, and what it costs."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.plans.packing.charges import FURTHER_PIECE, KILOGRAM, Charge
from kitbuilder.plans.packing.packing import Packing, Placed
from kitbuilder.plans.packing.records import LEAVE, RENT, SWAP, WEAR
from kitbuilder.report.page import Column, Node, Price, Row, Section, Sentence, Table, Tag, Text, joined, text
from kitbuilder.report.shapes import NUMBER, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import counted_items

STEPS = {
    "instead": listed(
        record(tag=TEXT, do=one_of(LEAVE, RENT, WEAR, SWAP), name=TEXT, price=optional(NUMBER), lighter_kg=NUMBER)
    ),
    "bought": listed(record(leg=TEXT, what=one_of(KILOGRAM, FURTHER_PIECE), number=NUMBER, bag=TEXT, price=NUMBER)),
    "unpaid": listed(record(tag=TEXT, do=one_of(LEAVE, RENT, WEAR, SWAP), lighter_kg=NUMBER)),
}
"""The keys of the steps."""
DO = {LEAVE: "leave it at home", RENT: "rent it there", WEAR: "wear it", SWAP: "swap it"}


def steps_parts(found: Packing, currency: str, unpaid: Packing | None = None) -> list[Node]:
    """Build the parts of the page.

    Args:
        found: The packing.
        currency: Of the prices; empty when none is given.
        unpaid: The packing without buying anything, to compare with; None where there is none.
    """
    return [
        _instead(found, currency),
        _bought(found, currency),
        Section("", [*_cheapest(found, currency), *_without_buying(unpaid, currency)]),
    ]


def _instead(found: Packing, currency: str) -> Table:
    columns = [
        Column("tag", "to keep the limits"),
        Column("do", ""),
        Column("name", ""),
        Column("", "do", may_wrap=True, names_row=True),
        Column("lighter_kg", "lighter by"),
        Column("price", "price"),
    ]
    return Table("instead", columns, [_instead_row(placed, currency) for placed in found.instead])


def _instead_row(placed: Placed, currency: str) -> Row:
    option = placed.placement.option
    assert option is not None
    words = f"{DO[option.kind]} for {option.name}" if option.name and option.kind == SWAP else DO[option.kind]
    price = None if option.price is None else Price(option.price, currency)
    return [Tag(placed.item.tag), option.kind, option.name, words, Amount(placed.away_kg, "mass"), price]


def _bought(found: Packing, currency: str) -> Table:
    columns = [
        Column("leg", "to pay"),
        Column("what", ""),
        Column("number", ""),
        Column("bag", ""),
        Column("", "for", may_wrap=True),
        Column("price", "price"),
    ]
    rows: list[Row] = [
        [Tag(each.leg), each.what, each.number, Tag(each.bag), _bought_words(each), Price(each.costs, currency)]
        for each in found.bought
    ]
    return Table("bought", columns, rows)


def _bought_words(charge: Charge) -> str:
    if charge.what == FURTHER_PIECE:
        return f"{counted_items(charge.number, 'further bag')} in the hold"
    return f"{charge.number} kg above the limit{f' of {charge.bag}' if charge.bag else ' of all bags in the hold'}"


def _cheapest(found: Packing, currency: str) -> Iterator[Text]:
    """Say what was made least, and what all steps come to."""
    if not found.instead and not found.bought:
        return
    unknown = found.without_price
    if not found.is_priced:
        yield text(
            "Together ", Amount(found.away_kg, "mass"), " lighter. Nothing has a price, so as little mass as possible "
            "stays behind.",
        )  # fmt: skip
        return
    lighter: Sentence = (Amount(found.away_kg, "mass"), " lighter, for ") if found.instead else ()
    steps: Sentence = ("Together ", *lighter, Price(found.price, currency), ". ")
    least: Sentence = ("No cheaper way takes as much along.",)
    if found.proof.price_at_least < found.price:
        least = ("Any way that takes as much along costs at least ", Price(found.proof.price_at_least, currency), ".")
    free = f" {counted_items(unknown, 'step')} without a price counted as free." if unknown else ""
    yield text(*steps, *least, free)


def _without_buying(unpaid: Packing | None, currency: str) -> Iterator[Node]:
    """Say what would stay behind, the heaviest first, if nothing were bought."""
    steps: list[tuple[Tag, str, float]] = []
    if unpaid:
        steps += [(Tag(each.item.tag), LEAVE, each.item.mass.value) for each in unpaid.missing]
        steps += [
            (Tag(each.item.tag), option.kind, each.away_kg)
            for each in unpaid.instead
            if (option := each.placement.option)
        ]
        steps.sort(key=lambda step: -step[2])
    columns = [Column("tag", ""), Column("do", ""), Column("lighter_kg", "")]
    yield Table("unpaid", columns, [[tag, do, Amount(kg, "mass")] for tag, do, kg in steps])
    if unpaid and steps:
        costs: Sentence = (", for ", Price(unpaid.price, currency)) if unpaid.price else ()
        kinds = ([step for step in steps if step[1] == kind] for kind in BEFORE)
        said = [(BEFORE[each[0][1]], *_listed(each), AFTER[each[0][1]]) for each in kinds if each]
        yield text("Or buy nothing: ", *joined(said, "; "), *costs, ".")


def _listed(steps: list[tuple[Tag, str, float]]) -> Sentence:
    return joined(((tag, " (", Amount(lighter_kg, "mass"), ")") for tag, _, lighter_kg in steps), ", ")


BEFORE = {LEAVE: "leave ", RENT: "rent ", WEAR: "wear ", SWAP: "swap "}
AFTER = {LEAVE: " at home", RENT: " there", WEAR: "", SWAP: ""}
