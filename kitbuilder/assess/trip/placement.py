"""Where an item may travel, and why: the published rules, the airline's own limits, and what the trip file says."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.trip.facts import Battery, Travelling, travelling
from kitbuilder.catalogue.air_rules import (
    BATTERY,
    BREAKABLE,
    CARTRIDGE,
    CYLINDER,
    JACKET_CARTRIDGE,
    LAMP,
    METAL_CELLS,
    PLACES,
    SAME,
    SHARP,
    SPARE_BATTERY,
    SPARE_METAL_CELLS,
    VITAL,
    AirRule,
    air_rules,
)
from kitbuilder.kit.items import Item
from kitbuilder.kit.travel import LITHIUM_METAL
from kitbuilder.kit.trip import Leg, Luggage


class BatteryLimits(NamedTuple):
    """The limits for batteries of lithium ion on a trip: of each the strictest leg."""

    free_j: float
    """Energy up to which no airline need approve [J]."""
    most_j: float
    """Energy above which an airline takes none [J]."""
    spares: int | None
    """Spare batteries for each person that a leg itself allows; None where the published numbers count."""


class Placement(NamedTuple):
    """Where an item may travel."""

    may_go: frozenset[str]
    """Of "cabin", "hold" and "body"; empty where it may not fly."""
    better: frozenset[str]
    """Where it had better go, as far as it may; the same as `may_go` where it makes no difference."""
    rules: tuple[AirRule, ...]
    """The rules that decide, advice last."""
    needs_approval: bool
    """Whether the airline has to approve it, and has not on every leg."""
    lacks_energy: bool
    """Whether the energy of its battery would decide, and is not known well enough; the strictest class counts."""

    @property
    def is_approved(self) -> bool:
        """Whether the airline had to approve it, and has on every leg."""
        return not self.needs_approval and any(rule.needs_approval for rule in self.rules)


def battery_limits(legs: Iterable[Leg] = ()) -> BatteryLimits:
    """Give the limits for batteries; on a leg that does not state its own, the published ones count."""
    listed = tuple(legs) or (None,)
    free, approved, _ = air_rules().about(BATTERY)
    assert free.up_to_j is not None
    assert approved.up_to_j is not None
    free_j, most_j = free.up_to_j, approved.up_to_j
    own = [leg.spare_batteries for leg in listed if leg is not None and leg.spare_batteries is not None]
    return BatteryLimits(
        min(free_j if leg is None or leg.battery_free_j is None else leg.battery_free_j for leg in listed),
        min(most_j if leg is None or leg.battery_most_j is None else leg.battery_most_j for leg in listed),
        min(own, default=None),
    )


def place_item(item: Item | Luggage, legs: Iterable[Leg] = (), own: Iterable[AirRule] = ()) -> Placement:
    """Say where an item may travel on legs.

    Args:
        item: An item of a kit, or other luggage.
        legs: The legs of the trip; none for the published rules alone.
        own: Rules of the airline itself about this item, which count beside the published ones.
    """
    listed = tuple(legs)
    facts, limits = travelling(item), battery_limits(listed)
    rules = sorted((*_rules_for(facts, limits), *own), key=lambda rule: rule.is_advice)
    may_go = _common(rule for rule in rules if not rule.is_advice)
    if isinstance(item, Luggage) and item.goes:
        may_go &= {item.goes}
    better = may_go & _common(rules)
    is_approved = bool(listed) and all(item.tag in leg.approved for leg in listed)
    return Placement(
        may_go,
        better or may_go,
        tuple(rules),
        any(rule.needs_approval for rule in rules) and not is_approved,
        facts.battery is not None and _lacks_energy(facts.battery, limits),
    )


def rule_for_battery(battery: Battery, limits: BatteryLimits) -> AirRule:
    """Give the rule for a battery; the strictest class that it may be in."""
    if not battery.has_energy:
        spare = SPARE_METAL_CELLS if battery.is_spare else METAL_CELLS
        return air_rules().about(spare)[0]
    classes = air_rules().about(SPARE_BATTERY if battery.is_spare else BATTERY)
    if battery.high_j is None:
        return classes[-1]
    return _class_of(battery.high_j, battery.is_spare, limits)


def _rules_for(facts: Travelling, limits: BatteryLimits) -> Iterator[AirRule]:
    """Give each rule about an item."""
    if facts.battery and (facts.battery.has_energy or facts.battery.type == LITHIUM_METAL):
        yield rule_for_battery(facts.battery, limits)
    subjects = {
        LAMP: facts.is_lamp and facts.battery is not None,
        CYLINDER: facts.is_cylinder,
        JACKET_CARTRIDGE: facts.cartridges > 0 and facts.is_life_jacket,
        CARTRIDGE: facts.cartridges > 0 and not facts.is_life_jacket,
        SHARP: facts.is_sharp,
        BREAKABLE: facts.is_breakable,
        VITAL.get(facts.vital_as, ""): bool(facts.vital_as),
    }
    for subject, is_so in subjects.items():
        if is_so:
            yield from air_rules().about(subject)


def _lacks_energy(battery: Battery, limits: BatteryLimits) -> bool:
    if not battery.has_energy or battery.is_given:
        return False
    if battery.low_j is None or battery.high_j is None:
        return True
    lowest, highest = (_class_of(energy_j, battery.is_spare, limits) for energy_j in (battery.low_j, battery.high_j))
    return lowest != highest


def _class_of(energy_j: float, is_spare: bool, limits: BatteryLimits) -> AirRule:
    """Give the rule of the class that an energy belongs to; a limit itself belongs to the class below it."""
    free, approved, refused = air_rules().about(SPARE_BATTERY if is_spare else BATTERY)
    if energy_j > limits.most_j * (1 + SAME):
        return refused
    return free if energy_j <= limits.free_j * (1 + SAME) else approved


def _common(rules: Iterable[AirRule]) -> frozenset[str]:
    """Give the places that every rule allows."""
    places = frozenset(PLACES)
    for rule in rules:
        places &= set(rule.may_go)
    return places
