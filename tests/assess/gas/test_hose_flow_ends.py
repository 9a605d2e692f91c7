"""The ends of the range of what a hose costs: the most is all the pressure there is.

`tests/assess/gas/test_hose_flow.py` has the middle and the smooth end, by a separate calculation.
"""

import pytest

from kitbuilder.assess.gas.hose_flow import Flow, flow_through
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Header, Hose, Kit
from kitbuilder.kit.resolved import LinkedFiles, resolve

BAR = 1e5
MM = 1e-3
SUPPLY = 9.5 * BAR
"""Middle of a first stage: 8 to 10 bar over the water, encyclopedia article titled "Mechanism of diving regulators"."""


def flow(length_m: float, bore_m: float, deepest_m: float) -> Flow:
    hose = Hose(tag="hose", role="primary", body="rubber", length_m=length_m, bore_m=bore_m)
    header = Header(format=1, name="kit", layout="single", deepest_m=deepest_m)
    found = flow_through(hose, resolve(Kit(header=header, items=(hose,)), LinkedFiles()), assess_water(header))
    assert found is not None
    return found


def test_a_worn_hose_that_cannot_pass_the_breath_loses_all_that_the_first_stage_gives() -> None:
    """2.1 m of 5 mm at 50 m passes the breath smooth, not worn: its range ends at the supply with which it is fed."""
    found = flow(2.1, 5 * MM, 50.0)
    assert found.drop is not None
    assert found.drop.high == pytest.approx(SUPPLY)
    assert catalogue().limits["intermediate"].value == pytest.approx(SUPPLY)


def test_the_most_a_hose_loses_grows_up_to_the_supply_as_it_gets_thinner() -> None:
    """2.1 m at 50 m, from 7 mm down to 4.8 mm: no worst case is smaller than that of a wider hose."""
    drops = [flow(2.1, tenths * 0.1 * MM, 50.0).drop for tenths in range(70, 47, -1)]
    most = [drop.high for drop in drops if drop is not None]
    assert most == sorted(most)
    assert most[0] < 0.5 * SUPPLY
    assert most[-1] == pytest.approx(SUPPLY)
