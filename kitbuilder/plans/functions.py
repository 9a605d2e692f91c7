"""What the parts of a kit do: the same function in every layout, so that kits can be set beside each other by it.

A long hose and an octopus are both given; a wing and a jacket both lift. An item is one part; a hose and the second
stage, gauge or transmitter that it feeds are one part too.
"""

import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from kitbuilder.assess.gas.feeds import FUNCTIONS
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.gas.second_stages import is_on_a_stage, second_stage_hoses
from kitbuilder.assess.trip.facts import facts_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import (
    KINDS,
    Cylinder,
    Drysuit,
    FirstStage,
    Gauge,
    Hose,
    Item,
    Lead,
    Lifting,
    Other,
    SecondStage,
    Suit,
    Transmitter,
)
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare

BREATHED, GIVEN, KEPT = "breathed", "given", "kept"
"""Of second stages: see `SecondStageHoses`."""
LIGHT, SUIT, SPARE = "light", "suit", "spare"
ORDER = (
    BREATHED,
    GIVEN,
    KEPT,
    "further second stage",
    "stage regulator",
    "inflator hose",
    "suit hose",
    "gauge",
    "stage gauge",
    "other hose",
    "first stage",
    "stage first stage",
    "cylinder",
    "stage",
    "wing or jacket",
    SUIT,
    LIGHT,
)
"""The functions in the order in which they are shown; other gear follows by its kind."""
OF_HOSES = {"inflation": "inflator hose", "drysuit": "suit hose", "gauge": "gauge"}
"""What a hose does, by what `FUNCTIONS` calls the items that it feeds."""
SHOWN_WITH_HOSE = (SecondStage, Gauge, Transmitter)
"""What is one part with the hose that feeds it."""


class Part(NamedTuple):
    """An item that does something, and what it feeds where that belongs to it."""

    item: int
    """Its number in the kit."""
    device: int | None = None
    """Of a hose: the number of the second stage, gauge or transmitter at its end."""


def parts_by_function(kit: ResolvedKit) -> dict[str, list[Part]]:
    """Give the parts of a kit by what they do, in the order of the file; lead is counted and is none of them.

    A second stage may be in two functions: a long hose is breathed, and it is given.
    """
    numbers = {item.tag: number for number, item in enumerate(kit.items)}
    found: defaultdict[str, list[Part]] = defaultdict(list)
    with_hose = {numbers[tag] for hose in kit.hoses if (tag := _fed(hose, kit, numbers))}
    for number, item in enumerate(kit.items):
        if number in with_hose or isinstance(item, Lead):
            continue
        device = _fed(item, kit, numbers) if isinstance(item, Hose) else None
        part = Part(number, numbers[device] if device else None)
        for function in _functions(item, kit):
            found[function].append(part)
    return {function: found[function] for function in sorted(found, key=_place)}


def _place(function: str) -> int:
    return ORDER.index(function) if function in ORDER else len(ORDER)


def _fed(hose: Hose, kit: ResolvedKit, numbers: dict[str, int]) -> str | None:
    """Give the tag of what is one part with a hose."""
    number = numbers.get(hose.to or "")
    return hose.to if number is not None and isinstance(kit.items[number], SHOWN_WITH_HOSE) else None


def _functions(item: Item, kit: ResolvedKit) -> Iterator[str]:
    match item:
        case Hose():
            yield from _functions_of_hose(item, kit)
        case SecondStage():
            yield "further second stage"
        case Gauge() | Transmitter():
            yield "gauge"
        case FirstStage():
            own = cylinder_of(item, kit)
            yield "stage first stage" if own and own.carried == "stage" else "first stage"
        case Cylinder():
            yield "stage" if item.carried == "stage" else "cylinder"
        case Lifting():
            yield "wing or jacket"
        case Drysuit():
            yield SUIT
        case Spare():
            yield SPARE
        case _:
            yield _kind_of_gear(item)


def _functions_of_hose(hose: Hose, kit: ResolvedKit) -> Iterator[str]:
    worn = second_stage_hoses(kit)
    uses = [
        name
        for name, used in zip((BREATHED, GIVEN, KEPT), (worn.breathed, worn.given, worn.kept), strict=True)
        if used is hose
    ]
    if uses:
        yield from uses
        return
    role = catalogue().roles[hose.role]
    feeds = next((name for name, kinds in FUNCTIONS.items() if KINDS[role.device] in kinds), "")
    is_of_stage = is_on_a_stage(hose, kit) or hose.role.startswith("stage ")
    if feeds == "breathing":
        yield "stage regulator" if is_of_stage else "further second stage"
    elif feeds == "gauge" and is_of_stage:
        yield "stage gauge"
    else:
        yield OF_HOSES.get(feeds, "other hose")


def _kind_of_gear(item: Item) -> str:
    if isinstance(item, Suit):
        # A hood of foam is a hood, whichever table of the file it stands in.
        return item.cut if item.cut in _kinds_of_presets() else SUIT
    if facts_of(item).is_lamp:
        return LIGHT
    preset = item.preset if isinstance(item, Other) else None
    return _kind_of_preset(preset) if preset else item.tag


@cache
def _kinds_of_presets() -> frozenset[str]:
    return frozenset(_kind_of_preset(name) for kind, name in catalogue().presets if kind == Other.kind)


def _kind_of_preset(name: str) -> str:
    """Give what a preset is without what makes it another of its kind: "fins, full foot" are fins."""
    return re.split(", | with ", name, maxsplit=1)[0]
