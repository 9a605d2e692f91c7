"""What to agree on about gas: who hands over what, how far it reaches, how much there is, where it can be breathed."""

from collections.abc import Iterator

from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.findings import Amount, Signal, Tag, Word, words
from kitbuilder.assess.fit.partner_reach import PartnerReach
from kitbuilder.assess.fit.verdict import DOES_NOT_FIT
from kitbuilder.assess.gas.breathing import Breathable
from kitbuilder.plans.pair.agreement import Agreement, distinct, listed
from kitbuilder.plans.pair.facts import Facts
from kitbuilder.plans.pair.given import Given
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
            words(f"{name} has no second stage to hand over"),
            words("Two divers then breathe in turn from one second stage."),
            words("Add a second stage on a hose of its own, or do not dive as a pair."),
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
                words(
                    "after handing over ", Tag(given.handed.second_stage), f" {name} has nothing to breathe at depth"
                ),
                words("The other second stages give no gas that can be breathed at the common depth."),
                words("Put a second stage on the back gas that the giver keeps."),
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
        words(*parts),
        words("A diver without gas takes what the own kit would give."),
        words("Show each other what you hand over, and practise it both ways before the dive."),
    )


def reach(facts: Facts) -> Iterator[Agreement]:
    """Say in which positions a hose is too short for the other's mouth, or may be."""
    for given in facts.given:
        if given.handed is None or not given.reaches or not given.doubtful:
            continue
        giver, receiver = given.way.names
        hose = given.handed.figures.hose
        lacks = [f"{_how_short(reach)} {reach.position}" for reach in given.doubtful]
        sure = [reach.position for reach in given.certain]
        do = words(f"Give gas {listed(sure, 'or')}.") if sure else words("Try it on land, and change the hose.")
        yield Agreement(
            Signal.CAUTION if sure else Signal.WARNING,
            "reach of the hose given",
            (giver, receiver),
            words(f"{giver}'s hose of ", Amount(hose.length_m, "length"), f" to {receiver} {listed(lacks, 'and')}"),
            words("A hose that pulls takes the second stage out of the mouth."),
            do,
        )


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
            words(
                "at ",
                Amount(found.depth_m, "depth"),
                f" {owner.name}'s {found.supply.gas} has {found.why.value} for {listed(found.whom, 'and')}",
            ),
            words("Too much oxygen can cause a fit under water, too little a faint."),
            words("Stay above ", Amount(deepest, "depth"), ", or change the gas.")
            if deepest
            else words("Change the gas."),
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
            words(f"no file gives {listed(lacking, 'or')}: what stands below is assumed"),
            words("Air, a full cylinder and a usual reserve are taken where a file says nothing."),
            words("Analyse the gas, read the gauge, and agree on turn and reserve."),
        )


NAMED = {"gas": "gas", "filled": "filling", "reserve": "reserve"}
"""What to call the keys of a cylinder in a sentence."""


def common_depth(facts: Facts) -> Iterator[Agreement]:
    """Say where kits are meant for different depths."""
    depths = {member.name: deepest_of(member.assessment.kit) for member in facts.members}
    if max(depths.values()) - min(depths.values()) < SAME_DEPTH_M:
        return
    parts: list[Word] = []
    for name, depth_m in depths.items():
        parts += [
            ", " if parts else "the kits are meant for different depths: ",
            f"{name}'s for ",
            Amount(depth_m, "depth"),
        ]
    yield Agreement(
        Signal.CAUTION,
        "greatest depth",
        tuple(depths),
        words(*parts),
        words("Gas, reserve and lift of one kit are not made for the depth of the other."),
        words("Go no deeper than ", Amount(min(depths.values()), "depth"), "."),
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
        words(listed([f"{name} reads {unit}" for name, unit in units.items()], "and")),
        words("A number without its unit says nothing to the other."),
        words("Say every pressure with its unit. Turn and reserve stand below in both."),
    )


def amounts(facts: Facts) -> Iterator[Agreement]:
    """Say where reserves are not the same amount of gas."""
    reserves = {
        each.member.name: each.reserve.value
        for each in facts.supplies
        if each.reserve and not each.is_stage and not each.assumed.intersection(ASKED_KEYS)
    }
    if len(reserves) < 2 or max(reserves.values()) - min(reserves.values()) <= SAME_AMOUNT * max(reserves.values()):
        return
    least, most = min(reserves, key=lambda name: reserves[name]), max(reserves, key=lambda name: reserves[name])
    yield Agreement(
        Signal.CAUTION,
        "reserves that differ",
        tuple(reserves),
        words(
            f"{least}'s reserve is ",
            Amount(reserves[least], "gas"),
            f" at the surface, {most}'s ",
            Amount(reserves[most], "gas"),
        ),
        words("Each reserve has to bring both up. How much that takes is not planned here."),
        words("Plan the gas for two: the smaller reserve decides."),
    )
