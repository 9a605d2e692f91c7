"""Trim: points of force turned by brute force, and cases that every diver knows."""

import cmath
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.physics.trim import is_steady, moment, rest_pitch, shift_to_level

Point = tuple[float, float, float]
"""Force [kgf], place towards the feet, place towards the back [m]."""
POINTS = st.lists(st.tuples(st.floats(-20.0, 20.0), st.floats(-1.0, 1.0), st.floats(-0.3, 0.3)), min_size=2, max_size=8)
MOMENTS = st.floats(-20.0, 20.0).filter(lambda value: abs(value) > 0.01)


def neutral(points: list[Point]) -> list[Point]:
    """Add an item at the origin that makes the forces add up to zero."""
    return [*points, (-math.fsum(force for force, _, _ in points), 0.0, 0.0)]


def moments(points: list[Point]) -> tuple[float, float]:
    forces = [force for force, _, _ in points]
    return moment(forces, [along for _, along, _ in points]), moment(forces, [behind for _, _, behind in points])


def turned(points: list[Point], pitch_rad: float) -> list[tuple[float, complex]]:
    """Turn every point: real part towards the feet, imaginary part up. Head up turns the feet down, clockwise."""
    return [(force, complex(along, behind) * cmath.exp(-1j * pitch_rad)) for force, along, behind in points]


def lifts_feet(points: list[Point], pitch_rad: float) -> float:
    return math.fsum(force * place.real for force, place in turned(points, pitch_rad))


@given(points=POINTS)
def test_at_rest_nothing_turns_and_nearer_to_level_something_does(points: list[Point]) -> None:
    """Source: rotation of every single point, no formula of the module."""
    points = neutral(points)
    along, behind = moments(points)
    assume(math.hypot(along, behind) > 0.01)
    rest = rest_pitch(along, behind)
    assert abs(rest) <= math.pi / 2.0
    assert lifts_feet(points, rest) == pytest.approx(0.0, abs=1e-9)
    nearer = [lifts_feet(points, rest * step / 20.0) for step in range(20)]
    assert abs(rest) < 1e-9 or all(value > 0.0 for value in nearer) or all(value < 0.0 for value in nearer)


@given(points=POINTS)
def test_a_steady_rest_pushes_back_when_nudged_and_has_its_floats_on_top(points: list[Point]) -> None:
    """Source: rotation of every single point: with the head too high the feet are lifted, with it too low the head."""
    points = neutral(points)
    along, behind = moments(points)
    assume(abs(behind) > 0.01)
    rest = rest_pitch(along, behind)
    pushes_back = lifts_feet(points, rest + 0.01) > 0.0 > lifts_feet(points, rest - 0.01)
    turns_over = lifts_feet(points, rest + 0.01) < 0.0 < lifts_feet(points, rest - 0.01)
    assert pushes_back != turns_over
    assert is_steady(along, behind) == pushes_back
    height_of_floats = math.fsum(force * place.imag for force, place in turned(points, rest))
    assert is_steady(along, behind) == (height_of_floats > 0.0)


@given(points=POINTS, weight_kgf=st.floats(0.5, 10.0), place_m=st.floats(-1.0, 1.0))
def test_the_weight_moved_as_advised_leaves_the_diver_level(
    points: list[Point], weight_kgf: float, place_m: float
) -> None:
    """Source: the moment taken again with the weight in its new place; the head is where x is small."""
    along, _ = moments(neutral([*points, (-weight_kgf, place_m, 0.0)]))
    moved_m = place_m - shift_to_level(along, weight_kgf)
    level, _ = moments(neutral([*points, (-weight_kgf, moved_m, 0.0)]))
    assert level == pytest.approx(0.0, abs=1e-9)


@given(along=MOMENTS, behind=MOMENTS)
def test_head_up_and_head_down_mirror_each_other(along: float, behind: float) -> None:
    """A diver seen in a mirror at the hip."""
    assert rest_pitch(-along, behind) == pytest.approx(-rest_pitch(along, behind), abs=1e-12)
    assert is_steady(-along, behind) == is_steady(along, behind)


def test_floats_at_the_feet_put_the_head_down_and_call_the_lead_to_the_feet() -> None:
    """By hand: 1 kgf of floating boots 1 m behind a belt that hangs 0.1 m below them: head down by 84 degrees."""
    forces_kgf = [1.0, -1.0]
    along, behind = moment(forces_kgf, [1.0, 0.0]), moment(forces_kgf, [0.0, -0.1])
    assert (along, behind) == (1.0, pytest.approx(0.1))
    assert math.degrees(rest_pitch(along, behind)) == pytest.approx(-84.3, abs=0.05)
    assert is_steady(along, behind)
    assert shift_to_level(along, 4.0) == -0.25


def test_lungs_over_a_belt_put_the_head_up() -> None:
    """By hand: 4 kgf of lungs 0.3 m nearer the head than 4 kgf of lead, at one height: upright, and it holds."""
    along = moment([4.0, -4.0], [-0.3, 0.0])
    assert rest_pitch(along, 0.0) == math.pi / 2.0
    assert is_steady(along, 0.0)
    assert not is_steady(-along, 0.0)


@pytest.mark.parametrize(
    ("behind_kgf_m", "steady"), [(0.5, True), (-0.5, False), (0.0, False)], ids=["floats up", "floats down", "nothing"]
)
def test_level_with_nothing_along(behind_kgf_m: float, steady: bool) -> None:
    """A jacket at the back holds; a cylinder at the back turns the diver over; nothing at all rests anyhow."""
    assert rest_pitch(0.0, behind_kgf_m) == 0.0
    assert is_steady(0.0, behind_kgf_m) == steady


def test_what_is_not_a_force_or_an_arm_is_refused() -> None:
    """A list cut short, a number that is none, a weight that floats."""
    with pytest.raises(ValueError, match="one arm"):
        moment([1.0, 2.0], [1.0])
    for unsound in (math.nan, math.inf):
        with pytest.raises(ValueError, match="finite"):
            moment([1.0], [unsound])
        with pytest.raises(ValueError, match="finite"):
            rest_pitch(unsound, 1.0)
        with pytest.raises(ValueError, match="finite"):
            is_steady(1.0, unsound)
    with pytest.raises(ValueError, match="more than zero"):
        shift_to_level(1.0, -2.0)
