"""What to weigh or check next: which one would narrow the lead most."""

from collections import Counter, defaultdict
from collections.abc import Collection, Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from kitbuilder.assess.body import mass_of, sex_of, stature_of
from kitbuilder.assess.buoyancy.buoyancy_model import (
    RESERVE,
    BuoyancyModel,
    BuoyancyPart,
    lead_sinks,
    total_buoyancy,
)
from kitbuilder.assess.buoyancy.cylinder_weight import mass_of_preset, preset_of
from kitbuilder.assess.buoyancy.float_checks import Seen, corrected, evidence_from, spread_after_next_check
from kitbuilder.assess.figures import Figure, count_sources, scaled, sources_only_in, without_sources
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Suit
from kitbuilder.physics.estimation import Evidence
from kitbuilder.physics.spread import root_sum_square

MOST_STEPS = 6
LEAST_GAIN = 0.005
"""Of the spread of the lead: a step that narrows it by less is not worth naming."""
LEAST_PART = 0.07
"""Of the spread of the lead: what adds less to it cannot narrow it by `LEAST_GAIN`, for spreads add by their squares.
A tenth would do without float checks; they change how much a source counts, but not to twice as much."""


class Priority(NamedTuple):
    """One step, and the uncertainty of the lead after it."""

    what: str
    item: int | None
    """The item it is about; None for the diver or several items."""
    spread_after_kg: float
    """Spread of the lead afterwards."""


def measurement_priorities(
    buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen], evidence: Evidence, stop_m: float
) -> tuple[Priority, ...]:
    """Give steps that narrow the lead, the best first.

    Args:
        buoyancy_model: Diver and kit.
        lead: What is needed, as the checks leave it [kg].
        checks: Those that were made.
        evidence: What they are worth.
        stop_m: The depth of the stop.
    """
    floats = total_buoyancy(buoyancy_model, stop_m, RESERVE, max(0.0, lead.value))
    unchecked = scaled(floats, 1 / lead_sinks(buoyancy_model.water))
    spread = lead.spread
    steps = [
        _float_check(unchecked, buoyancy_model, checks, evidence, stop_m),
        *_given_body(buoyancy_model, unchecked, checks),
        *_weighings(buoyancy_model, unchecked, checks, LEAST_PART * spread),
    ]
    useful = [step for step in steps if step.spread_after_kg < (1 - LEAST_GAIN) * spread]
    return tuple(sorted(useful, key=lambda step: step.spread_after_kg)[:MOST_STEPS])


def _float_check(
    lead: Figure, buoyancy_model: BuoyancyModel, checks: Sequence[Seen], evidence: Evidence, stop_m: float
) -> Priority:
    """Give a float check in this kit, as if it were made."""
    words = "make a float check in this kit" if not evidence.observed else "make another float check"
    return Priority(words, None, spread_after_next_check(lead, buoyancy_model, checks, evidence, stop_m))


def _given_body(buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen]) -> list[Priority]:
    if buoyancy_model.body.is_given:
        return []
    sizes = {of(buoyancy_model.body.who) for of in (stature_of, mass_of, sex_of)}
    with_sizes = [_of_check(seen, sizes) for seen in checks]
    after = corrected(without_sources(lead, sizes), evidence_from(with_sizes)).spread
    return [Priority("give stature and mass of the diver in a diver file", None, after)]


def _weighings(buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen], least: float) -> list[Priority]:
    """Give the weighings of items, without those that tell less than the least part of the lead [kg]."""
    groups: dict[str, list[BuoyancyPart]] = defaultdict(list)
    for part in buoyancy_model.parts:
        if part.item is not None and (what := _how_to_weigh(buoyancy_model, part)):
            groups[what].append(part)
    everywhere = count_sources(part.floats for part in buoyancy_model.parts)
    steps = []
    for what, parts in groups.items():
        known = _given_of_these_alone(buoyancy_model, parts, everywhere)
        # Of forty items all but a few are ruled out here, and the slips need not be weighed again for them.
        if root_sum_square(lead.components.get(source, 0.0) for source in known) < least:
            continue
        after = _spread_knowing(known, buoyancy_model, lead, checks)
        steps.append(Priority(what, parts[0].item if len(parts) == 1 else None, after))
    return steps


def _how_to_weigh(buoyancy_model: BuoyancyModel, part: BuoyancyPart) -> str:
    """Say what to do about an item; nothing when it was done."""
    item = buoyancy_model.kit.items[part.item or 0]
    tag = f'"{item.tag}"'
    if isinstance(item, Hose):
        return "weigh the hoses" if item.mass_kg is None else ""
    if isinstance(item, Cylinder):
        if item.mass_kg is not None or item.stamped_mass_kg is not None:
            return ""
        return f"read the mass stamped on {item.preset or tag}"
    if isinstance(item, Suit):
        return f"weigh {tag} wet in fresh water" if item.buoyancy_kgf is None else ""
    if isinstance(item, Drysuit) and (item.undersuit or item.suit_gas_m3):
        return ""  # its gas cannot be weighed apart from its wearer
    if getattr(item, "buoyancy_kgf", None) is not None:
        return ""
    preset = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset is not None and preset.density is not None:
        return f"weigh {tag}" if getattr(item, "mass_kg", None) is None else ""
    return f"weigh {tag} in fresh water"


def _given_of_these_alone(
    buoyancy_model: BuoyancyModel, parts: Sequence[BuoyancyPart], everywhere: Counter[str]
) -> set[str]:
    """Name the sources that a weighing of some items does away with: those of the water and of other parts stay."""
    given = {source for part in parts for source in _given_by_weighing(part)}
    alone = sources_only_in((part.floats for part in parts), everywhere)
    return (given & alone) - buoyancy_model.water.density.components.keys()


def _spread_knowing(
    known: AbstractSet[str], buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen]
) -> float:
    """Give the spread of the lead if some sources of this kit were known.

    What is known of an item of this kit says nothing of a like one in another kit, in which a float check was made.
    """
    own = buoyancy_model.kit.linked.own
    with_sizes = [_of_check(seen, known) if seen.check.kit == own else seen for seen in checks]
    return corrected(without_sources(lead, known), evidence_from(with_sizes)).spread


def _of_check(seen: Seen, known: AbstractSet[str]) -> Seen:
    return seen._replace(computed=seen.computed and without_sources(seen.computed, known))


def _given_by_weighing(part: BuoyancyPart) -> Collection[str]:
    """Name the sources that a weighing does away with; a stamp tells the mass of a cylinder and nothing else."""
    if part.vessel and (preset := preset_of(part.vessel.cylinder)):
        return (mass_of_preset(preset),)
    return part.floats.components.keys()
