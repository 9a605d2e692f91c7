"""Whether a hose reaches another diver's mouth: both bodies laid out by landmarks."""

from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.partner_reach import (
    FACE_TO_FACE,
    IN_FILE,
    PARTNER,
    SIDE_BY_SIDE,
    partner_reaches,
    side_of_hand_over,
)
from kitbuilder.assess.fit.routed_hose import measure_route, point_of, values_of
from kitbuilder.assess.hoses.hose_weight import reach
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from tests.assess.fit.bodies import body, percentile
from tests.assess.kits import hose_figures, shipped
from tests.each import each
from tests.laws import tried

GIVEN = {name: route for name, route in catalogue().routes.items() if route.given}


def needed(name: str, giver: Wearer, receiver: Wearer) -> dict[str, float]:
    """The length that a route needs in each position, read off what a hose of two metres leaves."""
    route = GIVEN[name]
    routed = measure_route(route, route.layouts[0], giver)
    assert routed is not None
    hose = hose_figures(role=route.roles[0], length="200 cm").hose
    return {each.position: each.test.needed.value for each in partner_reaches(hose, routed, giver, receiver)}


MEN = [percentile("male", which) for which in (5, 50, 95)]


@each("name", GIVEN)
def test_two_divers_of_one_body_need_what_the_check_of_one_kit_asks(name: str) -> None:
    """Landmark check: the poses with a partner, which have the giver's own body for the other, come out the same."""
    route, man = GIVEN[name], percentile("male", 50)
    routed = measure_route(route, route.layouts[0], man)
    assert routed is not None
    asked = {need.pose: need.length.value for need in routed.needs}
    found = needed(name, man, man)
    for pose, position in (("deployed in full", IN_FILE), ("partner close by", FACE_TO_FACE)):
        if pose in asked:
            assert found[position] == pytest.approx(asked[pose], abs=1e-9)


def test_both_poses_are_compared_with_one_kit() -> None:
    poses = {reach.pose for route in GIVEN.values() for reach in route.reaches}
    assert {"deployed in full", "partner close by"} <= poses


def test_a_shipped_octopus_reaches_face_to_face_as_its_own_check_says() -> None:
    """By string: the fit of the kit has the same margin, with the same spread."""
    kit = shipped("warm-single")
    octopus = next(figures for figures in kit.hoses if figures.hose.tag == "octopus hose")
    assert octopus.routed is not None
    assert octopus.fit is not None
    own = next(test for test in octopus.fit.present.tests if test.pose == "partner close by")
    close = partner_reaches(octopus.hose, octopus.routed, kit.wearer, kit.wearer)[0].test
    assert close.pose == FACE_TO_FACE
    assert close.margin.value == pytest.approx(own.margin.value, abs=1e-9)
    assert close.margin.spread == pytest.approx(own.margin.spread, rel=1e-6)


def test_side_by_side_by_hand() -> None:
    """A sidemount hose from the right port straight to the other's mouth: shoulder to shoulder, and the room between.

    Each body's half of the breadth of the shoulders and the room of the catalogue to the right, and from there to where
    the hose enters the second stage; pulled tight, 2 % more.
    """
    giver, receiver = percentile("male", 95), percentile("female", 5)
    mine, hers = values_of(giver), values_of(receiver)
    port = point_of(catalogue().landmarks["front port of the right side valve"], mine)
    right, forward, up = point_of(catalogue().landmarks["mouth from the right"], hers)
    gap = catalogue().limits["partner_beside"].expected
    mouth = (mine["shoulder breadth"] / 2 + gap + hers["shoulder breadth"] / 2 + right, forward, up)
    found = needed("from the right cylinder round the neck", giver, receiver)[SIDE_BY_SIDE]
    assert found == pytest.approx(1.02 * dist(port, mouth), abs=1e-9)


@each("name", GIVEN)
def test_in_file_a_taller_partner_is_further_away(name: str) -> None:
    """From mouth to ankles, 85.15 % of the stature, it is the partner's body; the mouth also lies further ahead.

    No more than the mouth moves, and 2 % for a pulled hose; most of it, since the hose runs along the bodies.
    """
    short, giver, tall = MEN
    ahead = catalogue().landmarks["mouth of a partner ahead"]
    forward = [point_of(ahead, values_of(each))[1] for each in (short, tall)]
    moved = hypot(0.8515 * (1.870 - 1.648), forward[1] - forward[0])
    further = needed(name, giver, tall)[IN_FILE] - needed(name, giver, short)[IN_FILE]
    assert 0.9 * moved < further < 1.02 * moved + 1e-9


@given(
    name=st.sampled_from(sorted(GIVEN)),
    giver=st.floats(1.5, 1.95),
    receiver=st.floats(1.5, 1.95),
    sexes=st.tuples(st.sampled_from(["male", "female"]), st.sampled_from(["male", "female"])),
)
@tried(15)
def test_what_both_bodies_leave_open_widens_the_reach(
    name: str, giver: float, receiver: float, sexes: tuple[str, str]
) -> None:
    """The unknowns of the two bodies are independent, and those of the giver never stand for the receiver's."""
    one, other = body(sexes[0], giver, 23 * giver**2), body(sexes[1], receiver, 23 * receiver**2)
    route = GIVEN[name]
    routed = measure_route(route, route.layouts[0], one)
    assert routed is not None
    hose = hose_figures(role=route.roles[0], length="210 cm").hose
    covers = reach(hose)
    for found in partner_reaches(hose, routed, one, other):
        test = found.test
        assert test.margin.value == pytest.approx(covers.value - test.needed.value, abs=1e-9)
        sources = {source for source, share in test.needed.components.items() if abs(share) > 1e-9}
        assert any(source.startswith(PARTNER) for source in sources) == (found.position != FACE_TO_FACE)


def test_the_hose_comes_from_the_side_that_it_leaves() -> None:
    man = percentile("male", 50)
    sides = {name: side_of_hand_over(route, man) for name, route in GIVEN.items()}
    assert sides["under the right arm to the chest"] == "right"
    assert sides["from the left cylinder round the neck"] == "left"
    assert sides["stage behind the neck"] == "left"


def test_a_route_that_nobody_hands_over_says_nothing() -> None:
    man = percentile("male", 50)
    routed = measure_route(catalogue().routes["down to the left hip ring"], "single", man)
    assert routed is not None
    assert partner_reaches(Hose(tag="gauge hose", role="gauge", body="rubber", length_m=0.8), routed, man, man) == ()
