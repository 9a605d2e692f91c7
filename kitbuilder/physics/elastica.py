"""The shape of a hose bent in a plane between two points nearer than its length: the elastica.

A springy line of given length between two points takes one shape, whatever its stiffness: weight in water, gas
pressure and stiffness set the force on the ends, not the shape. So a stiff hose and a soft one of the same length
stand off equally far.

Limits. Left out are the set a hose keeps from how it was stored or routed (its memory), gravity (a hose is nearly
weightless in water, not in air), twist, friction, anything the hose leans on, and a route that leaves the plane. Both
ends lie on one line, the chord; they either turn freely (pinned) or leave along the chord (clamped). A fitting that
points elsewhere gives another shape. Rigid fittings inside the span bend the hose between them more tightly than given
here, and a route round the body is taken as if it were straight. Beyond `LARGEST_RATIO` a hose is a loop, not slack,
and no figure is given.
"""

import math
from functools import lru_cache
from typing import Literal, NamedTuple

LARGEST_RATIO = 3.0
"""Greatest length over span for which the shape is given."""

NEWTON_STEPS = 3
"""The starting value is within 3 % over the whole range; three steps bring that to the last digit of a float."""

MEAN_TOLERANCE = 1e-9
"""The next mean after this is exact: its error is the square of the last difference."""


class Bend(NamedTuple):
    """The elastica of one length over one span.

    Source: A treatise on the mathematical theory of elasticity, 4th ed., 262 to 263 (the elastica with inflexions).
    """

    length_m: float
    """Length of the hose between the two points [m]."""
    span_m: float
    """Straight distance between the two points [m]."""
    stand_off_m: float
    """Height of the middle over the chord, the same for pinned and clamped ends [m]."""
    tightest_radius_pinned_m: float
    """Radius of the middle line where it bends most, ends free to turn [m]; infinite for a straight hose."""
    tightest_radius_clamped_m: float
    """The same with the ends held along the chord [m]: half as large."""
    modulus: float
    """Modulus of the elliptic integrals: sine of half the angle between hose and chord at the inflexions [1]."""


def complete_elliptic_integrals(modulus_k: float) -> tuple[float, float]:
    """Give the complete elliptic integrals of the first and second kind, K and E.

    Args:
        modulus_k: the modulus k (not the parameter m = k^2), 0 or more and below 1 [1].

    Returns:
        K and E [1].

    Raises:
        ValueError: the modulus lies outside 0 <= k < 1.

    Valid: 0 <= k < 1; K is infinite at 1.

    Source: Handbook of mathematical functions (1964), 17.6.1 to 17.6.4, arithmetic-geometric mean.
    """
    if not 0.0 <= modulus_k < 1.0:
        raise ValueError(f"the modulus of an elliptic integral lies from 0 to below 1, not {modulus_k}")
    first, shortfall = _first_integral(_means(modulus_k))
    return first, first * (1.0 - shortfall)


def bend(length_m: float, span_m: float) -> Bend:
    """Give how far a hose stands off the straight line between its ends, and how tightly it bends.

    With K and E of the modulus k: span / length = (2 E - K) / K, stand-off = length k / K, tightest radius
    length / (4 k K) with pinned ends and length / (8 k K) with clamped ones.

    Args:
        length_m: length of the hose between the two points [m].
        span_m: straight distance between the two points [m].

    Returns:
        The bend; a hose exactly as long as its span has stand-off 0 and infinite radius.

    Raises:
        ValueError: a span that is not above 0, a hose shorter than its span, or longer than `LARGEST_RATIO` spans.

    Valid: 1 <= length / span <= 3; for what is left out see the top of this module.

    Source: A treatise on the mathematical theory of elasticity, 4th ed., 262 to 263; Theory of elastic stability,
    2nd ed. (1961), 2.7. The clamped hose is the pinned one continued by a quarter wave at both ends.
    """
    # Refusals in this package are written as "not ... >", so that NaN, which compares false, is refused as well.
    if not span_m > 0.0:
        raise ValueError(f"a span is above zero, not {span_m}")
    if not length_m >= span_m:
        raise ValueError(f"a hose of {length_m} m does not reach over a span of {span_m} m")
    if not length_m <= LARGEST_RATIO * span_m:
        raise ValueError(
            f"a hose of {length_m} m over a span of {span_m} m is a loop: more than {LARGEST_RATIO:g} spans"
        )
    modulus, first = _shape((length_m - span_m) / (2.0 * length_m))
    tightest_m = length_m / (4.0 * modulus * first) if modulus else math.inf
    return Bend(
        length_m=length_m,
        span_m=span_m,
        stand_off_m=length_m * modulus / first,
        tightest_radius_pinned_m=tightest_m,
        tightest_radius_clamped_m=tightest_m / 2.0,
        modulus=modulus,
    )


def curve(
    bend: Bend, points: int = 65, ends: Literal["clamped", "pinned"] = "clamped"
) -> tuple[tuple[float, float], ...]:
    """Give points along a bent hose, evenly spaced along the hose, for drawing.

    Args:
        bend: the bend to draw [m].
        points: how many points, ends included, 2 or more [1].
        ends: "clamped" along the chord, or "pinned" and free to turn.

    Returns:
        (x, y) pairs from (0, 0) to (span, 0), y towards the bulge [m].

    Raises:
        ValueError: fewer than 2 points, or ends that are neither clamped nor pinned.

    Valid: any `Bend`.

    Source: Handbook of mathematical functions (1964), 16.4 (amplitude) and 17.6 (integral of the second kind), by the
    descending chain of means; the curve as in `bend`.
    """
    if points < 2:
        raise ValueError(f"a curve needs 2 points or more, not {points}")
    if ends not in ("clamped", "pinned"):
        raise ValueError(f'the ends of a hose are "clamped" or "pinned", not "{ends}"')
    means = _means(bend.modulus)
    first, shortfall = _first_integral(means)
    quarters = 2 if ends == "clamped" else 1
    scale_m = bend.length_m / (2.0 * quarters * first)
    lift = 1.0 if ends == "clamped" else 0.0
    line = []
    for index in range(points):
        argument = quarters * first * (2.0 * index / (points - 1) - 1.0)
        amplitude, zeta = _amplitude(argument, means)
        along = (1.0 - 2.0 * shortfall) * argument + 2.0 * zeta
        across = 2.0 * bend.modulus * (math.cos(amplitude) + lift)
        line.append((bend.span_m / 2.0 + scale_m * along, scale_m * across))
    return tuple(line)


@lru_cache(maxsize=4096)
def _shape(half_slack_share: float) -> tuple[float, float]:
    """Give modulus and K for which 1 - E/K is half the share of the length that is slack."""
    if half_slack_share == 0.0:
        return 0.0, math.pi / 2.0
    parameter = 2.0 * half_slack_share / (1.0 + half_slack_share / 4.0)
    for _ in range(NEWTON_STEPS):
        _, shortfall = _first_integral(_means(math.sqrt(parameter)))
        curvature = (1.0 - shortfall) * (parameter - shortfall) / (1.0 - parameter)
        slope = (shortfall + curvature) / (2.0 * parameter)
        parameter -= (shortfall - half_slack_share) / slope
    modulus = math.sqrt(parameter)
    first, _ = _first_integral(_means(modulus))
    return modulus, first


def _means(modulus: float) -> list[tuple[float, float]]:
    """Give the chain of arithmetic means a and half differences c, from a = 1 and c = modulus down."""
    arithmetic = 1.0
    # Factored: 1 - modulus**2 loses digits for a modulus near 1.
    geometric = math.sqrt((1.0 - modulus) * (1.0 + modulus))
    chain = [(1.0, modulus)]
    difference = 1.0
    while difference > MEAN_TOLERANCE:
        difference = (arithmetic - geometric) / 2.0
        arithmetic, geometric = (arithmetic + geometric) / 2.0, math.sqrt(arithmetic * geometric)
        chain.append((arithmetic, difference))
    return chain


def _first_integral(means: list[tuple[float, float]]) -> tuple[float, float]:
    """Give K, and by how much E falls short of it as a share of K."""
    shortfall = 0.0
    weight = 0.5
    for _, difference in means:
        shortfall += weight * difference * difference
        weight *= 2.0
    return math.pi / (2.0 * means[-1][0]), shortfall


def _amplitude(argument: float, means: list[tuple[float, float]]) -> tuple[float, float]:
    """Give the amplitude of an elliptic argument, and the zeta function: what E of it exceeds its share of K by."""
    angle = 2.0 ** (len(means) - 1) * means[-1][0] * argument
    zeta = 0.0
    for arithmetic, difference in reversed(means[1:]):
        sine = math.sin(angle)
        zeta += difference * sine
        angle = (angle + math.asin(difference / arithmetic * sine)) / 2.0
    return angle, zeta
