"""What a body and all that it carries displace: published flotation, and the step from fresh water to the sea."""

from statistics import NormalDist

import pytest

from kitbuilder.physics.buoyancy import buoyancy_kgf, lead_for

FRESH, SEA = 1000.0, 1025.0


def test_published_flotation_reads_as_a_density_of_1019_and_a_spread_of_13() -> None:
    """Source: Journal of Forensic Sciences 22 (1977) 573, abstract (found).

    At resting lung volume 69 % of 98 men float in sea water and 7 % in fresh water.

    Whoever floats is less dense than the water, so these are two points of a distribution of body density. That it is
    a normal one, and water of 1000 and 1025 kg/m3, is our reading: label derived from found.
    """
    standard = NormalDist()
    deviations_fresh, deviations_sea = standard.inv_cdf(0.07), standard.inv_cdf(0.69)
    spread = (SEA - FRESH) / (deviations_sea - deviations_fresh)
    mean = SEA - spread * deviations_sea
    assert mean == pytest.approx(1019.0, abs=0.5)
    assert spread == pytest.approx(13.0, abs=0.5)


def test_the_rounded_numbers_give_the_published_flotation_back() -> None:
    """Source: the same study; with 98 men, one man is 1 %, and a share is uncertain by 3 to 5 %."""
    bodies = NormalDist(1019.0, 13.0)
    assert bodies.cdf(SEA) == pytest.approx(0.69, abs=0.015)
    assert bodies.cdf(FRESH) == pytest.approx(0.07, abs=0.015)


def test_from_fresh_water_to_the_sea_a_diver_adds_the_fortieth_part_and_what_lead_loses() -> None:
    """Source: 2.5 % of all that is displaced, 1025 over 1000; 3.0 kg by hand. Six pounds: common practice, no source.

    A diver of 110 kg all-up, neutral in fresh water, is lifted by 2.75 kgf in the sea; lead keeps 0.91 of its weight.
    """
    lifted_kgf = buoyancy_kgf(110.0 / FRESH, 110.0, SEA)
    assert lifted_kgf == pytest.approx(2.75, abs=0.005)
    assert lead_for(lifted_kgf, SEA) == pytest.approx(3.0, abs=0.05)
    assert lifted_kgf / lead_for(lifted_kgf, SEA) == pytest.approx(0.91, abs=0.005)
