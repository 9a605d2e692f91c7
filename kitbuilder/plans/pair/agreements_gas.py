"""What to agree on about gas: who hands over what, how far it reaches, how much there is, where it can be breathed."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.findings import Signal, Tag, Word
from kitbuilder.assess.fit.partner_reach import PartnerReach
from kitbuilder.assess.fit.verdict import DOES_NOT_FIT
from kitbuilder.assess.gas.breathing import Breathable
from kitbuilder.plans.pair.agreement import Agreement, OwnAmount, distinct, in_own_units, listed, said, whose
from kitbuilder.plans.pair.facts import Facts
from kitbuilder.plans.pair.given import Given
from kitbuilder.plans.pair.members import Member
from kitbuilder.plans.pair.supplies import ASKED_KEYS

SAME_DEPTH_M = 0.5
"""Two greatest depths that differ by less are one."""
SAME_AMOUNT = 0.1
"""Of the larger: two reserves that differ by a smaller part are alike."""


def nothing_to_give(facts: Facts) -> Iterator[Agreement]:
    """Say who has no second stage to hand over."""
    for name in _givers_without(facts):
        yield Agreement(
            Signal.WARNING,
            "nothing to hand over",
            (name,),
            said(f"{name} has no second stage to hand over"),
            said("Two divers then breathe in turn from one second stage."),
            said("Add a second stage on a hose of its own, or do not dive as a pair."),
        )


def _givers_without(facts: Facts) -> list[str]:
    return [*dict.fromkeys(given.way.giver.name for given in facts.given if not given.handed and not given.lost)]


def nothing_left(facts: Facts) -> Iterator[Agreement]:
    """Say who has nothing to breathe at the common depth after handing over."""
    known = {found.supply.member.name for found in facts.not_breathable if found.supply.member.name in found.whom}
    for given in _each_giver(facts):
        name = given.way.giver.name
        if given.handed and not given.handed.then and name not in known:  # one gas, one finding
            yield Agreement(
                Signal.WARNING,
                "nothing left to breathe",
                (name,),
                said("after handing over ", Tag(given.handed.second_stage), f" {name} has nothing to breathe at depth"),
                said("The other second stages give no gas that can be breathed at the common depth."),
                said("Put a second stage on the back gas that the giver keeps."),
            )


def _each_giver(facts: Facts) -> Iterator[Given]:
    """Give one direction for each giver: what is handed over does not hang on the receiver."""
    seen: dict[str, Given] = {}
    for given in facts.given:
        seen.setdefault(given.way.giver.name, given)
    yield from seen.values()


def two_ways(facts: Facts) -> Iterator[Agreement]:
    """Say where the divers hand over in different ways."""
    ways = {given.way.giver.name: given.handed for given in facts.given if given.handed}
    if len({handed.from_mouth for handed in ways.values()}) < 2:
        return
    parts: list[Word] = []
    for name, handed in ways.items():
        where = "out of the mouth" if handed.from_mouth else f"off the {handed.held_at}"
        parts += [f"{'; ' if parts else ''}{name} hands over ", Tag(handed.second_stage), f" {where}"]
    yield Agreement(
        Signal.CAUTION,
        "two ways of giving gas",
        tuple(ways),
        said(*parts),
        said("A diver without gas reaches for what they would hand over themselves."),
        said("Show each other, then practise both ways."),
    )


def reach(facts: Facts) -> Iterator[Agreement]:
    """Say in which positions a hose is too short for the mouth of another, or may be: once for each hose."""
    givers = distinct(given.way.giver.name for given in facts.given)
    for giver in givers:
        found = [given for given in facts.given if given.way.giver.name == giver and given.reaches]
        short = [given for given in found if given.doubtful]
        if short:
            yield _too_short(short, found)


def _too_short(short: Sequence[Given], found: Sequence[Given]) -> Agreement:
    giver = short[0].way.giver
    receivers: dict[str, list[str]] = {}
    for given in short:
        lacks = [f"{_how_short(reach)} {reach.position}" for reach in given.doubtful]
        receivers.setdefault(listed(lacks, "and"), []).append(given.way.receiver.name)
    parts = [f" to {listed(names, 'and')} {lacks}" for lacks, names in receivers.items()]
    never = [given.way.receiver.name for given in found if not given.certain]
    return Agreement(
        Signal.WARNING if never else Signal.CAUTION,
        "reach of the hose given",
        (giver.name, *(given.way.receiver.name for given in short)),
        said(f"{whose(giver.name, 'hose')} of ", _length_of(short[0], giver), ";".join(parts)),
        said("A hose that pulls takes the second stage out of the mouth."),
        said(_where_it_reaches(found) if not never else "Try it on land, and change the hose."),
    )


def _length_of(given: Given, giver: Member) -> OwnAmount:
    assert given.handed is not None  # a hose that is not known reaches nowhere
    return in_own_units(giver, given.handed.figures.hose.length_m, "length")


def _where_it_reaches(found: Sequence[Given]) -> str:
    certain = [[reach.position for reach in given.certain] for given in found]
    common = [position for position in certain[0] if all(position in each for each in certain)]
    return f"Give gas {listed(common, 'or')}." if common else 'Give gas only in a position with "yes" below.'


def _how_short(reach: PartnerReach) -> str:
    return "is too short" if reach.verdict.outcome == DOES_NOT_FIT else "may be too short"


# ---- gas ----


def not_breathable(facts: Facts) -> Iterator[Agreement]:
    """Say which gas another diver cannot breathe at the common depth."""
    for found in facts.not_breathable:
        owner = found.supply.member
        is_rich = found.why is Breathable.RICH
        deepest = found.supply.uses[0].down_to_m
        yield Agreement(
            Signal.WARNING if is_rich else Signal.DANGER,
            "gas that the other cannot breathe",
            distinct((owner.name, *found.whom)),
            said(
                "at ",
                in_own_units(owner, found.depth_m, "depth"),
                f" {whose(owner.name, found.supply.gas)} has {found.why.value} for {listed(found.whom, 'and')}",
            ),
            said("Too much oxygen can cause a fit under water, too little a faint."),
            said("Stay above ", in_own_units(owner, deepest, "depth"), ", or change the gas.")
            if deepest
            else said("Change the gas."),
        )


def gas_not_given(facts: Facts) -> Iterator[Agreement]:
    """Say whose gas, filling or reserve the kit file does not give."""
    keys: dict[str, list[str]] = {}
    for supply in facts.supplies:
        known = keys.setdefault(supply.member.name, [])
        known += [key for key in ASKED_KEYS if key in supply.assumed and key not in known]
    lacking = [f"{listed([NAMED[key] for key in named], 'or')} of {name}" for name, named in keys.items() if named]
    if lacking:
        yield Agreement(
            Signal.CAUTION,
            "gas that is not given",
            tuple(name for name, named in keys.items() if named),
            said(f"no file gives {listed(lacking, 'or')}: what stands below is assumed"),
            said("Air, a full cylinder and a usual reserve are taken where a file says nothing."),
            said("Analyse the gas, read the gauge, and agree on turn and reserve."),
        )


NAMED = {"gas": "gas", "filled": "filling", "reserve": "reserve"}
"""What to call the keys of a cylinder in a sentence."""


def common_depth(facts: Facts) -> Iterator[Agreement]:
    """Say where kits are meant for different depths."""
    depths = {member.name: in_own_units(member, deepest_of(member.assessment.kit), "depth") for member in facts.members}
    least = min(depths.values(), key=lambda depth: depth.amount.value)
    if max(depth.amount.value for depth in depths.values()) - least.amount.value < SAME_DEPTH_M:
        return
    parts: list[Word | OwnAmount] = []
    for name, depth in depths.items():
        parts += [
            ", " if parts else "the kits are meant for different depths: ",
            f"{whose(name, 'kit')} for ",
            depth,
        ]
    yield Agreement(
        Signal.CAUTION,
        "greatest depth",
        tuple(depths),
        said(*parts),
        said("Gas, reserve and lift of one kit are not made for the depth of the other."),
        said("Go no deeper than ", least, "."),
    )


def gauges(facts: Facts) -> Iterator[Agreement]:
    """Say where gauges have two units."""
    units = {member.name: "bar" if member.units == "metric" else "psi" for member in facts.members}
    if len(set(units.values())) < 2:
        return
    yield Agreement(
        Signal.CAUTION,
        "gauges in two units",
        tuple(units),
        said(listed([f"{name} reads {unit}" for name, unit in units.items()], "and")),
        said("A number without its unit says nothing to the other."),
        said("Say every pressure with its unit. Turn and reserve stand below in both."),
    )


def amounts(facts: Facts) -> Iterator[Agreement]:
    """Say where reserves are not the same amount of gas."""
    reserves = {
        each.member.name: in_own_units(each.member, each.reserve.value, "gas")
        for each in facts.supplies
        if each.reserve and not each.is_stage and not each.assumed.intersection(ASKED_KEYS)
    }
    ordered = sorted(reserves.items(), key=lambda each: each[1].amount.value)
    if len(ordered) < 2:
        return
    (least, smaller), (most, larger) = ordered[0], ordered[-1]
    if larger.amount.value - smaller.amount.value <= SAME_AMOUNT * larger.amount.value:
        return
    yield Agreement(
        Signal.CAUTION,
        "reserves that differ",
        tuple(reserves),
        said(f"{whose(least, 'reserve')} is ", smaller, f" at the surface, that of {most} ", larger),
        said("Each reserve has to bring both up. How much that takes is not planned here."),
        said("Plan the gas for two: the smaller reserve decides."),
    )
