"""Oxygen pressures by Dalton's law on the depth scale of EN 13319, and where each gas can be breathed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.gas.breathing import Breathable, GasUse, OxygenLimits, can_be_breathed, gas_uses
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import resolve
from tests.assess.kits import hose_text, kit_of

GAUGE_WATER = 'density = "1019.716 kg/m3"'
"""EN 13319: 1 bar is 10 m of water of about 1.0197 kg/l."""
BAR = 1e5


def kit(cylinder: str, header: str = "") -> str:
    return (
        f'format = 1\nname = "one gas"\nlayout = "single"\n{GAUGE_WATER}\n{header}\n'
        f'[[cylinder]]\ntag = "tank"\npreset = "steel 12 L 232 long"\n{cylinder}\n'
    )


def uses(text: str) -> tuple[GasUse, ...]:
    found = kit_of(text)
    return gas_uses(resolve(found), assess_water(found.header))


@pytest.mark.parametrize(
    ("oxygen", "depth", "bars"),
    [
        # 0.50 x (1.01325 + 4.5); 0.32 x (1.01325 + 3.4); 1.00 x (1.01325 + 0.6); 0.18 x (1.01325 + 6.1).
        ("50 %", "45 m", 2.7566),
        ("32 %", "34 m", 1.4122),
        ("100 %", "6 m", 1.6133),
        ("18 %", "61 m", 1.2804),
    ],
)
def test_the_pressure_of_oxygen_at_depth_is_its_part_of_the_pressure_around(
    oxygen: str, depth: str, bars: float
) -> None:
    """Dalton's law with EN 13319: 10 m are 1 bar, and the air above the water 1.01325 bar (ISO 2533:1975)."""
    [use] = uses(kit(f'oxygen = "{oxygen}"\ndeepest = "{depth}"'))
    assert use.at_deepest_pa == pytest.approx(bars * BAR, abs=0.0001 * BAR)
    assert use.at_surface_pa == pytest.approx(float(oxygen.split()[0]) / 100 * 1.01325 * BAR)


@pytest.mark.parametrize(
    ("oxygen", "within", "at_most"),
    # The rule of practice, surface 1 bar and 10 m 1 bar: (limit / part - 1) x 10 m, in whole metres downward.
    [("32 %", 33.0, 40.0), ("50 %", 18.0, 22.0), ("80 %", 7.0, 10.0), ("100 %", 4.0, 6.0), ("28 %", 40.0, 47.0)],
)
def test_the_greatest_depths_are_those_that_practice_knows(oxygen: str, within: float, at_most: float) -> None:
    """The limits of 1.4 and 1.6 bar are common practice, no source; so is the rule they are used with."""
    [use] = uses(kit(f'oxygen = "{oxygen}"\ndeepest = "3 m"'))
    assert (use.down_to_m, use.at_most_m) == (within, at_most)


def test_a_lean_gas_has_a_least_depth() -> None:
    """10 % of oxygen: 0.16 bar at 1.6 bar around, which is 5.87 m down by EN 13319; the next whole metre is 6 m."""
    [use] = uses(kit('gas = "trimix 10/70"'))
    assert (use.from_m, use.shallowest_m) == (6.0, 0.0)
    assert use.at_shallowest_pa == pytest.approx(0.101325 * BAR)


@pytest.mark.parametrize("oxygen", ["0 %", "0.1 %", "1e-3 %"])
def test_a_gas_with_hardly_any_oxygen_can_be_breathed_nowhere(oxygen: str) -> None:
    """At 350 m, the deepest that is worked out, 36.0 bar of water and air hold 0.036 bar of 0.1 % oxygen."""
    [use] = uses(kit(f'oxygen = "{oxygen}"'))
    assert (use.from_m, use.down_to_m, use.at_most_m) == (None, None, None)


def test_gas_from_nitrogen_alone_is_the_rest() -> None:
    """68 % of nitrogen without a name: 32 % of oxygen, also where oxygen is asked about."""
    [use] = uses(kit('nitrogen = "68 %"'))
    assert use.oxygen == pytest.approx(0.32)


def test_a_cylinder_is_used_to_the_greatest_depth_of_the_kit_unless_it_says_otherwise() -> None:
    """Given, default, and a stage with rich gas, of which nobody knows."""
    [worn] = uses(kit('gas = "nitrox 32"', 'deepest = "45 m"'))
    [stage] = uses(kit('oxygen = "50 %"\ncarried = "stage"', 'deepest = "45 m"'))
    [air] = uses(kit('carried = "stage"', 'deepest = "45 m"'))
    [given] = uses(kit('oxygen = "50 %"\ncarried = "stage"\ndeepest = "21 m"', 'deepest = "45 m"'))
    assert [use.deepest_m for use in (worn, stage, air, given)] == [45.0, None, 45.0, 21.0]
    assert stage.at_deepest_pa is None


def test_gas_that_only_inflates_is_not_breathed() -> None:
    """A cylinder of argon whose first stage feeds a drysuit and nothing else."""
    argon = (
        'oxygen = "0 %"\nhelium = "0 %"\nnitrogen = "100 %"\n'
        '[[first_stage]]\ntag = "small first"\npreset = "brass, DIN, 2 LP 1 HP"\non = "tank"\n'
        '[[drysuit]]\ntag = "suit"\npreset = "trilaminate shell"\n'
        + hose_text(tag="suit hose", role="drysuit", from_="small first LP1", to="suit")
    )
    assert uses(kit(argon)) == ()
    second = '[[second_stage]]\ntag = "second"\npreset = "plastic body"\n'
    fed = hose_text(tag="hose", role="primary", from_="small first LP2", to="second")
    assert len(uses(kit(argon + second + fed))) == 1


def test_the_limits_are_the_kits_own() -> None:
    """1.5 bar as limit instead of 1.4: nitrox 32 then reaches (1.5 / 0.32 - 1) x 10 m = 36.9 m."""
    [use] = uses(kit('gas = "nitrox 32"', 'oxygen_limit = "1.5 bar"\noxygen_highest = "1.5 bar"'))
    assert (use.down_to_m, use.at_most_m) == (36.0, 36.0)


@pytest.mark.parametrize(
    ("oxygen", "bars", "verdict"),
    [
        (0.16, 0.99, Breathable.TOO_LEAN),
        (0.16, 1.01, Breathable.GOOD),
        (0.50, 2.815, Breathable.GOOD),
        (0.50, 2.825, Breathable.RICH),
        (1.00, 1.615, Breathable.RICH),
        (1.00, 1.625, Breathable.TOO_RICH),
    ],
)
def test_verdicts_change_at_the_limits(oxygen: float, bars: float, verdict: Breathable) -> None:
    """0.02 bar of ambient pressure above a limit still count as the limit: practice takes the surface as 1 bar."""
    assert OxygenLimits(1.4 * BAR, 1.6 * BAR, 0.16 * BAR).judge(oxygen, bars * BAR) is verdict


@given(oxygen=st.floats(0.05, 1.0), depth=st.floats(0.0, 100.0))
def test_whole_metres_are_on_the_safe_side(oxygen: float, depth: float) -> None:
    """What lies between the depths that are shown can be breathed."""
    found = kit_of(kit(f'oxygen = "{oxygen * 100:.2f} %"\ndeepest = "3 m"'))
    resolved, water = resolve(found), assess_water(found.header)
    [use] = gas_uses(resolved, water)
    cylinder = resolved.items[0]
    assert isinstance(cylinder, Cylinder)
    assert use.from_m is not None
    assert use.at_most_m is not None
    if use.from_m <= depth <= use.at_most_m:
        assert can_be_breathed(cylinder, depth, resolved, water)
