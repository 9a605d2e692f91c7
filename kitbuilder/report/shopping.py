"""The list of hoses to buy, as a shop needs it: pieces, length, body, price; both ends, with their threads."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.findings import Amount
from kitbuilder.catalogue import Fitting
from kitbuilder.report.page import (
    Fact,
    Facts,
    Node,
    Price,
    Section,
    Sentence,
    Share,
    Statement,
    Statements,
    StockLength,
    Tag,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FLAG, NUMBER, SHARE, TEXT, Shape, listed, optional, record

END_SHAPE = record(name=TEXT, joint=TEXT, gender=TEXT)
SHOPPING_KEYS: dict[str, Shape] = {
    "to_buy": listed(
        record(
            count=COUNT,
            **{"for": listed(TEXT)},
            length_m=NUMBER,
            measured=optional(TEXT),
            is_made=FLAG,
            oxygen_clean=FLAG,
            service=TEXT,
            body=TEXT,
            first_stage_end=END_SHAPE,
            device_end=END_SHAPE,
            adapters=listed(TEXT),
            or_adapters=listed(TEXT),
            only_from_maker=FLAG,
            odds=optional(SHARE),
            stock_tag=optional(TEXT),
            price=optional(NUMBER),
        )
    ),
    "price": optional(NUMBER),
    "currency": optional(TEXT),
    "hoses_without_price": COUNT,
}
"""The keys that a list to buy puts into the answer that it stands in."""
FROM_MAKER = "From the maker of the second stage: no stock hose has this end"


class HosesToBuy(NamedTuple):
    """Equal hoses to buy."""

    pieces: int
    tags: tuple[str, ...]
    """Of the hoses whose place they take."""
    length_m: float
    measured: str | None
    """What the length covers, as a file says it; end to end when None."""
    is_made: bool
    """Whether no such length is sold, so that it has to be made."""
    service: str
    body: str
    at_first_stage: Fitting
    at_device: Fitting
    adapters: tuple[str, ...] = ()
    """What sits between it and its port or its device."""
    or_adapters: tuple[str, ...] = ()
    """Adapters with which a hose with the usual ends would do as well."""
    only_from_maker: bool = False
    """Whether no stock has it: the maker of the device does."""
    odds: float | None = None
    """How likely each is to be long enough, from 0 to 1; None where nobody asked."""
    must_measure: bool = False
    """Whether a run has to be measured before it is bought."""
    stock_tag: str = ""
    """Its name in the shop; empty when it has none there."""
    price: float | None = None
    """For all of them; None when it is not known."""
    must_be_clean: bool = False
    """Whether they have to be clean for oxygen."""


class ShoppingTotal(NamedTuple):
    """What all of a list costs."""

    price: float | None
    """Of all hoses whose price is known; None when none is."""
    without_price: int
    """How many hoses have no price."""
    currency: str | None


def shopping_section(hoses: Sequence[HosesToBuy], total: ShoppingTotal, *, empty: str = "nothing") -> Section:
    """Build the list, for text and JSON: one entry for equal hoses, and what they cost together.

    Args:
        hoses: What to buy.
        total: What it costs.
        empty: What to say when there is nothing on the list.
    """
    data = only_data(
        ("price", None if total.price is None else Price(total.price, total.currency or "")),
        ("currency", total.currency and Tag(total.currency)),
        ("hoses_without_price", total.without_price),
    )
    if not hoses:
        return Section("", [Statements("to_buy", [], title="To buy", empty=empty), data])
    entries = Statements("to_buy", [_entry(each, total.currency or "") for each in hoses])
    return Section("To buy", [entries, *_total(total), data])


def _total(total: ShoppingTotal) -> Iterator[Node]:
    if total.price is not None:
        more = (", and ", total.without_price, " without a price") if total.without_price else ()
        yield text("Together ", Price(total.price, total.currency or ""), *more)


def _entry(hoses: HosesToBuy, currency: str) -> Statement:
    body: list[Sentence] = [
        (f"First stage end: {format_end(hoses.at_first_stage)}",),
        (f"Other end: {format_end(hoses.at_device)}",),
    ]
    if hoses.only_from_maker:
        body.append((FROM_MAKER,))
    if hoses.adapters:
        body.append((f"With the {' and the '.join(hoses.adapters)}",))
    if hoses.or_adapters:
        body.append((f"Or a hose with the usual ends and the {' and the '.join(hoses.or_adapters)}",))
    if hoses.tags:
        body.append(("For ", *joined(((Tag(tag),) for tag in hoses.tags), ", ")))
    if hoses.odds is not None:
        first = "; measure the run before you buy" if hoses.must_measure else ""
        body.append(("Long enough: ", Share(hoses.odds), " certain", first))
    return Statement(_head(hoses, currency), body, _data(hoses, currency))


def _head(hoses: HosesToBuy, currency: str) -> Sentence:
    length: Sentence = (StockLength(hoses.length_m),)
    if hoses.is_made:
        length = (Amount(hoses.length_m, "length"), ", made to measure")
    bare = " without its ends" if hoses.measured == "hose only" else ""
    clean = ", clean for oxygen" if hoses.must_be_clean else ""
    name = (", ", Tag(hoses.stock_tag)) if hoses.stock_tag else ()
    price = () if hoses.price is None else (", ", Price(hoses.price, currency))
    return (hoses.pieces, " × ", *length, f"{bare}, {hoses.service}, {hoses.body}{clean}", *name, *price)


def format_end(end: Fitting) -> str:
    """Name an end of a hose with its thread: "LP 3/8 (male 3/8-24 UNF)"."""
    return f"{end.name} ({end.gender} {end.joint})"


def _data(hoses: HosesToBuy, currency: str) -> list[Fact]:
    return [
        Fact("count", "", hoses.pieces),
        Fact("for", "", Values([Tag(tag) for tag in hoses.tags])),
        Fact("length_m", "", Amount(hoses.length_m, "length")),
        Fact("measured", "", hoses.measured),
        Fact("is_made", "", hoses.is_made),
        Fact("oxygen_clean", "", hoses.must_be_clean),
        Fact("service", "", hoses.service),
        Fact("body", "", hoses.body),
        Fact("first_stage_end", "", end_data(hoses.at_first_stage)),
        Fact("device_end", "", end_data(hoses.at_device)),
        Fact("adapters", "", Values(list(hoses.adapters))),
        Fact("or_adapters", "", Values(list(hoses.or_adapters))),
        Fact("only_from_maker", "", hoses.only_from_maker),
        Fact("odds", "", None if hoses.odds is None else Share(hoses.odds)),
        Fact("stock_tag", "", Tag(hoses.stock_tag) if hoses.stock_tag else None),
        Fact("price", "", None if hoses.price is None else Price(hoses.price, currency)),
    ]


def end_data(end: Fitting) -> Facts:
    """Give an end of a hose for JSON."""
    return only_data(("name", end.name), ("joint", end.joint), ("gender", end.gender))
