"""The page of a new kit: the lead, the fit, the mass, and what to measure first."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Signal, Tag
from kitbuilder.assess.fit.verdict import CANNOT_BE_SAID, DOES_NOT_FIT, FITS
from kitbuilder.plans.new_kit import NewKitPlan
from kitbuilder.report.balance import lead_estimate, lead_words
from kitbuilder.report.findings import counted
from kitbuilder.report.page import (
    Between,
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Statement,
    Statements,
    Table,
    Text,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FIGURE, NUMBER, TEXT, listed, optional, record
from kitbuilder.report.words import CAUTIONS

SHAPE = record(
    file=TEXT,
    diver=optional(TEXT),
    name=TEXT,
    layout=TEXT,
    lead_needed_kg=optional(FIGURE),
    lead_carried_kg=optional(NUMBER),
    everything_mass_kg=FIGURE,
    hoses=record(fit=COUNT, measure_first=COUNT, do_not_fit=COUNT),
    findings=record(danger=COUNT, warning=COUNT, caution=COUNT, notice=COUNT),
    rule_of_thumb=optional(
        record(
            low_kg=NUMBER,
            high_kg=NUMBER,
            terms=listed(record(term=TEXT, what=TEXT, low_kg=NUMBER, high_kg=NUMBER)),
            differences=listed(record(term=TEXT, more_lead_kg=NUMBER, why=TEXT)),
        )
    ),
    measure=listed(record(what=TEXT, item=optional(TEXT), lead_spread_kg=NUMBER)),
)


class NewKit(NamedTuple):
    """What is shown of a new kit."""

    file: str
    """As it was named."""
    diver: str | None
    """The diver file that was written with it."""
    assessment: Assessment
    plan: NewKitPlan
    is_open: bool = False
    """Whether the app shows the kit already, so that nobody needs to be shown how to open it."""


def new_kit_page(made: NewKit) -> Page:
    """Build the page."""
    header = made.assessment.kit.header
    written = (made.file, *((" and ", made.diver) if made.diver else ()))
    return Page(
        [
            only_data(
                ("file", made.file), ("diver", made.diver), ("name", Tag(header.name)), ("layout", header.layout)
            ),
            text("Written: ", *written, "."),
            Section("", [Facts([*_lead(made), *_kit(made)])]),
            Section("", [_priorities(made)]),
            *_rule_of_thumb(made),
            *_worth_reading(made),
            *([] if made.is_open else [Section("", [Text((f"Open it: kitbuilder {made.file}",))])]),
            Section("", [Text((CAUTIONS,))]),
        ]
    )


def _lead(made: NewKit) -> Iterator[Fact]:
    balance = made.assessment.balance
    if balance is None:
        yield Fact("lead_needed_kg", "lead needed", None, "not known: the mass of a cylinder is missing")
        yield Fact("lead_carried_kg", "", None)
        return
    yield Fact("lead_needed_kg", "", lead_estimate(balance))
    yield Fact("", "lead needed", lead_words(balance))
    carried = balance.buoyancy_model.lead_kg
    pieces = balance.pieces.words if carried else "none"
    yield Fact("lead_carried_kg", "lead carried", Amount(carried, "lead"), pieces)


def _kit(made: NewKit) -> Iterator[Fact]:
    assessment = made.assessment
    mass: Figure = assessment.everything.mass
    yield Fact("everything_mass_kg", "kit, dry", Estimate(mass, "mass"), "cylinders filled, lead included")
    outcomes = Counter(figures.fit.present.verdict.outcome for figures in assessment.hoses if figures.fit)
    counts = {"fit": FITS, "measure_first": CANNOT_BE_SAID, "do_not_fit": DOES_NOT_FIT}
    data = Facts([Fact(key, "", outcomes[outcome]) for key, outcome in counts.items()])
    yield Fact("hoses", "", data)
    said = ", ".join(f"{outcomes[outcome]} {words}" for outcome, words in _OUTCOME_WORDS.items() if outcomes[outcome])
    yield Fact("", "hoses", said)
    signals = Counter(finding.signal.word.lower() for finding in assessment.findings)
    words = ("danger", "warning", "caution", "notice")
    yield Fact("findings", "", Facts([Fact(word, "", signals[word]) for word in words]))
    yield Fact("", "findings", counted(assessment.findings))


_OUTCOME_WORDS = {FITS: "fit", CANNOT_BE_SAID: "to measure first", DOES_NOT_FIT: "do not fit"}


def _priorities(made: NewKit) -> Table:
    items = made.assessment.kit.items
    columns = [
        Column("what", "measure first", may_wrap=True),
        Column("item", ""),
        Column("lead_spread_kg", "lead then known to ±"),
    ]
    rows: list[Row] = [
        [step.what, None if step.item is None else Tag(items[step.item].tag), Amount(step.spread_after_kg, "lead")]
        for step in made.plan.measure
    ]
    return Table("measure", columns, rows)


def _rule_of_thumb(made: NewKit) -> Iterator[Node]:
    """Set the trade's rule of thumb beside the lead, and say what makes the difference."""
    rule, balance = made.plan.rule, made.assessment.balance
    if rule is None or balance is None:
        yield only_data(("rule_of_thumb", None))
        return
    terms = Table(
        "terms",
        [
            Column("term", ""),
            Column("what", "common practice, no source", may_wrap=True),
            Column("", "lead"),
            Column("low_kg", ""),
            Column("high_kg", ""),
        ],
        [
            [term.name, term.what, _range(term.low_kg, term.high_kg), *_ends(term.low_kg, term.high_kg)]
            for term in rule.terms
        ],
    )
    differences = Table(
        "differences",
        [Column("term", "differs"), Column("more_lead_kg", "lead"), Column("why", "why", may_wrap=True)],
        [[each.name, Amount(each.lead_kg, "lead change"), each.why] for each in rule.differences],
    )
    low_kg, high_kg = _ends(rule.low_kg, rule.high_kg)
    totals = Facts(
        [
            Fact("low_kg", "", low_kg),
            Fact("high_kg", "", high_kg),
            Fact("", "rule of thumb", Between(rule.low_kg, rule.high_kg, "lead") if low_kg != high_kg else low_kg),
            Fact("", "lead needed here", lead_words(balance)),
        ]
    )
    yield Section("Lead by rule of thumb", [terms, totals, differences], "rule_of_thumb")


def _range(low_kg: float, high_kg: float) -> Amount | Between:
    """Write a range of lead; one number where both ends are the same."""
    return Amount(low_kg, "lead change") if low_kg == high_kg else Between(low_kg, high_kg, "lead change")


def _ends(low_kg: float, high_kg: float) -> tuple[Amount, Amount]:
    return Amount(low_kg, "lead"), Amount(high_kg, "lead")


def _worth_reading(made: NewKit) -> Iterator[Node]:
    """Name what is worse than a notice; the rest is on the bench."""
    items = made.assessment.kit.items
    loud = [finding for finding in made.assessment.findings if finding.signal is not Signal.NOTICE]
    entries = [
        Statement((*(() if found.item is None else (Tag(items[found.item].tag), ": ")), *found.what), mark=found.signal)
        for found in loud
    ]
    if entries:
        yield Section("", [Statements("", entries)])
