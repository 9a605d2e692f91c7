"""Unified threads in decimal arithmetic, rounded where the handbook rounds.

Source: formulas of ASME B1.1 and the rounding steps of Machinery's Handbook, 31st ed., Unified screw threads, tables 3
to 6 (found): the basic diameter to 4 decimals, as the tables print it, the pitch to 8, heights and tolerances to 6, the
allowance and the limits to 4, and the minor diameters of class 2B to 3. Odd sizes and pitches are drawn, since in those
of the lists few of the steps matter.
"""

import math
import random
from decimal import Decimal, getcontext

import pytest

from kitbuilder.physics.threads import ThreadTolerances, metric_limits, pipe_limits, unified_limits

INCH = 0.0254
getcontext().prec = 40


class Tie(Exception):
    """A value half way between two of so many digits; the handbook does not say which way it goes."""


def rounded(value: Decimal, digits: int) -> Decimal:
    unit = Decimal(1).scaleb(-digits)
    if abs(value % unit - unit / 2) < unit / 10**6:
        raise Tie
    return value.quantize(unit)


def root(value: Decimal, power: Decimal) -> Decimal:
    return (value.ln() * power).exp()


def by_hand(major: Decimal, threads_per_inch: Decimal) -> dict[str, Decimal]:
    """All limits in inches; the engagement is one diameter."""
    major = rounded(major, 4)
    third = Decimal(1) / 3
    pitch = rounded(1 / threads_per_inch, 8)
    two_thirds = root(pitch, 2 * third)
    pitch_tolerance = rounded(
        Decimal("0.0015") * root(major, third) + Decimal("0.0015") * major.sqrt() + Decimal("0.015") * two_thirds,
        6,
    )
    major_tolerance = rounded(Decimal("0.060") * two_thirds, 6)
    inner_pitch_tolerance = rounded(Decimal("1.30") * pitch_tolerance, 6)
    inner_minor_tolerance = rounded(Decimal("0.25") * pitch - Decimal("0.40") * pitch * pitch, 6)
    allowance = rounded(Decimal("0.300") * pitch_tolerance, 4)
    depth, flat, round_root = (
        rounded(Decimal(height) * pitch, 6) for height in ("0.64951905", "1.08253175", "1.19078493")
    )
    outer_major = rounded(major - allowance, 4)
    outer_pitch = rounded(outer_major - depth, 4)
    inner_pitch = rounded(major - depth, 4)
    inner_minor = major - flat
    return {
        "external_major_max_m": outer_major,
        "external_major_min_m": rounded(outer_major - major_tolerance, 4),
        "external_pitch_max_m": outer_pitch,
        "external_pitch_min_m": rounded(outer_pitch - pitch_tolerance, 4),
        "external_minor_flat_max_m": rounded(outer_major - flat, 4),
        "external_minor_round_max_m": rounded(outer_major - round_root, 4),
        "internal_minor_min_m": rounded(inner_minor, 3),
        "internal_minor_max_m": rounded(inner_minor + inner_minor_tolerance, 3),
        "internal_major_min_m": major,
        "internal_pitch_min_m": inner_pitch,
        "internal_pitch_max_m": rounded(inner_pitch + inner_pitch_tolerance, 4),
    }


def drawn() -> list[tuple[str, str]]:
    draw = random.Random(7)
    return [(f"{draw.uniform(0.25, 2.0):.6f}", f"{draw.uniform(8.0, 56.0):.1f}") for _ in range(1000)]


def test_every_step_is_rounded_as_the_handbook_does() -> None:
    """No limit of some thousand odd threads is off by one unit of its last digit."""
    wrong, ties = {}, 0
    for major, threads_per_inch in drawn():
        found = unified_limits(float(major) * INCH, float(threads_per_inch))
        try:
            limits = by_hand(Decimal(major), Decimal(threads_per_inch))
        except Tie:
            ties += 1
            continue
        for name, inches in limits.items():
            if getattr(found, name) / INCH != pytest.approx(float(inches), abs=1e-9):
                wrong[major, threads_per_inch, name] = getattr(found, name) / INCH, inches
    assert wrong == {}
    assert ties < 250


def test_a_size_in_sixty_fourths_is_rounded_before_its_limits() -> None:
    """19/64-36: 0.296875 in is printed 0.2969. Less a depth of 0.64951905 / 36 = 0.018042, that is 0.2789, not 0.2788.

    Source: basic diameters of Machinery's Handbook, 31st ed., tables 3 to 6, have four decimals; the rest by hand.
    """
    found = unified_limits(19 / 64 * INCH, 36.0)
    assert found.internal_pitch_min_m / INCH == pytest.approx(0.2789, abs=1e-9)
    assert found.internal_major_min_m / INCH == pytest.approx(0.2969, abs=1e-9)


def test_flank_angles_are_those_of_the_standards() -> None:
    """60 degrees in unified (ASME B1.1) and metric threads (ISO 68-1), 55 in pipe threads (ISO 228-1); from memory."""
    tolerances = ThreadTolerances(*([1e-4] * len(ThreadTolerances._fields)))
    assert math.degrees(unified_limits(0.5 * INCH, 20.0).flank_angle_rad) == pytest.approx(60.0)
    assert math.degrees(metric_limits(0.025, 0.002, 0.0, tolerances).flank_angle_rad) == pytest.approx(60.0)
    assert math.degrees(pipe_limits(0.022911, 14.0, tolerances).flank_angle_rad) == pytest.approx(55.0)
