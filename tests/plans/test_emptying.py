"""How long a torn hose takes to empty a cylinder: the range holds 95 % of cylinders and breaks drawn at random."""

import math
import random

import pytest

from kitbuilder.assess.buoyancy.cylinder_weight import work_out_vessel
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder, Header
from kitbuilder.plans.emptying import time_to_empty

BAR, ATMOSPHERE, MM = 1e5, 101325.0, 1e-3
GAS, AIR, RATIO = 8.314462618, 0.0289655, 1.4
ROOM_K = 293.15
DRAWS = 4000
AMBIENT = 4 * BAR


def drawn(value: Value, dice: random.Random) -> float:
    """Half of all lie evenly on each side of the value, as the catalogue means its ranges."""
    assert not value.covers_95
    return dice.uniform(value.value, dice.choice((value.low, value.high)))


def choked_flow(pressure: float, diameter: float, discharge: float) -> float:
    """Air through an opening [kg/s]: choked flow of an ideal gas, from any textbook of gas dynamics (memory)."""
    speed = math.sqrt(RATIO * (2 / (RATIO + 1)) ** ((RATIO + 1) / (RATIO - 1)) * AIR / (GAS * ROOM_K))
    return discharge * math.pi / 4 * diameter**2 * pressure * speed


def time_of(service: str, diameter: float, discharge: float, intermediate: float, cold: float) -> float:
    """Empty 10 L of 200 bar: mass over a steady flow, or a pressure that falls off exponentially.

    Behind a first stage the pressure before the opening is held, else it is that of the cylinder.
    """
    start, end, volume = 200 * BAR + ATMOSPHERE, AMBIENT + intermediate, 0.010
    per_pascal = volume * AIR / (GAS * ROOM_K)
    if service == "LP":
        warm = per_pascal * (start - end) / choked_flow(end, diameter, discharge)
    else:
        warm = per_pascal / choked_flow(1.0, diameter, discharge) * math.log(start / end)
    without_heat, with_heat = (steps(service, end / start, cools) for cools in (True, False))
    return warm * (1 - cold * (1 - without_heat / with_heat))


def steps(service: str, share: float, cools: bool) -> float:
    """The time in steps of pressure, in a unit of its own: gas that leaves over the flow, which goes with 1 / sqrt(T).

    Without heat the mass goes with p to the power of 1 / 1.4 and the temperature with 0.4 / 1.4.
    """
    time, count = 0.0, 40
    for number in range(count):
        high, low = (share ** (each / count) for each in (number, number + 1))
        middle = math.sqrt(high * low)
        gone = high ** (1 / RATIO) - low ** (1 / RATIO) if cools else high - low
        flow = (1.0 if service == "LP" else middle) / (math.sqrt(middle ** (1 - 1 / RATIO)) if cools else 1.0)
        time += gone / flow
    return time


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_19_of_20_breaks_take_as_long_as_the_range_says(service: str) -> None:
    """Opening, discharge and supply as the catalogue has them; half lose no heat, the others anything up to all."""
    tank = Cylinder(tag="tank", preset="steel 10 L 232", volume_m3=0.010, filled_pa=200 * BAR)
    vessel = work_out_vessel(tank, assess_water(Header(format=1, name="sea", layout="single")))
    assert vessel is not None
    found = time_to_empty(service, 6.4 * MM, [vessel], AMBIENT)
    limits, dice = catalogue().limits, random.Random(20)
    opening = limits["hp_burst_orifice" if service == "HP" else "lp_burst_section"]
    inside = 0
    for _ in range(DRAWS):
        cold = dice.choice((0.0, dice.random()))
        time = time_of(
            service,
            min(drawn(opening, dice), 6.4 * MM),
            drawn(limits["burst_discharge"], dice),
            drawn(limits["intermediate"], dice),
            cold,
        )
        inside += found.low <= time <= found.high
    assert 0.94 <= inside / DRAWS <= 0.97
