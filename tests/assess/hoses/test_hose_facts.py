"""What divers know of hoses, held against the figures. All of it is common practice, no source, by default."""

import pytest

from kitbuilder.catalogue import catalogue
from tests.assess.kits import SALT, WHOLE, assessed, config, hose_figures

pytestmark = pytest.mark.usefixtures("usual_values")

GRAM = 1e-3
LP_STOCK_CM = (15, 23, 35, 50, 56, 61, 66, 70, 75, 80, 90, 100, 120, 150, 180, 210)
HP_STOCK_CM = (15, 23, 35, 56, 61, 66, 75, 80, 90)


@pytest.mark.parametrize("body", ["rubber", "polyurethane"])
@pytest.mark.parametrize("cm", LP_STOCK_CM)
def test_smooth_lp_hoses_sink_at_every_stock_length(body: str, cm: int) -> None:
    """Their ends of brass outweigh the lift of the body up to 2.1 m. Common practice, no source."""
    assert hose_figures(body=body, length=f"{cm} cm").weight.buoyancy.value < 0


@pytest.mark.parametrize("cm", [15, 56, 75, 100])
def test_a_short_braided_hose_sinks_beyond_doubt(cm: int) -> None:
    """Up to a metre the ends win. Common practice, no source."""
    buoyancy = hose_figures(body="braided", length=f"{cm} cm").weight.buoyancy
    assert buoyancy.value + buoyancy.spread < 0


def test_a_long_braided_hose_about_floats_in_salt_water() -> None:
    """Page titled "Hose routing" (doubles): a long hose floats; the tool cannot tell the sign, and must not pretend."""
    buoyancy = hose_figures(SALT, role="long hose", body="braided", length="210 cm").weight.buoyancy
    assert abs(buoyancy.value) < buoyancy.spread < 25 * GRAM


def test_a_long_braided_hose_floats_less_in_fresh_water() -> None:
    """2.5 % less water weight on what it displaces, which is a little over 200 g."""
    salt, fresh = (
        hose_figures(f'density = "{density} kg/m3"', role="long hose", body="braided", length="210 cm").weight.buoyancy
        for density in (1025, 1000)
    )
    assert salt.value - fresh.value == pytest.approx(5 * GRAM, abs=0.5 * GRAM)


@pytest.mark.parametrize("cm", HP_STOCK_CM)
def test_hp_hoses_sink_whatever_they_are_made_of(cm: int) -> None:
    """Common practice, no source."""
    for body in ("rubber", "braided", "polyurethane"):
        buoyancy = hose_figures(role="gauge", body=body, length=f"{cm} cm").weight.buoyancy
        assert buoyancy.value + buoyancy.spread < 0


# --- rubber and braided -----------------------------------------------------------------------------------------------


def test_a_long_braided_hose_is_25_to_30_percent_lighter_than_rubber() -> None:
    """The figure in use, which is true of the 2.1 m hose. Common practice, no source."""
    rubber, braided = (
        hose_figures(role="long hose", body=body, length="210 cm").weight.mass.value for body in ("rubber", "braided")
    )
    assert 0.25 < 1 - braided / rubber < 0.30


@pytest.mark.parametrize(
    ("name", "lp_cm", "hp_cm", "fittings_g", "percent"),
    [
        # Bare lengths: stated length less 4.4 cm a hose. Fittings: 28 and 38 or 42 g LP, 34 and 32 g HP, elbow 50 g.
        ("warm-single", 75 + 90 + 61 - 3 * 4.4, 80 - 4.4, 3 * 28 + 2 * 38 + 42 + 66, 23.8),
        ("cold-single", 150 + 61 + 56 + 75 - 4 * 4.4, 61 - 4.4, 4 * 28 + 2 * 38 + 2 * 42 + 66, 23.0),
        ("twinset", 210 + 61 + 61 + 75 - 4 * 4.4, 61 - 4.4, 4 * 28 + 2 * 38 + 2 * 42 + 66, 24.3),
        ("sidemount", 210 + 35 + 61 + 35 - 4 * 4.4, 2 * (15 - 4.4), 4 * 28 + 2 * 38 + 2 * 42 + 2 * 66 + 50, 17.9),
    ],
)
def test_a_whole_set_gains_less_than_25_percent(
    name: str, lp_cm: float, hp_cm: float, fittings_g: float, percent: float
) -> None:
    """Short hoses are mostly fittings, which weigh the same: 18 to 24 % for the sets here, not 25 to 30.

    Rubber has 1.05 and 1.07 g/cm (LP, HP), braided 0.64 and 0.42 g/cm.
    """
    rubber = lp_cm * 1.05 + hp_cm * 1.07 + fittings_g
    braided = lp_cm * 0.64 + hp_cm * 0.42 + fittings_g
    assert 100 * (1 - braided / rubber) == pytest.approx(percent, abs=0.05)
    if_all = assessed(config(name)).if_all
    assert if_all["rubber"].mass.value == pytest.approx(rubber * GRAM)
    assert if_all["braided"].mass.value == pytest.approx(braided * GRAM)


@pytest.mark.parametrize("name", WHOLE)
def test_the_body_of_the_hoses_hardly_matters_for_lead(name: str) -> None:
    """Less than 0.1 kgf between all rubber and all braided, in any of the kits. Common practice, no source."""
    if_all = assessed(config(name)).if_all
    assert 0 < if_all["braided"].buoyancy.value - if_all["rubber"].buoyancy.value < 0.1


def test_a_braided_hp_hose_is_much_thinner_than_rubber() -> None:
    """Less than half the section, and less than half the mass of a metre. Common practice, no source."""
    rubber, braided = (catalogue().bodies["HP", body] for body in ("rubber", "braided"))
    assert (braided.outside_diameter.value / rubber.outside_diameter.value) ** 2 < 0.5
    assert braided.mass_per_length.value < 0.5 * rubber.mass_per_length.value
    assert rubber.outside_diameter.low > braided.outside_diameter.high


def test_a_short_gauge_hose_gains_little_by_a_braided_body() -> None:
    """15 cm of sidemount gauge hose: 10.6 cm of body, 65 g/m less, 7 g."""
    rubber, braided = (
        hose_figures(role="gauge", body=body, length="15 cm").weight.mass.value for body in ("rubber", "braided")
    )
    assert rubber - braided == pytest.approx(0.106 * (107 - 42) * GRAM)
