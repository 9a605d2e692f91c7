"""Quantities as divers write them, held against the definitions of the units and against another library."""

import re
from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.units import DIMENSIONS, QuantityError, convert, parse_quantity, parse_reading
from tests.each import each
from tests.pint_units import pint_registry

YARD, POUND = Fraction("0.9144"), Fraction("0.45359237")
"""International yard and pound agreement of 1959: metres in a yard, kilograms in an avoirdupois pound; exact."""
INCH, FOOT, OUNCE = YARD / 36, YARD / 3, POUND / 16
"""Derived from the yard and the pound."""
GRAVITY = Fraction("9.80665")
"""Standard acceleration of gravity, 3rd CGPM (1901); a kilogram-force is a kilogram times it, ISO 80000-4."""
PSI = POUND * GRAVITY / INCH**2
"""Derived: the weight of a pound under standard gravity on a square inch, in pascals."""
LITRE, BAR, ATMOSPHERE = Fraction(1, 1000), Fraction(100_000), Fraction(101_325)
"""SI Brochure, 9th edition: the litre is a cubic decimetre, the bar 100 kPa. Atmosphere: 10th CGPM (1954)."""
ZERO_CELSIUS = Fraction("273.15")
"""SI Brochure, 9th edition, 2.3.1: t/°C = T/K - 273.15."""


def fahrenheit(degrees: int | str) -> Fraction:
    """In kelvin, from the definition of the scale: 32 °F is 0 °C, and 180 °F are 100 K."""
    return (Fraction(degrees) - 32) * Fraction(100, 180) + ZERO_CELSIUS


BY_DEFINITION = [
    ("1 in", "length", INCH),
    ('28"', "length", 28 * INCH),
    ("7 feet", "length", 7 * FOOT),
    ("7 ft 2 in", "length", 7 * FOOT + 2 * INCH),
    ("7'2\"", "length", 7 * FOOT + 2 * INCH),
    ("2 yards", "length", 2 * YARD),
    ("75.5 cm", "length", Fraction("0.755")),
    ("5mm", "length", Fraction("0.005")),
    ("0.21 kg", "mass", Fraction("0.21")),
    ("210 grams", "mass", Fraction("0.21")),
    ("3 lb", "mass", 3 * POUND),
    ("3 lb 7 oz", "mass", 3 * POUND + 7 * OUNCE),
    ("7.4 oz", "mass", Fraction("7.4") * OUNCE),
    ("-0.4 kg", "buoyancy", Fraction("-0.4")),
    ("-0.9 lb", "buoyancy", Fraction("-0.9") * POUND),
    ("3 lbf", "buoyancy", 3 * POUND),
    ("30 N", "buoyancy", 30 / GRAVITY),
    ("232 bar", "pressure", 232 * BAR),
    ("3000 psi", "pressure", 3000 * PSI),
    ("2 atm", "pressure", 2 * ATMOSPHERE),
    ("20 MPa", "pressure", Fraction(20_000_000)),
    ("12 L", "volume", 12 * LITRE),
    ("0.4 ft3", "volume", Fraction("0.4") * FOOT**3),
    ("3 in³", "volume", 3 * INCH**3),
    ("250 mL", "volume", LITRE / 4),
    ("1025 kg/m3", "density", Fraction(1025)),
    ("1.025 kg/L", "density", Fraction(1025)),
    ("64 lb/ft3", "density", 64 * POUND / FOOT**3),
    ("105 g/m", "mass per length", Fraction("0.105")),
    ("1.1 oz/ft", "mass per length", Fraction("1.1") * OUNCE / FOOT),
    ("35 g/kg", "salinity", Fraction("0.035")),
    ("35 ‰", "salinity", Fraction("0.035")),
    ("18 °C", "temperature", 18 + ZERO_CELSIUS),
    ("-2 C", "temperature", ZERO_CELSIUS - 2),
    ("64 °F", "temperature", fahrenheit(64)),
    ("-40 °F", "temperature", ZERO_CELSIUS - 40),
    ("291.15 K", "temperature", 18 + ZERO_CELSIUS),
    ("-273.15 °C", "temperature", Fraction(0)),
    ("-459.67 °F", "temperature", Fraction(0)),
    ("2.1 m2", "area", Fraction("2.1")),
    ("1.6 m²", "area", Fraction("1.6")),
    ("22 ft2", "area", 22 * FOOT**2),
    ("22ft²", "area", 22 * FOOT**2),
    ("0.35 kg/m2", "area density", Fraction("0.35")),
    ("350 g/m²", "area density", Fraction("0.35")),
    ("32 %", "fraction", Fraction("0.32")),
    ("66.7%", "fraction", Fraction("0.667")),
    ("-11 %", "fraction", Fraction("-0.11")),
    ("117 %", "fraction", Fraction("1.17")),
    ("15 °", "angle", Fraction(pi) / 12),
    ("180 deg", "angle", Fraction(pi)),
    ("-90 degrees", "angle", -Fraction(pi) / 2),
    ("1 rad", "angle", Fraction(1)),
    ("60 L/min", "flow", Fraction(1, 1000)),
    ("1.2 kg m", "moment", Fraction("1.2")),
    ("-3 lb ft", "moment", -3 * POUND * FOOT),
    ("4.5 Nm", "torque", Fraction("4.5")),
    ("40 lbf·in", "torque", 40 * POUND * Fraction("9.80665") * INCH),
    ("18.5 Wh", "energy", Fraction("18.5") * 3600),
    ("3.7 V", "voltage", Fraction("3.7")),
    ("2,600 mAh", "charge", Fraction("2.6") * 3600),
    ("1100 MPa", "pressure", Fraction(1_100_000_000)),
    ("24 tpi", "pitch", INCH / 24),
    ("18 threads per inch", "pitch", INCH / 18),
    ("1.06 mm", "pitch", Fraction("0.00106")),
]


@each(("text", "dimension", "exact"), BY_DEFINITION)
def test_by_definition(text: str, dimension: str, exact: Fraction) -> None:
    """To the last digits of a float."""
    assert parse_quantity(text, dimension) == pytest.approx(float(exact), rel=1e-15, abs=1e-13)


def test_every_dimension_is_tried() -> None:
    assert {row[1] for row in BY_DEFINITION} == set(DIMENSIONS)


# ---- against pint's own registry ----

BY_HAND = {
    **dict.fromkeys(("kgs", "kilo", "kilos", "kilogramme", "kilogrammes", "Nm"), Fraction(1)),
    **dict.fromkeys(("gramme", "grammes"), Fraction(1, 1000)),
    **dict.fromkeys(("lb.", "lbs.", "lbs"), POUND),
    "oz.": OUNCE,
    **dict.fromkeys(('"', "in.", "''", "\u2033", "\u201d", "\u201c", "\u2032\u2032", "\u2019\u2019"), INCH),
    **dict.fromkeys(("'", "ft.", "\u2032", "\u2019"), FOOT),
    "yd.": YARD,
    **dict.fromkeys(("cuft", "cf", "cu. ft."), FOOT**3),
    "cubic inches": INCH**3,
    "sq m": Fraction(1),
    "lb/cu ft": POUND / FOOT**3,
}
"""Spellings that pint does not know, in SI."""
PINT_UNITS = {
    "length": "metre",
    "pitch": "metre",
    "mass": "kilogram",
    "buoyancy": "kilogram_force",
    "pressure": "pascal",
    "volume": "metre ** 3",
    "density": "kilogram / metre ** 3",
    "mass per length": "kilogram / metre",
    "salinity": "kilogram / kilogram",
    "area": "metre ** 2",
    "area density": "kilogram / metre ** 2",
    "fraction": "dimensionless",
    "angle": "radian",
    "flow": "metre ** 3 / second",
    "moment": "kilogram metre",
    "torque": "newton metre",
    "energy": "joule",
    "voltage": "volt",
    "charge": "coulomb",
}
SPELLINGS = [(name, unit) for name, dimension in DIMENSIONS.items() for unit in dimension.units]


@each(("name", "unit"), [row for row in SPELLINGS if row[1] not in BY_HAND])
def test_every_spelling_means_what_pint_means_by_it(name: str, unit: str) -> None:
    registry = pint_registry()
    quantity = registry.Quantity(7, re.sub(r"(?<=[a-z])([23])", r"**\1", _for_pint(unit)))
    if name == "buoyancy" and quantity.check("[mass]"):
        quantity = quantity * registry.standard_gravity
    pints = quantity.to(PINT_UNITS[name]).magnitude
    assert parse_quantity(f"7 {unit}", name) == pytest.approx(pints, rel=1e-12)


def _for_pint(unit: str) -> str:
    return (
        unit.replace("²", "2").replace("³", "3").replace("sq ", "sq_").replace("cu ", "cu_").replace("cubic ", "cubic_")
    )


@each(("name", "unit"), [row for row in SPELLINGS if row[1] in BY_HAND])
def test_the_spellings_left_out_above_are_tried_by_definition(name: str, unit: str) -> None:
    assert parse_quantity(f"7 {unit}", name) == pytest.approx(float(7 * BY_HAND[unit]), rel=1e-14)


@pytest.mark.parametrize(("text", "unit"), [("18 °C", "degC"), ("64 °F", "degF"), ("291 K", "kelvin")])
def test_temperatures_are_what_pint_makes_of_them(text: str, unit: str) -> None:
    pints = pint_registry().Quantity(float(text.split()[0]), unit).to("kelvin").magnitude
    assert parse_quantity(text, "temperature") == pytest.approx(pints, rel=1e-12)


@pytest.mark.parametrize("text", ["9/16 in", "1 / 2 in", "28 1/2 in", "-28 1/2 in", "3/4 lb", "2' 4 1/2\""])
def test_fractions_as_on_a_rule(text: str) -> None:
    """By hand, in inches and ounces."""
    by_hand = {
        "9/16 in": Fraction(9, 16) * INCH,
        "1 / 2 in": INCH / 2,
        "28 1/2 in": Fraction("28.5") * INCH,
        "-28 1/2 in": Fraction("-28.5") * INCH,
        "3/4 lb": 12 * OUNCE,
        "2' 4 1/2\"": Fraction("28.5") * INCH,
    }
    assert parse_quantity(text, "mass" if "lb" in text else "length") == pytest.approx(float(by_hand[text]), rel=1e-15)


# ---- there and back ----

NUMBERS = st.floats(min_value=-1e5, max_value=1e5).filter(lambda number: not 0 < abs(number) < 1e-9)


@given(number=NUMBERS, spelling=st.sampled_from(SPELLINGS))
def test_written_and_read_again(number: float, spelling: tuple[str, str]) -> None:
    """A value in SI, shown in any unit and read again, is the same value."""
    name, unit = spelling
    written = f"{convert(number, unit, name)!r} {unit}"
    assert parse_quantity(written, name) == pytest.approx(number, rel=1e-14)


@given(kelvin=st.floats(min_value=1, max_value=1e5), unit=st.sampled_from(("°C", "°F", "K")))
def test_temperatures_written_and_read_again(kelvin: float, unit: str) -> None:
    written = f"{convert(kelvin, unit, 'temperature')!r} {unit}"
    assert parse_quantity(written, "temperature") == pytest.approx(kelvin, rel=1e-12)


@given(feet=st.integers(0, 99), inches=st.integers(0, 11), sign=st.sampled_from(("", "-", "+", "\u2212")))
def test_feet_and_inches(feet: int, inches: int, sign: str) -> None:
    """A sign in front covers both."""
    exact = (feet * FOOT + inches * INCH) * (-1 if sign in ("-", "\u2212") else 1)
    for text in (f"{sign}{feet} ft {inches} in", f"{sign}{feet}'{inches}\"", f" {sign}{feet}ft{inches}in "):
        assert parse_quantity(text, "length") == pytest.approx(float(exact), rel=1e-14)


@pytest.mark.parametrize("minus", ["-", "\u2212"])
def test_both_signs_for_minus(minus: str) -> None:
    """The one on the keyboard and the true one."""
    assert parse_quantity(f"{minus}0.4 kg", "buoyancy") == -0.4
    assert parse_reading(f"{minus}0.4 kg +{minus} 0.1 kg", "buoyancy") == (-0.4, 0.1, None)


# ---- arithmetic, and a spread ----

SUMS = [
    ("2.10 kg +- 0.05 kg", "mass"),
    ("2 ft -3 in", "length"),
    ("1 lb - 4 oz", "mass"),
    ("30 in + 2 cm", "length"),
    ("2 * 28 in", "length"),
    ("7 ft - 2 in", "length"),
    ("(1 m + 1 ft) / 2", "length"),
    ("10-20 cm", "length"),
    ("2 * 3 m2", "area"),
    ("1.6 m2 * 5 mm", "volume"),
    ("2 x 12 L", "volume"),
    ("0.7 kg / (2 m2)", "area density"),
    ("18 °C + 2 °C", "temperature"),
    ("2 m 3 m", "length"),
    ("2 in 3 ft", "length"),
    ("3 bar 2 psi", "pressure"),
]
"""Each was a number before: 2.05 kg, 53 cm, 12 oz, and so on."""


@each(("text", "dimension"), SUMS)
def test_arithmetic_is_refused(text: str, dimension: str) -> None:
    with pytest.raises(QuantityError):
        parse_quantity(text, dimension)


WRITTEN = st.tuples(
    st.sampled_from(["1", "2.10", "0.05", "9/16", "28 1/2", "3e2", ".5", "7."]), st.sampled_from(["", " "])
)
UNITS_OF = {name: tuple(dimension.units) for name, dimension in DIMENSIONS.items() if dimension.units}
OPERATORS = [
    "+",
    "-",
    "\u2212",
    "\u2013",
    "*",
    "/",
    "//",
    "**",
    "^",
    "x",
    "\u00d7",
    "\u00b7",
    "\u00f7",
    "%",
    "=",
    "~",
    ",",
    ";",
    "&",
]
PLUS_MINUS = ["\u00b1", "+-", "+/-", "+ -", "+\u2212", "+/\u2212"]


@given(
    st.data(),
    st.sampled_from(sorted(UNITS_OF)),
    WRITTEN,
    WRITTEN,
    st.sampled_from(["", " "]),
    st.sampled_from(["", " "]),
)
def test_no_operator_between_two_quantities_is_accepted_except_plus_minus(
    data: st.DataObject, name: str, first: tuple[str, str], second: tuple[str, str], before: str, after: str
) -> None:
    """Whatever the units, the spaces and the operator; a spread is read by `parse_reading` alone."""
    left, right = (f"{''.join(part)}{data.draw(st.sampled_from(UNITS_OF[name]))}" for part in (first, second))
    operator = data.draw(st.sampled_from(OPERATORS))
    for parse in (parse_quantity, parse_reading):
        with pytest.raises(QuantityError):
            parse(f"{left}{before}{operator}{after}{right}", name)
    spread = data.draw(st.sampled_from(PLUS_MINUS))
    with pytest.raises(QuantityError):
        parse_quantity(f"{left}{before}{spread}{after}{right}", name)


READINGS = [
    ("2.10 kg", Fraction("2.10"), None),
    ("2.10 kg ± 0.05 kg", Fraction("2.10"), Fraction("0.05")),
    ("2.10 ± 0.05 kg", Fraction("2.10"), Fraction("0.05")),
    ("2.10±0.05kg", Fraction("2.10"), Fraction("0.05")),
    ("2.10 kg +- 0.05 kg", Fraction("2.10"), Fraction("0.05")),
    ("2.10 kg +/- 50 g", Fraction("2.10"), Fraction("0.05")),
    ("2.10 +/- 0.05 kg", Fraction("2.10"), Fraction("0.05")),
    ("2.10 kg + / - 0.05 kg", Fraction("2.10"), Fraction("0.05")),
    ("1 lb 4 oz ± 1/2 oz", 20 * OUNCE, OUNCE / 2),
    ("1 1/4 ± 1/16 lb", 20 * OUNCE, OUNCE),
]


@each(("text", "value", "spread"), READINGS)
def test_a_reading_with_its_spread(text: str, value: Fraction, spread: Fraction | None) -> None:
    found = parse_reading(text, "mass")
    assert found.value == pytest.approx(float(value), rel=1e-15)
    assert found.spread == (None if spread is None else pytest.approx(float(spread), rel=1e-14))


FORMS = 'write "0.21 kg" or "210 g" or "7.4 oz" or "2.10 kg ± 0.05 kg"'
NO_READINGS = [
    ("2.10 kg ± 0 kg", f'"2.10 kg ± 0 kg" has a spread of zero; {FORMS}'),
    ("2.10 kg ± -0.05 kg", f'"2.10 kg ± -0.05 kg" is not a mass with its spread; {FORMS}'),
    ("2.10 kg ± 0.05 ± 0.01 kg", f'"2.10 kg ± 0.05 ± 0.01 kg" is not a mass with its spread; {FORMS}'),
    ("± 0.05 kg", f'"± 0.05 kg" is not a mass with its spread; {FORMS}'),
    ("2.10 kg ±", f'"2.10 kg ±" is not a mass with its spread; {FORMS}'),
    ("2.10 kg ± 0.05", '"2.10 kg ± 0.05" has a spread without a unit; write "2.10 kg ± 0.05 kg"'),
    (
        "2.10 ± 0.05",
        '"2.10 ± 0.05" has a spread without a unit; write "2.10 ± 0.05 kg" or "2.10 ± 0.05 g" or "2.10 ± 0.05 oz"',
    ),
    ("some ± 0.05", '"some ± 0.05" is not a mass; write "0.21 kg" or "210 g" or "7.4 oz"'),
    ("2.10 kg ± 5 cm", '"2.10 kg ± 5 cm" is a length, not a mass; write "0.21 kg" or "210 g" or "7.4 oz"'),
    ("2.10 kg ± 2 %", '"2.10 kg ± 2 %" is a fraction, not a mass; write "0.21 kg" or "210 g" or "7.4 oz"'),
    (
        "2 kg + 0.1 kg ± 50 g",
        '"2 kg + 0.1 kg ± 50 g" is a calculation; write the result, such as "0.21 kg" or "210 g" or "7.4 oz"',
    ),
]


@each(("text", "message"), NO_READINGS)
def test_what_is_no_reading_is_refused(text: str, message: str) -> None:
    with pytest.raises(QuantityError) as refused:
        parse_reading(text, "mass")
    assert str(refused.value) == message


# ---- what is refused, and what is said ----

LENGTHS = 'write "75 cm" or "28 in"'
RESULT = 'write the result, such as "75 cm" or "28 in"'
REFUSED = [
    ("76", "length", '"76" has no unit; write "76 cm" or "76 in"'),
    ("\u22120.4", "buoyancy", '"\u22120.4" has no unit; write "-0.4 kg" or "-0.4 lb"'),
    ("18", "temperature", '"18" has no unit; write "18 °C" or "18 °F"'),
    ("24", "pitch", '"24" has no unit; write "24 tpi" or "24 mm"'),
    ("", "length", f"the value is empty; {LENGTHS}"),
    (" \t", "temperature", 'the value is empty; write "18 °C" or "64 °F"'),
    ("75 cn", "length", f'"75 cn" has an unknown unit; {LENGTHS}'),
    ("1 light_year", "length", f'"1 light_year" is not a length; {LENGTHS}'),
    ("5 parsec", "length", '"5 parsec" is far outside the range of a length'),
    ("5 second", "length", f'"5 second" has an unknown unit; {LENGTHS}'),
    ("75 cm", "mass", '"75 cm" is a length, not a mass; write "0.21 kg" or "210 g" or "7.4 oz"'),
    ("0.2 kg", "length", f'"0.2 kg" is a mass, not a length; {LENGTHS}'),
    ("30 in + 2 cm", "area", '"30 in + 2 cm" is a calculation; write the result, such as "2.1 m2" or "22 ft2"'),
    ("30 in + 2 kg", "length", f'"30 in + 2 kg" is a calculation; {RESULT}'),
    ("32", "fraction", '"32" has no unit; write "32 %"'),
    ("0.32", "fraction", '"0.32" has no unit; write "32 %"'),
    ("1", "fraction", '"1" has no unit; write "100 %"'),
    ("-0.1", "fraction", '"-0.1" has no unit; write "-0.1 %"'),
    ("% 32", "fraction", '"% 32" is not a fraction; write "31 %"'),
    ("0.3 + 0.02", "fraction", '"0.3 + 0.02" is a calculation; write the result, such as "31 %"'),
    ("32 ‰", "fraction", '"32 ‰" is a salinity, not a fraction; write "31 %"'),
    ("5", "moment", '"5" has no unit; write "5 kg m"'),
    ("15", "angle", '"15" has no unit; write "15 °"'),
    ("15 °C", "angle", '"15 °C" is not an angle; write "15 °"'),
    ("15 °", "temperature", '"15 °" is an angle, not a temperature; write "18 °C" or "64 °F"'),
    ("15 °", "length", f'"15 °" is an angle, not a length; {LENGTHS}'),
    ("2 m2", "length", f'"2 m2" is an area, not a length; {LENGTHS}'),
    ("1e99 m2", "area", '"1e99 m2" is far outside the range of an area'),
    ("2 m", "area", '"2 m" is a length, not an area; write "2.1 m2" or "22 ft2"'),
    ("2 * 3 m", "area", '"2 * 3 m" is a calculation; write the result, such as "2.1 m2" or "22 ft2"'),
    ("2", "area density", '"2" has no unit; write "2 kg/m2"'),
    ("2 kg/m3", "area density", '"2 kg/m3" is a density, not an area density; write "0.35 kg/m2"'),
    ("10000 MPa", "pressure", '"10000 MPa" is far outside the range of a pressure'),
    ("12 L", "pressure", '"12 L" is a volume, not a pressure; write "232 bar" or "3000 psi"'),
    ("2 m * 3 m", "length", f'"2 m * 3 m" is a calculation; {RESULT}'),
    ("cm", "length", f'"cm" is not a length; {LENGTHS}'),
    ("long", "length", f'"long" is not a length; {LENGTHS}'),
    ("9**9**9", "length", f'"9**9**9" is a calculation; {RESULT}'),
    ("3**3**3**3 m", "length", f'"3**3**3**3 m" is a calculation; {RESULT}'),
    ("3 ** 3.0 ** 3 m", "length", f'"3 ** 3.0 ** 3 m" is a calculation; {RESULT}'),
    ("7 5 cm", "length", f'"7 5 cm" is not a length; {LENGTHS}'),
    ("2 m 3", "length", f'"2 m 3" is not a length; {LENGTHS}'),
    ("7 ft 2", "length", f'"7 ft 2" is not a length; {LENGTHS}'),
    ("7.5.5 cm", "length", f'"7.5.5 cm" is not a length; {LENGTHS}'),
    ("7,5,5 cm", "length", f'"7,5,5 cm" is not a length; {LENGTHS}'),
    ("1e99 m", "length", '"1e99 m" is far outside the range of a length'),
    ("1e999 m", "length", '"1e999 m" is far outside the range of a length'),
    ("nan m", "length", f'"nan m" is not a length; {LENGTHS}'),
    ("inf m", "length", f'"inf m" is not a length; {LENGTHS}'),
    ("1/0 m", "length", f'"1/0 m" is a calculation; {RESULT}'),
    ("__import__('os')", "length", f"\"__import__('os')\" is not a length; {LENGTHS}"),
    ("75\x00cm", "length", f'"75\x00cm" is not a length; {LENGTHS}'),
    ("0 tpi", "pitch", '"0 tpi" is not above zero; write "24 tpi" or "1.06 mm"'),
    ("18 m", "temperature", '"18 m" is a length, not a temperature; write "18 °C" or "64 °F"'),
    ("-300 °C", "temperature", '"-300 °C" is below absolute zero'),
    ("-460 °F", "temperature", '"-460 °F" is below absolute zero'),
    ("-1 K", "temperature", '"-1 K" is below absolute zero'),
]


@each(("text", "dimension", "message"), REFUSED)
def test_refused(text: str, dimension: str, message: str) -> None:
    with pytest.raises(QuantityError) as refused:
        parse_quantity(text, dimension)
    assert str(refused.value) == message


def number_or_refusal(text: str, name: str) -> None:
    """Never another error, and never a number that is none."""
    try:
        assert abs(parse_quantity(text, name)) <= 1e10
    except QuantityError as refused:
        assert refused.found


@given(text=st.text(max_size=20), name=st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_a_number_or_refused(text: str, name: str) -> None:
    number_or_refusal(text, name)


@given(text=st.text("0123456789.+-*/() mcinft", max_size=16))
def test_anything_like_a_sum_is_a_number_or_refused(text: str) -> None:
    number_or_refusal(text, "length")


def test_a_unit_of_another_dimension_cannot_be_converted_to() -> None:
    with pytest.raises(KeyError):
        convert(1.0, "kg", "length")
