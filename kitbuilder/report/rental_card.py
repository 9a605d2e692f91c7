"""The page of `kitbuilder card`: a card to carry, 60 characters wide, with lead, inlets, couplings and a check."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.buoyancy.lead_pieces import Pieces, cast_on
from kitbuilder.assess.findings import Amount
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.rental import rental
from kitbuilder.plans.rental_card import CylinderLead, InletAnswer, LeadChange, PiecesToTake, RentalCard
from kitbuilder.report.balance import lead_estimate
from kitbuilder.report.page import (
    BothUnits,
    Column,
    Estimate,
    Fact,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Series,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FIGURE, FLAG, NUMBER, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import CARD_CAUTION, counted_items

PIECES = listed(record(mass_kg=NUMBER, count=COUNT))
FITS = {"yes": "fits", "no": "does not fit", "adapter": "only with an adapter", "unknown": "depends on its thread"}
"""What the catalogue says of an inlet on an outlet, in words."""
CHANGES = listed(record(what=TEXT, lead_change_kg=FIGURE))
CARD = record(
    file=TEXT,
    name=TEXT,
    water=TEXT,
    cylinders=COUNT,
    leads=listed(
        record(
            cylinder=TEXT,
            named_by_trip=FLAG,
            lead_needed_kg=FIGURE,
            pieces=listed(record(cast_in=TEXT, take=PIECES, ready=optional(PIECES))),
        )
    ),
    suits=CHANGES,
    waters=CHANGES,
    inlets=listed(record(connection=TEXT, tags=listed(TEXT), outlet=TEXT, fits=optional(one_of(*FITS)), note=TEXT)),
    without_connection=listed(TEXT),
    couplings=listed(record(tag=TEXT, inlet=TEXT, end=TEXT)),
)
SHAPE = record(file=TEXT, cards=listed(CARD))

NO_LEAD = "The lead cannot be worked out: no cylinder of the kit is known."
READY = "Take is the likely lead; ready holds the stop at 95 %."
CHECK: Sequence[Sentence] = (
    ("Empty the wing, then the suit until it just squeezes. Lie still and breathe quietly.",),
    ("You rise: take a piece from the line. You sink: hang one there. Stop if anything is wrong.",),
    ("Write down lead, depth, water, pressure the same day.",),
)
"""How a float check goes on, as the diver's page has it at length: common practice, no source."""


def card_page(file: str, cards: Sequence[RentalCard], problems: Sequence[str]) -> Page:
    """Build the page of a kit or a trip: a card for each kit.

    Args:
        file: The kit or trip file, as it was given.
        cards: One for each kit.
        problems: Why a kit or a file that it links to cannot be used, a sentence each.
    """
    sections = [Section("", [*_card(file, card)]) for card in cards]
    not_used = Section("", [text("Not used: ", problem) for problem in problems])
    without = [] if cards else [text(file)]
    if not (cards or problems):
        without.append(text('The trip names no kit, so there is no card. Name its kits: kits = ["warm-single.toml"].'))
    return Page(
        [only_data(("file", file)), *without, not_used, Series("cards", sections)],
        is_one_sheet=True,
    )


def one_card(file: str, card: RentalCard) -> Page:
    """Build one card alone, for a pane or a sheet of paper."""
    return Page([*_card(file, card)], is_one_sheet=True)


def _card(file: str, card: RentalCard) -> Iterator[Node]:
    header, name = card.kit.header, card.file or file
    yield only_data(("file", name), ("name", Tag(header.name)), ("water", card.water), ("cylinders", card.cylinders))
    yield Text((f"{header.name} · {name}",))
    yield Text((f"Lead in {card.water} water, {counted_items(card.cylinders, 'cylinder')}:",))
    yield Statements("leads", [_lead(each) for each in card.leads], empty=NO_LEAD)
    yield Section(
        "", [*_changes("suits", "Suit", card.suits), *_changes("waters", "Water", card.waters), _pieces_taken()]
    )
    yield Section("", [Statements("inlets", [_inlet(each) for each in card.inlets]), *_ask_for(card)])
    steps = [Statement(words, mark=f"{number}") for number, words in enumerate(_steps(), 1)]
    yield Section("Float check", [Statements("", steps)])
    yield Section("", [text(CARD_CAUTION)])


# ---- lead ----


def _lead(found: CylinderLead) -> Statement:
    balance = found.balance
    amount: Sentence = (BothUnits(lead_estimate(balance)),)
    if balance.too_heavy:
        amount = ("none; too heavy by ", BothUnits(Estimate(balance.too_heavy, "lead")))
    by_trip = " (rented)" if found.is_of_trip else ""
    take = " or ".join(dict.fromkeys(_words(each.take) for each in found.pieces))
    ready = " or ".join(_words(each.ready) for each in found.pieces if each.ready)
    return Statement(
        (f"{found.cylinder}{by_trip}: ", *amount),
        [(f"take {take}; ready {ready}" if ready else f"take {take}",)],
        [
            Fact("cylinder", "cylinder", found.cylinder),
            Fact("named_by_trip", "named by the trip", found.is_of_trip),
            Fact("lead_needed_kg", "lead", lead_estimate(balance)),
            Fact("", "too heavy by", Estimate(balance.too_heavy, "lead") if balance.too_heavy else None),
            Fact("", "take", take),
            Fact("", "ready", ready or None),
            Fact("pieces", "", Table("", PIECE_COLUMNS, [_pieces(each) for each in found.pieces])),
        ],
    )


def _words(pieces: Pieces) -> str:
    """Name pieces of one unit in little room, so that they read as what they add up to: "3×2+1 kg"."""
    if not pieces.counts:
        return "no lead"
    sizes = [cast_on(size).split(" ") for size, _ in pieces.counts]
    counts = [count for _, count in pieces.counts]
    sums = (size if count == 1 else f"{count}×{size}" for (size, _), count in zip(sizes, counts, strict=True))
    return f"{'+'.join(sums)} {sizes[0][1]}"


PIECE_COLUMNS = [Column("cast_in", ""), Column("take", ""), Column("ready", "")]


def _pieces(found: PiecesToTake) -> Row:
    return [found.cast_in, _counts(found.take), _counts(found.ready) if found.ready else None]


def _counts(pieces: Pieces) -> Table:
    columns = [Column("mass_kg", ""), Column("count", "")]
    return Table("", columns, [[Amount(size, "lead"), count] for size, count in pieces.counts])


def _changes(key: str, title: str, found: Sequence[LeadChange]) -> Iterator[Node]:
    """Give the changes in one sentence, and one by one for programs and spreadsheets."""
    entries = [
        Statement(
            (each.what,),
            (),
            [
                Fact("what", title.lower(), each.what),
                Fact("lead_change_kg", "lead change", Estimate(each.change, "lead change")),
            ],
            is_shown=False,
        )
        for each in found
    ]
    yield Statements(key, entries)
    if found:
        changes = ((f"{each.brief} ", BothUnits(Amount(each.change.value, "lead change"))) for each in found)
        yield Text((f"{title}: ", *joined(changes, "; "), "."))


# ---- inlets and couplings ----


def _inlet(found: InletAnswer) -> Statement:
    fits = FITS.get(found.fits, "not known")
    return Statement(
        (f"{found.connection} on {found.outlet}: {fits}. {found.note}".rstrip(),),
        (),
        [
            Fact("connection", "inlet", found.connection),
            Fact("tags", "items", Values([Tag(tag) for tag in found.tags])),
            Fact("outlet", "on", found.outlet),
            Fact("", "answer", fits),
            Fact("fits", "", found.fits or None),
            Fact("note", "note", found.note),
        ],
    )


def _ask_for(card: RentalCard) -> Iterator[Node]:
    unknown = [Tag(tag) for tag in card.without_connection]
    yield only_data(("without_connection", Values(unknown)))
    if unknown:
        names = joined(((tag,) for tag in unknown), ", ")
        yield text("Not known, so look before you go: the inlet of ", *names, ".")
    columns = [Column("tag", ""), Column("inlet", ""), Column("end", "")]
    rows: list[Row] = [[Tag(each.tag), each.inlet, each.end] for each in card.couplings]
    yield Table("couplings", columns, rows)
    if card.couplings:
        needs = ((Tag(each.tag), f" {each.inlet}") for each in card.couplings)
        yield Text(("Couplings to ask for: ", *joined(needs, ", "), "."))


def _pieces_taken() -> Text:
    """Say which pieces the card counts in, and where that is from."""
    cast = [[cast_on(size).split(" ") for size in each.sizes_kg] for each in rental().lead]
    sizes = "; ".join(f"{', '.join(size for size, _ in each)} {each[0][1]}" for each in cast)
    origin = ", ".join(dict.fromkeys(each.origin for each in rental().lead))
    return Text((f"Pieces: {sizes} ({origin}).",))


# ---- the check ----


def _steps() -> Iterator[Sentence]:
    """Give the steps of a float check; the limits in them are those that the lead is worked out with."""
    limits = catalogue().limits
    depth, reserve = Amount(limits["stop"].value, "depth"), Amount(limits["reserve"].value, "pressure")
    start = "End of a shallow dive without a stop, at a line, with a buddy, at "
    yield start, BothUnits(depth), " with ", BothUnits(reserve), "."
    yield from CHECK
