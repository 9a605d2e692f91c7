"""The page of `kitbuilder fit`: the advised length of each hose, how certain it is, and what to buy."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.plans.fitting import FittedHose, FittingPlan, ShoppingLine
from kitbuilder.report.fit_data import HOSE_KEYS, WEARER_SHAPE, hose_data, wearer_data
from kitbuilder.report.fit_words import action_word, advised_length, hose_fields, source_word, wearer_words
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Fact,
    Facts,
    Page,
    Row,
    Section,
    Series,
    Share,
    Table,
    Tag,
    Text,
    Values,
    only_data,
    text,
)
from kitbuilder.report.route_picture import hose_letter
from kitbuilder.report.shapes import TEXT, listed, optional, record
from kitbuilder.report.shopping import SHOPPING_KEYS, HosesToBuy, ShoppingTotal, shopping_section
from kitbuilder.report.vector_pictures import routes_drawing
from kitbuilder.report.words import CAUTIONS, FIT_CAUTION, ended

SHAPE = record(
    name=TEXT,
    layout=TEXT,
    body=WEARER_SHAPE,
    stock=optional(TEXT),
    hoses=listed(record(**HOSE_KEYS)),
    **SHOPPING_KEYS,
)
BODY_RULE = "body measures"
"""The rule whose findings make all estimated lengths doubtful."""
UNCERTAINTY = (
    "Lengths from landmarks are estimates. The range after ± covers 95 % of bodies with these measures: the "
    "landmarks of "
    "the body were compared with a survey. The places of straps, rings and ports are from memory and were never "
    "measured. The percentage says how often such a hose would be long enough. For its own hose, a string over the "
    "worn kit is more certain than any of this."
)


def fit_page(name: str, plan: FittingPlan) -> Page:
    """Build the page: every hose in a row, what to buy, then what there is to say about each hose.

    Args:
        name: What was fitted: the file as it was given, or a layout.
        plan: The fitting.
    """
    assessment = plan.assessment
    return Page(
        [
            text(name),
            *_head(plan),
            not_used(assessment.kit.linked.problems),
            *_doubts(plan),
            _overview(plan),
            shopping_part(plan),
            routes_drawing(plan),
            Series("", [_hose_section(fitted, plan) for fitted in plan.hoses]),
            *caution_parts(),
        ]
    )


def shopping_page(name: str, plan: FittingPlan) -> Page:
    """Build the page that goes along to a shop: what to buy, for which kit, and the cautions, on one sheet."""
    problems = not_used(plan.assessment.kit.linked.problems)
    return Page([text(name), problems, shopping_part(plan), *caution_parts()], is_one_sheet=True)


def _head(plan: FittingPlan) -> Iterator[Facts]:
    header, stock = plan.assessment.kit.header, plan.assessment.kit.linked.stock
    rows = [
        Fact("name", "kit", Tag(header.name)),
        Fact("layout", "layout", header.layout),
        Fact("", "body", wearer_words(plan.assessment.wearer)),
    ]
    if stock is not None:
        rows.append(Fact("", "lengths of", Tag(stock.header.name)))
    yield Facts(rows)
    yield only_data(
        ("body", wearer_data(plan.assessment.wearer)), ("stock", None if stock is None else Tag(stock.header.name))
    )


def _doubts(plan: FittingPlan) -> Iterator[Text]:
    for finding in plan.assessment.findings:
        if finding.rule == BODY_RULE:
            yield text("Doubtful: ", *ended(finding.what), " ", *ended(finding.do))


def _overview(plan: FittingPlan) -> Table:
    columns = [
        Column("", "hose", may_wrap=True),
        Column("", "now"),
        Column("", "advised", may_wrap=True),
        Column("", "certain"),
        Column("", "needed", is_repeated=True),
        Column("", "source", is_repeated=True),
        *(Column(key, "") for key in HOSE_KEYS),
    ]
    rows = [[*_overview_row(fitted), *hose_data(fitted)] for fitted in plan.hoses]
    return Table("hoses", columns, rows, empty="This kit has no hose.")


def _overview_row(fitted: FittedHose) -> Row:
    advice = fitted.advice
    return [
        Tag(fitted.figures.hose.tag),
        Amount(fitted.figures.hose.length_m, "length"),
        advised_length(fitted),
        Share(fitted.to_have.odds) if fitted.to_have else None,
        None if advice is None else Estimate(advice.demanded.length, "length"),
        None if advice is None else source_word(advice),
    ]


def shopping_part(plan: FittingPlan) -> Section:
    """Build the list of what to buy, which is a dialog of its own too."""
    stock = plan.assessment.kit.linked.stock
    total = ShoppingTotal(plan.price, plan.without_price, None if stock is None else stock.header.currency)
    is_known = any(fitted.advice for fitted in plan.hoses)
    empty = "nothing" if is_known else "no hose whose length is known"
    return shopping_section([_to_buy(line) for line in plan.shopping], total, empty=empty)


def _to_buy(line: ShoppingLine) -> HosesToBuy:
    return HosesToBuy(
        pieces=line.pieces,
        tags=line.tags,
        length_m=line.length_m,
        measured=line.measured,
        is_made=line.is_made,
        service=line.service,
        body=line.body,
        at_first_stage=line.at_first_stage,
        at_device=line.at_device,
        adapters=line.adapters,
        or_adapters=line.or_adapters,
        only_from_maker=line.only_from_maker,
        odds=line.odds,
        must_measure=line.must_measure,
        stock_tag=line.stocked.tag if line.stocked else "",
        price=line.price,
        must_be_clean=line.must_be_clean,
    )


def _hose_section(fitted: FittedHose, plan: FittingPlan) -> Section:
    return Section(f"{fitted.figures.hose.tag}: {route_name(fitted)}", [Facts(_hose_facts(fitted, plan))])


def _hose_facts(fitted: FittedHose, plan: FittingPlan) -> list[Fact]:
    """Build what there is to say about a hose; first what speaks against it whatever its length is."""
    others = (
        Fact("", finding.signal.word, (*ended(finding.what), " ", *ended(finding.do)))
        for finding in plan.beside_length(fitted)
    )
    return [*others, *hose_fields(fitted, plan.assessment.kit.linked.stock)]


def caution_parts() -> list[Section]:
    """Build how far lengths from landmarks can be trusted, and the cautions."""
    return [Section("", [text(UNCERTAINTY)]), Section("", [text(CAUTIONS)])]


# ---- what the screen shows ----


def route_name(fitted: FittedHose) -> str:
    """Give the name of the way a hose is led."""
    routed = fitted.figures.routed
    return routed.route.name if routed else "no route"


def hose_list(plan: FittingPlan) -> Table:
    """Build the list of hoses: letter on the picture, tag, present length, what to do, and its worst finding."""
    signals = plan.assessment.worst_by_item()
    columns = [
        Column("", " "),
        Column("", "hose", may_wrap=True, names_row=True),
        Column("", "now"),
        Column("", "advised", may_wrap=True),
        Column("", "worst"),
    ]
    rows: list[Row] = [
        [
            hose_letter(place),
            Tag(fitted.figures.hose.tag),
            Amount(fitted.figures.hose.length_m, "length"),
            _advised_briefly(fitted),
            signals.get(fitted.figures.number),
        ]
        for place, fitted in enumerate(plan.hoses)
    ]
    return Table("", columns, rows)


def _advised_briefly(fitted: FittedHose) -> Cell:
    length_m, word = fitted.length_to_have_m, action_word(fitted)
    if fitted.is_stuck:
        return word
    if length_m is None:
        return word or "not known"
    return (f"{word} ", Amount(length_m, "length")) if fitted.is_bought else word


def hose_page(fitted: FittedHose, plan: FittingPlan) -> Page:
    """Build all there is to say about one hose, with the path it is laid by and the body that wears it."""
    routed = fitted.figures.routed
    rows = _hose_facts(fitted, plan)
    if routed is not None:
        rows.append(Fact("", "path", Values(list(routed.route.path))))
    body = Fact("", "body", wearer_words(plan.assessment.wearer))
    return Page([text(FIT_CAUTION), Facts([*rows, body])])
