"""The page of a packing: each bag with its limit and the chance that it holds, what is in it and why, what stays."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import Amount
from kitbuilder.plans.packing import limits
from kitbuilder.plans.packing.packing import (
    ADVISED,
    BY_RULE,
    EVEN,
    NEAR_KG,
    ONLY_BAG,
    PINNED,
    PackedBag,
    Packing,
    Placed,
    Use,
)
from kitbuilder.plans.packing.records import (
    BODY,
    CABIN,
    HOLD,
    NEEDS,
    PlacementRule,
)
from kitbuilder.report.packing_missing import MISSING_WORDS, missing_statements
from kitbuilder.report.packing_steps import STEPS, steps_parts
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Node,
    Page,
    Price,
    Row,
    Section,
    Sentence,
    Share,
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
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, SHARE, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import counted_items

WHAT = (limits.PIECE, limits.HANDLING, limits.BAG, limits.HOLD_TOTAL, limits.CABIN_TOTAL, limits.TOTAL)
UNUSABLE = (limits.TOO_HEAVY_EMPTY, limits.TOO_LARGE, limits.NO_PIECES, limits.ZERO_LIMIT)
LIMIT = {"limit_kg": NUMBER, "limit_is": one_of(*WHAT), "limit_leg": TEXT, "chance": SHARE}
SUMS = listed(record(mass_kg=FIGURE, **LIMIT))
PACKED = {
    "proved": FLAG,
    "likelihood": SHARE,
    "chance_at_least": SHARE,
    "price": NUMBER,
    "price_at_least": NUMBER,
    **STEPS,
    "bags": listed(
        record(
            bag=TEXT,
            place=one_of(HOLD, CABIN, BODY),
            mass_kg=FIGURE,
            **{key: optional(shape) for key, shape in LIMIT.items()},
            items=listed(
                record(
                    tag=TEXT, mass_kg=FIGURE, why=one_of(PINNED, BY_RULE, ONLY_BAG, ADVISED, EVEN), rules=listed(TEXT)
                )
            ),
        )
    ),
    "sums": SUMS,
    "missing": listed(
        record(
            tag=TEXT, why=one_of(*MISSING_WORDS), need=one_of(*NEEDS), proposed=FLAG, bag=TEXT, chance=optional(SHARE)
        )
    ),
    "unusable": listed(record(bag=TEXT, why=one_of(*UNUSABLE), leg=TEXT)),
    "approvals": listed(record(tag=TEXT, rule=TEXT, leg=TEXT)),
}
"""The keys of a packing."""
SHAPE = record(**PACKED)

WHY = {PINNED: "pinned here", ONLY_BAG: "the only bag for it", EVEN: "spreads the load over the bags"}
LIMIT_WORDS = {
    limits.PIECE: "one piece",
    limits.HANDLING: "handling limit",
    limits.BAG: "the bag's own limit",
    limits.HOLD_TOTAL: "hold, all pieces",
    limits.CABIN_TOTAL: "cabin, all pieces",
    limits.TOTAL: "hold and cabin together",
}
UNUSABLE_WORDS = {
    limits.TOO_HEAVY_EMPTY: "is heavier than its limit when empty",
    limits.TOO_LARGE: "is too large",
    limits.NO_PIECES: "may not come: no piece is allowed there",
    limits.ZERO_LIMIT: "may not come: the limit there is zero",
}
CONFIRM = (
    "Confirm limits and rules with the airline: they differ, change, and depend on the ticket. Weigh each packed bag."
)


def packing_page(found: Packing, currency: str = "") -> Page:
    """Build the page.

    Args:
        found: The packing.
        currency: Of the prices; empty when none is given.
    """
    return Page(packing_parts(found, currency))


def packing_parts(
    found: Packing, currency: str = "", unpaid: Packing | None = None, *, is_whole: bool = True
) -> list[Node]:
    """Build the parts of the page.

    Args:
        found: The packing.
        currency: Of the prices; empty when none is given.
        unpaid: The packing without buying anything, to compare with; None where there is none.
        is_whole: Whether all that travels was to be packed; else nothing is proved of the trip.
    """
    proof = packing_proof(found, is_whole=is_whole)
    return [
        only_data(
            ("proved", found.proof.is_proved and is_whole),
            ("likelihood", Share(found.task.likelihood)),
            ("chance_at_least", Share(found.chance_at_least)),
            ("price", Price(found.price, currency)),
            ("price_at_least", Price(found.proof.price_at_least, currency)),
        ),
        text(*summary(found)),
        Section("", list(_closed(found))),
        _bags(found),
        sums_table("sums", found.sums),
        missing_statements(found),
        *steps_parts(found, currency, unpaid),
        *(_contents(each) for each in found.bags if each.items),
        Section("", list(_legs(found))),
        _unusable(found),
        _approvals(found),
        Section("", list(_volumes(found))),
        Section("", [*([text(*proof)] if proof else []), text(CONFIRM)]),
    ]


def summary(found: Packing) -> Sentence:
    """Say whether everything fits, and how likely the limits hold."""
    bags = [each for each in found.bags if each.items]
    packed = sum(len(each.items) for each in bags)
    if not bags:
        return ("Nothing is packed.",)
    fits = f"{counted_items(packed, 'item')} in {counted_items(len(bags), 'bag')}. "
    left = f"{counted_items(len(found.missing), 'item')} found no place. " if found.missing else ""
    if not found.uses:
        return (f"{fits}{left}{WITHOUT_LIMIT if found.takes_bags else ''}".strip(),)
    return (
        f"{fits}{left}Each limit holds with a probability of ", Share(found.task.likelihood),
        " or more; all of them together with ", Share(found.chance_at_least), " at the least.",
    )  # fmt: skip


WITHOUT_LIMIT = "No limit is given."


def _closed(found: Packing) -> Iterator[Text]:
    if found.closed is None:
        return
    hold, cabin = Tag(found.closed.hold), Tag(found.closed.cabin)
    if hold == cabin:
        yield text(hold, " takes nothing, neither in the hold nor in the cabin.")
    else:
        yield text(
            "The legs contradict each other: ", hold, " takes nothing in the hold, ", cabin, " nothing in the cabin."
        )


# ---- bags ----


def _bags(found: Packing) -> Table:
    columns = [
        Column("bag", "bag", may_wrap=True),
        Column("place", "goes in", names_row=True),
        Column("mass_kg", "mass"),
        Column("limit_kg", "limit"),
        Column("limit_is", ""),
        Column("limit_leg", "set by", may_wrap=True),
        Column("chance", "it holds"),
        Column("", "items"),
        Column("items", ""),
    ]
    return Table("bags", columns, [_bag_row(each) for each in found.bags], empty="No bag can be used.")


def _bag_row(packed: PackedBag) -> Row:
    limit = limit_cells(packed.use)
    items = Table("", ITEM_COLUMNS, [_item_row(placed) for placed in packed.items])
    return [Tag(packed.bag.tag), packed.bag.place, Estimate(packed.mass, "mass"), *limit, len(packed.items), items]


def limit_cells(use: Use | None) -> list[Cell]:
    """Give the limit, what it counts for, who sets it, and how likely it holds; empty cells where there is none."""
    if use is None:
        return [None] * 4
    return [Amount(use.limit.most_kg, "mass"), use.limit.what, use.limit.leg or "the bag", Share(use.chance)]


ITEM_COLUMNS = (
    Column("tag", "item"),
    Column("mass_kg", "mass"),
    Column("why", ""),
    Column("rules", ""),
    Column("", "why there", may_wrap=True),
)


def _item_row(placed: Placed) -> Row:
    mass = Estimate(placed.mass, "mass") if placed.mass else None
    return [
        Tag(placed.item.tag),
        mass,
        placed.why,
        Values([rule.rule for rule in _deciding(placed)]),
        placement_reason(placed),
    ]


def _deciding(placed: Placed) -> tuple[PlacementRule, ...]:
    return placed.advice if placed.why == ADVISED else placed.rules


def placement_reason(placed: Placed) -> str:
    """Say why an item is in its bag."""
    advised = f"better in the {_place(placed)}: {'; '.join(rule.rule for rule in placed.advice)}"
    by_rule = " ".join(rule.why for rule in placed.rules)
    reason = WHY.get(placed.why) or (advised if placed.why == ADVISED else by_rule)
    name = placed.placement.option.name if placed.placement.option else ""
    return f"{name} in its place; {reason}" if name else reason


def _place(placed: Placed) -> str:
    return next((place for place in (CABIN, HOLD) if place in placed.item.better), BODY)


def _contents(packed: PackedBag) -> Table:
    """Give what is in a bag, for the text; JSON has it with the bag."""
    columns = [column._replace(key="") for column in ITEM_COLUMNS]
    return Table("", columns, [_item_row(placed) for placed in packed.items], title=f"In {packed.bag.tag}")


def sums_table(key: str, uses: Sequence[Use]) -> Table:
    """Build the table of the limits that count several bags."""
    columns = [
        Column("", "several bags", may_wrap=True),
        Column("mass_kg", "mass"),
        Column("limit_kg", "limit"),
        Column("limit_is", ""),
        Column("limit_leg", "set by", may_wrap=True),
        Column("chance", "it holds"),
    ]
    rows: list[Row] = [[LIMIT_WORDS[use.limit.what], Estimate(use.mass, "mass"), *limit_cells(use)] for use in uses]
    return Table(key, columns, rows)


# ---- what is done, and what has no place ----


def _unusable(found: Packing) -> Statements:
    entries = [
        Statement(
            (Tag(each.bag.tag), f" {UNUSABLE_WORDS[each.why]}", *((", by ", Tag(each.leg)) if each.leg else ()), "."),
            data=only_data(("bag", each.bag.tag), ("why", each.why), ("leg", each.leg)).rows,
        )
        for each in found.unusable
    ]
    return Statements("unusable", entries, title="Bags that cannot be used")


def _approvals(found: Packing) -> Statements:
    entries = [
        Statement(
            (Tag(placed.item.tag), f": {rule.why}"),
            data=only_data(("tag", placed.item.tag), ("rule", rule.rule), ("leg", rule.leg)).rows,
        )
        for placed in found.placed
        for rule in placed.approvals
    ]
    return Statements("approvals", entries, title="Ask the airline for approval before you travel")


# ---- what it rests on ----


def _legs(found: Packing) -> Iterator[Text]:
    """Say where legs allow more than what holds, each once."""
    uses = [(f" in the {each.bag.place}", each.use.limit) for each in found.bags if each.use]
    uses += [("", use.limit) for use in found.sums]
    said = dict.fromkeys((where, limit.what, other) for where, limit in uses for other in limit.others)
    for where, what, (leg, most_kg) in said:
        words = f"{LIMIT_WORDS[what]}{where if what in PLACED else ''}"
        yield text(
            f"{words[0].upper()}{words[1:]}: ", Tag(leg), " would allow ", Amount(most_kg, "mass"),
            "; the strictest leg counts.",
        )  # fmt: skip


PLACED = (limits.PIECE, limits.HANDLING, limits.BAG)
"""Limits of one bag, whose words do not say where it goes."""


def _volumes(found: Packing) -> Iterator[Text]:
    if tags := [Tag(placed.item.tag) for placed in found.of_unknown_volume]:
        names = joined(((tag,) for tag in tags), ", ")
        yield text("Of these the volume is not known, so a bag may be too small: ", *names, ".")


def packing_proof(found: Packing, *, is_whole: bool = True) -> Sentence:
    """Say whether a better packing may exist; empty where no bag can be used, which needs no proof.

    Args:
        found: The packing.
        is_whole: Whether all that travels was to be packed.
    """
    proof = found.proof
    if not is_whole:
        return ("Nothing is proved, since items are missing.",)
    if not found.takes_bags:
        return ()
    if proof.is_proved:
        return (
            "Proved: no packing takes more along, costs less, has less mass against advice, or keeps more room under "
            "its tightest limit. Differences below ",
            Amount(NEAR_KG, "hose mass"), " or 0.1 % of a limit do not count.",
        )  # fmt: skip
    return (
        "The best found in the time allowed; a better one may exist. In every packing at least ",
        Amount(proof.away_at_least_kg, "mass"), " would have to be left, rented, worn or saved by swaps, and at least ",
        Share(proof.largest_use_at_least), " of the tightest limit is used.",
    )  # fmt: skip
