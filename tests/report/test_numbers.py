"""Numbers as a diver reads them: a unit, as many digits as are known, a true minus sign.

Units by definition: an inch is 25.4 mm, a pound 0.45359237 kg, an ounce a sixteenth of it, a foot twelve inches,
a psi the weight of a pound on a square inch where it falls with 9.80665 m/s².
"""

import math
import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure, Range, from_catalogue
from kitbuilder.catalogue import Value
from kitbuilder.report.numbers import (
    MEASURES,
    MINUS,
    System,
    about,
    digits,
    duration,
    figure_digits,
    percent,
    shown,
    unit,
    with_range,
    with_spread,
)
from tests.each import each

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
INCH, POUND, FOOT, GRAVITY = 0.0254, 0.45359237, 0.3048, 9.80665
PSI = POUND * GRAVITY / INCH**2

SIZES = {"pressure": 1e5, "drop": 1e5, "oxygen pressure": 1e5, "volume": 1e-3, "flow": 1e-3, "energy": 3600.0}
"""In SI. A pascal and a cubic metre are not what a diver reads off anything."""


@pytest.mark.parametrize(
    ("value", "measure", "metric", "imperial"),
    [
        (0.75, "length", "75 cm", "29.5 in"),
        (50e5, "pressure", "50 bar", "725 psi"),
        (2.2, "gas", "2200 L", "77.7 ft³"),
        (-0.22, "reach", "−22 cm", "−9 in"),
        (2.1, "length", "210 cm", "82.7 in"),
        (7 * FOOT, "length", "213 cm", "84.0 in"),
        (0.0566, "radius", "5.7 cm", "2.2 in"),
        (0.05, "slack", "+5 cm", "+2.0 in"),
        (-0.05, "slack", "−5 cm", "−2.0 in"),
        (0.1401, "hose mass", "140 g", "4.9 oz"),
        (POUND / 16, "hose mass", "28 g", "1.0 oz"),
        (-0.0506, "hose buoyancy", "−51 g", "−1.8 oz"),
        (0.0131, "hose buoyancy", "+13 g", "+0.5 oz"),
        (3.87, "mass", "3.87 kg", "8.53 lb"),
        (1.05, "buoyancy", "+1.05 kg", "+2.31 lb"),
        (-1.63, "buoyancy", "−1.63 kg", "−3.59 lb"),
        (1025.0, "density", "1025 kg/m³", "64.0 lb/ft³"),
        (0.375 * INCH, "thread", "9.525 mm", "0.3750 in"),
        (5.24, "lead", "5.2 kg", "11.6 lb"),
        (-6.1, "lift", "−6.1 kg", "−13.4 lb"),
        (23.0, "lift", "+23.0 kg", "+50.7 lb"),
        (82.0, "body mass", "82 kg", "181 lb"),
        (0.003, "thickness", "3 mm", "3 mm"),
        (5.0, "depth", "5 m", "16 ft"),
        (100 * FOOT, "depth", "30 m", "100 ft"),
        (230e5, "pressure", "230 bar", "3336 psi"),
        (1.4e5, "oxygen pressure", "1.40 bar", "1.40 bar"),
        (3000 * PSI, "pressure", "207 bar", "3000 psi"),
        (12e-3, "volume", "12.0 L", "0.42 ft³"),
        (FOOT**3, "volume", "28.3 L", "1.00 ft³"),
        (math.radians(12.0), "pitch", "12°", "12°"),
        (2.0, "moment", "+2.0 kg·m", "+14.5 lb·ft"),
        (4.5, "torque", "4.5 N·m", "40 lbf·in"),
        (1.25e-3, "flow", "75 L/min", "75 L/min"),
        (-POUND * FOOT, "moment", "−0.1 kg·m", "−1.0 lb·ft"),
    ],
)
def test_a_number_in_both_systems(value: float, measure: str, metric: str, imperial: str) -> None:
    """As worked by hand from the definitions."""
    assert shown(value, measure, METRIC) == metric
    assert shown(value, measure, IMPERIAL) == imperial


@pytest.mark.parametrize(
    ("measure", "metric", "imperial"),
    [
        ("lead", "kg", "lb"),
        ("lift", "kg", "lb"),
        ("body mass", "kg", "lb"),
        ("depth", "m", "ft"),
        ("pressure", "bar", "psi"),
        ("volume", "L", "ft³"),
        ("pitch", "°", "°"),
        ("moment", "kg·m", "lb·ft"),
        ("density", "kg/m³", "lb/ft³"),
    ],
)
def test_units_are_written_as_divers_write_them(measure: str, metric: str, imperial: str) -> None:
    """With a dot between the halves of a moment and a raised three."""
    assert unit(measure, METRIC) == metric
    assert unit(measure, IMPERIAL) == imperial


def test_the_other_system() -> None:
    """There and back."""
    assert METRIC.other is IMPERIAL
    assert IMPERIAL.other is METRIC


@each("system", System)
@each("measure", MEASURES)
@each("value", [0.0, -0.0, 1e-7, -1e-7])
def test_next_to_nothing_has_no_sign(measure: str, system: System, value: float) -> None:
    """Never "-0", nor "+0.00"."""
    assert not digits(value, measure, system).strip("0.")


@each("system", System)
@each("measure", MEASURES)
def test_plus_is_written_where_both_signs_occur(measure: str, system: System) -> None:
    """A buoyancy without a sign is a riddle; a length with a plus is noise."""
    signed = measure in ("slack", "reach", "hose buoyancy", "buoyancy", "lead change", "lift", "moment")
    assert digits(SIZES.get(measure, 1.0), measure, system).startswith("+") == signed
    assert digits(-SIZES.get(measure, 1.0), measure, system).startswith(MINUS)


@given(part=st.floats(-100, 100), measure=st.sampled_from(sorted(MEASURES)), system=st.sampled_from(System))
def test_what_is_shown_is_the_value_to_half_a_digit(part: float, measure: str, system: System) -> None:
    """Read back by the definitions of the units, and with a minus sign that is no hyphen."""
    value = part * SIZES.get(measure, 1.0)
    text = digits(value, measure, system)
    assert "-" not in text
    factor = {
        "cm": 0.01, "mm": 0.001, "in": INCH, "g": 0.001, "kg": 1.0, "oz": POUND / 16, "lb": POUND,
        "L/min": 1e-3 / 60, "kg/m³": 1.0, "lb/ft³": POUND / FOOT**3, "m": 1.0, "ft": FOOT, "bar": 1e5, "psi": PSI,
        "L": 0.001, "ft³": FOOT**3, "°": math.pi / 180, "kg·m": 1.0, "lb·ft": POUND * FOOT,
        "N·m": 1.0, "Wh": 3600.0, "lbf·in": POUND * 9.80665 * INCH,
    }[unit(measure, system)]  # fmt: skip
    number = Decimal(text.replace(MINUS, "-"))
    half_a_digit = 0.5 * 10.0 ** int(number.as_tuple().exponent)
    assert float(number) * factor == pytest.approx(value, abs=half_a_digit * factor * (1 + 1e-6))


# --- spreads ----------------------------------------------------------------------------------------------------------


def test_a_figure_with_its_spread() -> None:
    """In the unit and the digits of the figure, without a sign of its own."""
    assert with_spread(Figure(0.1401, {"all": 0.0208}, ""), "hose mass", METRIC) == "140 ± 21 g"
    assert with_spread(Figure(-0.0506, {"all": -0.0131}, ""), "hose buoyancy", METRIC) == "−51 ± 13 g"
    assert with_spread(Figure(0.05, {"all": 0.018}, ""), "slack", IMPERIAL) == "+2.0 ± 0.7 in"
    assert with_spread(Figure(1.065, {"all": 0.367}, ""), "pitch", METRIC) == "61° ± 21°"


@pytest.mark.parametrize(
    ("value", "spread", "measure", "metric", "imperial"),
    [
        (29.0, 1.46, "mass", "29.0 ± 1.5 kg", "63.9 ± 3.2 lb"),
        (78.4, 26.2, "mass", "78 ± 26 kg", "173 ± 58 lb"),
        (0.2875, 0.1463, "hose mass", "290 ± 150 g", "10.1 ± 5.2 oz"),
        (9.5, 0.998, "mass", "9.5 ± 1.0 kg", "20.9 ± 2.2 lb"),
        (11.06, 0.0996, "mass", "11.06 ± 0.10 kg", "24.38 ± 0.22 lb"),
        (-0.4, 1.21, "buoyancy", "−0.4 ± 1.2 kg", "−0.9 ± 2.7 lb"),
        (1027.487, 0.3, "density", "1027 ± 1 kg/m³", "64.1 ± 0.1 lb/ft³"),
        (1027.487, 123.0, "density", "1030 ± 120 kg/m³", "64.1 ± 7.7 lb/ft³"),
        (0.02, 12.3, "mass", "0 ± 12 kg", "0 ± 27 lb"),
    ],
)
def test_no_digit_is_finer_than_the_spread(
    value: float, spread: float, measure: str, metric: str, imperial: str
) -> None:
    """Two digits of the spread at most, and the value to the same place: JCGM 100:2008, 7.2.6. By hand.

    The digits of the measure are not exceeded.
    """
    figure = Figure(value, {"all": spread}, "")
    assert with_spread(figure, measure, METRIC) == metric
    assert with_spread(figure, measure, IMPERIAL) == imperial


def test_sides_that_differ_are_shown_as_the_ends_of_the_range() -> None:
    """A cylinder of 14.2 kg, anything from 12.2 to 15.5 kg: its mean is 14.2 + (1.3 - 2.0) / 4, by hand.

    95 % of such cylinders weigh from 12.2 + 0.05 * 2.0 to 15.5 - 0.05 * 1.3 kg; the expansion is a little wider.
    """
    lopsided = from_catalogue("mass", Value(14.2, 12.2, 15.5, "an example"))
    words = with_spread(lopsided, "mass", METRIC)
    number, low, high = map(float, re.fullmatch(r"([\d.]+) \(([\d.]+) to ([\d.]+)\) kg", words).groups())
    assert number == 14.0
    assert low == pytest.approx(12.3, abs=0.1)
    assert high == pytest.approx(15.435, abs=0.12)
    drawn = Figure(lopsided.value, {str(source): share for source, share in lopsided.components.items()}, "")
    assert with_spread(drawn, "mass", METRIC) == "14.0 ± 1.9 kg"


def test_sides_that_hardly_differ_are_shown_as_one() -> None:
    """The mean of both: a range of 12.0 to 14.1 about 13.0."""
    figure = from_catalogue("mass", Value(13.0, 12.0, 14.1, "an example"))
    below, above = figure.sides
    assert below < above
    assert with_spread(figure, "mass", METRIC) == "13.0 ± 1.0 kg"


def test_a_small_spread_is_not_shown_as_none() -> None:
    """2 g in a column of hundredths of a kilogram: rounded up, for it is not nothing."""
    assert figure_digits(Figure(0.66, {"scale": 0.002}, ""), "mass", METRIC).spread == "0.01"
    assert figure_digits(Figure(0.131, {"scale": 0.0002}, ""), "hose mass", METRIC).spread == "1"


def test_no_spread_is_shown_as_none() -> None:
    """An exact figure, and one whose last bits are off by the order of a sum."""
    assert figure_digits(Figure(0.66, {}, ""), "mass", METRIC).spread == "0.00"
    assert figure_digits(Figure(0.66, {"bits": 1e-17}, ""), "mass", METRIC).spread == "0.00"


def test_a_range_that_is_not_the_same_to_both_sides() -> None:
    """The stand-off of 3 cm of slack may be nothing at all."""
    assert with_range(Range(0.09, 0.05, 0.114), "length", METRIC) == "9 cm (5 to 11)"
    assert with_range(Range(0.09, 0.0, 0.114), "length", IMPERIAL) == "3.5 in (0.0 to 4.5)"


@pytest.mark.parametrize(
    ("time", "says"),
    [
        (Range(79.6, 42.9, 184.7), "80 s (43 to 180)"),
        (Range(55.4, 5.04, 127.8), "55 s (5 to 130)"),
        (Range(0.0, 0.0, 0.0), "0 s (0 to 0)"),
        (Range(119.0, 64.0, 276.0), "120 s (64 to 280)"),
        (Range(200.0, 106.5, 461.0), "3.3 min (1.8 to 7.7)"),
        (Range(2387.0, 883.9, 6705.0), "40 min (15 to 110)"),
    ],
)
def test_a_time_in_two_digits(time: Range, says: str) -> None:
    """By hand: seconds up to two minutes, then minutes."""
    assert duration(time) == says


@pytest.mark.parametrize(
    ("share", "says"),
    [
        (0.0, "0 %"),
        (0.004, "under 1 %"),
        (0.5, "50 %"),
        (0.994, "over 99 %"),
        (1.0, "100 %"),
        (Figure(1.0, {}, ""), "100 %"),
        (Figure(0.5, {"gauge": 0.001}, ""), "50 ± 1 %"),
        (Figure(0.5, {"gauge": 0.034}, ""), "50 ± 3 %"),
    ],
)
def test_a_share_in_per_cent(share: float | Figure, says: str) -> None:
    """The spread of one that has one is not shown as none."""
    assert percent(share) == says


@given(share=st.floats(0, 1))
def test_what_is_not_quite_all_or_nothing_does_not_read_so(share: float) -> None:
    """As near as can be; 0 % and 100 % are exact."""
    *words, number, _ = percent(share).split()
    assert {"": abs(share * 100 - int(number)) <= 0.5, "under": share < 0.01, "over": share > 0.99}["".join(words)]
    assert int(number) not in (0, 100) or share in (0, 1)


@pytest.mark.parametrize(
    ("found", "measure", "system", "written"),
    [
        ((3.2, 0.5, 5.9), "lead", METRIC, "about 3 kg, anything from 0.5 to 6"),  # 2.7 / 4 = 0.68: halves
        ((3.2, 0.5, 5.9), "lead", IMPERIAL, "about 7 lb, anything from 1 to 13"),  # 5.95 / 4 = 1.5: ones
        ((0.083, 0.05, 0.11), "length", METRIC, "about 8 cm, anything from 5 to 11"),  # no finer than the measure
        ((0.282, 0.236, 0.328), "hose mass", METRIC, "about 280 g, anything from 240 to 330"),  # 46 / 4: tens
        ((14.0, 12.2, 15.4), "lead", METRIC, "about 14 kg, anything from 12.2 to 15.4"),  # 1.6 / 4 = 0.4: tenths
        ((-0.01, -0.03, 0.01), "length", METRIC, f"about {MINUS}1 cm, anything from {MINUS}3 to 1"),
        ((0.41, 0.38, 0.44), "lead", METRIC, "about 0.4 kg"),  # all three round to the same
        ((3.2, 3.2, 3.2), "lead", METRIC, "3.2 kg"),  # certain
        ((math.radians(50), math.radians(40), math.radians(60)), "pitch", METRIC, "about 50°, anything from 40 to 60"),
    ],
)  # fmt: skip
def test_a_range_in_a_sentence(found: tuple[float, float, float], measure: str, system: System, written: str) -> None:
    """No digit finer than a quarter of the half range: by hand."""
    assert about(*found, measure, system).replace("\u00a0", " ") == written
