"""What holds for every hose, whatever its length, body and water."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import Weight
from kitbuilder.assess.fit.hose_figures import BODIES
from kitbuilder.assess.hoses.hose_weight import weigh_hose
from kitbuilder.assess.hoses.joints import with_ends
from kitbuilder.assess.water import Water, assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Header, Hose, Kit
from kitbuilder.kit.resolved import resolve

pytestmark = pytest.mark.usefixtures("usual_values")

ROLES = ("primary", "long hose", "wing inflator", "drysuit", "gauge", "transmitter", "other LP", "other HP")
ADAPTERS = (None, "elbow 90", "swivel", "adapter 1/2 to 3/8")
LENGTHS = st.floats(0.05, 5.0)
DENSITIES = st.floats(990, 1250)
HOSES = st.builds(
    Hose,
    tag=st.just("hose"),
    role=st.sampled_from(ROLES),
    body=st.sampled_from(BODIES),
    length_m=LENGTHS,
    measured=st.sampled_from((None, "end to end", "hose only")),
    from_adapter=st.sampled_from(ADAPTERS),
    to_adapter=st.sampled_from(ADAPTERS),
)


def header(density: float = 1025) -> Header:
    return Header(format=1, name="an example", layout="single", density_kg_m3=density)


def water(density: float = 1025) -> Water:
    return assess_water(header(density))


def weigh(hose: Hose, density: float = 1025, body: str | None = None) -> Weight:
    return weigh_hose(hose, body or hose.body, water(density))


def hose(role: str, body: str, length: float, tag: str = "hose") -> Hose:
    return Hose(tag=tag, role=role, body=body, length_m=length)


@given(role=st.sampled_from(ROLES), body=st.sampled_from(BODIES), lengths=st.tuples(LENGTHS, LENGTHS))
def test_mass_grows_with_length(role: str, body: str, lengths: tuple[float, float]) -> None:
    """And so does the water it displaces."""
    short, long = sorted(lengths)
    assume(long - short > 1e-3)
    light, heavy = (weigh(hose(role, body, length)) for length in (short, long))
    assert light.mass.value < heavy.mass.value
    assert light.mass.value + light.buoyancy.value < heavy.mass.value + heavy.buoyancy.value


@given(role=st.sampled_from(ROLES), body=st.sampled_from(BODIES), lengths=st.tuples(LENGTHS, LENGTHS))
def test_buoyancy_goes_one_way_with_length(role: str, body: str, lengths: tuple[float, float]) -> None:
    """A longer hose floats more if a metre of its body and gas is lighter than the water it displaces (Archimedes)."""
    short, long = sorted(lengths)
    assume(long - short > 1e-3)
    change = weigh(hose(role, body, long)).buoyancy.value - weigh(hose(role, body, short)).buoyancy.value
    made_of = catalogue().bodies[catalogue().roles[role].service, body]
    gas = catalogue().gas_density[made_of.service].value * pi / 4 * made_of.bore.value**2
    displaced = 1025 * pi / 4 * made_of.outside_diameter.value**2
    assert (change < 0) == (made_of.mass_per_length.value + gas > displaced)


@given(any_hose=HOSES, densities=st.tuples(DENSITIES, DENSITIES))
def test_the_water_works_on_the_volume_only(any_hose: Hose, densities: tuple[float, float]) -> None:
    """Displaced volume times density: twice the change of density, twice the change of buoyancy."""
    thin, thick = sorted(densities)
    assume(thick - thin > 1)
    middle = (thin + thick) / 2
    low, half, high = (weigh(any_hose, density) for density in (thin, middle, thick))
    assert low.mass.value == half.mass.value == high.mass.value
    assert high.buoyancy.value - half.buoyancy.value == pytest.approx(half.buoyancy.value - low.buoyancy.value)
    volume = (high.buoyancy.value - low.buoyancy.value) / (thick - thin)
    body = catalogue().bodies[catalogue().roles[any_hose.role].service, any_hose.body]
    gas = catalogue().gas_density[body.service].value
    bare = any_hose.length_m - (0 if any_hose.measured == "hose only" else 0.044)
    inside = pi / 4 * body.bore.value**2 * bare
    assert high.buoyancy.value == pytest.approx(volume * thick - high.mass.value - gas * inside)


@given(any_hose=HOSES)
def test_braided_for_rubber_never_makes_a_hose_heavier(any_hose: Hose) -> None:
    """Nor makes it sink more."""
    rubber, braided = weigh(any_hose, body="rubber"), weigh(any_hose, body="braided")
    assert braided.mass.value <= rubber.mass.value
    assert braided.buoyancy.value >= rubber.buoyancy.value


@given(any_hose=HOSES)
def test_every_figure_has_a_spread_and_an_origin(any_hose: Hose) -> None:
    """No hose is known exactly until it is weighed."""
    weight = weigh(any_hose)
    for figure in (weight.mass, weight.buoyancy):
        assert figure.spread > 0.005
        assert figure.origin


@given(any_hose=HOSES, kilograms=st.floats(0.01, 2.99))
def test_weighing_always_narrows_the_mass(any_hose: Hose, kilograms: float) -> None:
    """To what the scale leaves open, and the adapters that were not on it; on a kitchen scale."""
    assert weigh(replace(any_hose, mass_kg=kilograms)).mass.spread < weigh(any_hose).mass.spread


# --- totals -----------------------------------------------------------------------------------------------------------

SEVERAL = st.lists(HOSES, min_size=1, max_size=6).map(
    lambda hoses: tuple(replace(one, tag=f"hose {number}") for number, one in enumerate(hoses))
)


@given(hoses=SEVERAL, data=st.data())
def test_totals_are_sums_whatever_the_order(hoses: tuple[Hose, ...], data: st.DataObject) -> None:
    """Of the hoses as they are and of all hoses in one body."""
    found = assess(resolve(Kit(header(), hoses)))
    again = assess(resolve(Kit(header(), tuple(data.draw(st.permutations(hoses))))))
    weights = [weigh(with_ends(one, {})) for one in hoses]
    assert found.all_hoses.mass.value == pytest.approx(sum(weight.mass.value for weight in weights))
    assert found.all_hoses.buoyancy.value == pytest.approx(sum(weight.buoyancy.value for weight in weights))
    for one, other in (
        (found.all_hoses, again.all_hoses),
        (found.everything, again.everything),
        *((found.if_all[body], again.if_all[body]) for body in BODIES),
        *((found.by_body[body], again.by_body[body]) for body in found.by_body),
    ):
        assert one.mass.value == pytest.approx(other.mass.value)
        assert one.mass.spread == pytest.approx(other.mass.spread)
        assert one.buoyancy.value == pytest.approx(other.buoyancy.value, abs=1e-12)
        assert one.buoyancy.spread == pytest.approx(other.buoyancy.spread)


@given(hoses=SEVERAL)
def test_the_bodies_make_up_the_whole(hoses: tuple[Hose, ...]) -> None:
    """What is rubber, braided and polyurethane is all there is."""
    found = assess(resolve(Kit(header(), hoses)))
    assert found.by_body.keys() == {one.body for one in hoses}
    parts = sum(weight.mass.value for weight in found.by_body.values())
    assert parts == pytest.approx(found.all_hoses.mass.value)


def test_two_hoses_of_one_body_share_the_doubt_about_it() -> None:
    """JCGM 100:2008, 5.2.2: the mass per metre is off in both by the same share; the stated lengths are not.

    Two rubber hoses of 75 cm have 141.2 cm of body between the ends, of 82 to 105 to 125 g/m: the root of
    (23^2 + 20^2)/6 - (3/4)^2 is a deviation of 12.42 g/m.
    """
    pair = (hose("primary", "rubber", 0.75, "one"), hose("primary", "rubber", 0.75, "other"))
    components = assess(resolve(Kit(header(), pair))).all_hoses.mass.components
    assert components["outside diameter of LP rubber hose"] == pytest.approx(1.412 * 1.959964 * 12.42e-3, rel=1e-3)
    assert components["stated length of one"] == components["stated length of other"] == pytest.approx(0.01 * 0.105)


def test_hoses_of_different_bodies_know_nothing_of_each_other() -> None:
    """JCGM 100:2008, 5.1.2: the spreads of a rubber LP and a braided HP hose combine by root sum of squares."""
    pair = (hose("primary", "rubber", 0.75, "one"), hose("gauge", "braided", 0.61, "other"))
    apart = [weigh(one).mass.combined for one in pair]
    assert assess(resolve(Kit(header(), pair))).all_hoses.mass.combined == pytest.approx(
        (apart[0] ** 2 + apart[1] ** 2) ** 0.5
    )
