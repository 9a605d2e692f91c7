"""The page of `kitbuilder ballast`: the lead for each water and cylinder, and what the change alone asks for."""

from collections.abc import Sequence

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.findings import Amount, Unchecked
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.ballast import Ballast, LeadAnswer
from kitbuilder.report.balance import (
    BALANCE,
    balance_section,
    gas_left,
    lead_estimate,
    lead_source,
    next_steps,
    ready_cell,
)
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Node,
    Page,
    Row,
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
from kitbuilder.report.shapes import FIGURE, TEXT, listed, optional, record
from kitbuilder.report.words import CAUTIONS, ended

SHAPE = record(
    name=TEXT,
    own_cylinders=TEXT,
    answers=listed(
        record(
            water=TEXT,
            cylinders=optional(TEXT),
            change_of_lead_kg=FIGURE,
            full_at_depth_kgf=FIGURE,
            balance=BALANCE,
        )
    ),
    not_given=listed(TEXT),
)
OWN = "as in the kit"


def ballast_page(file: str, found: Ballast, missing: Sequence[Unchecked]) -> Page:
    """Build the page: the lead for each water and cylinder, what it is for, and what the change alone asks for.

    Args:
        file: As it was given.
        found: The answers; the first is for the kit as it is.
        missing: The rules about lead that lack a value.
    """
    header = found.kit.header
    because = [_not_given(result, found.kit) for result in missing]
    return Page(
        [
            Section("", [text(file), text(header.name, f" · {header.layout} · ", found.own)]),
            not_used(found.kit.linked.problems),
            only_data(("name", header.name), ("own_cylinders", found.own)),
            _answers(found),
            *(_what_they_mean(found) if found.answers else []),
            Section("", [text("Not given: ", *words) for words in because]),
            only_data(("not_given", Values(because))),
            Section("", [text(CAUTIONS)]),
        ]
    )


def _not_given(result: Unchecked, kit: ResolvedKit) -> Sentence:
    """Say what is not known, and of which item."""
    about = () if result.item is None else (Tag(kit.items[result.item].tag), ": ")
    return (*about, *ended(result.because))


def _what_they_mean(found: Ballast) -> list[Node]:
    """Build the text below the answers: what the lead is for, each change alone, and what would narrow it."""
    own = found.answers[0].balance
    steps = next_steps(own)._replace(
        key="", title="What to weigh next, and how much it narrows the lead of the first row"
    )
    return [Section("", [Text(_meaning(own)), Text(lead_source(own))]), _changes(found), steps]


def _answers(found: Ballast) -> Table:
    """Build the table of the answers; in JSON each has all of its balance."""
    bladder = found.answers[0].balance.bladder if found.answers else "wing"
    columns = [
        Column("water", "water"),
        Column("cylinders", ""),
        Column("", "cylinders", may_wrap=True, names_row=True),
        Column("", "lead needed"),
        Column("", "lead to take"),
        Column("", "lead to have ready", may_wrap=True),
        Column("full_at_depth_kgf", "buoyancy at depth, gas full"),
        Column("", f"{bladder} lift used"),
        Column("change_of_lead_kg", ""),
        Column("balance", ""),
    ]
    empty = "The lead cannot be worked out."
    return Table("answers", columns, [_answer(answer) for answer in found.answers], empty=empty)


def _answer(answer: LeadAnswer) -> Row:
    balance = answer.balance
    return [
        answer.water,
        answer.cylinder,
        answer.cylinder or OWN,
        lead_estimate(balance),
        balance.pieces.words,
        ready_cell(balance),
        Estimate(balance.full_at_depth, "lift"),
        _lift_taken(balance),
        Estimate(answer.change, "lead change"),
        balance_section(balance)._replace(key=""),
    ]


def _lift_taken(balance: Balance) -> Cell:
    """Say how much of its lift the bladder needs with full cylinders at depth; empty where the lift is not known."""
    if balance.buoyancy_model.lift is None:
        return None
    need = balance.bladder_need(balance.full_at_depth)
    return "floats up" if need.part is None else Share(need.part)


def _meaning(balance: Balance) -> Sentence:
    return (
        "The lead makes diver and kit neutral at ", Amount(balance.stop.depth_m, "depth"), " with the reserve (",
        gas_left(balance, balance.stop.gas), f") and an empty {balance.bladder}; it is taken in whole pieces. The "
        "lead to have ready holds the stop with a certainty of 95 %: bring it to a first check. At depth means at ",
        Amount(balance.deepest_m, "depth"), " with full cylinders and the lead needed; the lift "
        f"used is how much of the lift of the {balance.bladder} this takes. Make a float check, and change the lead "
        "by what it shows.",
    )  # fmt: skip


def _changes(found: Ballast) -> Table:
    columns = [
        Column("", "water"),
        Column("", "cylinders", may_wrap=True, names_row=True),
        Column("", "change of lead"),
    ]
    rows: list[Row] = [
        [answer.water, answer.cylinder or OWN, Estimate(answer.change, "lead change")] for answer in found.answers[1:]
    ]
    return Table("", columns, rows, title="The change alone, which is more certain than the lead itself")
