"""Which threads a caliper reading allows.

Limits: ASME B1.1, class 2A major diameters as printed in tables of the standard; ISO 965-1, 6g, for the metric ones.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.hoses.threads import ThreadCandidate, ThreadReading, caliper_spread, identify
from kitbuilder.catalogue import catalogue
from tests.each import each

MM = 1e-3
INCH = 25.4e-3
CALIPER = 0.05 * MM
MAJOR_2A_INCH = {
    "3/8-24 UNF": (0.3667, 0.3739),
    "7/16-20 UNF": (0.4281, 0.4362),
    "1/2-20 UNF": (0.4906, 0.4987),
    "9/16-18 UNF": (0.5524, 0.5611),
}
"""Smallest and largest, as printed."""
MINOR_2B_INCH = {"3/8-24 UNF": (0.330, 0.340), "7/16-20 UNF": (0.383, 0.395), "1/2-20 UNF": (0.446, 0.457)}


def candidates(caliper: float = CALIPER, **sizes: float) -> tuple[ThreadCandidate, ...]:
    return identify(ThreadReading(**sizes), caliper)


def allowed(caliper: float = CALIPER, **sizes: float) -> list[str]:
    """The names a reading allows, the likeliest first."""
    return [candidate.thread for candidate in candidates(caliper, **sizes) if candidate.allowed]


def candidate(name: str, **sizes: float) -> ThreadCandidate:
    [found] = [each for each in candidates(**sizes) if each.thread == name]
    return found


# --- diameters --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("major_mm", "thread"),
    [
        (9.5, "3/8-24 UNF"),
        (11.0, "7/16-20 UNF"),
        (12.65, "1/2-20 UNF"),
        (14.2, "9/16-18 UNF"),
        (25.0, "M25x2"),
        (25.9, "M26x2"),
        (22.8, "G 5/8"),
    ],
)
def test_the_outside_of_a_male_thread_names_it(major_mm: float, thread: str) -> None:
    """The readings that come up at the bench, with a usual caliper."""
    assert allowed(major_m=major_mm * MM) == [thread]


def test_a_reading_on_the_nominal_size_needs_the_caliper_s_spread() -> None:
    """A male thread is made below its nominal size: 12.70 mm is 0.03 mm above the largest 1/2-20, 0.4987 in."""
    largest = MAJOR_2A_INCH["1/2-20 UNF"][1] * INCH
    assert 12.70 * MM - largest == pytest.approx(0.033 * MM, abs=0.0005 * MM)
    assert allowed(major_m=12.70 * MM) == ["1/2-20 UNF"]
    assert allowed(0.02 * MM, major_m=12.70 * MM) == []


@pytest.mark.parametrize("name", MAJOR_2A_INCH)
def test_the_margin_is_the_way_to_the_nearer_limit(name: str) -> None:
    """A thousandth of an inch inside, on the limit, a thousandth outside: of the printed limits."""
    low, high = (limit * INCH for limit in MAJOR_2A_INCH[name])
    thousandth = 0.001 * INCH
    for reading, margin in (
        (low + thousandth, thousandth),
        (low, 0),
        (low - thousandth, -thousandth),
        (high - thousandth, thousandth),
        (high, 0),
        (high + thousandth, -thousandth),
        ((low + high) / 2, (high - low) / 2),
    ):
        found = candidate(name, major_m=reading)
        assert found.margin == pytest.approx(margin, abs=1e-9)
        assert found.sizes[0].low == pytest.approx(low, abs=1e-9)
        assert found.sizes[0].high == pytest.approx(high, abs=1e-9)


@pytest.mark.parametrize("name", MINOR_2B_INCH)
def test_the_inside_of_a_female_thread_names_it(name: str) -> None:
    """Class 2B minor diameters, printed to 0.001 in; half a digit of it either way."""
    low, high = (limit * INCH for limit in MINOR_2B_INCH[name])
    assert allowed(minor_m=(low + high) / 2) == [name]
    size = candidate(name, minor_m=(low + high) / 2).sizes[0]
    assert (size.what, size.low, size.high) == (
        "inside of the female thread",
        pytest.approx(low, abs=0.0005 * INCH),
        pytest.approx(high, abs=0.0005 * INCH),
    )


def test_the_best_margin_stands_first() -> None:
    """Whatever is allowed and what is not."""
    margins = [found.margin for found in candidates(major_m=12.0 * MM)]
    assert margins == sorted(margins, reverse=True)
    assert {found.thread for found in candidates(major_m=12.0 * MM)} == catalogue().threads.keys()


def test_between_the_sizes_no_thread_is_known() -> None:
    """11.5 mm is 0.4 mm more than the largest 7/16-20 and 1 mm less than the smallest 1/2-20."""
    assert allowed(major_m=11.5 * MM) == []
    assert candidate("7/16-20 UNF", major_m=11.5 * MM).margin == pytest.approx(0.4362 * INCH - 11.5 * MM)


# --- pitch ------------------------------------------------------------------------------------------------------------


def test_pitch_narrows_what_a_worn_thread_leaves_open() -> None:
    """13.4 mm with a caliper off by 1 mm may be 1/2-20 or 9/16-18; the blade of 18 threads an inch decides."""
    worn = {"caliper": 1 * MM, "major_m": 13.4 * MM}
    assert sorted(allowed(**worn)) == ["1/2-20 UNF", "9/16-18 UNF"]
    assert allowed(**worn, pitch_m=INCH / 18) == ["9/16-18 UNF"]
    assert allowed(**worn, pitch_m=INCH / 20) == ["1/2-20 UNF"]


def test_pitch_alone_names_all_threads_of_that_pitch() -> None:
    """20 threads an inch: 7/16 and 1/2. 14: the outlet and two necks. 2 mm: the metric outlet and neck."""
    assert sorted(allowed(pitch_m=INCH / 20)) == ["1/2-20 UNF", "7/16-20 UNF"]
    assert sorted(allowed(pitch_m=INCH / 14)) == ["3/4-14 NPSM", "G 3/4", "G 5/8"]
    assert sorted(allowed(pitch_m=2 * MM)) == ["M25x2", "M26x2"]


@pytest.mark.parametrize("per_inch", [19, 22, 16])
def test_a_blade_of_another_pitch_fits_nothing(per_inch: int) -> None:
    """However bad the caliper: it has no part in the pitch. Neighbouring blades differ by a twentieth or more."""
    assert allowed(0.5 * MM, pitch_m=INCH / per_inch) == []


def test_a_right_diameter_with_a_wrong_pitch_is_another_thread() -> None:
    """3/8-16 is as wide as 3/8-24."""
    assert allowed(major_m=9.45 * MM, pitch_m=INCH / 16) == []
    assert allowed(major_m=9.45 * MM, pitch_m=INCH / 24) == ["3/8-24 UNF"]


# --- mistakes ---------------------------------------------------------------------------------------------------------

DEADLY = "DANGER: a male M25x2 screws into a female M26x2, but only part of the thread holds it"


def test_the_danger_of_25_and_26_millimetres_is_spelled_out() -> None:
    """Same pitch, one millimetre apart: measured as the male, measured as the female, or by its pitch alone."""
    assert DEADLY in candidate("M25x2", major_m=25.0 * MM).mistakes
    assert DEADLY in candidate("M26x2", minor_m=24.0 * MM).mistakes
    assert DEADLY in candidate("M26x2", pitch_m=2 * MM).mistakes


def test_what_the_thread_alone_does_not_tell_is_said() -> None:
    """The old HP port with the LP thread, the common mistake, and the neck that kills. Common practice, no source."""
    assert any("HP port" in text and "bursts" in text for text in candidate("3/8-24 UNF", minor_m=8.5 * MM).beware)
    for name, major in (("3/8-24 UNF", 9.45), ("1/2-20 UNF", 12.6)):
        assert any("by mistake" in text for text in candidate(name, major_m=major * MM).beware)
    assert any("3/4-14 NPSM" in text and "DANGER" in text for text in candidate("M25x2", major_m=25.0 * MM).beware)


def test_26_millimetres_may_be_two_threads_until_the_pitch_is_measured() -> None:
    """The smallest male 3/4-14 NPSM is 25.99 mm, the largest M26x2 25.96 mm; 14 threads an inch are 1.81 mm, not 2."""
    assert sorted(allowed(major_m=26.0 * MM)) == ["3/4-14 NPSM", "M26x2"]
    assert allowed(major_m=26.0 * MM, pitch_m=2 * MM) == ["M26x2"]
    assert allowed(major_m=26.0 * MM, pitch_m=INCH / 14) == ["3/4-14 NPSM"]


def test_a_male_of_26_millimetres_is_not_mistaken_for_anything_smaller() -> None:
    """It cannot enter an M25x2 or a G 5/8; in the wider necks of 14 threads an inch it binds."""
    mistakes = candidate("M26x2", major_m=25.9 * MM).mistakes
    assert not any("M25x2" in text or "G 5/8" in text for text in mistakes)
    assert len(mistakes) == 2


@each("neck", ["G 3/4", "3/4-14 NPSM"])
def test_an_m25_valve_in_a_three_quarter_neck_is_named_from_both_sides(neck: str) -> None:
    """The valve of 25 mm is wider than the crests of the neck, 24.1 to 24.7 mm, and has another pitch.

    Source: article titled "Mismatched Scuba Valves to Cylinder Outlets" (2023), for 3/4-14; ISO 228-1, from memory, for
    the limits of G 3/4.
    """
    valve, hole = candidate("M25x2", major_m=24.8 * MM), candidate(neck, minor_m=24.4 * MM)
    assert valve.allowed
    assert hole.allowed
    for found in (valve, hole):
        assert (
            f"a male M25x2 starts in a female {neck}, then binds and strips the thread if it is forced"
            in found.mistakes
        )
        assert any(text.startswith("DANGER") and "shot out" in text and "M25x2" in text for text in found.beware)
    assert any(neck in text for text in valve.beware)


def test_a_thin_thread_slides_into_the_next_size() -> None:
    """A low-pressure hose in a high-pressure port holds on nothing. Common practice, no source."""
    assert candidate("3/8-24 UNF", major_m=9.45 * MM).mistakes[0] == (
        "a male 3/8-24 UNF slides into a female 7/16-20 UNF and nothing holds it"
    )
    assert (
        "a male 3/8-24 UNF slides into a female 7/16-20 UNF and nothing holds it"
        in candidate("7/16-20 UNF", minor_m=9.9 * MM).mistakes
    )


def test_nobody_takes_a_hose_end_for_a_cylinder_neck() -> None:
    """Threads further apart than 3.5 mm are not mistaken for each other, though one falls into the other."""
    for found in candidates(major_m=9.5 * MM):
        if found.thread.endswith("UNF"):
            assert not any("M25" in mistake or "G 5/8" in mistake for mistake in found.mistakes)


def test_a_cylinder_outlet_starts_in_a_neck_and_binds() -> None:
    """G 5/8 and M25x2: other pitch, other flanks. Source: computed table of wrong pairs beside the thread checks."""
    assert (
        "a male G 5/8 starts in a female M25x2, then binds and strips the thread if it is forced"
        in candidate("G 5/8", major_m=22.8 * MM).mistakes
    )


# --- readings that say nothing ----------------------------------------------------------------------------------------


def test_nothing_measured_is_refused() -> None:
    """And the way out is named."""
    with pytest.raises(ValueError, match=r"--major.*--minor.*pitch"):
        identify(ThreadReading(), CALIPER)


@pytest.mark.parametrize("sizes", [{"major_m": 0.0}, {"minor_m": -9.5 * MM}, {"major_m": 9.5 * MM, "pitch_m": 0.0}])
def test_a_size_is_above_zero(sizes: dict[str, float]) -> None:
    """A slip of the keyboard is no thread."""
    with pytest.raises(ValueError, match="above zero"):
        identify(ThreadReading(**sizes), CALIPER)


def test_a_caliper_is_not_better_than_exact() -> None:
    """A spread below zero would refuse what fits."""
    with pytest.raises(ValueError, match="above zero"):
        identify(ThreadReading(major_m=9.5 * MM), -CALIPER)


def test_the_usual_caliper() -> None:
    """0.05 mm. Common practice, no source."""
    assert caliper_spread() == pytest.approx(0.05 * MM)


@given(major=st.floats(5 * MM, 30 * MM), spreads=st.tuples(st.floats(0, MM), st.floats(0, MM)))
def test_a_worse_caliper_never_allows_less(major: float, spreads: tuple[float, float]) -> None:
    """What a good caliper allows, a bad one does too."""
    good, bad = sorted(spreads)
    assert set(allowed(good, major_m=major)) <= set(allowed(bad, major_m=major))
