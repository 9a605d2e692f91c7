"""The other items: weighed, else as their preset; and the water they float in."""

from math import hypot, sqrt

import pytest

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Weight
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import FRESH, SALT, assessed, config, hose_text

pytestmark = pytest.mark.usefixtures("usual_values")

HEAD = 'format = 1\nname = "one item"\nlayout = "single"\n'


def kit(table: str, water: str = SALT, **keys: str) -> Assessment:
    """A kit of one item that is not a hose."""
    rows = "".join(f'{key} = "{value}"\n' for key, value in keys.items())
    return assessed(f'{HEAD}{water}\n[[{table}]]\ntag = "item"\n{rows}')


def weight(table: str, water: str = SALT, **keys: str) -> Weight:
    found = kit(table, water, **keys).weights[0]
    assert found is not None
    return found


# --- items -----------------------------------------------------------------------------------------------------------


def test_a_brass_first_stage_by_its_preset() -> None:
    """0.50 to 0.85 kg of brass of 8400 kg/m3, of which sea water of 1025 kg/m3 carries 1025/8400."""
    found = weight("first_stage", preset="brass, DIN, 4 LP 2 HP")
    assert found.mass.value == pytest.approx(0.675)
    assert found.mass.spread == pytest.approx(0.95 * 0.175, rel=0.001)  # 95 % of what lies evenly between the ends
    assert found.buoyancy.value == pytest.approx(-0.675 * (1 - 1025 / 8400))
    assert found.mass.origin == "preset brass, DIN, 4 LP 2 HP"


def test_a_weighed_first_stage_displaces_by_its_own_mass() -> None:
    """0.660 kg on a scale that is off by 2 g; a hydrometer of 0.5 kg/m3 works on 0.66/8400 m3."""
    found = weight("first_stage", preset="brass, DIN, 4 LP 2 HP", mass="0.6600 kg")
    assert (found.mass.value, found.mass.spread) == (pytest.approx(0.66), pytest.approx(0.002, rel=0.001))
    assert found.mass.origin == "weighed"
    assert found.buoyancy.value == pytest.approx(-0.66 * (1 - 1025 / 8400))
    scale, hydrometer = hypot(0.002, 1.959964 / sqrt(3) * 0.00005) * (1 - 1025 / 8400), 0.5 * 0.66 / 8400
    assert found.buoyancy.spread == pytest.approx(hypot(scale, hydrometer))


def test_a_item_with_padding_floats_as_its_preset_says() -> None:
    """Standard jacket: 2.8 to 4.0 kg and +0.3 to +1.8 kg in water of 1025 kg/m3."""
    found = weight("jacket", preset="standard jacket")
    assert found.buoyancy.value == pytest.approx(1.05)
    assert found.buoyancy.spread == pytest.approx(0.95 * 0.75, abs=0.001)


def test_the_same_jacket_floats_less_in_fresh_water() -> None:
    """It displaces (3.4 + 1.05)/1025 m3, and every cubic metre of fresh water carries 25 kg less."""
    salt, fresh = (weight("jacket", water, preset="standard jacket") for water in (SALT, FRESH))
    assert salt.buoyancy.value - fresh.buoyancy.value == pytest.approx(25 * (3.4 + 1.05) / 1025)


def test_a_item_weighed_in_air_and_in_a_bucket_needs_no_preset() -> None:
    """0.21 kg in air, 0.12 kg in tap water of 999 kg/m3: 90 mL, which sea water lifts by 92.3 g."""
    found = weight("second_stage", mass="0.210 kg", buoyancy="-0.120 kg")
    volume = (0.21 - 0.12) / 999
    assert volume == pytest.approx(90.1e-6, abs=0.05e-6)
    assert found.buoyancy.value == pytest.approx(volume * 1025 - 0.21)
    assert found.buoyancy.origin == "weighed in fresh water"
    assert found.buoyancy.spread < 0.003


def test_a_bucket_without_a_scale_leaves_little_of_the_doubt_about_the_mass() -> None:
    """A trilaminate suit of 2.6 to 4.2 kg, 0.4 kg in the bucket: 1025/999 - 1 of 0.8 kg is 21 g."""
    found = weight("drysuit", preset="trilaminate shell", buoyancy="-0.4 kg")
    hydrometer = 0.5 * (3.4 - 0.4) / 999
    evenly = 1.959964 / sqrt(3)
    scale = hypot(0.002, evenly * 0.05) * 1025 / 999  # of 2 g, and half of the digit that was typed
    assert found.buoyancy.combined == pytest.approx(hypot(evenly * 0.8 * (1025 / 999 - 1), scale, hydrometer))


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({}, "mass: the item has neither a preset nor a weighed mass"),
        (
            {"mass": "1.2 kg"},
            "the item has neither a preset nor a buoyancy weighed in fresh water, so only its mass counts",
        ),
    ],
)
def test_a_item_that_cannot_be_weighed_is_said_to_be_missing_from_the_totals(keys: dict[str, str], says: str) -> None:
    """What is not known of it is left out of the sums, and never in silence; a weighed mass counts on land."""
    found = kit("other", **keys)
    assert found.weights == (None,)
    assert found.everything.mass.value == (1.2 if keys else 0)
    assert found.everything.buoyancy.value == 0
    assert (found.weighed, found.floating) == (1 if keys else 0, 0)
    [missing] = [item for item in found.unchecked if item.rule == "totals"]
    assert (missing.item, missing.key) == (0, "preset")
    assert says in sentence(missing.because, System.METRIC)


def test_a_buoyancy_by_preset_never_says_that_it_was_weighed() -> None:
    """Only the mass was on a scale. A steel plate floats by its density, a jacket as its preset."""
    jacket = weight("jacket", preset="standard jacket", mass="3.1 kg")
    stage = weight("first_stage", preset="brass, DIN, 4 LP 2 HP", mass="0.66 kg")
    assert (jacket.mass.origin, stage.mass.origin) == ("weighed", "weighed")
    assert jacket.buoyancy.origin == "preset standard jacket"
    assert stage.buoyancy.origin == "weighed mass, density of preset brass, DIN, 4 LP 2 HP"
    assert jacket.buoyancy.value == pytest.approx(1.05)


def test_everything_is_the_sum_of_hoses_and_items() -> None:
    """The plate of the twinset was weighed: 2.61 kg."""
    text = config("twinset")
    found = assessed(text)
    known = [weight for weight in found.weights if weight is not None]
    assert len(known) == len(found.kit.items) == text.count("\n[[")
    assert found.everything.mass.value == pytest.approx(sum(weight.mass.value for weight in known))
    assert found.everything.buoyancy.value == pytest.approx(sum(weight.buoyancy.value for weight in known))
    lighter = assessed(text.replace("2.61 kg", "2.21 kg"))
    assert found.everything.mass.value - lighter.everything.mass.value == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("tag", "mass_source", "buoyancy_source"),
    [
        ("jacket", "make of jacket, standard jacket", "buoyancy of jacket, standard jacket"),
        ("standard jacket", "make of standard jacket", "buoyancy of standard jacket"),
    ],
)
def test_a_source_has_the_tag_and_the_preset_in_its_name(tag: str, mass_source: str, buoyancy_source: str) -> None:
    """The tag alone where it says as much."""
    found = assessed(f'{HEAD}{SALT}\n[[jacket]]\ntag = "{tag}"\npreset = "standard jacket"\n').weights[0]
    assert found is not None
    assert found.mass.components.keys() == {mass_source}
    assert buoyancy_source in found.buoyancy.components


def test_two_first_stages_of_one_preset_are_two_parts() -> None:
    """Each is heavy or light for itself, evenly within 0.175 kg.

    Two uniform deviations make a triangular one, 95 % of which lie within 2 less the root of 0.2 half-widths.
    """
    one = 'preset = "brass, DIN, 4 LP 2 HP"\n'
    text = f'{HEAD}[[first_stage]]\ntag = "left"\n{one}[[first_stage]]\ntag = "right"\n{one}'
    assert assessed(text).everything.mass.spread == pytest.approx((2 - sqrt(0.2)) * 0.175, rel=0.001)


# --- water ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("salinity_g_per_kg", "celsius", "density"),
    [
        (0.0, 5.0, 999.967),
        (35.16504, 5.0, 1027.675),
        (35.16504, 25.0, 1023.343),
    ],
)
def test_the_density_follows_from_salinity_and_temperature(
    salinity_g_per_kg: float, celsius: float, density: float
) -> None:
    """Check values of EOS-80, Unesco technical papers in marine science 44 (1983), p. 19: practical salinity 35.

    0.005 kg/m3 leaves room for the scale of temperature of 1968, in which they are given.
    """
    water = f'salinity = "{salinity_g_per_kg} g/kg"\ntemperature = "{celsius} °C"'
    found = kit("other", water).water.density
    assert found.value == pytest.approx(density, abs=0.005)
    assert found.spread == 0


def test_a_measured_density_beats_salinity_and_temperature() -> None:
    """As read off a hydrometer, to half a division."""
    found = kit("other", 'density = "1019 kg/m3"\nsalinity = "35 g/kg"').water.density
    assert (found.value, found.spread) == (1019, 0.5)
    assert "measured" in found.origin


@pytest.mark.parametrize(
    ("name", "low", "high"), [("fresh", 998, 1000.1), ("brackish", 1004, 1010), ("ocean", 1024, 1027)]
)
def test_waters_have_the_densities_divers_reckon_with(name: str, low: float, high: float) -> None:
    """Common practice, no source."""
    assert low < kit("other", f'water = "{name}"').water.density.value < high


def test_unsaid_water_is_the_ocean() -> None:
    """And its density is known to its salinity and temperature."""
    unsaid, ocean = kit("other", "").water, kit("other", 'water = "ocean"').water
    assert unsaid == ocean
    assert 1 < ocean.density.spread < 5


def test_the_doubt_about_the_water_is_common_to_all_items() -> None:
    """JCGM 100:2008, 5.2.2: one hydrometer, so its error works on the volume of everything at once."""
    text = f"{HEAD}{SALT}\n{hose_text(tag='one')}{hose_text(tag='other')}"
    found = assessed(text)
    hydrometer = "measured density of the water"
    one, both = (figure.buoyancy.components[hydrometer] for figure in (found.hoses[0].weight, found.all_hoses))
    assert both == pytest.approx(2 * one)
