"""The balance as a section of a page: the lead, how diver and kit float over the dive, trim, and what to weigh next."""

from collections.abc import Callable, Iterator

from kitbuilder.assess.buoyancy.balance import Balance, Moment, WhatIf
from kitbuilder.assess.buoyancy.buoyancy_model import bladder_of, switches_of
from kitbuilder.assess.buoyancy.float_checks import Seen
from kitbuilder.assess.buoyancy.lead_pieces import Pieces
from kitbuilder.assess.findings import Amount
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.report.page import (
    Amounts,
    Cell,
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Scalar,
    Section,
    Sentence,
    Share,
    Table,
    Tag,
    Text,
    Values,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FIGURE, FLAG, NUMBER, TEXT, listed, one_of, optional, record
from kitbuilder.report.trim_section import TRIM, trim_section
from kitbuilder.report.vector_pictures import buoyancy_plot, trim_drawing
from kitbuilder.report.words import BALANCE_CAUTION

_GAS = one_of("filled", "turn", "reserve")
BALANCE = record(
    water=TEXT,
    lead_needed_kg=FIGURE,
    pieces=listed(record(mass_kg=NUMBER, count=COUNT)),
    lead_ready_kg=optional(NUMBER),
    lead_carried_kg=NUMBER,
    moments_with_lead_kg=NUMBER,
    moments=listed(
        record(
            name=TEXT,
            depth_m=NUMBER,
            gas=_GAS,
            gauges_pa=listed(NUMBER),
            buoyancy_kgf=FIGURE,
            wing_full_kgf=optional(NUMBER),
        )
    ),
    lift_kgf=optional(FIGURE),
    suit_gas_kgf=optional(FIGURE),
    what_if=listed(record(name=TEXT, depth_m=NUMBER, gas=_GAS, gauges_pa=listed(NUMBER), buoyancy_kgf=FIGURE)),
    body_kgf=FIGURE,
    trim=TRIM,
    float_checks=listed(
        record(
            tag=TEXT,
            counted=FLAG,
            because=TEXT,
            computed_kgf=optional(FIGURE),
            measured_kgf=NUMBER,
            off_kgf=NUMBER,
            off_spread_kgf=NUMBER,
            contradicts=FLAG,
        )
    ),
    next_steps=listed(record(what=TEXT, item=optional(TEXT), lead_spread_kg=NUMBER)),
    left_out=listed(TEXT),
)
"""The shape of `balance_section`; kgf is plus where it floats, a moment is plus where it puts the head down."""

WHAT_IF_WORDS = {
    "wing fails": "the {bladder} fails",
    "drysuit floods": "the drysuit floods",
    "lead dropped": "all droppable lead is dropped",
    "stages lost": "the stages are lost",
}


def balance_section(balance: Balance) -> Section:
    """Build the section of `check`: the lead first, then everything it follows from."""
    return Section("Lead and balance", [*lead_parts(balance), *detail_parts(balance)], key="balance")


def lead_page(balance: Balance) -> Page:
    """Build the pane of the lead. When a change is asked for, its outcome takes the place of the source of the lead."""
    ready = ready_cell(balance)
    more = ("; have ", ready, " ready for a check") if ready else ()
    take: Sentence = () if balance.too_heavy else ("; take ", balance.pieces.words)
    lead = text(*lead_words(balance), *take, *more)
    return Page([lead, Text(lead_sentence(balance)), Text(outcome_of(balance) or lead_source(balance))])


def details_page(balance: Balance) -> Page:
    """Build the pane below: everything but the lead."""
    return Page([text(BALANCE_CAUTION), *detail_parts(balance)])


# ---- the lead ----


def lead_parts(balance: Balance) -> list[Node]:
    """Build what the page says about the lead: how much, in which pieces, what for, and where the answer comes from."""
    ready = ready_cell(balance)
    return [
        only_data(("water", balance.buoyancy_model.water.name)),
        Facts(
            [
                Fact("", "lead needed", lead_words(balance)),
                Fact("", "pieces to take", balance.pieces.words),
                *([Fact("", "lead to have ready", ready)] if ready else []),
                Fact("lead_carried_kg", "lead carried", Amount(balance.buoyancy_model.lead_kg, "lead")),
            ]
        ),
        only_data(
            ("lead_needed_kg", lead_estimate(balance)),
            ("pieces", _pieces(balance.pieces.metric)),
            ("lead_ready_kg", ready),
        ),
        Text(lead_sentence(balance)),
        Text(lead_source(balance)),
        *([Text(READY)] if ready else []),
    ]


READY: Sentence = (
    "The pieces to take are the likely lead. With the lead to have ready it is 95 % certain that the stop is held: "
    "bring that much to a float check at the end of a shallow dive that needs no stop.",
)


def ready_cell(balance: Balance) -> Amount | None:
    """Give how much lead to have ready in all; nothing where the pieces to take hold the stop."""
    return None if balance.ready_kg is None else Amount(balance.ready_kg, "lead")


def lead_estimate(balance: Balance) -> Estimate:
    """Give the lead that is needed: "5.2 ± 2.3 kg"."""
    return Estimate(balance.lead, "lead")


def lead_words(balance: Balance) -> Sentence:
    """Say how much lead is needed; of too heavy a kit, that it is none: "none (2.7 ± 3.1 kg too heavy)"."""
    if balance.too_heavy is None:
        return (lead_estimate(balance),)
    return ("none (", Estimate(balance.too_heavy, "lead"), " too heavy)")


def _pieces(pieces: Pieces) -> Table:
    columns = [Column("mass_kg", ""), Column("count", "")]
    return Table("pieces", columns, [[Amount(size, "lead"), count] for size, count in pieces.counts])


def lead_sentence(balance: Balance) -> Sentence:
    """Say what the lead is for, and how it compares with what is carried."""
    model, stop, surplus = balance.buoyancy_model, balance.stop, balance.surplus_kg
    at_the_stop: Sentence = (
        "to be neutral at ", Amount(stop.depth_m, "depth"), " with ", gas_left(balance, stop.gas),
        f" left and an empty {balance.bladder}, in {model.water.name} water. The kit carries ",
        Amount(model.lead_kg, "lead"),
    )  # fmt: skip
    if balance.too_heavy:
        heavy = Amount(balance.too_heavy.value, "lead")
        return ("Without any lead, diver and kit are ", heavy, " too heavy ", *at_the_stop, ".")
    if balance.carries_just_enough:
        return ("Needed ", *at_the_stop, ", as much as needed.")
    compared = f" {'more' if surplus > 0 else 'less'} than needed."
    return ("Needed ", *at_the_stop, ", ", Amount(abs(surplus), "lead"), compared)


def lead_source(balance: Balance) -> Sentence:
    """Say where the answer comes from, and what would narrow it most."""
    model = balance.buoyancy_model
    if problems := model.kit.linked.diver_problems:
        return (f"The diver file cannot be used: {problems[0]}",)
    if (counted := balance.counted_checks) == 1:
        return (
            "Based on 1 float check and the figures of body, suit and cylinders. It may be a slip: a second check that "
            "agrees narrows the lead.",
        )
    if counted:
        return (f"Based on {counted} float checks and the figures of body, suit and cylinders.",)
    of_women = "" if model.body.sex == "male" else " Only men were measured: how women float is assumed."
    if model.body.is_given:
        return (f"Estimated from stature and mass; a float check would narrow this most.{of_women}",)
    return (f"For an average diver; a diver file and a float check would narrow this most.{of_women}",)


def gas_left(balance: Balance, gas: str) -> Scalar:
    """Say what the gauges show: "230 bar", "230, 200 bar"."""
    gauges = balance.gauges_pa(gas)
    return Amounts(gauges, "pressure") if gauges else "no gas"


# ---- the dive ----


def detail_parts(balance: Balance) -> list[Node]:
    """Build everything but the lead."""
    model = balance.buoyancy_model
    left = "left on the kit" if balance.switches.lead_dropped else "that the kit carries"
    with_lead = ("All with the ", Amount(balance.lead_left_kg, "lead"), f" of lead {left}.")
    return [
        Section("Buoyancy over the dive", [_moments(balance), text(*with_lead), buoyancy_plot(balance)]),
        only_data(
            ("moments_with_lead_kg", Amount(balance.lead_left_kg, "lead")),
            ("lift_kgf", model.lift and Estimate(model.lift, "lift")),
            ("suit_gas_kgf", model.suit_gas and Estimate(model.suit_gas, "lift")),
            ("body_kgf", Estimate(balance.body, "lift")),
        ),
        _what_ifs(balance),
        trim_section(balance.trim),
        trim_drawing(balance),
        _checks(balance),
        next_steps(balance),
        *_left_out(balance),
    ]


def _moments(balance: Balance) -> Table:
    columns = [
        Column("name", "moment"),
        Column("depth_m", "depth"),
        Column("gas", ""),
        Column("gauges_pa", ""),
        Column("", "gas left"),
        Column("buoyancy_kgf", f"{balance.bladder} empty"),
        Column("wing_full_kgf", f"{balance.bladder} full"),
        Column("", "to be neutral", may_wrap=True),
    ]
    return Table("moments", columns, [_moment(balance, moment) for moment in balance.moments])


def _moment(balance: Balance, moment: Moment) -> Row:
    full = balance.when_full_kgf(moment.buoyancy)
    return [
        moment.name,
        Amount(moment.depth_m, "depth"),
        moment.gas,
        Amounts(balance.gauges_pa(moment.gas), "pressure"),
        gas_left(balance, moment.gas),
        Estimate(moment.buoyancy, "lift"),
        None if full is None else Amount(full, "lift"),
        _to_be_neutral(balance, moment),
    ]


def _to_be_neutral(balance: Balance, moment: Moment) -> Cell:
    """Say what the bladder holds to be neutral, or why it cannot help."""
    need = balance.bladder_need(moment.buoyancy)
    if need.is_neutral:
        return "neutral"
    if need.floats_up:
        return "floats up"
    if need.part is None:
        return "lift not given"
    if need.lacking_kgf > 0:
        return (f"{balance.bladder} lacks ", Amount(need.lacking_kgf, "lead"))
    return (f"{balance.bladder} ", Share(need.part), " full")


def _what_ifs(balance: Balance) -> Table:
    """Say how all of it floats when something fails, with nothing in the bladder; not while anything is asked."""
    columns = [
        Column("name", ""),
        Column("", "if", may_wrap=True),
        Column("depth_m", "depth"),
        Column("gas", ""),
        Column("gauges_pa", ""),
        Column("", "gas left"),
        Column("buoyancy_kgf", "buoyancy then"),
    ]
    rows = [] if balance.is_asked else [_what_if(balance, found) for found in balance.what_ifs]
    return Table("what_if", columns, rows, title=f"If something fails, with nothing in the {balance.bladder}")


def _what_if(balance: Balance, found: WhatIf) -> Row:
    return [
        found.name,
        WHAT_IF_WORDS[found.name].format(bladder=balance.bladder),
        Amount(found.depth_m, "depth"),
        found.gas,
        Amounts(balance.gauges_pa(found.gas), "pressure"),
        gas_left(balance, found.gas),
        Estimate(found.buoyancy, "lift"),
    ]


# ---- float checks, and what is next ----


def _checks(balance: Balance) -> Table:
    columns = [
        Column("tag", "float check", may_wrap=True),
        Column("", "what it shows", may_wrap=True),
        *(Column(key, "") for key in ("counted", "because", "computed_kgf")),
        *(Column(key, "") for key in ("measured_kgf", "off_kgf", "off_spread_kgf", "contradicts")),
    ]
    return Table("float_checks", columns, [_check(seen) for seen in balance.checks], title="Float checks")


def _check(seen: Seen) -> Row:
    return [
        Tag(seen.check.tag),
        check_result(seen),
        seen.is_counted,
        seen.because,
        seen.computed and Estimate(seen.computed, "lift"),
        Amount(seen.measured, "lift"),
        Amount(seen.off, "lift"),
        Amount(seen.off_spread, "lift"),
        seen.contradicts,
    ]


def check_result(seen: Seen) -> Sentence:
    """Say what one float check shows: how much more or less it floated than computed, and whether it counts."""
    off = seen.more_than_computed_kgf
    if off is None:
        return (f"not counted: {seen.because}",)
    floated: Sentence = ("floated ", Amount(abs(off), "lead"), f" {'more' if off > 0 else 'less'} than computed")
    if not seen.is_counted:
        return (f"not counted, {seen.because}; ", *floated)
    return (*floated, "; contradicts the rest") if seen.contradicts else floated


def next_steps(balance: Balance) -> Table:
    """Build the table of what to weigh or check next, what narrows the lead most first."""
    items = balance.buoyancy_model.kit.items
    columns = [
        Column("what", "what to do", may_wrap=True),
        Column("item", ""),
        Column("lead_spread_kg", "lead then known to ±"),
    ]
    rows: list[Row] = [
        [step.what, None if step.item is None else Tag(items[step.item].tag), Amount(step.spread_after_kg, "lead")]
        for step in balance.measurement_priorities
    ]
    return Table("next_steps", columns, rows, title="What to weigh next, and how much it narrows the lead")


def _left_out(balance: Balance) -> Iterator[Node]:
    model = balance.buoyancy_model
    tags = [Tag(model.kit.items[number].tag) for number in model.left_out]
    yield only_data(("left_out", Values(tags)))
    if tags:
        listed_tags = [piece for tag in tags for piece in (", ", tag)][1:]
        yield text("Left out, since it is not known how they float: ", *listed_tags, ".")


# ---- words of what is asked ----


SWITCH_WORDS = {
    "suit_flooded": ("suit flooded", "the drysuit flooded"),
    "lead_dropped": ("lead dropped", "the droppable lead gone"),
    "stages_lost": ("stages lost", "the stages lost"),
}
"""Of each switch: what it asks, and what then is so. A full bladder is shown with the curves."""


def format_asked(water: str | None, cylinder: str | None) -> str:
    """Say what is asked in place of the kit's own: "in fresh water, with steel 10 L 232"."""
    asked = [f"in {water} water"] if water else []
    return ", ".join(asked + ([f"with {cylinder}"] if cylinder else []))


def switch_hints(kit: ResolvedKit, key_of: Callable[[str], str]) -> str:
    """List the changes that can be tried on a kit, each with its key; `key_of` names the key of a switch."""
    bladder = [f"{key_of('wing_full')} {kind} full"] if (kind := bladder_of(kit)) else []
    asked = [f"{key_of(name)} {SWITCH_WORDS[name][0]}" for name in switches_of(kit)]
    back = f"{key_of('as_it_is')} as it is"
    return f"What if:  {'  '.join([*bladder, *asked, back])}"


def outcome_of(balance: Balance) -> Sentence:
    """Say what comes of what is asked on top, with the lead the kit carries; empty when nothing is asked."""
    asked = [words[1] for name, words in SWITCH_WORDS.items() if getattr(balance.switches, name)]
    if not asked:
        return ()
    worst, lift = balance.heaviest, balance.buoyancy_model.lift
    lead = "the lead left on the kit" if balance.switches.lead_dropped else "the lead that the kit carries"
    holds = (f", the {balance.bladder} lifts ", Amount(lift.value, "lead")) if lift else ()
    return (
        f"With {' and '.join(asked)}, and {lead}: ", Estimate(worst.buoyancy, "lift"), f" {worst.name}",
        *holds, "; ", Estimate(balance.stop.buoyancy, "lift"), " at the stop.",
    )  # fmt: skip
