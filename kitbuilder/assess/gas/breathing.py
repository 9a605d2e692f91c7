"""At which depths each gas of a kit can be breathed, and where the kit says that it is.

This is no dive planning: one pressure for each end of the depths at which a gas is used, no stops and no times.
"""

from collections.abc import Iterator, Sequence
from enum import Enum
from math import ceil, floor
from typing import NamedTuple

from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.gas.feeds import cylinders_behind_each, fed_from
from kitbuilder.assess.gas.oxygen import oxygen_of
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Cylinder, Header, SecondStage
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.gas import partial_pressure
from kitbuilder.physics.pressure import DEEPEST_M, depth_at_pressure, pressure_at_depth


class Breathable(Enum):
    """What may be said of a gas at a depth."""

    TOO_LEAN = "too little oxygen"
    GOOD = "good"
    RICH = "above the limit"
    """More oxygen than is meant to be breathed, and not yet too much to breathe."""
    TOO_RICH = "too much oxygen"


class OxygenLimits(NamedTuple):
    """Between which oxygen pressures a gas can be breathed [Pa]: those of the kit, else those of common practice."""

    limit_pa: float
    """Up to which it is meant to be breathed."""
    highest_pa: float
    lowest_pa: float

    def judge(self, oxygen: float, ambient_pa: float) -> Breathable:
        """Say whether a gas can be breathed.

        Args:
            oxygen: Part of the gas, from 0 to 1.
            ambient_pa: Absolute pressure around the diver.
        """
        rounded_pa = partial_pressure(oxygen, max(0.0, ambient_pa - _surface_rounding()))
        if rounded_pa > self.highest_pa:
            return Breathable.TOO_RICH
        if rounded_pa > self.limit_pa:
            return Breathable.RICH
        is_lean = partial_pressure(oxygen, ambient_pa) < self.lowest_pa
        return Breathable.TOO_LEAN if is_lean else Breathable.GOOD


class GasUse(NamedTuple):
    """The gas of one cylinder that is breathed from, and the depths at which it is."""

    number: int
    """Of the cylinder in the kit."""
    cylinder: Cylinder
    oxygen: float
    """Part of the gas, from 0 to 1."""
    shallowest_m: float | None
    """None where the kit does not say, and the gas cannot be breathed at the surface."""
    deepest_m: float | None
    """None where the kit does not say, and the gas is too rich for the greatest depth of the dive."""
    at_surface_pa: float
    """Oxygen pressure at the surface."""
    at_shallowest_pa: float | None
    at_deepest_pa: float | None
    from_m: float | None
    """The least depth at which it can be breathed, in whole metres; None, as below, for one that never can be."""
    down_to_m: float | None
    """The greatest depth at which the oxygen pressure is within the limit."""
    at_most_m: float | None
    """The greatest depth at which it can be breathed at all."""


def oxygen_limits(header: Header) -> OxygenLimits:
    """Give the limits of a kit, those it does not give as by common practice."""
    limits = catalogue().limits
    return OxygenLimits(
        limits["oxygen_limit"].value if header.oxygen_limit_pa is None else header.oxygen_limit_pa,
        limits["oxygen_highest"].value if header.oxygen_highest_pa is None else header.oxygen_highest_pa,
        limits["oxygen_lowest"].value if header.oxygen_lowest_pa is None else header.oxygen_lowest_pa,
    )


def oxygen_pressure(cylinder: Cylinder, depth_m: float, water: Water) -> float:
    """Give the oxygen pressure of the gas of a cylinder at a depth [Pa]."""
    return partial_pressure(oxygen_of(cylinder), pressure_at_depth(depth_m, water.density.value))


def judge_gas(cylinder: Cylinder, depth_m: float, kit: ResolvedKit, water: Water) -> Breathable:
    """Say whether the gas of a cylinder can be breathed at a depth."""
    ambient_pa = pressure_at_depth(depth_m, water.density.value)
    return oxygen_limits(kit.header).judge(oxygen_of(cylinder), ambient_pa)


def can_be_breathed(cylinder: Cylinder, depth_m: float, kit: ResolvedKit, water: Water) -> bool:
    """Say whether a gas can be breathed at a depth: above the limit that is meant it still can."""
    return judge_gas(cylinder, depth_m, kit, water) in (Breathable.GOOD, Breathable.RICH)


def is_rounded(use: GasUse, limits: OxygenLimits) -> bool:
    """Say whether a gas lies within a limit only as practice counts, with 1 bar at the surface."""
    seen = use.at_deepest_pa
    rounding = partial_pressure(use.oxygen, _surface_rounding())
    return seen is not None and any(limit < seen <= limit + rounding for limit in (limits.limit_pa, limits.highest_pa))


def gas_uses(kit: ResolvedKit, water: Water) -> tuple[GasUse, ...]:
    """Give the gas of every cylinder that is breathed from, in the order of the kit."""
    inflating = _only_inflating(kit)
    return tuple(
        _use(number, item, kit, water)
        for number, item in enumerate(kit.items)
        if isinstance(item, Cylinder) and item.tag not in inflating
    )


class EndWithoutGas(NamedTuple):
    """The greatest depth of the dive, or the surface, where no gas of the kit is said to be breathed."""

    depth_m: float
    nearest_m: float
    """The depth nearest to it at which one is."""


def ends_without_gas(uses: Sequence[GasUse], kit: ResolvedKit) -> Iterator[EndWithoutGas]:
    """Give the ends of the dive at which no gas is breathed, as far as the kit gives depths."""
    deepest = deepest_of(kit)
    down_to = max((use.deepest_m for use in uses if use.deepest_m is not None), default=deepest)
    if down_to < deepest:
        yield EndWithoutGas(deepest, down_to)
    from_on = min((use.shallowest_m for use in uses if use.shallowest_m is not None), default=0.0)
    if from_on > 0:
        yield EndWithoutGas(0.0, from_on)


def breathed_down_to(cylinder: Cylinder, kit: ResolvedKit, water: Water) -> float:
    """Give the greatest depth at which the gas of a cylinder is breathed [m].

    Where the kit does not say, and it is a stage too rich for the greatest depth of the dive, the greatest at which it
    can be breathed at all.
    """
    deepest = _deepest(cylinder, kit, water)
    if deepest is not None:
        return deepest
    _, _, at_most = _breathable_depths(cylinder, kit, water)
    return deepest_of(kit) if at_most is None else min(at_most, deepest_of(kit))


def _use(number: int, cylinder: Cylinder, kit: ResolvedKit, water: Water) -> GasUse:
    shallowest, deepest = _shallowest(cylinder, kit, water), _deepest(cylinder, kit, water)
    return GasUse(
        number,
        cylinder,
        oxygen_of(cylinder),
        shallowest,
        deepest,
        oxygen_pressure(cylinder, 0.0, water),
        None if shallowest is None else oxygen_pressure(cylinder, shallowest, water),
        None if deepest is None else oxygen_pressure(cylinder, deepest, water),
        *_breathable_depths(cylinder, kit, water),
    )


def _deepest(cylinder: Cylinder, kit: ResolvedKit, water: Water) -> float | None:
    if cylinder.deepest_m is not None:
        return cylinder.deepest_m
    deepest = deepest_of(kit)
    is_rich = judge_gas(cylinder, deepest, kit, water) in (Breathable.RICH, Breathable.TOO_RICH)
    return None if is_rich and cylinder.carried == "stage" else deepest


def _shallowest(cylinder: Cylinder, kit: ResolvedKit, water: Water) -> float | None:
    if cylinder.shallowest_m is not None:
        return cylinder.shallowest_m
    is_lean = judge_gas(cylinder, 0.0, kit, water) is Breathable.TOO_LEAN
    return None if is_lean and cylinder.carried == "stage" else 0.0


def _breathable_depths(
    cylinder: Cylinder, kit: ResolvedKit, water: Water
) -> tuple[float | None, float | None, float | None]:
    """Give the depths from which on, down to which within the limit, and down to which at all it can be breathed.

    In whole metres, rounded to the safe side.
    """
    oxygen, limits = oxygen_of(cylinder), oxygen_limits(kit.header)
    rounding, density = _surface_rounding(), water.density.value
    if partial_pressure(oxygen, pressure_at_depth(DEEPEST_M, density)) < limits.lowest_pa:
        return None, None, None
    within, at_most = (
        min(depth_at_pressure(most_pa / oxygen + rounding, density), DEEPEST_M)
        for most_pa in (limits.limit_pa, limits.highest_pa)
    )
    return (
        float(ceil(depth_at_pressure(limits.lowest_pa / oxygen, density))),
        float(floor(within)),
        float(floor(at_most)),
    )


def _surface_rounding() -> float:
    """Give the ambient pressure [Pa] by which the rule of practice, surface 1 bar, lies below the real one."""
    return catalogue().limits["oxygen_surface_rounding"].value


def _only_inflating(kit: ResolvedKit) -> set[str]:
    """Name the cylinders on which first stages sit, none of which feeds a second stage."""
    seconds = {item.tag for item in kit.items if isinstance(item, SecondStage)}
    breathed = frozenset().union(*(fed for tag, fed in fed_from(kit).items() if tag in seconds))
    used, breathed_from = set[str](), set[str]()
    for stage_tag, cylinders in cylinders_behind_each(kit).items():
        tags = {cylinder.tag for cylinder in cylinders}
        used |= tags
        if stage_tag in breathed:
            breathed_from |= tags
    return used - breathed_from
