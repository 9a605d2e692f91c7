"""Which cylinder of one kit is which of another: a first stage that stays on the same one need not come off."""

from kitbuilder.assess.gear.sameness import is_one_cylinder
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import Build, unknown_valve


def cylinders_of(kit: ResolvedKit) -> list[Cylinder]:
    """Give the cylinders, in the order of the kit."""
    return [item for item in kit.items if isinstance(item, Cylinder)]


def same_valves(source: Build, target: Build) -> dict[str, str]:
    """Give the cylinder of the target that each one of the source is, by tag; what the target does not have is missing.

    One item of the gear file is itself; of others that may be one, those of the same name come first. Where nothing is
    known of a cylinder, the first stage of the same name is taken to sit on the same one.
    """
    same = {
        unknown_valve(stage): unknown_valve(stage)
        for stage, valve in source.valves.items()
        if valve == unknown_valve(stage) == target.valves.get(stage)
    }
    for is_meant in (_is_named, _has_name, is_one_cylinder):
        for before in cylinders_of(source.kit):
            free = (each for each in cylinders_of(target.kit) if each.tag not in same.values())
            after = next((each for each in free if is_one_cylinder(before, each) and is_meant(before, each)), None)
            if before.tag not in same and after is not None:
                same[before.tag] = after.tag
    return same


def _is_named(one: Cylinder, other: Cylinder) -> bool:
    return one.owned is not None and one.owned == other.owned


def _has_name(one: Cylinder, other: Cylinder) -> bool:
    return one.tag == other.tag
