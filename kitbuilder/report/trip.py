"""The page of `kitbuilder trip`: what a trip weighs, what goes into which bag and why, and what to ask the airline."""

from collections.abc import Iterator

from kitbuilder.assess.figures import Figure
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.plans.packing.records import BODY, CABIN, HOLD
from kitbuilder.plans.trip_packing import AgainstAdvice, RuleThatDecides, TripPacking
from kitbuilder.plans.trip_weights import TripItem
from kitbuilder.report.findings import FINDING, finding_entries
from kitbuilder.report.linked import not_used
from kitbuilder.report.packing import LIMIT, PACKED, SUMS, limit_cells, packing_parts, sums_table
from kitbuilder.report.page import (
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Price,
    Row,
    Section,
    Statement,
    Statements,
    Table,
    Tag,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, TEXT, listed, one_of, optional, record
from kitbuilder.report.spares import LISTED, spares_data
from kitbuilder.report.trip_answer import trip_answer
from kitbuilder.report.trip_parts import (
    NOT_BROUGHT,
    ROOM,
    WEIGH_FIRST,
    not_brought_table,
    room_notes,
    room_table,
    rule_words,
    spares_words,
    weigh_first_table,
)
from kitbuilder.report.vector_pictures import bags_drawing
from kitbuilder.report.words import CAUTIONS, counted_items

SHAPE = record(
    file=TEXT,
    name=TEXT,
    weights=record(bring_kg=FIGURE, rent_kg=FIGURE, leave_kg=FIGURE, water_kg=FIGURE, home_kg=FIGURE),
    places=listed(record(place=one_of(HOLD, CABIN, BODY), mass_kg=FIGURE, home_kg=FIGURE)),
    **PACKED,
    bags_home=listed(record(bag=TEXT, mass_kg=FIGURE, **{key: optional(shape) for key, shape in LIMIT.items()})),
    sums_home=SUMS,
    price_home=NUMBER,
    wet=listed(record(tag=TEXT, water_kg=FIGURE)),
    rooms=ROOM,
    weigh_first=WEIGH_FIRST,
    spares=LISTED,
    not_brought=NOT_BROUGHT,
    not_weighed=listed(TEXT),
    rules=listed(record(rule=TEXT, tags=listed(TEXT), approved=FLAG, do=TEXT, origin=TEXT, read=TEXT)),
    against_advice=listed(record(tag=TEXT, bag=TEXT, rule=TEXT)),
    findings=listed(FINDING),
)

PLACE_WORDS = {HOLD: "in the hold", CABIN: "in the cabin", BODY: "on the body"}


def trip_page(file: str, found: TripPacking) -> Page:
    """Build the page of a trip.

    Args:
        file: The trip file, as it was given.
        found: The trip, weighed and packed.
    """
    trip = found.trip
    return Page(
        [
            only_data(("file", file), ("name", Tag(trip.header.name))),
            text(file),
            text(" · ".join((trip.header.name, *_days(trip)))),
            Section("", [text(*trip_answer(found))]),
            not_used(trip_problems(trip)),
            Section("", list(_not_weighed(found))),
            bags_drawing(found),
            Section("Way out, dry", _way_out(found)),
            Section(
                "Way home, wet",
                [_bags_home(found), sums_table("sums_home", found.sums_home), *_bought_again(found), _wet(found)],
            ),
            Section("What it weighs", [weights_facts(found), _places(found)]),
            Section("", [room_table(found), *room_notes(found)]),
            weigh_first_table(found),
            not_brought_table(found),
            Section("", [spares_data(found.weights.spares), *spares_words(found)]),
            *trip_notes(found),
            finding_entries(found.findings, trip),
            Section("", [text(CAUTIONS)]),
        ]
    )


def _way_out(found: TripPacking) -> list[Node]:
    trip = found.trip
    return packing_parts(found.packing, trip.header.currency or "", found.unpaid, is_whole=not trip.missing_kits)


def trip_notes(found: TripPacking) -> list[Node]:
    """Build what to ask the airline, and what had better travel elsewhere."""
    return [
        Statements("rules", [_rule(each) for each in found.rules], title="Rules that decide"),
        _against_advice(found.against_advice),
    ]


def trip_problems(trip: ResolvedTrip) -> tuple[str, ...]:
    """Say why kits of a trip, or the files that they link to, cannot be used, a sentence each."""
    unread = [problem for travelling in trip.kits for problem in travelling.problems]
    linked = [
        f"{travelling.file}: {problem}"
        for travelling in trip.kits
        if travelling.kit
        for problem in travelling.kit.linked.problems
    ]
    return (*unread, *linked)


def _days(trip: ResolvedTrip) -> Iterator[str]:
    first, last = trip.header.from_, trip.header.to
    if first and last:
        yield f"{first.isoformat()} to {last.isoformat()}"


# ---- what it weighs ----


def weights_facts(found: TripPacking) -> Facts:
    """Build what is brought, rented and left, and what comes home; what there is nothing of is for JSON alone."""
    weights = found.weights
    rows = [_fate_fact(f"{fate.value}_kg", weights.dry(fate), weights.of(fate)) for fate in Fate]
    is_wet = found.water.value > 0
    rows.append(Fact("water_kg", "water, way home" if is_wet else "", Estimate(found.water, "mass")))
    rows.append(Fact("home_kg", "bring home", Estimate(weights.home, "mass"), "with that water" if is_wet else None))
    return Facts(rows, "weights")


def _fate_fact(key: str, mass: Figure, items: tuple[TripItem, ...]) -> Fact:
    label = key.removesuffix("_kg") if items else ""
    return Fact(key, label, Estimate(mass, "mass"), f"in {counted_items(len(items), 'item')}")


def _places(found: TripPacking) -> Table:
    columns = [
        Column("place", ""),
        Column("", "with the bags"),
        Column("mass_kg", "way out"),
        Column("home_kg", "way home"),
    ]
    rows: list[Row] = [
        [each.place, PLACE_WORDS[each.place], Estimate(each.dry, "mass"), Estimate(each.home, "mass")]
        for each in found.places
    ]
    return Table("places", columns, rows)


def _not_weighed(found: TripPacking) -> Iterator[Node]:
    unknown = [Tag(item.tag) for item in found.weights.unknown]
    yield only_data(("not_weighed", Values(unknown)))
    if unknown:
        names = joined(((tag,) for tag in unknown), ", ")
        yield text(
            "Not packed, because the mass is not known: ", *names, ". Weigh each and write its mass into the kit."
        )


# ---- the way home ----


def _bags_home(found: TripPacking) -> Table:
    columns = [
        Column("bag", "bag", may_wrap=True),
        Column("mass_kg", "mass"),
        Column("limit_kg", "limit"),
        Column("limit_is", ""),
        Column("limit_leg", "set by", may_wrap=True),
        Column("chance", "it holds"),
    ]
    rows: list[Row] = [
        [Tag(each.bag.tag), Estimate(each.mass, "mass"), *limit_cells(each.use)] for each in found.bags_home
    ]
    return Table("bags_home", columns, rows)


def _bought_again(found: TripPacking) -> Iterator[Node]:
    price = Price(found.price_home, found.trip.header.currency or "")
    yield only_data(("price_home", price))
    if found.price_home:
        yield text("These limits count on as much being bought again on the way home, for ", price, ".")


def _wet(found: TripPacking) -> Table:
    columns = [Column("tag", "wet item"), Column("water_kg", "water in it")]
    wet = sorted((item for item in found.weights.items if item.water), key=lambda item: -_value(item.water))
    return Table("wet", columns, [[Tag(item.tag), _estimate(item.water)] for item in wet])


# ---- what does not travel, and what had better travel elsewhere ----


def _estimate(figure: Figure | None) -> Estimate | None:
    return Estimate(figure, "mass") if figure else None


def _value(figure: Figure | None) -> float:
    return figure.value if figure else 0.0


def _rule(found: RuleThatDecides) -> Statement:
    """Say what a rule asks, and where it was read: a memory and a source of last year are not the same."""
    rule = found.rule
    return Statement(
        joined(((Tag(tag),) for tag in found.tags), ", "),
        [
            (rule.why,),
            (rule_words(rule, is_approved=found.is_approved),),
            (f"Source: {rule.origin}; read: {rule.read}.",),
        ],
        only_data(
            ("rule", rule.name),
            ("tags", Values([Tag(tag) for tag in found.tags])),
            ("approved", found.is_approved),
            ("do", rule.do_approved if found.is_approved else rule.do),
            ("origin", rule.origin),
            ("read", rule.read),
        ).rows,
    )


def _against_advice(found: tuple[AgainstAdvice, ...]) -> Statements:
    """Build the list of what had better travel elsewhere; the text has each piece of advice once."""
    entries = [_advised(each, [other for other in found if other.rule == each.rule]) for each in found]
    return Statements("against_advice", entries, title="Better in the cabin, if it has room" if entries else "")


def _advised(one: AgainstAdvice, same: list[AgainstAdvice]) -> Statement:
    return Statement(
        joined(((Tag(each.tag),) for each in same), ", "),
        [(one.rule.why,), (one.rule.do,)],
        only_data(("tag", Tag(one.tag)), ("bag", Tag(one.bag)), ("rule", one.rule.name)).rows,
        is_shown=same[0] is one,
    )
