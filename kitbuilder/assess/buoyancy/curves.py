"""Buoyancy over the dive as curves: over depth, and over the gas that is left."""

from typing import NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.buoyancy_model import FILLED, RESERVE, GasUsed, total_buoyancy, used_pressure
from kitbuilder.assess.buoyancy.float_checks import corrected, evidence_from
from kitbuilder.assess.depths import deepest_of
from kitbuilder.physics.estimation import Evidence

POINTS = 25

CurvePoint = tuple[float, float]
"""Depth [m] or pressure [Pa], and buoyancy with an empty wing unless switched [kgf]."""


class Curves(NamedTuple):
    """What is drawn of a balance."""

    over: str
    """"depth" or "gas"."""
    lines: tuple[tuple[str, tuple[CurvePoint, ...]], ...]
    """Each with what it stands for: "gas full", "reserve", or "at the stop"."""
    stop: CurvePoint
    """The moment the lead is for."""


def over_depth(balance: Balance) -> Curves:
    """Give the buoyancy from the surface to the greatest depth, with the gas full and with the reserve."""
    deepest = deepest_of(balance.buoyancy_model.kit)
    evidence = evidence_from(balance.checks)
    depths = [deepest * number / (POINTS - 1) for number in range(POINTS)]
    lines = tuple(
        (name, tuple((depth, _buoyancy(balance, evidence, depth, gas)) for depth in depths))
        for name, gas in (("gas full", FILLED), ("reserve", RESERVE))
    )
    stop = balance.stop.depth_m
    return Curves("depth", lines, (stop, _buoyancy(balance, evidence, stop, RESERVE)))


def over_gas(balance: Balance) -> Curves:
    """Give the buoyancy from full to reserve at the depth of the stop; pressures are those of the first cylinder."""
    evidence = evidence_from(balance.checks)
    depth, vessel = balance.stop.depth_m, balance.buoyancy_model.vessels[0][1]
    parts = [GasUsed(number / (POINTS - 1)) for number in range(POINTS)]
    points = tuple((used_pressure(vessel, part), _buoyancy(balance, evidence, depth, part)) for part in parts)
    return Curves("gas", (("at the stop", points),), points[-1])


def _buoyancy(balance: Balance, evidence: Evidence, depth_m: float, gas: str | GasUsed) -> float:
    floats = total_buoyancy(balance.buoyancy_model, depth_m, gas, switches=balance.switches)
    return corrected(floats, evidence).value
