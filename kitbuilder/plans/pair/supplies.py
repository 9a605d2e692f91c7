"""The gas of each diver: how much, at which pressures, and what it would be on the other's gauge."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.buoyancy.cylinder_weight import (
    Vessel,
    missing_of,
    pressure_of_volume,
    surface_volume,
    work_out_vessel,
)
from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.gas.breathing import Breathable, GasUse, gas_uses, judge_gas
from kitbuilder.assess.gas.mixes import gas_name_of
from kitbuilder.kit.items import Cylinder
from kitbuilder.plans.pair.members import Direction, Member, Missing, common_depth, directions

STAGE = "stage"
GAS_KEYS = ("gas", "filled", "turn", "reserve")
"""The keys of a cylinder without which its gas or its pressures are assumed."""
ASKED_KEYS = ("gas", "filled", "reserve")
"""Those that are asked for: a turn that is not given is a share of the filling, as by common practice."""


class Supply(NamedTuple):
    """Cylinders of one diver with one gas and one filling."""

    member: Member
    uses: tuple[GasUse, ...]
    vessels: tuple[Vessel, ...]
    """Empty where a cylinder is not known well enough."""

    @property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """The cylinders, in the order of the kit."""
        return tuple(use.cylinder for use in self.uses)

    @property
    def gas(self) -> str:
        """The name of the gas."""
        return gas_name_of(self.uses[0].cylinder)

    @property
    def is_stage(self) -> bool:
        """Whether the cylinders may be handed off."""
        return self.uses[0].cylinder.carried == STAGE

    @property
    def pressures_pa(self) -> tuple[float, float, float] | None:
        """What the gauge shows at the start, when the dive is turned, and as reserve [Pa]."""
        if not self.vessels:
            return None
        return self.vessels[0].filled_pa, self.vessels[0].turn_pa, self.vessels[0].reserve_pa

    @property
    def assumed(self) -> frozenset[str]:
        """Which of `GAS_KEYS` a file does not give, so that a default stands for it."""
        return frozenset(key for cylinder in self.cylinders for key in GAS_KEYS if not _is_given(cylinder, key))

    @property
    def start(self) -> Figure | None:
        """What the filling gives at the surface [m3]; None where a cylinder is not known."""
        return self._given_off("filling", [vessel.filled_pa for vessel in self.vessels])

    @property
    def reserve(self) -> Figure | None:
        """What the reserve gives at the surface [m3]; None where a cylinder is not known."""
        return self._given_off("reserve", [vessel.reserve_pa for vessel in self.vessels])

    def _given_off(self, reading: str, pressures_pa: Sequence[float]) -> Figure | None:
        pairs = zip(self.vessels, pressures_pa, strict=True)
        volumes = [surface_volume(vessel, pressure_pa, reading) for vessel, pressure_pa in pairs]
        return total(volumes, volumes[0].origin) if volumes else None


class ReserveElsewhere(NamedTuple):
    """The reserve of one diver, as it would read on the gauge of another."""

    way: Direction
    """Whose reserve, and on whose cylinders."""
    pressure_pa: float | None
    """Of the other's cylinders when they hold as much [Pa]; None where a cylinder is not known or cannot hold it."""


class NotBreathable(NamedTuple):
    """A gas of one diver that another cannot, or should not, breathe at the common depth."""

    supply: Supply
    whom: tuple[str, ...]
    """Who cannot, by name: others, and its owner where the same is so."""
    why: Breathable
    depth_m: float


def supplies_of(member: Member) -> tuple[Supply, ...]:
    """Give the gas of a diver: cylinders with one gas, filling, turn and reserve count as one."""
    groups: dict[object, list[GasUse]] = {}
    for use in gas_uses(member.assessment.kit, member.assessment.water):
        groups.setdefault(_alike(use.cylinder, member), []).append(use)
    return tuple(Supply(member, tuple(uses), _vessels(uses, member)) for uses in groups.values())


def reserves_elsewhere(members: Sequence[Member], supplies: Sequence[Supply]) -> tuple[ReserveElsewhere, ...]:
    """Give each reserve as it would read on the gauge of each other diver; stages do not count."""
    own = {
        member.name: [each for each in supplies if each.member is member and not each.is_stage] for member in members
    }
    return tuple(_elsewhere(way, own[way.giver.name], own[way.receiver.name]) for way in directions(members))


def not_breathable(members: Sequence[Member], supplies: Sequence[Supply]) -> Iterator[NotBreathable]:
    """Give the gases, but for those of stages, that another diver of the pair cannot breathe at the common depth."""
    depth_m = common_depth(members)
    for supply in supplies:
        whom: dict[Breathable, list[Member]] = {}
        for member in members if not supply.is_stage else ():
            kit, water = member.assessment.kit, member.assessment.water
            whom.setdefault(judge_gas(supply.cylinders[0], depth_m, kit, water), []).append(member)
        for why, found in whom.items():
            if why is not Breathable.GOOD and found != [supply.member]:
                yield NotBreathable(supply, tuple(member.name for member in found), why, depth_m)


def missing_of_supply(supply: Supply) -> Iterator[Missing]:
    """Name what would say how much gas it is."""
    for cylinder in supply.cylinders:
        if key := missing_of(cylinder):
            yield Missing(supply.member.file, cylinder.tag, key, "how much gas it holds")
        for key in ASKED_KEYS:
            if not _is_given(cylinder, key):
                yield Missing(supply.member.file, cylinder.tag, key, "which gas there is, and how much")


def _is_given(cylinder: Cylinder, key: str) -> bool:
    parts = (cylinder.gas, cylinder.oxygen, cylinder.helium, cylinder.nitrogen)
    given = {"filled": cylinder.filled_pa, "turn": cylinder.turn_pa, "reserve": cylinder.reserve_pa}
    return given[key] is not None if key in given else any(part is not None for part in parts)


def _alike(cylinder: Cylinder, member: Member) -> object:
    vessel = work_out_vessel(cylinder, member.assessment.water)
    pressures = (vessel.filled_pa, vessel.turn_pa, vessel.reserve_pa) if vessel else cylinder.tag
    return gas_name_of(cylinder), cylinder.carried == STAGE, pressures


def _vessels(uses: Sequence[GasUse], member: Member) -> tuple[Vessel, ...]:
    found = [work_out_vessel(use.cylinder, member.assessment.water) for use in uses]
    known = tuple(vessel for vessel in found if vessel)
    return known if len(known) == len(found) else ()


def _elsewhere(way: Direction, own: Sequence[Supply], others: Sequence[Supply]) -> ReserveElsewhere:
    reserves = [supply.reserve for supply in own]
    known = [reserve for reserve in reserves if reserve]
    vessels = [vessel for supply in others for vessel in supply.vessels]
    if not known or len(known) < len(reserves) or not all(supply.vessels for supply in others):
        return ReserveElsewhere(way, None)
    return ReserveElsewhere(way, pressure_of_volume(vessels, sum(reserve.value for reserve in known)))
