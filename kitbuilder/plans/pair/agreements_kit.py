"""What to agree on about the rest of the kits: what joins, what lifts, what fails, and what is there once or never."""

from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.assess.findings import Amount, Signal, Tag, words
from kitbuilder.plans.pair.agreement import Agreement, distinct, listed
from kitbuilder.plans.pair.facts import Facts
from kitbuilder.plans.pair.joining import NO, WITH_ADAPTER, inlets_of_second_stages
from kitbuilder.plans.pair.members import Member
from kitbuilder.plans.pair.single import Counted


def couplings(facts: Facts) -> Iterator[Agreement]:
    """Say where a hose of one diver does not feed the other."""
    refused = [fed for fed in facts.fed if fed.answer == NO]
    if refused:
        functions = distinct(fed.function for fed in refused)
        yield Agreement(
            Signal.NOTICE,
            "couplings",
            distinct(name for fed in refused for name in fed.way.names),
            words(f"not every hose feeds the other's {listed(functions, 'or')}: see below"),
            words("A hose of the other is then no spare."),
            words("Bring spare hoses of your own."),
        )


def regulators(facts: Facts) -> Iterator[Agreement]:
    """Say where a regulator does not go on the other's cylinder."""
    refused = [each for each in facts.seated if each.answer in (NO, WITH_ADAPTER)]
    if refused:
        whose = [f"{each.way.giver.name}'s on {each.way.receiver.name}'s" for each in refused]
        only = all(each.answer == WITH_ADAPTER for each in refused)
        yield Agreement(
            Signal.NOTICE,
            "regulators and cylinders",
            distinct(name for each in refused for name in each.way.names),
            words(
                f"regulators go on cylinders {'only with' if only else 'not, or only with'} an adapter: "
                f"{listed(whose, 'and')}"
            ),
            words("Cylinders of one are then no spare for the other."),
            words("Order cylinders for each regulator, or bring the adapter."),
        )


def look_alikes(facts: Facts) -> Iterator[Agreement]:
    """Say what looks alike on both and is not the same."""
    two_makes = [
        f"couplings of two makes on {fed.way.receiver.name}'s {fed.function}" for fed in facts.fed if fed.two_makes
    ]
    known = [supply for supply in facts.supplies if not supply.is_stage and "gas" not in supply.assumed]
    gases = {supply.member.name: supply.gas for supply in known}
    mixed = [f"{gas} in {name}'s cylinder" for name, gas in gases.items()] if len(set(gases.values())) > 1 else []
    inlets = {member.name: inlets_of_second_stages(member) for member in facts.members}
    differ = len(set().union(*inlets.values())) > 1
    threads = [f"inlets {listed(sorted(own), 'and')} of {name}'s second stages" for name, own in inlets.items() if own]
    found = [*mixed, *two_makes, *(threads if differ else [])]
    if found:
        yield Agreement(
            Signal.NOTICE,
            "items that look alike",
            tuple(member.name for member in facts.members),
            words(listed(found, "and")),
            words("They look alike, and are not the same."),
            words("Label them with name and gas. Analyse the gas, each your own."),
        )


def own_findings(facts: Facts) -> Iterator[Agreement]:
    """Say whose kit alone has findings that are worse than a caution."""
    for member in facts.members:
        worse = [each.signal for each in member.assessment.findings if each.signal > Signal.CAUTION]
        if worse:
            counted = [f"{worse.count(signal)} × {signal.word}" for signal in sorted(set(worse), reverse=True)]
            yield Agreement(
                max(worse),
                "findings of one kit alone",
                (member.name,),
                words(f"{member.name}'s kit alone has findings: {listed(counted, 'and')}"),
                words("What is wrong with one kit is not said on the page of a pair."),
                words("Check ", Tag(member.file), " by itself first."),
            )


# ---- lift, failures, single items ----


def one_bladder(facts: Facts) -> Iterator[Agreement]:
    """Say where one bladder does not hold both."""
    for held in facts.held:
        if not held.lacks or held.both is None:
            continue
        lifter, lifted = held.way.names
        yield Agreement(
            Signal.CAUTION,
            "one bladder for both",
            (lifter, lifted),
            words(
                f"if {lifted}'s bladder fails, {lifter}'s lacks ",
                Amount(-held.both.value, "lead"),
                " to hold both at depth",
            ),
            words("Both would sink."),
            words(f"{lifted} drops lead or uses the own drysuit or marker buoy first; {lifter} only steadies."),
        )


def last_breath(facts: Facts) -> Iterator[Agreement]:
    """Say whom one failure leaves without own gas."""
    alone = [each.member.name for each in facts.last_breaths if each.first_stages]
    if alone:
        yield Agreement(
            Signal.NOTICE,
            "one failure, no gas",
            tuple(alone),
            words(f"one failure can leave {listed(alone, 'or')} without own gas"),
            words("What is left is the gas of the other, through one first stage for both."),
            words("Stay within reach of each other, and end the dive after any leak."),
        )


def lacking_items(facts: Facts) -> Iterator[Agreement]:
    """Say who lacks what each diver needs."""
    lacking = [
        (counted.need.name, name)
        for counted in facts.counted
        for name, count in _by_member(counted, facts.members)
        if counted.need.each and not count
    ]
    if lacking:
        yield Agreement(
            Signal.CAUTION,
            "items that each diver needs",
            distinct(name for _, name in lacking),
            words(listed([f"{name} has no {need}" for need, name in lacking], "and")),
            words("Neither can do it for the other."),
            words("Bring them, or enter them in the kit file."),
        )


def items_of_nobody(facts: Facts) -> Iterator[Agreement]:
    """Say what nobody of the pair carries."""
    nobody = [counted.need.name for counted in facts.counted if not counted.in_all and not counted.need.each]
    if nobody:
        yield Agreement(
            Signal.CAUTION,
            "items that nobody carries",
            tuple(member.name for member in facts.members),
            words(f"nobody carries a {listed(nobody, 'or a', ', a')}"),
            words("The pair can neither be seen nor get free without them."),
            words("Decide who brings them, or enter them in the kit file."),
        )


def single_items(facts: Facts) -> Iterator[Agreement]:
    """Say what the pair has only once."""
    single = [
        (counted.need.name, next(name for name, count in _by_member(counted, facts.members) if count))
        for counted in facts.counted
        if counted.in_all == 1 and not counted.need.each
    ]
    carriers = distinct(name for _, name in single)
    if single:
        carried = (
            f"only {carrier} carries a {listed([need for need, name in single if name == carrier], 'and a', ', a')}"
            for carrier in carriers
        )
        yield Agreement(
            Signal.NOTICE,
            "items that are there once",
            carriers,
            words("; ".join(carried)),
            words("One failure takes it from both."),
            words("Bring a second one, or agree on what you do without it."),
        )


def _by_member(counted: Counted, members: Sequence[Member]) -> Iterable[tuple[str, int]]:
    return zip((member.name for member in members), counted.counts, strict=True)
