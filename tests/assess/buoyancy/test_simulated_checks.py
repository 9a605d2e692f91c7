"""Float checks of simulated divers: 95 % of the leads lie inside the spread that is shown, with slips and without.

Each diver is drawn from the inputs of the model, and weighed by the sums written here, which know nothing of shares,
of corrections, or of which check is a slip. Each check is a hover that the diver reads as well as is stated.
"""

import random
from collections.abc import Callable, Mapping
from typing import NamedTuple

import pytest

from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, build_buoyancy_model, total_buoyancy
from kitbuilder.assess.buoyancy.float_checks import corrected, evaluate_checks, evidence_from
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.physics.gas import gas_density
from kitbuilder.physics.pressure import pressure_at_depth
from kitbuilder.physics.suit import foam_left
from tests.assess.buoyancy.simulated import NORMAL_95, Inputs, Known, between, known
from tests.assess.kits import OWN, PLAIN, beside, float_check, kit_of, without

STOP_M, RESERVE_PA, ATMOSPHERE_PA, SEA_K = 5.0, 50e5, 101325.0, 288.15
HOVER_KG = 0.5
"""A hover is read through a breath of half a litre: common practice, no source."""
TRADE = catalogue()
TANK, WING = TRADE.cylinders["aluminium 11.1 L 207"], TRADE.presets["wing", "single-cylinder wing"]
VALVE, METAL = TRADE.valves["single outlet"], TRADE.metals["aluminium"]
UNDERSUIT = TRADE.undersuits["medium"]
CHANGE = 0.08
"""How much the gas of a suit differs from dive to dive, as a part of it: common practice, no source."""

EVERY: Inputs = {
    "stature": Known(1.78, 0.01),
    "mass": Known(82.0, 1.0),
    "density": Known(1019.0, 26.0),
    "breath": between(0.0, 0.25e-3, 0.5e-3),
    "water": Known(1025.0, 0.5),
    "cast": Known(1.0, 0.03),
    "tank": known(TANK.mass),
    "volume": known(TANK.volume),
    "valve": known(VALVE.mass),
    "metal": known(METAL.density),
    "outside": Known(0.0, 0.0006),
    "gauge": Known(RESERVE_PA, 5e5),
    "wing": known(WING.buoyancy_salt),  # type: ignore[arg-type]
}
LEFT, BOUND = foam_left(pressure_at_depth(STOP_M, 1025.0))
"""All statements lie within the bound."""
FOAM: Inputs = {
    "area": Known(1.0, 0.05),
    "coverage": known(TRADE.cuts["full suit"].coverage),
    "stretch": known(TRADE.body.foam_stretch),
    "thickness": Known(0.005, 0.0003),
    "foam": known(TRADE.foams["standard"].density),
    "lining": known(TRADE.body.foam_lining),
    "squeeze": between(LEFT - BOUND, LEFT, LEFT + BOUND),
}
DRYSUIT = TRADE.presets["drysuit", "trilaminate shell"]
SUIT_GAS = known(UNDERSUIT.gas)
GAS: Inputs = {
    "gas": Known(SUIT_GAS.middle, (SUIT_GAS.half**2 - (CHANGE * SUIT_GAS.middle) ** 2) ** 0.5),
    "shell": known(DRYSUIT.buoyancy_salt),  # type: ignore[arg-type]
}

Drawn = Mapping[str, float]


def drawn(draw: random.Random, inputs: Inputs) -> Drawn:
    return {name: each.drawn(draw) for name, each in inputs.items()}


def worn_by_all(at: Drawn) -> float:
    """Body, empty cylinder, its gas at the reserve, and wing, in the sea [kgf]."""
    body = at["water"] * (at["mass"] / at["density"] + at["breath"]) - at["mass"]
    outside = at["outside"] + at["volume"] + at["tank"] / at["metal"] + at["valve"] / VALVE.density.value
    cylinder = at["water"] * outside - at["tank"] - at["valve"]
    gas = at["volume"] * gas_density(0.7812, 0.2096, 0.0, 0.0092, at["gauge"] + ATMOSPHERE_PA, SEA_K)
    return body + cylinder - gas + at["wing"]


def in_foam(at: Drawn, _change: float) -> float:
    """Diver and kit at the stop in a suit of foam, without lead [kgf]."""
    skin = at["area"] * 0.007184 * at["mass"] ** 0.425 * (100 * at["stature"]) ** 0.725
    foam = at["coverage"] * skin * at["stretch"] * at["thickness"]
    dry = foam * at["foam"] + at["lining"] * skin
    return worn_by_all(at) + at["water"] * foam * at["squeeze"] - dry


def in_drysuit(at: Drawn, change: float) -> float:
    """The same in a drysuit, with what its gas differs by on that dive [kgf]."""
    return worn_by_all(at) + at["shell"] + at["water"] * (at["gas"] + change)


class Dress(NamedTuple):
    """What a simulated diver wears."""

    kit: Kit
    inputs: Inputs
    floats: Callable[[Drawn, float], float]
    change: Known
    """Of the gas of the suit from dive to dive [m3]."""


DRY = without(PLAIN, "suit") + '\n[[drysuit]]\ntag = "drysuit"\npreset = "trilaminate shell"\nundersuit = "medium"\n'
DRESSES = {
    "foam": Dress(kit_of(PLAIN), EVERY | FOAM, in_foam, Known(0.0, 0.0)),
    "drysuit": Dress(kit_of(DRY), EVERY | GAS, in_drysuit, Known(0.0, CHANGE * SUIT_GAS.middle)),
}


def lead_for(at: Drawn, floats: float) -> float:
    """The number cast on the lead that sinks so much [kg]; lead of 11340 kg/m3."""
    return floats / (at["cast"] - at["water"] / 11340)


def no_slip(_: random.Random) -> float:
    return 0.0


def two_kilograms(draw: random.Random) -> float:
    """One check in ten is 2 kg off, to either side."""
    return draw.choice((-2.0, 2.0)) if draw.random() < 0.1 else 0.0


def any_size(draw: random.Random) -> float:
    """One check in ten is off by up to about 5 kg, as the catalogue has it: 95 % of the slips."""
    return draw.gauss(0.0, 5.0 / NORMAL_95) if draw.random() < 0.1 else 0.0


class Outcome(NamedTuple):
    """Of all simulated divers."""

    covered: float
    """The part whose need lies inside the spread."""
    spread: float
    """The middle one [kg]."""


def simulated(dress: str, checks: int, slip: Callable[[random.Random], float], divers: int = 500) -> Outcome:
    kit, inputs, floats, change = DRESSES[dress]
    draw = random.Random(f"{dress} {checks} {slip.__name__}")
    model = build_buoyancy_model(resolve(kit, beside()), assess_water(kit.header))
    covered, spreads = 0, []
    for _ in range(divers):
        at = drawn(draw, inputs)

        def on_a_dive(at: Drawn = at) -> float:
            return floats(at, draw.gauss(change.middle, change.half / NORMAL_95))

        made = [
            float_check(
                f"{number}",
                kit=OWN,
                lead_kg=max(0.0, lead_for(at, on_a_dive() - draw.gauss(0.0, HOVER_KG / NORMAL_95)) + slip(draw)),
            )
            for number in range(checks)
        ]
        evidence = evidence_from(evaluate_checks(resolve(kit, beside(*made))))
        # With the lead that this diver needs on the next dive, diver and kit are neutral: as certain as is shown.
        found = corrected(total_buoyancy(model, STOP_M, RESERVE, lead_for(at, on_a_dive())), evidence)
        covered += abs(found.value) <= found.spread
        spreads.append(found.spread)
    return Outcome(covered / divers, sorted(spreads)[divers // 2])


@pytest.mark.parametrize("dress", DRESSES)
@pytest.mark.parametrize("slip", [no_slip, two_kilograms, any_size])
def test_three_checks_in_the_same_kit_cover_95_of_100_divers(
    dress: str, slip: Callable[[random.Random], float]
) -> None:
    """500 divers; 93 to 97 % of such a sample lie inside when 95 % of all do (binomial, two standard deviations)."""
    found = simulated(dress, 3, slip)
    assert 0.93 <= found.covered <= 0.97


@pytest.mark.parametrize("dress", DRESSES)
@pytest.mark.parametrize("slip", [two_kilograms, any_size])
def test_one_check_covers_95_of_100_divers_of_whom_one_in_ten_slips(
    dress: str, slip: Callable[[random.Random], float]
) -> None:
    """A single check cannot show that it is a slip, so the spread has room for one; 2000 divers, to 1 %."""
    found = simulated(dress, 1, slip, 2000)
    assert 0.93 <= found.covered <= 0.97


def test_a_second_check_that_agrees_takes_the_doubt_away() -> None:
    """Without slips: one check leaves room for one, two leave little more than the hovers themselves."""
    one, two = simulated("foam", 1, no_slip), simulated("foam", 2, no_slip)
    assert one.covered >= 0.97
    assert 0.94 <= two.covered <= 0.98
    assert two.spread < 0.6 * one.spread
