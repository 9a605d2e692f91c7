"""Limits of threads as the handbooks print them, and which wrong pairs go together."""

import math

import pytest

from kitbuilder.physics.threads import (
    Mating,
    ThreadLimits,
    ThreadTolerances,
    crest_overlap,
    enters,
    mating,
    metric_limits,
    pipe_limits,
    unified_limits,
)
from tests.each import each

from .published import INCH, Row, half_a_digit, rows

MILLIMETRE = 1e-3
UNITS = {"in": INCH, "mm": MILLIMETRE}


@each("row", rows("threads_unified.tsv"))
def test_unified_limits_are_those_printed(row: Row) -> None:
    """Source: Machinery's Handbook and other tables after ASME B1.1; tolerances as the table's header says."""
    unit_m = UNITS[row["unit"]]
    found_m = getattr(_unified(row), f"{row['quantity']}_m")
    # A hair more, since a limit moved by exactly one printed digit must not hang on a float.
    assert found_m / unit_m == pytest.approx(float(row["value"]), abs=float(row["tolerance"]) * 1.001)


@each("row", rows("threads_metric.tsv"))
def test_metric_limits_are_those_printed(row: Row) -> None:
    """Source: tables of ASME B1.13M (found); cylinder neck threads by a separate calculation (computed)."""
    found_m = getattr(_metric(row), f"{row['quantity']}_m")
    assert found_m / MILLIMETRE == pytest.approx(float(row["value_mm"]), abs=half_a_digit(row["value_mm"]))


@pytest.mark.parametrize("row", rows("threads_pipe.tsv"), ids=lambda row: f"{row['thread']} {row['quantity']}")
def test_pipe_thread_limits_are_those_printed(row: Row) -> None:
    """Source: ISO 228-1 by way of a data handbook and a fittings table (found), and from memory."""
    found_m = getattr(_pipe(row), f"{row['quantity']}_m")
    assert found_m / MILLIMETRE == pytest.approx(float(row["value_mm"]), abs=half_a_digit(row["value_mm"]))


@pytest.mark.parametrize("row", rows("thread_pairs.tsv"), ids=lambda row: f"{row['male']} into {row['female']}")
def test_wrong_pairs_do_what_they_are_known_to_do(row: Row) -> None:
    """Source: the table beside this test (computed); overlaps from limits rounded to 0.001 mm."""
    threads = _threads()
    male, female = threads[row["male"]], threads[row["female"]]
    overlap = crest_overlap(male, female)
    assert overlap.largest_m / MILLIMETRE == pytest.approx(float(row["largest_mm"]), abs=0.0015)
    assert overlap.smallest_m / MILLIMETRE == pytest.approx(float(row["smallest_mm"]), abs=0.0015)
    assert enters(male, female) == (row["mating"] != "cannot enter")
    assert mating(male, female) == row["mating"]


@pytest.mark.parametrize("name", ["3/8-24", "7/16-20", "1/2-20", "9/16-18", "M25x2", "M26x2", "G5/8", "G3/4", "3/4-14"])
def test_every_thread_mates_with_itself(name: str) -> None:
    """Every male part within limits enters, with clearance on the flanks and crests that overlap."""
    thread = _threads()[name]
    assert mating(thread, thread) is Mating.MATES
    assert crest_overlap(thread, thread).smallest_m > 0.2 * thread.pitch_m
    assert thread.external_pitch_min_m < thread.external_pitch_max_m <= thread.internal_pitch_min_m
    assert thread.internal_pitch_min_m < thread.internal_pitch_max_m
    assert thread.external_minor_round_max_m <= thread.external_minor_flat_max_m <= thread.internal_minor_min_m


def test_a_neck_thread_one_millimetre_off_holds_on_half_its_height() -> None:
    """The dangerous pair: it screws in by hand. Source: limits of M25x2 and M26x2, computed table."""
    threads = _threads()
    wrong = crest_overlap(threads["M25x2"], threads["M26x2"])
    right = crest_overlap(threads["M26x2"], threads["M26x2"])
    assert mating(threads["M25x2"], threads["M26x2"]) is Mating.SHALLOW
    assert wrong.largest_m < right.smallest_m


def test_straight_pipe_threads_have_the_limits_of_unified_ones_over_nine_pitches() -> None:
    """1/8-27 NPSM: a pitch diameter of 0.3736 in, and 0.6495 of the pitch more outside.

    Source: ASME B1.20.1, straight mechanical pipe threads NPSM, classes 2A and 2B, from memory, not opened.
    """
    found = unified_limits((0.37360 + 0.64952 / 27) * INCH, 27.0, 9 / 27 * INCH)
    in_inches = {name: value / INCH for name, value in found._asdict().items()}
    for name, printed in (("external_pitch_max_m", 0.3725), ("external_pitch_min_m", 0.3689)):
        assert in_inches[name] == pytest.approx(printed, abs=0.00005 * 1.01)
    for name, printed in (("internal_pitch_min_m", 0.3736), ("internal_pitch_max_m", 0.3783)):
        assert in_inches[name] == pytest.approx(printed, abs=0.00005 * 1.01)
    for name, printed in (("external_major_max_m", 0.397), ("external_major_min_m", 0.390)):
        assert in_inches[name] == pytest.approx(printed, abs=0.0005 * 1.01)


def test_equal_pitch_and_diameter_with_other_flanks_is_another_form() -> None:
    """A 60 degree thread does not fit a 55 degree one, even where pitch and diameter agree."""
    pipe = _threads()["G5/8"]
    assert mating(pipe._replace(flank_angle_rad=math.radians(60.0)), pipe) is Mating.FORM_DIFFERS


def test_equal_diameter_with_another_pitch_is_another_form() -> None:
    """Coarse 3/8-16 and fine 3/8-24 start on each other and bind."""
    coarse, fine = unified_limits(0.375 * INCH, 16.0), _threads()["3/8-24"]
    assert mating(coarse, fine) is Mating.FORM_DIFFERS


@pytest.mark.parametrize("name", ["3/8-24", "7/16-20", "1/2-20", "9/16-18"])
def test_unified_limits_carry_no_more_digits_than_the_standard_prints(name: str) -> None:
    """Source: ASME B1.1, limits to 0.0001 in; an allowance left unrounded would carry more."""
    values_m = _threads()[name]._asdict()
    del values_m["pitch_m"], values_m["flank_angle_rad"]
    for quantity, value_m in values_m.items():
        assert value_m / INCH == pytest.approx(round(value_m / INCH, 4), abs=1e-12), quantity


@pytest.mark.parametrize(
    ("major_in", "threads_per_inch", "engagement_in", "says"),
    [
        (0.24, 28.0, None, "1/4 in upwards"),
        (math.nan, 28.0, None, "1/4 in upwards"),
        (0.5, 3.5, None, "threads an inch"),
        (0.5, 20.0, 0.0, "engagement"),
        (0.5, 20.0, 0.9, "engagement"),
    ],
)
def test_unified_limits_outside_the_formulas_are_refused(
    major_in: float, threads_per_inch: float, engagement_in: float | None, says: str
) -> None:
    """Smaller sizes and coarser pitches have other formulas in ASME B1.1, which are not here."""
    engagement_m = None if engagement_in is None else engagement_in * INCH
    with pytest.raises(ValueError, match=says):
        unified_limits(major_in * INCH, threads_per_inch, engagement_m)


def test_nonsense_metric_and_pipe_threads_are_refused() -> None:
    """A pitch as wide as the thread, a negative tolerance."""
    fine = ThreadTolerances(2.8e-4, 1.7e-4, 2.24e-4, 3.75e-4)
    negative = fine._replace(external_pitch_m=-1e-5)
    with pytest.raises(ValueError, match="1 mm upwards"):
        metric_limits(0.9e-3, 0.225e-3, 0.0, fine)
    with pytest.raises(ValueError, match="does not fit"):
        metric_limits(25e-3, 25e-3, 0.0, fine)
    with pytest.raises(ValueError, match="not negative"):
        metric_limits(25e-3, 2e-3, -3.8e-5, fine)
    with pytest.raises(ValueError, match="not negative"):
        pipe_limits(22.911e-3, 14.0, negative)
    with pytest.raises(ValueError, match="threads an inch"):
        pipe_limits(22.911e-3, 0.0, fine)


def _threads() -> dict[str, ThreadLimits]:
    """The threads of diving equipment by the short names of the table of pairs."""
    unified = {row["thread"].removesuffix(" UNF"): _unified(row) for row in rows("threads_unified.tsv")}
    metric = {row["thread"]: _metric(row) for row in rows("threads_metric.tsv")}
    # Of one thread the rows without tolerances come first.
    pipe = {row["thread"].replace(" ", ""): _pipe(row) for row in rows("threads_pipe.tsv")}
    straight = {"3/4-14": unified_limits(1.0353 * INCH, 14.0, 9 / 14 * INCH)}
    return unified | metric | pipe | straight


def _unified(row: Row) -> ThreadLimits:
    engagement_m = None if row["engagement_in"] == "-" else float(row["engagement_in"]) * INCH
    return unified_limits(float(row["major_in"]) * INCH, float(row["threads_per_inch"]), engagement_m)


def _metric(row: Row) -> ThreadLimits:
    return metric_limits(
        float(row["major_mm"]) * MILLIMETRE,
        float(row["pitch_mm"]) * MILLIMETRE,
        float(row["deviation_um"]) * 1e-6,
        _tolerances(row, "um", 1e-6),
    )


def _pipe(row: Row) -> ThreadLimits:
    tolerances = _tolerances(row, "mm", MILLIMETRE)
    return pipe_limits(float(row["major_mm"]) * MILLIMETRE, float(row["threads_per_inch"]), tolerances)


def _tolerances(row: Row, unit: str, unit_m: float) -> ThreadTolerances:
    return ThreadTolerances(
        external_major_m=float(row[f"external_major_{unit}"]) * unit_m,
        external_pitch_m=float(row[f"external_pitch_{unit}"]) * unit_m,
        internal_pitch_m=float(row[f"internal_pitch_{unit}"]) * unit_m,
        internal_minor_m=float(row[f"internal_minor_{unit}"]) * unit_m,
    )
