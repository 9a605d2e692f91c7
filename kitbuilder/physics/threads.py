"""Limits of size of screw threads, and whether one thread goes into another.

Three families give one record, so that a caller treats every thread alike. Each family is worked in the unit and with
the rounding steps of its standard, since the printed limits can't be had without them.

The standards were not opened. The formulas of ASME B1.1 are those in Machinery's Handbook, 31st ed.; the tables of
ISO 965-1 were read in a copy; ISO 228-1 is from memory, but for Mechanical Engineer's Data Handbook, p. 313.
"""

import math
from enum import StrEnum
from typing import NamedTuple

INCH_M = 0.0254
SAME_PITCH_M = 1e-6
SAME_DIAMETER_M = 10e-6
FLANK_60 = math.radians(60.0)
FLANK_55 = math.radians(55.0)


class ThreadTolerances(NamedTuple):
    """Widths of the four tolerances of a thread that come from a standard's table.

    Source: ISO 965-1:2013, tables 3 to 6 (metric); ISO 228-1:2000, table 1 (pipe).
    """

    external_major_m: float
    """Td, external major diameter, downwards [m]."""
    external_pitch_m: float
    """Td2, external pitch diameter, downwards [m]."""
    internal_pitch_m: float
    """TD2, internal pitch diameter, upwards [m]."""
    internal_minor_m: float
    """TD1, internal minor diameter, upwards [m]."""


class ThreadLimits(NamedTuple):
    """Limits of size of one thread, external (male) and internal (female).

    Source: symbols and pairs as in ASME B1.1, ISO 965-1 and ISO 228-1.
    """

    basic_major_m: float
    """The diameter the thread is named for [m]."""
    pitch_m: float
    """Distance from crest to crest [m]."""
    flank_angle_rad: float
    """Angle between the flanks: 60 degrees unified and metric, 55 pipe [rad]."""
    allowance_m: float
    """By how much the largest external thread stays below basic size [m]."""
    external_major_max_m: float
    """Over the crests of the male thread, largest [m]."""
    external_major_min_m: float
    """The same, smallest [m]."""
    external_pitch_max_m: float
    """Male, at half the basic thread height, largest [m]."""
    external_pitch_min_m: float
    """The same, smallest [m]."""
    external_minor_flat_max_m: float
    """Root of the male thread with flat roots, largest, for reference [m]."""
    external_minor_round_max_m: float
    """Root of the male thread with rounded roots, largest, for reference [m]."""
    internal_minor_min_m: float
    """Over the crests of the female thread, smallest [m]."""
    internal_minor_max_m: float
    """The same, largest [m]."""
    internal_pitch_min_m: float
    """Female, at half the basic thread height, smallest [m]."""
    internal_pitch_max_m: float
    """The same, largest [m]."""
    internal_major_min_m: float
    """Root of the female thread, smallest [m]."""


class CrestOverlap(NamedTuple):
    """By how much male crests reach past female crests, measured on the diameter; below 0 they miss each other.

    Source: difference of limits, as the height of thread engagement in ISO 965-1 and ASME B1.1.
    """

    largest_m: float
    """Largest male in the smallest female [m]."""
    smallest_m: float
    """Smallest male in the largest female [m]."""


class Mating(StrEnum):
    """What happens when a male thread is offered to a female one."""

    CANNOT_ENTER = "cannot enter"
    """Even the smallest male is wider than the root of the female."""
    DROPS_IN = "drops in"
    """No pair touches: the male slides in and pulls out."""
    FORM_DIFFERS = "form differs"
    """The crests overlap but pitch or flank angle differ: starts, then binds, or holds on a few threads."""
    SHALLOW = "shallow"
    """Same form, smaller male: screws in smoothly and holds on part of the thread height. Dangerous."""
    MATES = "mates"
    """Same form and same diameter."""


def unified_limits(basic_major_m: float, threads_per_inch: float, engagement_m: float | None = None) -> ThreadLimits:
    """Give the limits of a unified inch thread, class 2A outside and 2B inside.

    Args:
        basic_major_m: basic major diameter, 0.25 in or more [m].
        threads_per_inch: 4 to 80 [1/in].
        engagement_m: length of engagement the tolerances are based on; left out it is the major diameter, which is
            right for UNC and UNF; give 9 pitches for UNEF and the constant-pitch series [m].

    Returns:
        The limits, from a basic diameter rounded to 0.0001 in, and rounded as the standard prints them: 0.0001 in,
        internal minor diameters 0.001 in.

    Raises:
        ValueError: a diameter, pitch or engagement outside the range of validity.

    Valid: 0.25 in and larger, 4 to 80 threads an inch, engagement up to 1.5 diameters or 15 pitches, classes 2A and
    2B before coating.

    Source: ASME B1.1-2003, 5.8 (tolerances and allowance), 8.3 (limits) and 10.1 (heights); rounding steps as in
    Machinery's Handbook, 31st ed., Unified screw threads, tables 3 to 6.
    """
    stated = basic_major_m / INCH_M
    engagement = round(stated, 4) if engagement_m is None else engagement_m / INCH_M
    _require_unified(stated, threads_per_inch, engagement)
    # Each step is rounded as in the handbook: limits computed in one go can miss its tables by a digit.
    major, pitch = round(stated, 4), round(1.0 / threads_per_inch, 8)

    pitch_power = pitch ** (2.0 / 3.0)
    external_pitch_tolerance = round(0.0015 * (major ** (1.0 / 3.0) + engagement**0.5 + 10.0 * pitch_power), 6)
    internal_pitch_tolerance = round(1.30 * external_pitch_tolerance, 6)
    external_major_tolerance = round(0.060 * pitch_power, 6)
    internal_minor_tolerance = round(0.25 * pitch - 0.40 * pitch * pitch, 6)
    allowance = round(0.300 * external_pitch_tolerance, 4)
    pitch_line_depth = round(0.64951905 * pitch, 6)
    flat_depth = round(1.08253175 * pitch, 6)
    round_depth = round(1.19078493 * pitch, 6)

    external_major_max = round(major - allowance, 4)
    external_pitch_max = round(external_major_max - pitch_line_depth, 4)
    internal_pitch_min = round(major - pitch_line_depth, 4)
    # The 2B minor limits start from the unrounded basic minor diameter, unlike the pitch limits.
    basic_minor = major - flat_depth
    return ThreadLimits(
        basic_major_m=major * INCH_M,
        pitch_m=INCH_M / threads_per_inch,
        flank_angle_rad=FLANK_60,
        allowance_m=allowance * INCH_M,
        external_major_max_m=external_major_max * INCH_M,
        external_major_min_m=round(external_major_max - external_major_tolerance, 4) * INCH_M,
        external_pitch_max_m=external_pitch_max * INCH_M,
        external_pitch_min_m=round(external_pitch_max - external_pitch_tolerance, 4) * INCH_M,
        external_minor_flat_max_m=round(external_major_max - flat_depth, 4) * INCH_M,
        external_minor_round_max_m=round(external_major_max - round_depth, 4) * INCH_M,
        internal_minor_min_m=round(basic_minor, 3) * INCH_M,
        internal_minor_max_m=round(basic_minor + internal_minor_tolerance, 3) * INCH_M,
        internal_pitch_min_m=internal_pitch_min * INCH_M,
        internal_pitch_max_m=round(internal_pitch_min + internal_pitch_tolerance, 4) * INCH_M,
        internal_major_min_m=major * INCH_M,
    )


def metric_limits(
    basic_major_m: float, pitch_m: float, fundamental_deviation_m: float, tolerances: ThreadTolerances
) -> ThreadLimits:
    """Give the limits of an ISO metric thread from the values its tolerance class has in the standard's tables.

    Args:
        basic_major_m: basic major diameter, the number after the M [m].
        pitch_m: pitch [m].
        fundamental_deviation_m: es of the external thread as a positive width, 0 for h; internal H has none [m].
        tolerances: the four widths Td, Td2, TD2 and TD1 [m].

    Returns:
        The limits, from basic diameters rounded to 0.001 mm as the standard prints them.

    Raises:
        ValueError: a pitch that does not fit the diameter, or a negative deviation or tolerance.

    Valid: ISO 68-1 profile, 1 mm and larger, external classes e, f, g and h, internal class H, before coating.

    Source: ISO 68-1:1998 (profile), ISO 724:1993 (basic diameters), ISO 965-1:2013, tables 1 and 3 to 6 (deviation
    and tolerances).
    """
    if not basic_major_m >= 1e-3:
        raise ValueError(f"metric limits are given from 1 mm upwards, not for {basic_major_m * 1e3:g} mm")
    _require_pitch(pitch_m, basic_major_m)
    _require_widths(fundamental_deviation_m, tolerances)
    basic = _BasicProfile(
        major_m=basic_major_m,
        pitch_diameter_m=_to_micrometre(basic_major_m - 0.64951905 * pitch_m),
        minor_m=_to_micrometre(basic_major_m - 1.08253175 * pitch_m),
        round_minor_m=_to_micrometre(basic_major_m - 1.22686940 * pitch_m),
        pitch_m=pitch_m,
        flank_angle_rad=FLANK_60,
    )
    return _limits(basic, fundamental_deviation_m, tolerances)


def pipe_limits(major_m: float, threads_per_inch: float, tolerances: ThreadTolerances) -> ThreadLimits:
    """Give the limits of a parallel pipe thread G from the values in the standard's table.

    Args:
        major_m: major diameter of the size [m].
        threads_per_inch: threads an inch, 28, 19, 14 or 11 in the standard [1/in].
        tolerances: the four widths Td, Td2 (class A or B), TD2 and TD1 [m].

    Returns:
        The limits, from a thread height rounded to 0.001 mm as the standard prints it.

    Raises:
        ValueError: a pitch that does not fit the diameter, or a negative tolerance.

    Valid: ISO 228-1 threads G 1/16 to G 6, Whitworth profile with 55 degrees, root and crest rounded.

    Source: ISO 228-1:2000, clauses 3 and 4 and table 1; thread height 0.640327 of the pitch.
    """
    if not 4.0 <= threads_per_inch <= 80.0:
        raise ValueError(f"pipe thread limits are given for 4 to 80 threads an inch, not {threads_per_inch:g}")
    pitch_m = INCH_M / threads_per_inch
    _require_pitch(pitch_m, major_m)
    _require_widths(0.0, tolerances)
    height_m = _to_micrometre(0.640327 * pitch_m)
    basic = _BasicProfile(
        major_m=major_m,
        pitch_diameter_m=major_m - height_m,
        minor_m=major_m - 2.0 * height_m,
        round_minor_m=major_m - 2.0 * height_m,
        pitch_m=pitch_m,
        flank_angle_rad=FLANK_55,
    )
    return _limits(basic, 0.0, tolerances)


def crest_overlap(external: ThreadLimits, internal: ThreadLimits) -> CrestOverlap:
    """Give how far the crests of a male thread can reach past those of a female one.

    Args:
        external: the male thread [m].
        internal: the female thread [m].

    Returns:
        Largest and smallest overlap on the diameter; half of it is the height in contact on one side [m].

    Raises:
        Nothing; every pair of threads has an overlap, negative when the crests miss each other.

    Valid: parts made within their limits. It says nothing about pitch: see `mating`.

    Source: limits of ASME B1.1, ISO 965-1 and ISO 228-1; male major diameter less female minor diameter.
    """
    return CrestOverlap(
        largest_m=external.external_major_max_m - internal.internal_minor_min_m,
        smallest_m=external.external_major_min_m - internal.internal_minor_max_m,
    )


def enters(external: ThreadLimits, internal: ThreadLimits) -> bool:
    """Tell whether some male part within limits is narrow enough for the root of the female thread.

    Args:
        external: the male thread [m].
        internal: the female thread [m].

    Returns:
        True when the smallest male major diameter is at most the basic major diameter of the female.

    Raises:
        Nothing.

    Valid: parts made within their limits; a worn or oversize female may let more in.

    Source: limits of ASME B1.1, ISO 965-1 and ISO 228-1; the internal major diameter is at least basic in all three.
    """
    return external.external_major_min_m <= internal.internal_major_min_m


def mating(external: ThreadLimits, internal: ThreadLimits) -> Mating:
    """Tell what happens when a male thread is offered to a female one.

    Args:
        external: the male thread [m].
        internal: the female thread [m].

    Returns:
        One of the five cases of `Mating`.

    Raises:
        Nothing.

    Valid: parts made within their limits. Threads that mate may still differ in length, seat or pressure.

    Source: `enters` and `crest_overlap`; pitch and diameter compared to 0.001 and 0.01 mm.
    """
    if not enters(external, internal):
        return Mating.CANNOT_ENTER
    if crest_overlap(external, internal).largest_m <= 0.0:
        return Mating.DROPS_IN
    if not _same_form(external, internal):
        return Mating.FORM_DIFFERS
    if external.basic_major_m < internal.basic_major_m - SAME_DIAMETER_M:
        return Mating.SHALLOW
    return Mating.MATES


class _BasicProfile(NamedTuple):
    """A thread before its tolerances: the diameters from which the limits of both sides are laid out."""

    major_m: float
    pitch_diameter_m: float
    minor_m: float
    """At the flat root. [m]"""
    round_minor_m: float
    """At the rounded root of the male thread. [m]"""
    pitch_m: float
    flank_angle_rad: float


def _limits(basic: _BasicProfile, allowance_m: float, tolerances: ThreadTolerances) -> ThreadLimits:
    """Lay tolerances on basic diameters: male downwards from basic less allowance, female upwards from basic."""
    external_major_max_m = basic.major_m - allowance_m
    external_pitch_max_m = basic.pitch_diameter_m - allowance_m
    return ThreadLimits(
        basic_major_m=basic.major_m,
        pitch_m=basic.pitch_m,
        flank_angle_rad=basic.flank_angle_rad,
        allowance_m=allowance_m,
        external_major_max_m=external_major_max_m,
        external_major_min_m=external_major_max_m - tolerances.external_major_m,
        external_pitch_max_m=external_pitch_max_m,
        external_pitch_min_m=external_pitch_max_m - tolerances.external_pitch_m,
        external_minor_flat_max_m=basic.minor_m - allowance_m,
        external_minor_round_max_m=basic.round_minor_m - allowance_m,
        internal_minor_min_m=basic.minor_m,
        internal_minor_max_m=basic.minor_m + tolerances.internal_minor_m,
        internal_pitch_min_m=basic.pitch_diameter_m,
        internal_pitch_max_m=basic.pitch_diameter_m + tolerances.internal_pitch_m,
        internal_major_min_m=basic.major_m,
    )


def _same_form(external: ThreadLimits, internal: ThreadLimits) -> bool:
    same_pitch = abs(external.pitch_m - internal.pitch_m) < SAME_PITCH_M
    return same_pitch and math.isclose(external.flank_angle_rad, internal.flank_angle_rad)


def _to_micrometre(length_m: float) -> float:
    return round(length_m, 6)


def _require_pitch(pitch_m: float, major_m: float) -> None:
    if not 0.0 < pitch_m < major_m / 2.0:
        raise ValueError(f"a pitch of {pitch_m * 1e3:g} mm does not fit a diameter of {major_m * 1e3:g} mm")


def _require_unified(major: float, threads_per_inch: float, engagement: float) -> None:
    """Refuse a unified thread outside the range of the formulas; diameter and engagement in inches."""
    # The slack lets in 1/4 in that was converted from metres.
    if not major >= 0.25 - 1e-9:
        raise ValueError(f"unified limits are given from 1/4 in upwards, not for {major:.4f} in")
    if not 4.0 <= threads_per_inch <= 80.0:
        raise ValueError(f"unified limits are given for 4 to 80 threads an inch, not {threads_per_inch:g}")
    if not 0.0 < engagement <= max(1.5 * major, 15.0 * round(1.0 / threads_per_inch, 8)) + 1e-9:
        raise ValueError(f"an engagement of {engagement:.4f} in is outside 0 to 1.5 diameters or 15 pitches")


def _require_widths(fundamental_deviation_m: float, tolerances: ThreadTolerances) -> None:
    widths = (
        fundamental_deviation_m,
        tolerances.external_major_m,
        tolerances.external_pitch_m,
        tolerances.internal_pitch_m,
        tolerances.internal_minor_m,
    )
    if not all(width >= 0.0 for width in widths):
        raise ValueError("deviation and tolerances of a thread are widths and not negative")
