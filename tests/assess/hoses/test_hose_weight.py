"""What a hose weighs and how it floats, worked by hand from the sizes of its body and its ends.

Every example takes water of a stated density, so that nothing but the hose is at work.
"""

from math import hypot, pi, sqrt
from pathlib import Path
from statistics import pstdev

import pytest

from kitbuilder.catalogue import catalogue
from tests.assess.kits import FRESH, SALT, assessed, hose_figures, lone_hose

pytestmark = pytest.mark.usefixtures("usual_values")

GRAM = 1e-3
MM = 1e-3
CM = 1e-2
BRASS = 8400
GAS = {"LP": 12.6, "HP": 231.6}
"""Air at 10.5 bar and at 200 bar [kg/m3]."""
ENVELOPE = 2.2 * CM
"""What one end takes of a length stated end to end."""
BOTH_ENDS = 2 * ENVELOPE


def circle(diameter_mm: float) -> float:
    """Area [m2]."""
    return pi / 4 * (diameter_mm * MM) ** 2


def test_a_rubber_primary_of_75_cm() -> None:
    """Body 12 mm over 6.4 mm at 105 g/m; ends of 28 g and 38 g; in water of 1025 kg/m3."""
    bare = 75 * CM - BOTH_ENDS
    assert bare == pytest.approx(70.6 * CM)
    mass = bare * 105 * GRAM + 28 * GRAM + 38 * GRAM  # 74.1 g of body, 66 g of ends
    displaced = (bare * circle(12) + 66 * GRAM / BRASS) * 1025  # 81.8 g by the body, 8.1 g by the ends
    gas = bare * circle(6.4) * GAS["LP"]  # 0.3 g

    weight = hose_figures(from_end="LP 3/8", to_end="second stage 9/16").weight
    assert weight.mass.value == pytest.approx(mass) == pytest.approx(140.1 * GRAM, abs=0.05 * GRAM)
    assert weight.buoyancy.value == pytest.approx(displaced - mass - gas)
    assert weight.buoyancy.value == pytest.approx(-50.5 * GRAM, abs=0.05 * GRAM)


def test_a_braided_gauge_hose_of_61_cm_in_fresh_water() -> None:
    """Body 7.6 mm over 3.2 mm at 42 g/m; ends of 34 g and 32 g; the gas inside weighs more than a gram."""
    bare = 61 * CM - BOTH_ENDS
    mass = bare * 42 * GRAM + 34 * GRAM + 32 * GRAM
    gas = bare * circle(3.2) * GAS["HP"]
    displaced = (bare * circle(7.6) + 66 * GRAM / BRASS) * 1000

    weight = hose_figures(FRESH, role="gauge", body="braided", length="61 cm").weight
    assert gas == pytest.approx(1.05 * GRAM, abs=0.01 * GRAM)
    assert weight.mass.value == pytest.approx(mass) == pytest.approx(89.8 * GRAM, abs=0.05 * GRAM)
    assert weight.buoyancy.value == pytest.approx(displaced - mass - gas)
    assert weight.buoyancy.value == pytest.approx(-57.3 * GRAM, abs=0.05 * GRAM)


@pytest.mark.parametrize(
    ("service", "body", "outside_mm", "bore_mm", "density", "grams_per_metre"),
    [
        ("LP", "rubber", 12.0, 6.4, 1300, 105),
        ("LP", "braided", 10.8, 6.4, 1080, 64),
        ("LP", "polyurethane", 10.8, 6.4, 1150, 68),
        ("HP", "rubber", 11.0, 4.0, 1300, 107),
        ("HP", "braided", 7.6, 3.2, 1120, 42),
        ("HP", "polyurethane", 8.0, 3.2, 1150, 49),
    ],
)
def test_the_mass_of_a_metre_is_its_ring_times_its_density(
    service: str, body: str, outside_mm: float, bore_mm: float, density: float, grams_per_metre: float
) -> None:
    """To half a gram, as the catalogue rounds. A metre more of hose weighs that much more."""
    ring = (circle(outside_mm) - circle(bore_mm)) * density
    assert ring == pytest.approx(grams_per_metre * GRAM, abs=0.5 * GRAM)
    role = {"LP": "primary", "HP": "gauge"}[service]
    short, long = (hose_figures(role=role, body=body, length=f"{length} cm").weight.mass for length in (50, 150))
    assert long.value - short.value == pytest.approx(grams_per_metre * GRAM)


def test_an_elbow_weighs_and_displaces_like_brass() -> None:
    """50 g more, of which the water carries 1025/8400, an eighth."""
    plain, bent = hose_figures().weight, hose_figures(to_adapter="elbow 90").weight
    assert bent.mass.value - plain.mass.value == pytest.approx(50 * GRAM)
    assert bent.buoyancy.value - plain.buoyancy.value == pytest.approx(-50 * GRAM * (1 - 1025 / 8400))


def test_a_length_stated_without_the_ends_is_longer_by_both() -> None:
    """75 cm of hose only is a hose of 79.4 cm end to end."""
    hose_only = hose_figures(length="75 cm", measured="hose only").weight
    end_to_end = hose_figures(length="79.4 cm", measured="end to end").weight
    assert hose_only.mass.value == pytest.approx(end_to_end.mass.value)
    assert hose_only.buoyancy.value == pytest.approx(end_to_end.buoyancy.value)


def test_ends_not_named_are_those_usual_for_the_role() -> None:
    """A wing inflator has LP 3/8 and the standard nipple coupling, which weighs 42 g."""
    unnamed = hose_figures(role="wing inflator").weight
    named = hose_figures(role="wing inflator", from_end="LP 3/8", to_end="standard nipple coupling").weight
    assert unnamed == named
    assert unnamed.mass.value == pytest.approx((75 * CM - BOTH_ENDS) * 105 * GRAM + (28 + 42) * GRAM)


# --- spread -----------------------------------------------------------------------------------------------------------


def between(low: float, value: float, high: float) -> float:
    """1.96 standard deviations of what lies evenly on each side of a value, by many such."""
    parts = [(number + 0.5) / 2000 for number in range(2000)]
    return 1.959964 * pstdev([value + part * (end - value) for end in (low, high) for part in parts])


def test_the_spread_of_a_mass_by_hand() -> None:
    """Independent sources combine by root sum of squares: JCGM 100:2008, 5.1.2."""
    bare = 70.6 * CM
    stated_length = 1 * CM * 105 * GRAM
    length_of_an_end = between(1.5, 2.2, 3.0) * CM * 105 * GRAM
    diameter = bare * between(82, 105, 125) * GRAM
    density = bare * (circle(12) - circle(6.4)) * between(1200, 1300, 1400)
    ends = (between(21, 28, 36) * GRAM, between(28, 38, 49) * GRAM)
    by_hand = hypot(stated_length, length_of_an_end, length_of_an_end, diameter, density, *ends)
    assert hose_figures().weight.mass.combined == pytest.approx(by_hand, rel=1e-4)
    assert by_hand == pytest.approx(23.52 * GRAM, abs=0.01 * GRAM)


def test_the_spread_of_a_buoyancy_by_hand() -> None:
    """A thicker body is heavier and displaces more, so the doubt about its diameter mostly cancels."""
    bare = 70.6 * CM
    per_metre_floats = circle(12) * 1025 - 105 * GRAM
    stated_length = 1 * CM * per_metre_floats
    length_of_an_end = between(1.5, 2.2, 3.0) * CM * per_metre_floats
    thicker = 2 * between(11, 12, 12.8) / 12  # of the area of the circle, in parts
    diameter = bare * (circle(12) * thicker * 1025 - between(82, 105, 125) * GRAM)
    density = bare * (circle(12) - circle(6.4)) * between(1200, 1300, 1400)
    ends = tuple(end * GRAM * (1 - 1025 / 8400) for end in (between(21, 28, 36), between(28, 38, 49)))
    gas = bare * circle(6.4) * between(10.8, 12.6, 18.1)
    water = 0.5 * (bare * circle(12) + 66 * GRAM / BRASS)  # a hydrometer is read to half a division
    by_hand = hypot(stated_length, length_of_an_end, length_of_an_end, diameter, density, *ends, gas, water)
    assert hose_figures().weight.buoyancy.combined == pytest.approx(by_hand, rel=1e-4)


def test_a_length_stated_without_the_ends_knows_its_body_better() -> None:
    """The length of the ends is then no part of the doubt about the mass."""
    components = hose_figures(measured="hose only").weight.mass.components
    assert not any("length of the end" in source for source in components)
    assert any("length of the end" in source for source in hose_figures().weight.mass.components)


# --- weighed ----------------------------------------------------------------------------------------------------------


def test_a_weighed_mass_beats_the_computed_one() -> None:
    """131 g on a kitchen scale, ± 2 g; what it displaces stays as computed."""
    computed, weighed = hose_figures().weight, hose_figures(mass="131 g").weight
    assert weighed.mass.value == pytest.approx(131 * GRAM)
    assert weighed.mass.combined == pytest.approx(hypot(2, 1.959964 / sqrt(3) * 0.5) * GRAM)  # and half of the digit
    assert weighed.mass.spread < computed.mass.spread / 5
    assert weighed.mass.origin == "weighed"
    assert weighed.buoyancy.origin == "mass weighed; volume computed from rubber and both ends"
    assert computed.buoyancy.origin == "computed from rubber and both ends"
    change = weighed.buoyancy.value - computed.buoyancy.value
    assert change == pytest.approx(computed.mass.value - 131 * GRAM)


def test_an_adapter_is_not_weighed_with_the_hose() -> None:
    """The hose is weighed with both ends; the elbow of 50 g, 30 to 80 g, comes on top."""
    mass = hose_figures(mass="131 g", to_adapter="elbow 90").weight.mass
    assert mass.value == pytest.approx(181 * GRAM)
    assert mass.combined == pytest.approx(hypot(2, 0.566, between(30, 50, 80)) * GRAM, rel=1e-4)


def test_a_weighed_hose_keeps_the_difference_between_the_bodies() -> None:
    """Weighed 9.1 g lighter than computed, it would be 9.1 g lighter with another body too."""
    computed, weighed = assessed(lone_hose()).if_all, assessed(lone_hose(mass="131 g")).if_all
    assert weighed["rubber"].mass.value == pytest.approx(131 * GRAM)
    assert computed["rubber"].mass.value == pytest.approx(140.1 * GRAM, abs=0.05 * GRAM)
    lighter = computed["rubber"].mass.value - 131 * GRAM
    for body in ("braided", "polyurethane"):
        assert weighed[body].mass.value == pytest.approx(computed[body].mass.value - lighter)
        assert weighed[body].buoyancy.value == pytest.approx(computed[body].buoyancy.value + lighter)
        assert weighed[body].mass.spread > weighed["rubber"].mass.spread


def test_a_hose_weighed_lighter_than_any_is_still_compared() -> None:
    """A slip of the scale must not make another body weigh less than nothing."""
    assessment = assessed(lone_hose(mass="14 g"))
    assert assessment.if_all["rubber"].mass.value == pytest.approx(14 * GRAM)
    assert assessment.if_all["braided"].mass.value > 50 * GRAM


# --- against a separate calculation -----------------------------------------------------------------------------------

TABLE = (Path(__file__).parent / "hose_whole.tsv").read_text(encoding="utf-8").splitlines()
ROWS = [row.split("\t") for row in TABLE if row and not row.startswith(("#", "hose\t"))]
ROLES = {"second stage/octopus": "alternate", "long": "long hose", "inflator": "wing inflator"}


@pytest.mark.parametrize(("hose", "cm", "body", "dry", "salt", "fresh", "label"), ROWS, ids=lambda cell: str(cell))
def test_the_separate_table_agrees(hose: str, cm: str, body: str, dry: str, salt: str, fresh: str, label: str) -> None:
    """The table has 4.4 cm more of body in every hose and no gas; with both put back, only rounding is left.

    Rounding: half a gram of the table, and half a gram a metre of the catalogue's mass of a metre.
    """
    assert label == "derived"
    role = ROLES.get(hose, hose)
    trade_body = catalogue().bodies["HP" if role == "gauge" else "LP", body]
    rounding = (0.5 + 0.5 * float(cm) * CM) * GRAM
    left_out = BOTH_ENDS * trade_body.mass_per_length.value
    for water, density, buoyancy in ((SALT, 1025, salt), (FRESH, 1000, fresh)):
        weight = hose_figures(water, role=role, body=body, length=f"{cm} cm").weight
        assert weight.mass.value + left_out == pytest.approx(float(dry) * GRAM, abs=rounding)
        inside = (float(cm) * CM - BOTH_ENDS) * circle(trade_body.bore.value / MM)
        gas = inside * GAS[trade_body.service]
        more_body = BOTH_ENDS * (circle(trade_body.outside_diameter.value / MM) * density) - left_out
        corrected = weight.buoyancy.value + gas + more_body
        assert corrected == pytest.approx(float(buoyancy) * GRAM, abs=rounding)
