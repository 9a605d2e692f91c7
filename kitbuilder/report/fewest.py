"""The page of `kitbuilder fewest`: which hose serves which kit, what to buy, and why each is needed."""

from collections import Counter
from collections.abc import Iterator, Sequence

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.assess.fit.verdict import TOO_SHORT
from kitbuilder.catalogue import catalogue
from kitbuilder.plans.fewest import (
    BEST_SO_FAR,
    COUNT,
    INFEASIBLE,
    MASS,
    NOTHING_FOUND,
    PRICE,
    CandidateHose,
    FewestPlan,
    Purchase,
    Reason,
    Run,
    SetHose,
    Spec,
    Unserved,
)
from kitbuilder.plans.fewest import reasons as why
from kitbuilder.plans.fewest.runs import AS_NOW_UNKNOWN, MEASURE_FIRST, SLACK, SURE
from kitbuilder.report.fewest_data import fewest_data
from kitbuilder.report.linked import not_used
from kitbuilder.report.owners import divers_words
from kitbuilder.report.page import (
    Between,
    Column,
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
    Share,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    joined,
    text,
)
from kitbuilder.report.shopping import HosesToBuy, ShoppingTotal, shopping_section
from kitbuilder.report.words import CAUTIONS, FEWEST_CAUTION, counted_items

FIRST = {COUNT: "fewest", MASS: "lightest", PRICE: "cheapest"}
NO_BETTER = {COUNT: "no set has fewer", MASS: "no set is lighter", PRICE: "no set is cheaper"}
MARKS = {SURE: "", SLACK: " +", MEASURE_FIRST: " *", AS_NOW_UNKNOWN: " ?"}
MARK_WORDS = {
    SLACK: "+ Fits, with slack at rest: hold it in one more place, or stow the slack.",
    MEASURE_FIRST: "* Measure this run first. Whether this length is enough cannot be said yet. It is as good as now.",
    AS_NOW_UNKNOWN: "? As long as it is now. Its run is not known, so no other length is considered.",
}
SHORT_MARKS = {SLACK: "+ slack at rest", MEASURE_FIRST: "* measure first", AS_NOW_UNKNOWN: "? run not known"}
REASON_WORDS = {
    why.SAME_KIT: "in the same kit",
    why.OTHER_ENDS: "with other ends",
    why.OTHER_BODY: "with another body",
    why.NO_ONE_LENGTH: "for which no single length suits both",
    why.OTHER_BORE: "with another bore",
    why.OTHER_MAKE: "of another make",
    why.NOT_CLEAN: "for which no hose for both is known to be clean for oxygen",
}
WRONG_WORDS = {
    why.OVERDONE: "leaves more to fold away than there is room for",
    why.WRONG_BODY: "would fit, but has another body",
    why.OTHER_BORE: "would fit, but has another bore",
    why.OTHER_MAKE: "would fit, but is of another make",
    why.NOT_CLEAN: "would fit, but is not known to be clean for oxygen",
    why.UNKNOWN: "is not as long as the present one, and its run is not known",
    why.TAKEN: "would fit, but is needed elsewhere in the same kit",
}
NONE_NEAR = {
    why.NO_TIME: "time ran out before it was tried",
    why.DOES_NOT_JOIN: "no hose joins its port and its device: run the check of this kit",
    why.FROM_MAKER: "only the maker of the second stage has it",
}
HOW_CERTAIN = (
    "A hose can be in one kit at a time: never dive these kits at the same time. Every change of kit is work with "
    "spanners, and a leak check and a function check follow it. A run measured by string is more certain than one by "
    "landmarks."
)


def fewest_page(plan: FewestPlan, problems: tuple[str, ...]) -> Page:
    """Build the page: the set, the list to buy, the reasons; and where the hoses come from.

    Args:
        plan: The set.
        problems: Files that could not be used, a sentence each.
    """
    return Page(
        [
            fewest_data(plan),
            *_result(plan, problems),
            _about(plan),
            Section("", [text(HOW_CERTAIN)]),
            Section("", [text(CAUTIONS)]),
        ]
    )


def fewest_pane(plan: FewestPlan) -> Page:
    """Build the page beside the list of kits; what could not be used of their files comes first."""
    first, *others = _result(plan, ())
    return Page([first, *_marks_in_short(plan), *others, _about(plan), text(HOW_CERTAIN), text(FEWEST_CAUTION)])


def _marks_in_short(plan: FewestPlan) -> Iterator[Text]:
    """Say what the marks behind the hoses mean, above the table: the sentences below it may be out of view."""
    seen = _marks_seen(plan)
    if words := [short for mark, short in SHORT_MARKS.items() if mark in seen]:
        yield text("   ".join(words))


def _marks_seen(plan: FewestPlan) -> set[str]:
    return {assignment.why for hose in plan.hoses for assignment in hose.serves}


def _result(plan: FewestPlan, problems: tuple[str, ...]) -> list[Node]:
    """Give the set as a table, and around it what there is to say about it."""
    return [
        text(*summary(plan)),
        not_used(problems),
        Section("", list(_dangers(plan))),
        *([text(*words)] if (words := _shared(plan)) else []),
        *_table(plan),
        _without_hose(plan),
        to_buy(plan),
        Section("", list(_owned(plan))),
        Section("", list(_soiled(plan))),
        Section("", list(_others(plan))),
        Statements("", list(_reasons(plan)), title="Why each is needed"),
    ]


def format_order(order: Sequence[str]) -> str:
    """Say what the set keeps smallest, in order: "the fewest, then the lightest, then the cheapest"."""
    return ", then ".join(f"the {FIRST[name]}" for name in order)


# ---- the set ----


def summary(plan: FewestPlan) -> Sentence:
    """Say how many hoses do for how many, and how certain that is."""
    status = plan.status
    if status.word == INFEASIBLE:
        return (
            "No set: no available hose fits any of these runs." if plan.runs else "No set: these kits have no hose.",
        )
    if status.word == NOTHING_FOUND:
        return ("No set: none was found in the time allowed. Allow more time, or choose fewer kits.",)
    hoses, kits = counted_items(len(plan.hoses), "hose"), counted_items(len(plan.kits), "kit")
    left_out = f" of {len(plan.runs)}" if plan.unserved_runs else ""
    return (
        f"{hoses} in place of {plan.served}{left_out} in {kits}, together ", Estimate(plan.mass, "mass"), ". ",
        *_proof(plan), ".",
    )  # fmt: skip


def _proof(plan: FewestPlan) -> Sentence:
    first, status = plan.order[0], plan.status
    if status.word != BEST_SO_FAR:
        return (f"Proved: {NO_BETTER[first]}",)
    if status.is_first_proved:
        return (f"Proved: {NO_BETTER[first]}; of these sets, it is the best found in the time allowed",)
    found: Sentence = ("The best found in the time allowed; every set ",)
    if first == COUNT:
        return (*found, f"has at least {counted_items(status.bound, 'hose')}")
    if first == MASS:
        return (*found, "weighs at least ", Amount(status.bound_mass_kg, "mass"))
    return (*found, "costs at least ", Price(status.bound_price, _currency(plan) or ""))


def _shared(plan: FewestPlan) -> Sentence:
    """Say that the hoses are for several divers; nothing when they are for one."""
    if not plan.owners.are_several:
        return ()
    return (*divers_words(plan.owners), "Each hose of the set is for all of them: they never dive at the same time.")


def _dangers(plan: FewestPlan) -> Iterator[Text]:
    for file, kit in plan.kits:
        if kit.worst is Signal.DANGER:
            yield text(Tag(file), " has dangers of its own; its hoses are taken as the file says. See its findings.")


def _table(plan: FewestPlan) -> Iterator[Node]:
    """Give which hose of the set is which hose of each kit, and what the marks in it mean."""
    if not plan.hoses:
        return
    names = [Column("", kit.kit.header.name, may_wrap=True) for _, kit in plan.kits]
    columns = [Column("", "#"), Column("", "hose", names_row=True), Column("", "from", names_row=True), *names]
    yield Table("", columns, [_row(plan, number, hose) for number, hose in enumerate(plan.hoses, start=1)])
    seen = _marks_seen(plan)
    yield Section("", [text(words) for mark, words in MARK_WORDS.items() if mark in seen])


def _row(plan: FewestPlan, number: int, hose: SetHose) -> Row:
    cells = dict.fromkeys(range(len(plan.kits)), "")
    for assignment in hose.serves:
        cells[assignment.run.kit] = f"{assignment.run.hose.tag}{MARKS[assignment.why]}"
    return [number, _short(hose.candidate.spec), "own" if hose.candidate.is_owned else "buy", *cells.values()]


def _owned(plan: FewestPlan) -> Iterator[Text]:
    numbers = {id(hose): number for number, hose in enumerate(plan.hoses, start=1)}
    pieces = [(f"#{numbers[id(hose)]} ", Tag(hose.tag)) for hose in plan.owned]
    if pieces:
        yield text("From your gear: ", *joined(pieces, ", "))


def _soiled(plan: FewestPlan) -> Iterator[Text]:
    """Ask about each hose that serves oxygen-rich gas and gas that asks for no clean hose."""
    for number, hose in enumerate(plan.hoses, start=1):
        if soiled_by := hose.soiled_by:
            runs = joined((_run(plan, run) for run in soiled_by), ", ")
            yield text(
                f"#{number} must be clean for oxygen. Used as ", *runs, ", it counts as not clean until it is cleaned "
                "again. Clean it before each change, or keep a hose of its own for the oxygen-rich gas.",
            )  # fmt: skip


def _about(plan: FewestPlan) -> Facts:
    """Give the kits, the sources of hoses, what is kept smallest, and what is fixed."""
    gear, stock = plan.sources.gear, plan.sources.stock
    places = [gear.header.name] if gear else []
    if plan.sources.may_buy:
        places.append(stock.header.name if stock else "every usual length")
    kits = "; ".join(f"{kit.kit.header.name} ({file})" for file, kit in plan.kits)
    return Facts(
        [
            Fact("", "kits", kits),
            Fact("", "hoses from", " and ".join(places) or "no gear file"),
            Fact("", "order", format_order(plan.order)),
            Fact("", "body", "any body" if plan.any_body else "each hose has the body that its kit names"),
        ]
    )


def to_buy(plan: FewestPlan) -> Section:
    """Build the list to take to a shop."""
    hoses = [_to_buy(purchase) for purchase in plan.purchases]
    total = ShoppingTotal(plan.known_price, plan.without_price, _currency(plan))
    return shopping_section(hoses, total, empty="nothing" if plan.hoses else "")


def _to_buy(purchase: Purchase) -> HosesToBuy:
    spec, tags = purchase.candidate.spec, purchase.candidate.tags
    return HosesToBuy(
        pieces=purchase.pieces,
        tags=purchase.tags,
        length_m=spec.length_m,
        measured=spec.measured,
        is_made=False,
        service=spec.service,
        body=spec.body,
        at_first_stage=catalogue().fittings[spec.from_end],
        at_device=catalogue().fittings[spec.to_end],
        odds=purchase.odds,
        must_measure=purchase.must_measure,
        stock_tag=tags[0] if tags else "",
        price=purchase.price,
        must_be_clean=purchase.must_be_clean,
    )


def _currency(plan: FewestPlan) -> str | None:
    return plan.sources.stock.header.currency if plan.sources.stock else None


# ---- what has no hose, and what else there is ----


def _without_hose(plan: FewestPlan) -> Statements:
    entries = [Statement((*_run(plan, unserved.run), ": ", *_miss(unserved))) for unserved in plan.unserved_runs]
    return Statements("", entries, title="No hose for")


def _miss(unserved: Unserved) -> Sentence:
    """Say what comes nearest to a run that has no hose, and what is wrong with it."""
    if unserved.nearest is None:
        adapters = " and the ".join(unserved.or_adapters)
        usual = f"; one with the usual ends would fit with the {adapters}" if adapters else ""
        return (NONE_NEAR.get(unserved.why, f"there is none with its ends{usual}"),)
    return ("nearest is ", *_named(unserved.nearest), ", which ", *_wrong(unserved))


def _wrong(unserved: Unserved) -> Sentence:
    if unserved.missing is not None:
        return _too_short(unserved, unserved.missing)
    if unserved.why == why.IN_THE_WAY:
        out = unserved.stand_off
        return ("bows out ", Interval(out, "length"), " from the body") if out else ("hangs in a loop",)
    return (WRONG_WORDS[unserved.why],)


def _too_short(unserved: Unserved, missing: Figure) -> Sentence:
    if unserved.why == TOO_SHORT:
        return ("is ", Estimate(missing, "length"), " too short")
    odds = Share(unserved.odds), " certain to be long enough; the present hose is ", Share(unserved.present_odds)
    return ("is only ", *odds, ": measure this run first")


def _others(plan: FewestPlan) -> Iterator[Text]:
    """Give the second-best set, and the set that would be enough if hose bodies were free."""
    second, free = plan.second, plan.if_any_body
    if second:
        swapped = (*(_list(second.instead) or ("nothing",)), " in place of ", *_list(second.without), ".")
        hoses = counted_items(len(second.hoses), "hose")
        yield text(f"Second best: {hoses}, ", Estimate(second.mass, "mass"), ": ", *swapped)
    if free and (free.hoses < len(plan.hoses) or free.left_out < len(plan.unserved_runs)):
        served = f" for {len(plan.runs) - free.left_out} of them" if free.left_out != len(plan.unserved_runs) else ""
        hoses = counted_items(free.hoses, "hose")
        yield text(f"If every hose could have any body, {hoses} would be enough{served}.")


def _list(candidates: Sequence[CandidateHose]) -> Sentence:
    counts = Counter(_named(candidate) for candidate in candidates)
    return joined(((f"{pieces} × " if pieces > 1 else "", *name) for name, pieces in counts.items()), ", ")


# ---- reasons ----


def _reasons(plan: FewestPlan) -> Iterator[Statement]:
    """Give the reason for each hose, and then what to say about hoses that no run forces."""
    loose = []
    for number, hose in enumerate(plan.hoses, start=1):
        if hose.reason is None:
            loose.append(str(number))
        else:
            yield Statement((*_run(plan, hose.reason.run), ": ", *format_reason(plan, hose.reason)), mark=str(number))
    if loose:
        yield Statement((f"{', '.join(loose)}: {_loose(plan)}",))


def _loose(plan: FewestPlan) -> str:
    if plan.order[0] != COUNT:
        return f"not forced by single runs: {format_order(plan.order[:1])} set may have more hoses than the smallest."
    if plan.status.is_first_proved:
        return "no runs force them one by one; the solver's bound proves that no set has fewer."
    return "no runs force them one by one, and time ran out: fewer may be enough."


def format_reason(plan: FewestPlan, reason: Reason) -> Sentence:
    """Say why the run of a hose cannot share one with the other runs that force one each."""
    counts = Counter(apart.why for apart in reason.apart)
    parts = [f"{counts[word]} {words}" for word, words in REASON_WORDS.items() if counts[word]]
    own, theirs = _lengths(reason.lengths), joined(_other_lengths(plan, reason), ", ")
    if not (parts or theirs):
        return ("the only one; ", own, " would fit.")
    between = "; " if parts and theirs else ""
    of_length = (f"{between}because of its length, ", own, " against ", *theirs) if theirs else ()
    return (f"cannot share a hose with {'; '.join(parts)}", *of_length, ".")


def _other_lengths(plan: FewestPlan, reason: Reason) -> Iterator[Sentence]:
    for apart in reason.apart:
        if apart.lengths is not None:
            yield (_lengths(apart.lengths), " of ", *_run(plan, apart.run))


def _lengths(lengths: Range) -> Between:
    return Between(lengths.low, lengths.high, "length")


def _run(plan: FewestPlan, run: Run) -> Sentence:
    return (Tag(run.hose.tag), " of ", Tag(plan.kits[run.kit][1].kit.header.name))


def _named(candidate: CandidateHose) -> Sentence:
    """Name a hose by its tag, or by its end where it has none."""
    name = (" ", Tag(candidate.tags[0])) if candidate.tags else (f" with {candidate.spec.to_end}",)
    return (*_short(candidate.spec), *name)


def _short(spec: Spec) -> Sentence:
    return (Amount(spec.length_m, "length"), f" {spec.body}")
