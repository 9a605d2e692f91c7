"""Hoses laid over bodies by landmarks: laws that hold for every body and every route."""

from math import degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.fit.measures import Wearer, wearer_of
from kitbuilder.assess.fit.routed_hose import AT_REST, NEAR_THE_MIDDLE, RoutedHose, measure_route, point_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.resolved import LinkedFiles, resolve
from tests.assess.fit.bodies import STATURE_AND_MASS, body, percentile
from tests.assess.kits import kit_of
from tests.each import each

ROUTES = catalogue().routes
PLACED = [(route, layout) for route in ROUTES.values() for layout in route.layouts]
SEXES = ("male", "female")


def routed(name: str, wearer: Wearer, layout: str | None = None) -> RoutedHose:
    """A route over a body, in its first layout by default."""
    found = measure_route(ROUTES[name], layout or ROUTES[name].layouts[0], wearer)
    assert found is not None
    return found


def numbers(wearer: Wearer) -> dict[str, float]:
    """The measures of a body without a suit."""
    return {name: figure.value for name, figure in wearer.measures.items()} | {"suit": 0.0}


# --- laws -------------------------------------------------------------------------------------------------------------


@each("name", ROUTES)
@each("sex", SEXES)
def test_a_larger_body_never_needs_a_shorter_hose(name: str, sex: str) -> None:
    """From the 5th to the 50th to the 95th percentile of stature and mass, in every pose."""
    small, median, large = (routed(name, percentile(sex, which)) for which in (5, 50, 95))
    for less, more in ((small, median), (median, large)):
        for before, after in zip(less.needs, more.needs, strict=True):
            assert after.length.value >= before.length.value - 1e-9, (before.pose, before.length, after.length)


@given(
    sex=st.sampled_from(SEXES),
    name=st.sampled_from(sorted(ROUTES)),
    stature=st.floats(1.45, 2.0),
    taller=st.floats(0.0, 0.1),
    index=st.floats(19.0, 32.0),
)
def test_a_body_of_the_same_build_but_taller_never_needs_a_shorter_hose(
    sex: str, name: str, stature: float, taller: float, index: float
) -> None:
    """The same body mass index, a greater stature; to a tenth of a millimetre: some measures fall with stature."""
    short = routed(name, body(sex, stature, index * stature**2))
    tall = routed(name, body(sex, stature + taller, index * (stature + taller) ** 2))
    for before, after in zip(short.needs, tall.needs, strict=True):
        assert after.length.value >= before.length.value - 1e-4, before.pose


def test_left_and_right_of_a_body_are_the_same() -> None:
    """Each landmark of a side stands as far on the other side, as high and as far forward."""
    values = numbers(percentile("male", 50))
    pairs = [(name, name.replace("right", "left")) for name in catalogue().landmarks if "right" in name]
    assert len(pairs) > 20
    for right, left in pairs:
        at_right, at_left = (point_of(catalogue().landmarks[name], values) for name in (right, left))
        assert at_left == pytest.approx((-at_right[0], *at_right[1:])), right


@pytest.mark.parametrize(("route", "layout"), PLACED, ids=lambda value: getattr(value, "name", value))
def test_every_route_can_be_laid_and_its_knobs_and_free_span_worked_out(route, layout: str) -> None:
    """At rest first; its longest free stretch is no longer than itself; one more hold shortens it."""
    found = routed(route.name, percentile("female", 50), layout)
    assert found.rest.pose == AT_REST
    assert 0 < found.span_m <= found.rest.length.value + 1e-9
    assert 0.5 <= found.hold.share <= NEAR_THE_MIDDLE
    assert found.hold.landmark in route.path
    assert [knob.distance.value for knob in found.knobs] == sorted(knob.distance.value for knob in found.knobs)
    assert all(need.length.spread > 0 for need in found.needs)
    assert found.demanded.length.value == max(need.length.value for need in found.needs if need.is_asked)


# --- by hand ----------------------------------------------------------------------------------------------------------


def test_landmarks_lie_where_their_words_say() -> None:
    """Right is right, front is front, and the hip is below the shoulder."""
    values = numbers(percentile("male", 50))

    def at(name: str) -> tuple[float, float, float]:
        return point_of(catalogue().landmarks[name], values)

    assert at("right hip ring")[0] > 0 > at("left hip ring")[0]
    assert at("right hip ring")[2] < at("right ribs")[2] < at("right shoulder by the neck")[2]
    assert at("mid chest")[1] > 0 > at("behind the neck")[1]
    for name, landmark in catalogue().landmarks.items():
        right = point_of(landmark, values)[0]
        if name.startswith(("right ", "left ")) and "throat" not in name:
            assert (right > 0) == name.startswith("right "), name


def test_the_head_turned_away_asks_for_more_hose_the_further_it_turns() -> None:
    """A primary over the right shoulder: the mouth goes left, away from the shoulder it comes over."""
    stiff = routed("over the right shoulder", body("male", 1.755, 84.6, neck_turns="stiff"))
    free = routed("over the right shoulder", percentile("male", 50))
    of = {need.pose: need.length.value for need in free.needs}
    assert of["head left"] > of[AT_REST]
    assert of["head left"] > of["head right"]
    assert free.demanded.pose == "head left"
    assert stiff.demanded.length.value < free.demanded.length.value


@pytest.mark.parametrize("name", ["under the right arm and round the neck", "round the hip and behind the neck"])
def test_a_thick_suit_asks_for_more_hose(name: str) -> None:
    """The hose goes round what is worn, and the thickness of the foam is one more value that is not known well."""
    thin, thick = routed(name, percentile("male", 50)), routed(name, suited("7 mm"))
    assert thick.rest.length.value > thin.rest.length.value
    assert thick.rest.length.components.keys() - thin.rest.length.components.keys() == {"thickness of suit"}


def test_a_covered_neck_turns_less() -> None:
    """By 10 to 25 degrees."""
    bare, covered = percentile("male", 50), suited("7 mm", neck="covered")
    assert 10 <= degrees(bare.neck_turn.value - covered.neck_turn.value) <= 25


def suited(thickness: str, neck: str = "bare") -> Wearer:
    """A median man in a suit of foam."""
    text = f'''format = 1
name = "suited"
layout = "single"
neck = "{neck}"

[[suit]]
tag = "suit"
cut = "full suit"
thickness = "{thickness}"
'''
    stature, mass = STATURE_AND_MASS["male", 50]
    header = DiverHeader(format=1, holds="diver", name="somebody", sex="male", stature_m=stature, mass_kg=mass)
    return wearer_of(resolve(kit_of(text), LinkedFiles(diver=Diver(header, ()))))


# --- the longest free stretch, and one more hold ----------------------------------------------------------------------


def test_a_hose_is_free_between_what_holds_it() -> None:
    """The ends count as held; what the file says it is held at shortens the stretch."""
    route = ROUTES["under the right arm to the chest"]
    free = routed(route.name, percentile("male", 50))
    held = measure_route(route._replace(holds=("right ribs",)), "single", percentile("male", 50))
    assert free.span == (0, len(route.path) - 1)
    assert free.span_m == pytest.approx(free.rest.length.value)
    assert held is not None
    assert held.span == (0, 2)
    assert held.span_m == pytest.approx(sum(free.stretches[:2]))


def test_a_path_without_length_is_not_laid() -> None:
    """All its landmarks in one spot."""
    assert (
        measure_route(ROUTES["down to the left hip ring"]._replace(path=("left flank", "left flank")), "single", body())
        is None
    )
