"""The bent hose: against elliptic integrals, the differential equation, a handbook table and plain geometry."""

import math
from itertools import pairwise
from typing import Literal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk

from kitbuilder.physics.elastica import LARGEST_RATIO, Bend, bend, complete_elliptic_integrals, curve

from .published import Row, rows

Ends = Literal["clamped", "pinned"]
BOTH_ENDS: tuple[Ends, ...] = ("clamped", "pinned")

SPANS_M = st.floats(0.05, 3.0)
RATIOS = st.floats(1.001, LARGEST_RATIO - 0.001)


@pytest.mark.parametrize("modulus", [0.0, 1e-8, 0.1, 0.5, math.sqrt(0.5), 0.7739, 0.9089, 0.999, 1.0 - 1e-9])
def test_the_elliptic_integrals_are_those_of_the_reference_library(modulus: float) -> None:
    """Source: scipy.special, which takes the parameter m = k^2."""
    first, second = complete_elliptic_integrals(modulus)
    # Near 1 the parameter m itself is only known to its last digit, which K feels as eps / (1 - m).
    tolerance = 1e-15 + 2e-16 / (1.0 - modulus)
    assert first == pytest.approx(ellipk(modulus**2), rel=4 * tolerance)
    assert second == pytest.approx(ellipe(modulus**2), rel=4 * tolerance)


@pytest.mark.parametrize("row", rows("elastica_cantilever.tsv"), ids=lambda row: row["alpha_deg"])
def test_the_handbook_table_of_the_buckled_cantilever_comes_out(row: Row) -> None:
    """Source: Theory of elastic stability (1961), table 2-4, from memory; tolerance as the table's header says."""
    modulus = math.sin(math.radians(float(row["alpha_deg"])) / 2.0)
    first, second = complete_elliptic_integrals(modulus)
    assert (2.0 * first / math.pi) ** 2 == pytest.approx(float(row["load_ratio"]), abs=0.0015)
    assert 2.0 * second / first - 1.0 == pytest.approx(float(row["along"]), abs=0.0015)
    assert 2.0 * modulus / first == pytest.approx(float(row["across"]), abs=0.0015)


@pytest.mark.parametrize(
    "row",
    [row for row in rows("elastica_cantilever.tsv") if float(row["alpha_deg"]) <= 100],
    ids=lambda r: r["alpha_deg"],
)
def test_two_cantilevers_tip_to_tip_are_a_pinned_hose(row: Row) -> None:
    """Source: the same table. The tip's place along the line is printed to 0.001, so the height lies in a bracket."""
    half_span = float(row["along"])
    highest = bend(2.0, 2.0 * (half_span - 0.0015)).stand_off_m
    lowest = bend(2.0, 2.0 * (half_span + 0.0015)).stand_off_m
    assert lowest - 0.0015 < float(row["across"]) < highest + 0.0015
    assert highest - lowest < 0.03


@pytest.mark.parametrize("alpha_deg", [4.0, 20.0, 35.0, 60.0, 85.0, 101.0])
def test_a_pinned_hose_solves_the_equation_of_the_elastica(alpha_deg: float) -> None:
    """Source: theta'' = -sin(theta) integrated from a free end to the other, with scipy; none of our formulas."""
    length, span, height, tightest = _integrate(theta=math.radians(alpha_deg), curvature=0.0, until="curvature")
    found = bend(length, span)
    assert found.stand_off_m == pytest.approx(height, rel=1e-7)
    assert found.tightest_radius_pinned_m == pytest.approx(tightest, rel=1e-7)


@pytest.mark.parametrize("alpha_deg", [4.0, 20.0, 35.0, 60.0, 85.0, 101.0])
def test_a_clamped_hose_solves_the_equation_of_the_elastica(alpha_deg: float) -> None:
    """Source: the same equation, from an end held along the chord until the hose lies along the chord again."""
    curvature = 2.0 * math.sin(math.radians(alpha_deg) / 2.0)
    length, span, height, tightest = _integrate(theta=0.0, curvature=curvature, until="theta")
    found = bend(length, span)
    assert found.stand_off_m == pytest.approx(height, rel=1e-7)
    assert found.tightest_radius_clamped_m == pytest.approx(tightest, rel=1e-7)


@pytest.mark.parametrize("row", rows("elastica_stand_off.tsv"), ids=lambda row: row["length_over_span"])
def test_a_separate_calculation_gives_the_same_stand_off_and_radii(row: Row) -> None:
    """Source: the table beside this test, computed with another library; its last digits are rounded."""
    found = bend(float(row["length_over_span"]), 1.0)
    assert found.stand_off_m == pytest.approx(float(row["stand_off_over_span"]), abs=1e-8, rel=1e-7)
    assert found.tightest_radius_pinned_m == pytest.approx(float(row["radius_pinned_over_span"]), abs=1e-6)
    assert found.tightest_radius_clamped_m == pytest.approx(float(row["radius_clamped_over_span"]), abs=1e-6)


def test_five_centimetres_too_much_on_sixty_five_stand_off_eleven() -> None:
    """The number divers trip over: slack grows into stand-off as a square root.

    Source: a buckled beam is a sine wave of height (2 / pi) sqrt(slack span), good to 2 % at this slack.
    """
    sine_m = 2.0 / math.pi * math.sqrt(0.05 * 0.65)
    assert sine_m == pytest.approx(0.115, abs=0.001)
    assert bend(0.70, 0.65).stand_off_m == pytest.approx(sine_m, rel=0.02)


def test_a_hose_as_long_as_its_span_is_straight() -> None:
    """No slack, no stand-off, no bend; and it can be drawn."""
    straight = bend(0.61, 0.61)
    assert straight.stand_off_m == 0.0
    assert straight.tightest_radius_clamped_m == math.inf
    assert all(y == 0.0 for _, y in curve(straight, 5))


@given(span_m=SPANS_M, slack=st.floats(1e-12, 1e-4))
def test_a_hair_of_slack_loses_no_digits(span_m: float, slack: float) -> None:
    """Source: series for little slack, h = (2 / pi) sqrt(slack) (1 + 3 slack / 16) spans, from the sine wave."""
    length_m = span_m * (1.0 + slack)
    exact_slack = (length_m - span_m) / span_m
    assume(exact_slack > 0.0)
    sine_m = span_m * 2.0 / math.pi * math.sqrt(exact_slack) * (1.0 + 3.0 * exact_slack / 16.0)
    assert bend(length_m, span_m).stand_off_m == pytest.approx(sine_m, rel=1e-7)


@given(span_m=SPANS_M, ratio=RATIOS, more=st.floats(1.0001, 1.5))
def test_a_longer_hose_over_the_same_span_stands_off_further(span_m: float, ratio: float, more: float) -> None:
    """Plain experience with a ruler pressed between two hands."""
    assume(ratio * more <= LARGEST_RATIO)
    assert bend(span_m * ratio * more, span_m).stand_off_m > bend(span_m * ratio, span_m).stand_off_m


@given(span_m=SPANS_M, ratio=RATIOS, nearer=st.floats(0.6, 0.9999))
def test_ends_brought_together_stand_off_further_and_bend_tighter(span_m: float, ratio: float, nearer: float) -> None:
    """The same hose, a shorter span. Beyond five spans the stand-off would fall again: out of range."""
    assume(ratio / nearer <= LARGEST_RATIO)
    length_m = span_m * ratio
    far, near = bend(length_m, span_m), bend(length_m, span_m * nearer)
    assert near.stand_off_m > far.stand_off_m
    assert near.tightest_radius_clamped_m < far.tightest_radius_clamped_m
    assert near.tightest_radius_pinned_m < far.tightest_radius_pinned_m


@given(span_m=SPANS_M, ratio=RATIOS, scale=st.floats(0.01, 100.0))
def test_twice_the_size_is_twice_the_shape(span_m: float, ratio: float, scale: float) -> None:
    """Nothing in the shape has a size of its own."""
    small, large = bend(span_m * ratio, span_m), bend(span_m * ratio * scale, span_m * scale)
    assert large.stand_off_m == pytest.approx(scale * small.stand_off_m, rel=1e-9)
    assert large.tightest_radius_pinned_m == pytest.approx(scale * small.tightest_radius_pinned_m, rel=1e-9)


@given(span_m=SPANS_M, ratio=RATIOS)
def test_the_stand_off_lies_between_a_circular_arc_and_a_tent(span_m: float, ratio: float) -> None:
    """Source: geometry. Two straight legs reach furthest; an arc of a circle spreads its bend to the very ends."""
    found = bend(span_m * ratio, span_m)
    tent_m = math.sqrt((span_m * ratio) ** 2 - span_m**2) / 2.0
    assert _arc_height(span_m * ratio, span_m) < found.stand_off_m < tent_m


@given(span_m=SPANS_M, ratio=RATIOS)
def test_clamped_ends_bend_the_hose_more_than_free_ones(span_m: float, ratio: float) -> None:
    """And an arc of a circle, which bends the same everywhere, bends least where it bends most."""
    found = bend(span_m * ratio, span_m)
    assert found.tightest_radius_clamped_m < found.tightest_radius_pinned_m
    assert found.tightest_radius_pinned_m < _arc_radius(span_m * ratio, span_m)


@pytest.mark.parametrize("ends", BOTH_ENDS)
@pytest.mark.parametrize("ratio", [1.001, 1.08, 1.5, 2.2, 3.0])
def test_the_drawn_curve_has_the_length_span_height_and_radius_of_the_bend(ratio: float, ends: Ends) -> None:
    """Source: measured on the points, as on paper; a chord of a fine step misses the arc by its cube."""
    drawn = bend(0.73 * ratio, 0.73)
    points = curve(drawn, 4001, ends)
    steps = [math.dist(one, other) for one, other in pairwise(points)]
    tightest_m = drawn.tightest_radius_clamped_m if ends == "clamped" else drawn.tightest_radius_pinned_m
    assert points[0] == pytest.approx((0.0, 0.0), abs=1e-12)
    assert points[-1] == pytest.approx((drawn.span_m, 0.0), abs=1e-12)
    assert sum(steps) == pytest.approx(drawn.length_m, rel=1e-6)
    assert max(y for _, y in points) == pytest.approx(drawn.stand_off_m, rel=1e-9)
    assert max(steps) == pytest.approx(min(steps), rel=1e-5)
    assert min(_radius(*points[i - 1 : i + 2]) for i in range(1, 4000)) == pytest.approx(tightest_m, rel=1e-4)


@pytest.mark.parametrize("ratio", [1.01, 1.6, 2.9])
def test_the_ends_point_where_they_are_held(ratio: float) -> None:
    """Clamped ends along the chord; pinned ends at twice the arcsine of the modulus."""
    drawn = bend(ratio, 1.0)
    (x, y), (further_x, further_y) = curve(drawn, 20001, "clamped")[:2]
    assert abs(math.atan2(further_y - y, further_x - x)) < 2e-3
    (x, y), (further_x, further_y) = curve(drawn, 20001, "pinned")[:2]
    assert math.atan2(further_y - y, further_x - x) == pytest.approx(2.0 * math.asin(drawn.modulus), abs=2e-3)


@pytest.mark.parametrize("ends", BOTH_ENDS)
def test_the_curve_is_the_same_from_either_end(ends: Ends) -> None:
    """A mirror image about the middle, so that a route may be drawn from either end."""
    drawn = bend(0.9, 0.5)
    points = curve(drawn, 9, ends)
    for (x, y), (mirror_x, mirror_y) in zip(points, reversed(points), strict=True):
        assert (x, y) == pytest.approx((drawn.span_m - mirror_x, mirror_y), abs=1e-12)


@pytest.mark.parametrize(
    ("length_m", "span_m", "says"),
    [
        (0.59, 0.60, "does not reach"),
        (1.81, 0.60, "is a loop"),
        (0.60, 0.0, "above zero"),
        (0.60, -0.1, "above zero"),
        (math.nan, 0.6, "does not reach"),
        (0.6, math.nan, "above zero"),
    ],
)
def test_what_is_no_slack_hose_gives_a_sentence_instead_of_a_number(length_m: float, span_m: float, says: str) -> None:
    """Too short, a loop, or nonsense."""
    with pytest.raises(ValueError, match=says):
        bend(length_m, span_m)


@pytest.mark.parametrize("modulus", [-0.1, 1.0, math.nan])
def test_an_elliptic_integral_outside_its_range_is_refused(modulus: float) -> None:
    """K is infinite at 1."""
    with pytest.raises(ValueError, match="from 0 to below 1"):
        complete_elliptic_integrals(modulus)


def test_a_curve_needs_two_points_and_known_ends() -> None:
    """Ends come from a file one day, so the words are checked at run time too."""
    drawn = bend(1.1, 1.0)
    with pytest.raises(ValueError, match="2 points"):
        curve(drawn, 1)
    with pytest.raises(ValueError, match="pinned"):
        curve(drawn, 5, "glued")  # type: ignore[arg-type]


@pytest.mark.parametrize("ends", ["clamped", "pinned"])
def test_a_curve_of_two_points_is_the_two_ends(ends: Ends) -> None:
    """The fewest there may be."""
    [first, last] = curve(bend(1.1, 1.0), 2, ends)
    assert first == pytest.approx((0.0, 0.0), abs=1e-12)
    assert last == pytest.approx((1.0, 0.0), abs=1e-12)


def test_a_bend_cannot_be_changed() -> None:
    """It is kept and shared."""
    with pytest.raises(AttributeError):
        bend(1.1, 1.0).stand_off_m = 0.0  # type: ignore[misc]
    assert isinstance(bend(1.1, 1.0), Bend)


def _integrate(theta: float, curvature: float, until: str) -> tuple[float, float, float, float]:
    """Length, span, middle height and tightest radius of the elastica that starts so, in units of its own."""

    def slope(_: float, state: tuple[float, ...]) -> tuple[float, ...]:
        angle, bent, _x, _y = state
        return bent, -math.sin(angle), math.cos(angle), math.sin(angle)

    def end(_: float, state: tuple[float, ...]) -> float:
        return state[0 if until == "theta" else 1]

    end.direction = 1.0  # type: ignore[attr-defined]
    solution = solve_ivp(
        slope, (0.0, 12.0), (theta, curvature, 0.0, 0.0), "DOP853", None, True, end, rtol=1e-12, atol=1e-14
    )
    length = next(float(place) for place in solution.t_events[0] if place > 0.1)
    tightest = max(abs(float(solution.sol(length * part / 400)[1])) for part in range(401))
    return length, float(solution.sol(length)[2]), float(solution.sol(length / 2.0)[3]), 1.0 / tightest


def _arc_half_angle(length_m: float, span_m: float) -> float:
    return float(brentq(lambda half: length_m / span_m - half / math.sin(half), 1e-6, 3.1))


def _arc_radius(length_m: float, span_m: float) -> float:
    return length_m / (2.0 * _arc_half_angle(length_m, span_m))


def _arc_height(length_m: float, span_m: float) -> float:
    return _arc_radius(length_m, span_m) * (1.0 - math.cos(_arc_half_angle(length_m, span_m)))


def _radius(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Radius of the circle through three points."""
    twice_area = abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
    product = math.dist(a, b) * math.dist(b, c) * math.dist(c, a)
    return product / (2.0 * twice_area) if twice_area else math.inf
