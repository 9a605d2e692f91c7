"""What is said of a caliper reading.

Limits printed in inches in tables of ASME B1.1: 3/8-24 2A major 0.3667 to 0.3739; in millimetres 9.314 to 9.497.
"""

from kitbuilder.assess.hoses.threads import ThreadReading, identify
from kitbuilder.report.numbers import System
from kitbuilder.report.threads import threads_page
from tests.report.pages import page_text

MM = 1e-3
CALIPER = 0.05 * MM


def text(system: System = System.METRIC, caliper: float = CALIPER, **sizes: float) -> str:
    reading = ThreadReading(**sizes)
    return page_text(threads_page(reading, caliper, identify(reading, caliper)), system)


def test_an_allowed_thread_with_its_limits_and_margin() -> None:
    """9.45 mm lies 0.047 mm inside the upper limit of 9.497 mm."""
    found = text(major_m=9.45 * MM)
    assert "Allowed by the reading, with a caliper that may be off by 0.050 mm:" in found
    assert "3/8-24 UNF: LP port; HP port of old first stages" in found
    assert "outside of the male thread: 9.450 mm; limits 9.314 to 9.497 mm; 0.047 mm inside" in found


def test_the_same_in_inches() -> None:
    """As the standard prints them."""
    found = text(System.IMPERIAL, major_m=9.45 * MM)
    assert "0.3720 in; limits 0.3667 to 0.3739 in; 0.0019 in inside" in found
    assert "with a caliper that may be off by 0.0020 in:" in found


def test_a_reading_outside_the_limits_says_by_how_much() -> None:
    """9.50 mm is 0.003 mm too wide, which the caliper may be off."""
    assert "limits 9.314 to 9.497 mm; 0.003 mm outside" in text(major_m=9.5 * MM)


def test_no_thread_and_its_near_miss() -> None:
    """10.0 mm is 0.5 mm too wide for 3/8-24, 9.8 mm is 0.3 mm: worn crests, or a slanted caliper."""
    assert text(major_m=10.0 * MM).startswith("No known thread is allowed.")
    assert "Near misses" not in text(major_m=10.0 * MM)
    near = text(major_m=9.8 * MM)
    assert near.startswith("No known thread is allowed.")
    assert near.index("Near misses (worn or dirty thread, caliper at an angle?)") < near.index("3/8-24 UNF")
    assert "0.303 mm outside" in near


def test_a_pitch_is_never_nearly_right() -> None:
    """A worn thread has another diameter, not another pitch."""
    found = text(pitch_m=25.4 / 20 * MM)
    assert "Near misses" not in found
    assert "9/16-18 UNF:" not in found


def test_the_pitch_is_asked_for_where_the_diameter_leaves_a_choice() -> None:
    """And only there."""
    hint = "Measure the pitch as well: threads of one diameter differ in it."
    assert hint in text(major_m=10.0 * MM)
    assert hint in text(major_m=13.4 * MM, caliper=MM)
    assert hint not in text(major_m=9.45 * MM)
    assert hint not in text(pitch_m=25.4 / 20 * MM)


def test_the_deadly_pair_is_spelled_out() -> None:
    """25 mm in 26 mm, for both halves of it."""
    danger = "DANGER: a male M25x2 screws into a female M26x2, but only part of the thread holds it."
    assert danger in " ".join(text(major_m=25.0 * MM).split())
    assert danger in " ".join(text(minor_m=24.0 * MM).split())


def test_a_thread_that_fits_is_not_a_fit() -> None:
    """Said under every answer."""
    for reading in ({"major_m": 9.45 * MM}, {"major_m": 1 * MM}, {"pitch_m": 2 * MM}):
        assert "A fitting thread is not enough: check the pressure class of both parts" in text(**reading)
