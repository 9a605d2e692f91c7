"""What to weigh before a trip: which single weighing narrows the mass of all that is packed, and its bags, most."""

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from kitbuilder.assess.buoyancy.measurement_priorities import LEAST_GAIN, MOST_STEPS
from kitbuilder.assess.figures import Figure, count_sources, sources_only_in, total, without_sources
from kitbuilder.assess.scales import scale_spread
from kitbuilder.kit.items import Hose
from kitbuilder.kit.resolved_trip import Fate
from kitbuilder.plans.packing.records import Bag
from kitbuilder.plans.trip_weights import TripWeights

HOSES = "the hoses, together"
"""They share what is not known of their bodies and ends, so that one reading of all tells most."""

BAG = "bag"
"""Stands for the kit of an item in the key of a bag: no kit file is called so."""


class BagWeighing(NamedTuple):
    """One weighing, and the uncertainty of all that is packed after it."""

    what: str
    """The tag of what is put on the scale, or `HOSES`."""
    tags: tuple[str, ...]
    mass: Figure
    """What it is taken to weigh now [kg]."""
    spread_after_kg: float
    """Spread of the mass of all that is packed afterwards [kg]."""


def weighing_priorities(weights: TripWeights, bags: Iterable[Bag]) -> tuple[BagWeighing, ...]:
    """Give the weighings that narrow the mass of all that is packed and of its bags, the best first.

    Args:
        weights: What the trip weighs.
        bags: Those that come along.
    """
    masses = [(item, item.mass) for item in weights.of(Fate.BRING) if item.mass]
    groups = defaultdict[tuple[str, str], list[tuple[str, Figure]]](list)
    for item, mass in masses:
        if item.is_estimated:
            key = ("", HOSES) if isinstance(item.item, Hose) else (item.file, item.tag)
            groups[key].append((item.tag, mass))
    packed = [mass for _, mass in masses]
    for bag in bags:
        packed.append(bag.mass)
        # The mass of an empty bag may be a guess too; of one that was weighed, another reading tells nothing.
        groups[BAG, bag.tag].append((bag.tag, bag.mass))
    everything, everywhere = total(packed, "all that is packed"), count_sources(packed)
    found = []
    for (_, what), pairs in groups.items():
        mass = total((mass for _, mass in pairs), what)
        known = sources_only_in((mass for _, mass in pairs), everywhere)
        scale = Figure(0.0, {f"scale reading of {what}": scale_spread(mass.value)}, "")
        after = total((without_sources(everything, known), scale), "").spread
        tags = tuple(tag for tag, _ in pairs)
        found.append(BagWeighing(what if len(tags) > 1 else tags[0], tags, mass, after))
    useful = [each for each in found if each.spread_after_kg < (1 - LEAST_GAIN) * everything.spread]
    return tuple(sorted(useful, key=lambda each: each.spread_after_kg)[:MOST_STEPS])
