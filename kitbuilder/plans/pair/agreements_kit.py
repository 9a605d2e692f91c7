"""What to agree on about the rest of the kits: what joins, what lifts, what fails, and what is there once or never."""

from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.assess.findings import Signal, Tag
from kitbuilder.plans.pair.agreement import Agreement, distinct, in_own_units, listed, said, whose
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
            said(f"not every hose feeds the other's {listed(functions, 'or')}: see below"),
            said("A hose of the other is then no spare."),
            said("Bring spare hoses of your own."),
        )


def regulators(facts: Facts) -> Iterator[Agreement]:
    """Say where a regulator does not go on the other's cylinder."""
    refused = [each for each in facts.seated if each.answer in (NO, WITH_ADAPTER)]
    if refused:
        givers = distinct(each.way.giver.name for each in refused)
        others = "the other's" if len(facts.members) == 2 else "some of the others'"
        only = all(each.answer == WITH_ADAPTER for each in refused)
        yield Agreement(
            Signal.NOTICE,
            "regulators and cylinders",
            distinct(name for each in refused for name in each.way.names),
            said(
                f"regulators of {listed(givers, 'and')} go on {others} cylinders only with an adapter"
                f"{'' if only else ', or not at all'}"
            ),
            said("Cylinders of one are then no spare for the other."),
            said("Bring it, or order cylinders to match."),
        )


def two_gases(facts: Facts) -> Iterator[Agreement]:
    """Say whose cylinders look alike and hold different gases."""
    known = [supply for supply in facts.supplies if not supply.is_stage and "gas" not in supply.assumed]
    gases = {supply.member.name: supply.gas for supply in known}
    if len(set(gases.values())) > 1:
        yield Agreement(
            Signal.NOTICE,
            "different gases",
            tuple(gases),
            said(listed([f"{name} dives {gas}" for name, gas in gases.items()], "and")),
            said("Cylinders with different gases look alike."),
            said("Label each cylinder with name and gas, and analyse your own gas."),
        )


def two_makes(facts: Facts) -> Iterator[Agreement]:
    """Say where a coupling goes on a nipple of another make."""
    mixed = [fed for fed in facts.fed if fed.two_makes]
    if mixed:
        fits = distinct(f"{whose(fed.way.receiver.name, fed.function)}" for fed in mixed)
        yield Agreement(
            Signal.NOTICE,
            "couplings of two makes",
            distinct(name for fed in mixed for name in fed.way.names),
            said(f"a hose of another make would feed {listed(fits, 'and')}"),
            said("Couplings of two makes can look alike and hold badly."),
            said("Connect it under pressure on land before you count on it."),
        )


def two_inlets(facts: Facts) -> Iterator[Agreement]:
    """Say where the inlets of second stages differ."""
    inlets = {member.name: inlets_of_second_stages(member) for member in facts.members}
    known = {name: own for name, own in inlets.items() if own}
    if len(set().union(*known.values())) > 1:
        threads = [f"{listed(sorted(own), 'and')} on the second stages of {name}" for name, own in known.items()]
        yield Agreement(
            Signal.NOTICE,
            "different inlets",
            tuple(known),
            said(f"inlets differ: {listed(threads, 'and')}"),
            said("A hose of one then does not go on every second stage of the other, though they look alike."),
            said("Bring a spare hose for your own inlet."),
        )


# ---- lift, failures, single items ----


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
                said(f"{member.name}'s kit alone has findings: {listed(counted, 'and')}"),
                said("What is wrong with one kit is not said on the page of a pair."),
                said("Check ", Tag(member.file), " by itself first."),
            )


def lift_for_both(facts: Facts) -> Iterator[Agreement]:
    """Say where the wing or jacket of one does not hold both, or may not."""
    for held in facts.held:
        if held.both is None or not (held.lacks or held.may_lack):
            continue
        (lifter, lifted), both = held.way, held.both
        fails = f"if {whose(lifted.name, bladder_of(lifted))} fails, {whose(lifter.name, bladder_of(lifter))}"
        lacking = in_own_units(lifted, abs(both.value), "lead")
        if held.lacks:
            what = said(f"{fails} lacks ", lacking, " to hold both at depth")
        else:
            says = "lacking" if both.value < 0 else "left"
            what = said(f"{fails} may not hold both: ", lacking, f" {says}, less than the uncertainty")
        up = "drops lead or inflates a drysuit or a marker buoy"
        first = f"{up} first; {lifter.name} only steadies" if held.lacks else "drops lead first"
        yield Agreement(
            Signal.CAUTION if held.lacks else Signal.NOTICE,
            "lift for both",
            (lifter.name, lifted.name),
            what,
            said("Both would sink."),
            said(f"{lifted.name} {first}."),
        )


def bladder_of(member: Member) -> str:
    """Name what lifts a diver: a jacket or a wing."""
    kinds = {item.kind for item in member.assessment.kit.items}
    return next((kind for kind in ("wing", "jacket") if kind in kinds), "bladder")


def last_breath(facts: Facts) -> Iterator[Agreement]:
    """Say whom one failure leaves without own gas."""
    alone = [each.member.name for each in facts.last_breaths if each.first_stages]
    if alone:
        yield Agreement(
            Signal.NOTICE,
            "one failure, no gas",
            tuple(alone),
            said(f"one failure can leave {listed(alone, 'or')} with none of their own gas"),
            said("What is left is the gas of the other, through one first stage for both."),
            said("Stay within reach of each other, and end the dive after any leak."),
        )


def lacking_items(facts: Facts) -> Iterator[Agreement]:
    """Say who lacks what each diver needs."""
    lacking = [
        (counted.need.name, name)
        for counted in facts.counted
        for name, count in _by_member(counted, facts.members)
        if counted.need.each and not count
    ]
    by_name: dict[str, list[str]] = {}
    for need, name in lacking:
        by_name.setdefault(name, []).append(need)
    if lacking:
        yield Agreement(
            Signal.CAUTION,
            "items that each diver needs",
            distinct(name for _, name in lacking),
            said(listed([f"{name} has no {listed(own, 'and no', ', no')}" for name, own in by_name.items()], "and")),
            said("Neither can do it for the other."),
            said(f"Bring {_them(lacking)}, or enter {_them(lacking, 'it')} in the kit file."),
        )


def items_of_nobody(facts: Facts) -> Iterator[Agreement]:
    """Say what nobody of the pair carries."""
    nobody = [counted.need.name for counted in facts.counted if not counted.in_all and not counted.need.each]
    if nobody:
        yield Agreement(
            Signal.CAUTION,
            "items that nobody carries",
            tuple(member.name for member in facts.members),
            said(f"nobody carries a {listed(nobody, 'or a', ', a')}"),
            said("Nobody can do it for the other then."),
            said(f"Decide who brings {_them(nobody)}, or enter {_them(nobody, 'it')} in the kit file."),
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
            said("; ".join(carried)),
            said("One failure takes it from both."),
            said(f"Bring a second one{'' if len(single) == 1 else ' of each'}, or agree on what you do without."),
        )


def _them(items: Sequence[object], one: str = "one") -> str:
    return one if len(items) == 1 else "them"


def _by_member(counted: Counted, members: Sequence[Member]) -> Iterable[tuple[str, int]]:
    return zip((member.name for member in members), counted.counts, strict=True)
