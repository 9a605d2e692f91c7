"""The checks after a changeover: which of them the kit needs, and what each says of this kit."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.assess.gas.feeds import cylinders_behind, fed_from, first_stages_of, joined_cylinders
from kitbuilder.assess.gas.mixes import mix_of
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.assess.hoses.joints import is_quick_disconnect
from kitbuilder.assess.hoses.ports import ports_of
from kitbuilder.catalogue.bench_work import (
    ALWAYS,
    IF_CYLINDERS,
    IF_DRYSUIT,
    IF_GAUGES,
    IF_MANIFOLD,
    IF_TWO,
    IF_WING,
    INTERMEDIATE,
    WET,
    Check,
    bench_work,
)
from kitbuilder.kit.items import Drysuit, FirstStage, Gauge, Hose, Jacket, SecondStage, Transmitter, Wing, split_port
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.cylinders import cylinders_of
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.wording import listed


def checks_of(phase: str, match: Match) -> Iterator[Words]:
    """Give the checks of a phase: all of them after work on the regulators, else those of the gas and the water."""
    for check in bench_work().checks:
        if check.phase == phase and _is_asked(check, match):
            name = f"{check.name[:1].upper()}{check.name[1:]}"
            cylinders = to_analyse(match) if check.when == IF_CYLINDERS else ()
            of = (" ", *listed(words(Tag(tag)) for tag in cylinders)) if cylinders else ()
            yield words(name, *of, f": {check.how}")
            if check.when == IF_TWO:
                yield from _each_valve(match.target.kit)
            elif check.when == INTERMEDIATE:
                yield from _where_to_measure(match.target.kit)


def to_analyse(match: Match) -> tuple[str, ...]:
    """Give the tags of the target's cylinders that the source does not have, or has with another gas."""
    before = {cylinder.tag: cylinder for cylinder in cylinders_of(match.source.kit)}
    was = {after: before[tag] for tag, after in match.valves.items() if tag in before}
    return tuple(
        each.tag
        for each in cylinders_of(match.target.kit)
        if each.tag not in was or mix_of(was[each.tag]) != mix_of(each)
    )


def gauges_on_one_gas(kit: ResolvedKit) -> bool:
    """Say whether two gauges or transmitters read the pressure of the same gas: of one cylinder, or of joined ones."""
    feeds, stages = fed_from(kit), {stage.tag: stage for stage in first_stages_of(kit)}
    read: set[tuple[str, ...]] = set()
    for item in kit.items:
        for stage in feeds.get(item.tag, ()) if isinstance(item, (Gauge, Transmitter)) else ():
            gas = tuple(cylinder.tag for cylinder in cylinders_behind(stages[stage], kit)) or (f"{stage} ",)
            if gas in read:
                return True
            read.add(gas)
    return False


def _is_asked(check: Check, match: Match) -> bool:
    kit = match.target.kit
    if check.when == IF_CYLINDERS:
        return bool(to_analyse(match))
    if not match.is_worked_on and check.phase != WET:
        return False
    if check.when == IF_GAUGES:
        return gauges_on_one_gas(kit)
    if check.when == IF_MANIFOLD:
        return bool(joined_cylinders(kit))
    if check.when == IF_TWO:
        return len(first_stages_of(kit)) > 1
    kinds = {IF_WING: (Wing, Jacket), IF_DRYSUIT: (Drysuit,), INTERMEDIATE: (FirstStage,)}.get(check.when)
    return check.when == ALWAYS or any(isinstance(item, kinds or ()) for item in kit.items)


def _each_valve(kit: ResolvedKit) -> Iterator[Words]:
    feeds = fed_from(kit)
    fed = [item.tag for item in kit.items if item.tag in feeds]
    for stage in first_stages_of(kit):
        alive = [words(Tag(tag)) for tag in fed if feeds[tag] != {stage.tag}]
        dead = [words(Tag(tag)) for tag in fed if feeds[tag] == {stage.tag}]
        still, no_more = listed(alive) or ("nothing",), listed(dead) or ("nothing",)
        yield words("Valve of ", Tag(stage.tag), " closed. Gas still reaches: ", *still, ". No gas: ", *no_more, ".")


def _where_to_measure(kit: ResolvedKit) -> Iterator[Words]:
    """Say for each first stage where its intermediate pressure can be measured."""
    for stage in first_stages_of(kit):
        hoses = [hose for hose in kit.hoses if split_port(hose.from_ or "")[0] == stage.tag]
        coupled = next((hose for hose in hoses if is_quick_disconnect(ends_of(hose).at_device.joint)), None)
        plugged = [name for name in stage.plugged if name in ports_of(stage) and name.startswith("LP")]
        if coupled is not None:
            yield words(Tag(stage.tag), ": put the test gauge on ", Tag(coupled.tag), ", its coupling off.")
        elif plugged:
            yield words(
                Tag(stage.tag), ": it has no inflator hose. Screw a test gauge with its own hose into ", plugged[0],
                " in place of the plug, valve closed and hoses empty. Put the plug back in the same way.",
            )  # fmt: skip
        else:
            yield words(Tag(stage.tag), ": it has no inflator hose and no free LP port. ", *_between(hoses, kit))


def _between(hoses: list[Hose], kit: ResolvedKit) -> Words:
    """Say which hose to open for a test gauge where there is no other way."""
    breathed = {item.tag for item in kit.items if isinstance(item, SecondStage)}
    hose = next((hose for hose in hoses if hose.to in breathed), None)
    if hose is None:
        return words("A technician has to measure it.")
    return words("Put a test gauge between ", Tag(hose.tag), " and its second stage, with the adapter for it.")
